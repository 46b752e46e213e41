//! The plan and its draft in the browser's own store: written at every change, read when the page opens.

use super::kept_plans;
use crate::browser::kept_texts;
use crate::state::AppContext;
use crate::state::AppState;
use crate::state::plan::{planning, short_tests};
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;

const PLAN_SAVED_AS: &str = "likeness-open-plan";
const DRAFT_SAVED_AS: &str = "likeness-plan-draft";
const SHORT_SAVED_AS: &str = "likeness-short-test";

/// Brings back what the browser saved from the last visit.
pub fn restore(app: AppState) {
    kept_plans::restore_key(app);
    let (draft, plan) = (kept_texts::kept(DRAFT_SAVED_AS), kept_texts::kept(PLAN_SAVED_AS));
    planning::restore(app, draft.as_deref(), plan.as_deref());
    short_tests::restore(app, kept_texts::kept(SHORT_SAVED_AS).as_deref());
}

/// Saves draft and plan whenever they change, at once: the tab may be closed in the next moment.
pub fn save_always(context: AppContext) {
    kept_plans::start(context);
    let app = context.app;
    let plan_text = Memo::new(move |_| app.plan.with(|plan| plan.as_ref().map(|plan| plan.to_json())));
    let draft_text = Memo::new(move |_| {
        app.plan_draft.with(|draft| (*draft != PlanDraft::default()).then(|| planning::draft_text(draft)))
    });
    let short_text = Memo::new(move |_| app.short_test.with(short_tests::text_to_save));
    Effect::new(move |before: Option<()>| {
        // All are read at once: a memo that was never read follows nothing, and would never call back.
        let texts =
            [(PLAN_SAVED_AS, plan_text.get()), (DRAFT_SAVED_AS, draft_text.get()), (SHORT_SAVED_AS, short_text.get())];
        // What was just read from the store need not be written.
        if before.is_some() {
            let saved = texts.map(|(name, text)| save(name, text.as_deref()));
            context.plan_is_saved.set(saved.into_iter().all(|is_saved| is_saved));
        }
    });
}

/// Whether the browser saves it; nothing to save is saved as well.
fn save(name: &str, text: Option<&str>) -> bool {
    match text {
        Some(text) => kept_texts::keep(name, text),
        None => {
            kept_texts::forget(name);
            true
        }
    }
}
