//! What every entry of the catalogue found for the open study: started when it is wanted, kept while what it rests on
//! stands, dropped when that changes. It knows no method by name.

use crate::shared::Shared;
use crate::state::long_run::{InSlices, LongRun};
use crate::state::{AppState, Derived};
use leptos::prelude::*;
use likeness_core::catalogue::{AnyFinding, CATALOGUE, Entry, Given, RestsOn, Results, ResultsRun, Statistic};
use likeness_core::defined::NotDefined;
use likeness_core::study::{ExclusionScope, SourceFile, Study};
use likeness_core::write::people::as_shown;
use std::sync::Arc;

/// The results of all entries. Copies are handles to the same.
#[derive(Clone, Copy)]
pub struct Findings {
    app: AppState,
    derived: Derived,
    in_slices: InSlices,
    /// What entries are given: copied once for each state of the study, when something first asks for it.
    given: Memo<Option<Shared<Given>>>,
    /// One an entry, in the order of the catalogue.
    runs: StoredValue<Vec<LongRun<AnyFinding>>>,
    /// All results of the study as report and workbook show it.
    pub printed: LongRun<Results>,
}

/// What the scores that count are: two states that are equal here give the same results.
#[derive(Clone, PartialEq)]
struct Scores {
    files: Vec<SourceFile>,
    exclusions: Vec<ExclusionScope>,
    attributes: Vec<String>,
    n_servings: usize,
    scores: u64,
}

impl Findings {
    pub fn new(app: AppState, derived: Derived, in_slices: InSlices) -> Self {
        let runs = CATALOGUE.iter().map(|_| LongRun::new(in_slices)).collect();
        let given = Memo::new(move |_| {
            let analysis = derived.analysis.get()?.to_arc();
            app.study.with_untracked(|study| Some(Shared::new(Given::with_analysis(study.as_ref()?, analysis))))
        });
        Findings { app, derived, in_slices, given, runs: StoredValue::new(runs), printed: LongRun::new(in_slices) }
    }

    /// Drops from now on whatever no longer holds because what it rests on has changed.
    pub fn follow_changes(self) {
        let Findings { app, derived, .. } = self;
        let scores = Memo::new(move |_| app.study.with(|study| study.as_ref().map(scores_of)));
        let settings = Memo::new(move |_| app.study.with(|study| study.as_ref().map(settings_of)));
        // Memos are read, not only tracked: one that was never read does not know what it depends on.
        Effect::new(move |_| {
            scores.with(|_| ());
            self.drop_all_that_rest_on(RestsOn::Scores);
        });
        Effect::new(move |_| {
            derived.tasted.with(|_| ());
            derived.is_settled.get();
            self.drop_all_that_rest_on(RestsOn::Tasted);
        });
        Effect::new(move |_| {
            scores.with(|_| ());
            settings.with(|_| ());
            self.drop_all_that_rest_on(RestsOn::Settings);
            self.printed.drop_result();
        });
    }

    /// The run of an entry.
    pub fn run_of(self, entry: &Entry) -> LongRun<AnyFinding> {
        let place = CATALOGUE.iter().position(|other| other.about.id == entry.about.id);
        // Every entry that there is stands in the catalogue; the first stands in for one that does not.
        self.runs.with_value(|runs| runs[place.unwrap_or_default()])
    }

    /// What a method found, as what it is. Reads signals.
    pub fn found<S: Statistic>(self) -> Option<Arc<S::Found>> {
        self.run_of(Entry::named(S::ABOUT.id)?).found()?.shared()
    }

    /// Starts an entry on the study as it is.
    pub fn start(self, entry: &Entry) {
        let given = self.given();
        let started =
            given.ok_or_else(|| NotDefined::because("no study is open")).and_then(|given| entry.start(&given));
        self.run_of(entry).start(started);
    }

    /// Starts an entry that is not begun and short enough not to be asked for. Reads signals, so that it is asked again
    /// when something changes.
    pub fn start_unasked(self, entry: &Entry) {
        let is_short =
            self.app.study.with(|study| study.as_ref().is_some_and(|study| entry.about.cost.starts_unasked(study)));
        if is_short && self.run_of(entry).is_idle() {
            self.start(entry);
        }
    }

    /// What entries are given: the study as it is, with the analysis that is there already.
    pub fn given(self) -> Option<Shared<Given>> {
        self.given.get_untracked()
    }

    /// Starts all results of the study as it is shown on paper, in place of any other; what is there already and names
    /// nobody that paper must not name is taken over.
    pub fn start_printed(self) {
        let Some(study) = self.app.study.get_untracked() else { return self.printed.drop_result() };
        let shown = as_shown(&study);
        let names_stay = shown == study;
        let mut run = ResultsRun::start(Given::of(&shown));
        for entry in CATALOGUE.iter().filter(|entry| names_stay || !entry.about.names_assessors) {
            if let Some(found) = untrack(|| self.run_of(entry).found()) {
                run = run.knowing(entry.about.id, Ok((*found).clone()));
            }
        }
        self.printed.start(Ok(run));
    }

    /// How slices are made, for runs of a view's own.
    pub fn in_slices(self) -> InSlices {
        self.in_slices
    }

    fn drop_all_that_rest_on(self, ground: RestsOn) {
        for entry in CATALOGUE.iter().filter(|entry| entry.about.rests_on == ground) {
            self.run_of(entry).drop_result();
        }
    }
}

/// What of a study decides results, beside its scores. Texts of the report, the log and notices do not.
fn settings_of(study: &Study) -> impl PartialEq + Clone + Send + Sync + use<> {
    let kinds: Vec<_> = study.attributes.iter().map(|attribute| attribute.kind).collect();
    (study.settings.clone(), kinds, study.decided_at.is_some(), study.report.assessors_as_numbers)
}

fn scores_of(study: &Study) -> Scores {
    let mut scores = 0_u64;
    for attribute in 0..study.attributes.len() {
        for serving in 0..study.servings.len() {
            let bits = study.score(serving, attribute).map_or(1, f64::to_bits);
            scores = scores.rotate_left(5) ^ bits.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        }
    }
    Scores {
        files: study.files.clone(),
        exclusions: study.exclusions.iter().map(|exclusion| exclusion.scope).collect(),
        attributes: study.attributes.iter().map(|attribute| attribute.name.clone()).collect(),
        n_servings: study.servings.len(),
        scores,
    }
}
