//! What the user gave, and what the user chose to look at. Nothing here is computed.

use super::learning::Learning;
use super::plan::plan_history::PlanSteps;
use super::session::data_entry::DataEntryState;
use super::session::on_screen_ballot::OnScreenState;
use super::study::history::History;
use super::study::scores_shown::ScoresShown;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::plan::tests::short_test::ShortTest;
use likeness_core::read::ReadOptions;
use likeness_core::study::{MarginOrigin, Study};
use std::sync::Arc;

/// The views, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    Plan,
    Scores,
    Panel,
    Profile,
    #[default]
    Match,
    Map,
    Report,
}

/// The parts of the plan, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlanPart {
    /// What is asked, of which samples, by whom, with how many people.
    #[default]
    Brief,
    /// The list of attributes.
    Attributes,
    /// Serving orders and codes.
    Orders,
    /// Ballots, serving sheets, labels, key, checklist.
    Printouts,
    /// Tests that are no profile: pairs, triangle, label studies.
    ShortTests,
    /// What happened at the tasting.
    SessionRecord,
    /// Scores typed from paper.
    DataEntry,
    /// Forms on tablets and what comes back from them.
    OnScreen,
}

/// One file as it arrived.
#[derive(Clone, Debug)]
pub struct OpenedFile {
    pub name: String,
    pub bytes: Arc<Vec<u8>>,
}

/// Files that are being read together: they become the study only when the user says so.
#[derive(Clone, Debug)]
pub struct OpenedFiles {
    pub files: Vec<OpenedFile>,
    pub options: ReadOptions,
}

/// Target and margin, decided before the verdict is seen. `None` leaves it for later.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DecidedBefore {
    pub target: Option<String>,
    pub margin_width: Option<f64>,
    pub margin_origin: MarginOrigin,
}

/// One thing that the page says at its top until it is put away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    pub severity: Severity,
    pub what: String,
    pub hint: String,
}

/// Everything that is stored. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct AppState {
    pub study: RwSignal<Option<Study>>,
    pub history: RwSignal<History>,
    pub opened: RwSignal<Option<OpenedFiles>>,
    /// What the leader decides beside the opened file, before its scores are in use.
    pub before: RwSignal<DecidedBefore>,
    pub message: RwSignal<Option<Message>>,
    pub view: RwSignal<View>,
    /// The candidate that is looked at, by name; the first one where this names none.
    pub candidate: RwSignal<Option<String>>,
    /// The attribute that is pointed at in a table, by name.
    pub attribute: RwSignal<Option<String>>,
    /// The attribute that stays marked until another is chosen, by name.
    pub selected_attribute_kept: RwSignal<Option<String>>,
    /// Samples that the profile shows, by name; empty means all.
    pub shown_samples: RwSignal<Vec<String>>,
    /// What Scores shows of the marks.
    pub marks: RwSignal<ScoresShown>,
    /// The plan that was made, with its orders and codes.
    pub plan: RwSignal<Option<TastingPlan>>,
    /// What is typed of a plan; stays beside the plan that was made from it.
    pub plan_draft: RwSignal<PlanDraft>,
    pub plan_part: RwSignal<PlanPart>,
    /// A test that is no profile, with its answers.
    pub short_test: RwSignal<ShortTest>,
    pub plan_steps: RwSignal<PlanSteps>,
    pub learning: Learning,
    pub data_entry: DataEntryState,
    pub on_screen: OnScreenState,
    /// Local date and time, for the log. An input, so that tests can set it.
    pub clock: fn() -> String,
}

impl OpenedFiles {
    /// The names of all files, as one text.
    pub fn names(&self) -> String {
        self.files.iter().map(|file| file.name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

impl View {
    pub const ALL: [View; 7] =
        [View::Plan, View::Scores, View::Panel, View::Profile, View::Match, View::Map, View::Report];
}

impl PlanPart {
    /// The parts that the page shows, in the order of the work.
    pub const ALL: &[PlanPart] = &[
        PlanPart::Brief,
        PlanPart::Attributes,
        PlanPart::Orders,
        PlanPart::Printouts,
        PlanPart::ShortTests,
        PlanPart::SessionRecord,
        PlanPart::DataEntry,
        PlanPart::OnScreen,
    ];
}

impl Message {
    pub fn refused(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Message { severity: Severity::Refused, what: what.into(), hint: hint.into() }
    }
}

impl AppState {
    /// An empty store.
    pub fn new(clock: fn() -> String) -> Self {
        AppState {
            study: RwSignal::new(None),
            history: RwSignal::new(History::default()),
            opened: RwSignal::new(None),
            before: RwSignal::new(DecidedBefore::default()),
            message: RwSignal::new(None),
            view: RwSignal::new(View::default()),
            candidate: RwSignal::new(None),
            attribute: RwSignal::new(None),
            selected_attribute_kept: RwSignal::new(None),
            shown_samples: RwSignal::new(Vec::new()),
            marks: RwSignal::new(ScoresShown::default()),
            plan: RwSignal::new(None),
            plan_draft: RwSignal::new(PlanDraft::default()),
            plan_part: RwSignal::new(PlanPart::default()),
            short_test: RwSignal::new(ShortTest::default()),
            plan_steps: RwSignal::new(PlanSteps::default()),
            learning: Learning::new(),
            data_entry: DataEntryState::default(),
            on_screen: OnScreenState::default(),
            clock,
        }
    }

    pub fn now(&self) -> String {
        (self.clock)()
    }
}
