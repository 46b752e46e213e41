//! Putting a study in the place of the open one. It must not know where the study came from.

use super::history::Snapshot;
use super::score_rows::ScoresShown;
use crate::state::app_state::{AppState, DecidedBefore};
use crate::state::page::View;
use crate::words;
use leptos::prelude::*;
use likeness_core::study::{LogKind, Study};

/// The margin starts as a tenth of the scale where none was stated, as on the 100 mm line.
pub(super) fn apply_before(study: &mut Study, before: &DecidedBefore) {
    if let Some(width) = before.margin_width_on(Some(&study.scale)) {
        study.settings.margin.width_mm = width;
    }
    study.settings.margin.origin = before.margin_origin.clone();
    study.settings.target = before.target.clone().filter(|name| study.sample_index(name).is_some());
}

/// Makes a study that was read from score files the open one.
pub(super) fn put_scores_in_place(app: AppState, mut study: Study, file_name: &str) {
    if let Some(target) = study.settings.target.clone() {
        let settings = &study.settings;
        let said = words::matching::log_decided_before(&target, settings.margin.width_mm, &study.scale.unit);
        study.note_in_log(&app.now(), LogKind::Settled, said);
    }
    let loaded = words::log_loaded(file_name, study.score_count());
    put_in_place(app, study, loaded);
}

/// Makes a study the open one, as one step that can be undone, and shows its verdict. `said` stands in its log.
pub(in crate::state) fn put_in_place(app: AppState, mut study: Study, said: String) {
    study.note_in_log(&app.now(), LogKind::Opened, said.clone());
    let before = app.study.get_untracked();
    app.history.update(|history| history.record(said, Snapshot::Whole(Box::new(before))));
    app.candidate.set(None);
    app.selected_attribute_kept.set(None);
    app.shown_samples.set(Vec::new());
    app.scores_shown.set(ScoresShown::default());
    app.study.set(Some(study));
    app.view.set(View::Match);
}
