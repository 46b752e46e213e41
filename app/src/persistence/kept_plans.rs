//! Plans beside the open one: each is kept in the browser's database under a key of its own a moment after it changed, with
//! the steps that can be undone. When the browser refuses, the plan's bar says so and nothing is dropped.

use super::versions;
use crate::browser::{events, indexed_db, kept_texts, timers};
use crate::state::plan::kept_keys::{KeptPlan, STEPS_KEY, Wish, is_plan_key};
use crate::state::plan::plan_history::steps_text;
use crate::state::plan::{kept_plans, planning};
use crate::state::{AppContext, AppState, Message, actions, tabs};
use crate::words::plan::kept as say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::time::Duration;

/// Name of the note that says which plan was open.
const OPEN_NOTE: &str = "likeness-open-plan-key";
/// Changes that follow each other faster than this are kept together.
const WAIT: Duration = Duration::from_millis(400);

/// A text that waits to be kept, with its description.
#[derive(Clone, PartialEq)]
struct Waiting {
    about: KeptPlan,
    text: String,
}

/// Tells the state what the open plan was kept under at the last visit.
pub fn restore_key(app: AppState) {
    kept_plans::give_key(app, kept_texts::kept(OPEN_NOTE));
}

/// Lists what is kept, brings the steps back, keeps every change from now on, and does what is wished of kept plans.
pub fn start(context: AppContext) {
    let app = context.app;
    // What an earlier version left open has no key yet.
    if untrack(|| open_plan(app)).is_some() {
        planning::ensure_key(app);
    }
    spawn_local(async move {
        refresh(context).await;
        if let Ok(Some(text)) = indexed_db::text_of(STEPS_KEY).await {
            kept_plans::restore_steps(app, &text);
        }
        keep_always(context);
        keep_steps(context);
    });
    Effect::new(move |_| {
        if let Some(wish) = kept_plans::take_wish(app) {
            spawn_local(fulfil(context, wish));
        }
    });
}

/// Keeps the open plan a moment after it changed, and the one before at once when another takes its place.
fn keep_always(context: AppContext) {
    let waiting = StoredValue::new(None::<Waiting>);
    let latest = StoredValue::new(0_u32);
    let keep_now = move || {
        if let Some(waits) = waiting.get_value() {
            waiting.set_value(None);
            spawn_local(keep(context, waits.about, waits.text));
        }
    };
    Effect::new(move |before: Option<()>| {
        let app = context.app;
        let now = open_plan(app);
        app.kept_plans.key.with(|key| note_open(key.as_deref()));
        // What lies there already is not written anew only because the page was opened.
        let is_there = now.as_ref().is_some_and(|now| is_listed(app, &now.about.key));
        if before.is_none() && is_there {
            return;
        }
        let key_of = |waits: &Option<Waiting>| waits.as_ref().map(|waits| waits.about.key.clone());
        if key_of(&waiting.get_value()) != key_of(&now) {
            keep_now();
        }
        // What was just read lies there already: writing it would take it from the tab that has it open.
        let key = now.as_ref().map(|now| now.about.key.clone());
        let is_read = tabs::know(app, |own| own.take_just_read(key.as_deref()));
        waiting.set_value(now.filter(|_| !is_read));
        latest.update_value(|count| *count += 1);
        let this = latest.get_value();
        timers::after(WAIT, move || {
            if latest.get_value() == this {
                keep_now();
            }
        });
    });
    // A page that goes away does not wait.
    events::when("pagehide", keep_now);
}

fn keep_steps(context: AppContext) {
    let latest = StoredValue::new(0_u32);
    Effect::new(move |before: Option<()>| {
        context.app.plan_steps.track();
        if before.is_none() {
            return;
        }
        latest.update_value(|count| *count += 1);
        let this = latest.get_value();
        timers::after(WAIT, move || {
            if latest.get_value() == this {
                let text = context.app.plan_steps.with_untracked(steps_text);
                spawn_local(async move {
                    if indexed_db::keep(STEPS_KEY, "", &text).await.is_err() {
                        context.plan_is_saved.set(false);
                    }
                });
            }
        });
    });
}

/// The open plan as it is to be kept; nothing while it is blank or has no key.
fn open_plan(app: AppState) -> Option<Waiting> {
    let when = app.now();
    app.plan.with(|plan| {
        app.plan_draft.with(|draft| {
            let key = app.kept_plans.key.get().unwrap_or_default();
            let about = KeptPlan::of(draft, plan.as_ref(), &key, &when);
            let is_blank = draft.is_blank() && plan.is_none();
            (!is_blank).then(|| Waiting { about, text: draft.file_text(plan.as_ref()) })
        })
    })
}

fn is_listed(app: AppState, key: &str) -> bool {
    app.kept_plans.list.with_untracked(|list| list.iter().any(|plan| plan.key == key))
}

async fn keep(context: AppContext, about: KeptPlan, text: String) {
    if about.key.is_empty() {
        return;
    }
    let about = KeptPlan { key: tabs::know(context.app, |own| own.now_under(&about.key)), ..about };
    match versions::keep(context.app, &about.key, &about.to_text(), &text).await {
        Ok(true) => kept_plans::show_kept(context.app, about),
        Ok(false) => keep_beside(context, about, text).await,
        Err(_) => context.plan_is_saved.set(false),
    }
}

/// Another tab has written the plan since: this tab's version goes under a key and a name of its own.
async fn keep_beside(context: AppContext, about: KeptPlan, text: String) {
    let app = context.app;
    // Before anything waits: what is changed from now on goes there too.
    let key = tabs::know(app, |own| own.go_on_beside(&about.key));
    let (about, text) = kept_plans::go_on_as_other_version(app, about, text, &key);
    match versions::keep(app, &key, &about.to_text(), &text).await {
        Ok(_) => kept_plans::show_kept(app, about),
        Err(_) => context.plan_is_saved.set(false),
    }
    // The other tab's version is listed with its time.
    refresh(context).await;
}

async fn refresh(context: AppContext) {
    match indexed_db::list().await {
        Ok(found) => {
            let plans = found.iter().filter(|(key, _)| is_plan_key(key));
            // The open plan, and those that undo goes back to, go on from what lies there now.
            plans.clone().for_each(|(key, about)| versions::note_first(context.app, key, about));
            kept_plans::show_list(context.app, plans.map(|(key, about)| KeptPlan::from_text(key, about)).collect());
        }
        Err(_) => context.plan_is_saved.set(false),
    }
}

async fn fulfil(context: AppContext, wish: Wish) {
    let app = context.app;
    match wish {
        Wish::Open(plan) => {
            if let Some(text) = found(context, &plan.key).await {
                kept_plans::open(app, &plan, &text);
            }
        }
        Wish::Delete(plan) => {
            let Some(text) = found(context, &plan.key).await else { return };
            match indexed_db::forget(&plan.key).await {
                Ok(()) => kept_plans::note_deleted(app, plan, text),
                Err(_) => context.plan_is_saved.set(false),
            }
        }
        Wish::TakeBackDeleting => {
            if let Some((about, text)) = kept_plans::take_deleted(app) {
                keep(context, about, text).await;
            }
        }
    }
}

async fn found(context: AppContext, key: &str) -> Option<String> {
    let text = versions::read(context.app, key).await.ok().flatten();
    if text.is_none() {
        actions::say(context.app, Message::refused(say::GONE, say::GONE_HINT));
        refresh(context).await;
    }
    text
}

fn note_open(key: Option<&str>) {
    match key {
        Some(key) => _ = kept_texts::keep(OPEN_NOTE, key),
        None => kept_texts::forget(OPEN_NOTE),
    }
}
