//! Plans that this browser keeps: what the list says of each, and going from one to another, by which none is emptied. It
//! must not know where they lie.

use super::kept_keys::{KeptPlan, Wish};
use super::plan_history::{PlanSnapshot, PlanSteps, steps_in};
use super::planning;
use crate::state::app_state::AppState;
use crate::state::page::Message;
use crate::state::tabs;
use crate::words::plan::kept as say;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;

/// The list with one plan put in its place: the latest change first.
pub fn with_kept(list: &[KeptPlan], plan: KeptPlan) -> Vec<KeptPlan> {
    let mut list: Vec<KeptPlan> = list.iter().filter(|other| other.key != plan.key).cloned().collect();
    list.push(plan);
    list.sort_by(|a, b| b.when.cmp(&a.when).then_with(|| b.key.cmp(&a.key)));
    list
}

/// Shows what the store holds.
pub fn show_list(app: AppState, list: Vec<KeptPlan>) {
    app.kept_plans.list.set(list.into_iter().fold(Vec::new(), |list, plan| with_kept(&list, plan)));
}

/// Shows a plan that was just kept at its place in the list.
pub fn show_kept(app: AppState, plan: KeptPlan) {
    app.kept_plans.list.update(|list| *list = with_kept(list, plan));
}

pub fn wish(app: AppState, wish: Wish) {
    app.kept_plans.wish.set(Some(wish));
}

/// Takes the wish to fulfil it.
pub fn take_wish(app: AppState) -> Option<Wish> {
    let wish = app.kept_plans.wish.get()?;
    app.kept_plans.wish.set(None);
    Some(wish)
}

/// Tells the open plan what it is kept under.
pub fn give_key(app: AppState, key: Option<String>) {
    app.kept_plans.key.set(key);
}

/// Puts a kept plan in place of the open one, which stays kept, as a step that can be taken back.
pub fn open(app: AppState, plan: &KeptPlan, text: &str) {
    match PlanDraft::in_file(text) {
        Ok((draft, made)) => {
            let other = PlanSnapshot { key: Some(plan.key.clone()), draft, plan: made };
            planning::go_to_other(app, &say::step_opened(&plan.name()), other);
        }
        Err(why) => {
            let what = say::cannot_open(&plan.name(), &why.to_string());
            app.message.set(Some(Message::refused(what, say::CANNOT_OPEN_HINT)));
        }
    }
}

/// Notes that this tab goes on with another version of a plan, since another tab has written it meanwhile: the open plan, if it
/// is that one, gets the new key and name, and that is said. Gives its description and text under them.
pub fn go_on_as_other_version(app: AppState, about: KeptPlan, text: String, key: &str) -> (KeptPlan, String) {
    let title = crate::words::tabs::other_version(&about.name(), &app.now());
    if app.kept_plans.key.with_untracked(|open| open.as_ref() == Some(&about.key)) {
        app.kept_plans.key.set(Some(key.to_owned()));
        app.plan_draft.update(|draft| draft.brief.title.clone_from(&title));
    }
    tabs::say_beside(app, crate::words::tabs::PLAN_BESIDE, &title);
    let renamed = PlanDraft::in_file(&text).map(|(mut draft, made)| {
        draft.brief.title.clone_from(&title);
        draft.file_text(made.as_ref())
    });
    (KeptPlan { key: key.to_owned(), title, ..about }, renamed.unwrap_or(text))
}

/// Takes a plan off the list, and remembers it as long as it can be had back.
pub fn note_deleted(app: AppState, plan: KeptPlan, text: String) {
    app.kept_plans.list.update(|list| list.retain(|other| other.key != plan.key));
    app.kept_plans.deleted.set(Some((plan, text)));
}

/// The plan that was deleted last; it is no longer remembered as such.
pub fn take_deleted(app: AppState) -> Option<(KeptPlan, String)> {
    let deleted = app.kept_plans.deleted.get_untracked();
    app.kept_plans.deleted.set(None);
    deleted
}

/// Puts back the steps of the last visit, unless something was done since.
pub fn restore_steps(app: AppState, text: &str) {
    let steps = steps_in(text);
    app.plan_steps.update(|now| {
        if *now == PlanSteps::default() {
            *now = steps;
        }
    });
}
