//! The plan and its draft in the browser's own store: written at every change, read when the page opens.

use super::super::Desk;
use crate::browser::store;
use crate::state::{Ground, plan_actions, plan_short};
use leptos::prelude::*;
use likeness_core::plan::draft::PlanDraft;

const PLAN_KEPT_AS: &str = "likeness-open-plan";
const DRAFT_KEPT_AS: &str = "likeness-plan-draft";
const SHORT_KEPT_AS: &str = "likeness-short-test";

/// Brings back what the browser kept from the last visit.
pub fn restore(ground: Ground) {
    let (draft, plan) = (store::kept(DRAFT_KEPT_AS), store::kept(PLAN_KEPT_AS));
    plan_actions::restore(ground, draft.as_deref(), plan.as_deref());
    plan_short::restore(ground, store::kept(SHORT_KEPT_AS).as_deref());
}

/// Keeps draft and plan whenever they change, at once: the tab may be closed in the next moment.
pub fn keep_always(desk: Desk) {
    let ground = desk.ground;
    let plan_text = Memo::new(move |_| ground.plan.with(|plan| plan.as_ref().map(|plan| plan.to_json())));
    let draft_text = Memo::new(move |_| {
        ground.plan_draft.with(|draft| (*draft != PlanDraft::default()).then(|| plan_actions::draft_text(draft)))
    });
    let short_text = Memo::new(move |_| ground.short_test.with(plan_short::text_to_keep));
    Effect::new(move |before: Option<()>| {
        // All are read at once: a memo that was never read follows nothing, and would never call back.
        let texts =
            [(PLAN_KEPT_AS, plan_text.get()), (DRAFT_KEPT_AS, draft_text.get()), (SHORT_KEPT_AS, short_text.get())];
        // What was just read from the store need not be written.
        if before.is_some() {
            let kept = texts.map(|(name, text)| keep(name, text.as_deref()));
            desk.plan_is_kept.set(kept.into_iter().all(|is_kept| is_kept));
        }
    });
}

/// Whether the browser keeps it; nothing to keep is kept as well.
fn keep(name: &str, text: Option<&str>) -> bool {
    match text {
        Some(text) => store::keep(name, text),
        None => {
            store::forget(name);
            true
        }
    }
}
