//! All scores of the open plan, from wherever they came, as one study: typed, read from pictures, made on screens. Where
//! sources differ, a person decides. It must not know how a source came about.

use super::data_entry::{self, DataEntryStatus, TOLERANCE, status};
use super::on_screen_ballot;
use crate::state::app_state::AppState;
use crate::state::study::in_place;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::plan::data_entry::entry::{DataEntry, Entry, EntryOptions};
use likeness_core::plan::joining::{JoinDecision, JoinedScores, ScoreSource, SourceDifference, SourceScores};
use likeness_core::plan::on_screen::collect::collect;
use likeness_core::plan::tasting_plan::TastingPlan;

/// All sources of the open plan laid over each other; nothing without a plan. Reads signals.
pub fn joined(app: AppState) -> Option<JoinedScores> {
    app.plan.with(|plan| {
        let sources = sources(app, plan.as_ref()?);
        Some(app.scanning.decisions.with(|decisions| JoinedScores::new(sources, decisions, TOLERANCE)))
    })
}

fn sources(app: AppState, plan: &TastingPlan) -> Vec<SourceScores> {
    let typed = app.data_entry.file.with(|file| {
        let fits = status(Some(plan), file.as_ref()) == DataEntryStatus::Fits;
        file.as_ref().filter(|_| fits).map(|file| file.data_entry.source(plan, TOLERANCE))
    });
    let read = app
        .scanning
        .desk
        .with(|desk| desk.as_ref().filter(|desk| desk.study == plan.study_id()).map(|desk| desk.source(plan)));
    let made =
        app.on_screen.collected.with(|files| (!files.is_empty()).then(|| collect(plan, files).source(plan, files)));
    [typed, read, made].into_iter().flatten().collect()
}

/// The page and the line of a difference.
pub fn in_words(plan: &TastingPlan, difference: &SourceDifference) -> (String, String) {
    let page = plan.servings().get(difference.serving).map(|serving| {
        let assessor = plan.assessors.get(serving.assessor).map_or("", String::as_str);
        say::page(assessor, serving.session, &serving.code)
    });
    let line = plan.attributes.attributes.get(difference.attribute).map(|attribute| attribute.name.clone());
    (page.unwrap_or_default(), line.unwrap_or_default())
}

/// Decides what stands where sources differ.
pub fn decide(app: AppState, difference: &SourceDifference, entry: Entry) {
    let SourceDifference { serving, attribute, between, .. } = difference.clone();
    app.scanning.decisions.update(|decisions| {
        decisions.retain(|other| (other.serving, other.attribute) != (serving, attribute));
        decisions.push(JoinDecision { serving, attribute, between, entry });
    });
}

/// Decides by a score typed anew.
///
/// # Errors
/// Why it is no score of this scale.
pub fn decide_typed(app: AppState, difference: &SourceDifference, text: &str) -> Result<(), String> {
    let read = |plan: &TastingPlan| DataEntry::of_plan(plan, EntryOptions::default()).entry_in(text);
    let entry = app.plan.with_untracked(|plan| plan.as_ref().map(read)).unwrap_or(Ok(Entry::NotTyped))?;
    decide(app, difference, entry);
    Ok(())
}

/// The decisions as text for the browser's store.
pub fn decisions_text(decisions: &[JoinDecision]) -> String {
    serde_json::to_string(decisions).unwrap_or_default()
}

/// The study from one source as it always was where that is the only one, and from all of them where there are more; it
/// opens at the verdict.
pub fn use_scores_of(app: AppState, source: ScoreSource) {
    let is_alone = untrack(|| joined(app)).is_none_or(|joined| joined.sources().iter().all(|one| one.source == source));
    match source {
        ScoreSource::Typed if is_alone => data_entry::use_scores(app),
        ScoreSource::Screens if is_alone => on_screen_ballot::use_results(app),
        _ => use_all(app),
    }
}

fn use_all(app: AppState) {
    let (Some(plan), Some(joined)) = (app.plan.get_untracked(), untrack(|| joined(app))) else { return };
    if joined.score_count() == 0 {
        return;
    }
    let mut study = joined.study(&plan, &app.now());
    app.scanning.desk.with_untracked(|desk| {
        if let Some(desk) = desk.as_ref().filter(|desk| desk.study == plan.study_id() && !desk.pages.is_empty()) {
            desk.put_record(&plan, &mut study);
        }
    });
    let said = say::log_joined(joined.score_count(), &joined.progress(&plan).in_words());
    in_place::put_in_place(app, study, said);
}

/// Goes to a page in data entry, so that a second reader types it; begins data entry where nobody did.
pub fn type_page(app: AppState, assessor: &str, code: &str) {
    let (plan, file) = (app.plan.get_untracked(), app.data_entry.file.get_untracked());
    if status(plan.as_ref(), file.as_ref()) == DataEntryStatus::NotBegun {
        data_entry::begin(app);
    }
    data_entry::go_to_page_of(app, assessor, code);
    app.plan_part.set(crate::state::page::PlanPart::DataEntry);
}
