//! The desk of filled pages in the browser's own store, one for each plan: written at each decision, laid when its plan is
//! opened. Pictures are not kept; strips that a person is shown are.

use crate::browser::kept_texts;
use crate::state::AppState;
use crate::state::session::{joining, scan_desk};
use leptos::prelude::*;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::scan_desk::desk::ScanDesk;

const DESK_SAVED_AS: &str = "likeness-reading";
const STRIPS_SAVED_AS: &str = "likeness-reading-strips";
const DECISIONS_SAVED_AS: &str = "likeness-joined";
/// What could not be read is put here before anything is written in its place.
const BROKEN_SAVED_AS: &str = "likeness-reading-broken";

/// Lays the desk of whatever plan is open, and saves each change at once: the tab may be closed in the next moment.
pub fn restore_and_save_always(app: AppState) {
    let study = Memo::new(move |_| app.plan.with(|plan| plan.as_ref().map(TastingPlan::study_id)));
    Effect::new(move |_| lay(app, study.get()));
    Effect::new(move |_| {
        let text = app.scanning.desk.with(|desk| desk.as_ref().map(|desk| (desk.study.clone(), desk.to_text())));
        if let Some((study, text)) = text {
            scan_desk::note_saved(app, kept_texts::keep(&name_of(DESK_SAVED_AS, &study), &text));
        }
    });
    save_strips(app);
    save_decisions(app);
}

fn lay(app: AppState, study: Option<String>) {
    let kept = |what: &str| study.as_ref().and_then(|study| kept_texts::kept(&name_of(what, study)));
    let (desk, strips, decisions) = (kept(DESK_SAVED_AS), kept(STRIPS_SAVED_AS), kept(DECISIONS_SAVED_AS));
    let is_sound = untrack(|| scan_desk::lay_desk(app, desk.as_deref(), strips.as_deref(), decisions.as_deref()));
    if let (false, Some(text)) = (is_sound, desk) {
        kept_texts::keep(BROKEN_SAVED_AS, &text);
    }
}

fn save_strips(app: AppState) {
    Effect::new(move |_| {
        let text = app.scanning.strips.with(scan_desk::strips_text);
        if let Some(study) = desk_name(app) {
            let are_saved = kept_texts::keep(&name_of(STRIPS_SAVED_AS, &study), &text);
            scan_desk::note_strips_saved(app, are_saved);
        }
    });
}

fn save_decisions(app: AppState) {
    Effect::new(move |_| {
        let text = app.scanning.decisions.with(|decisions| joining::decisions_text(decisions));
        if let Some(study) = desk_name(app) {
            kept_texts::keep(&name_of(DECISIONS_SAVED_AS, &study), &text);
        }
    });
}

fn desk_name(app: AppState) -> Option<String> {
    app.scanning.desk.with_untracked(|desk: &Option<ScanDesk>| desk.as_ref().map(|desk| desk.study.clone()))
}

fn name_of(what: &str, study: &str) -> String {
    format!("{what}-{study}")
}
