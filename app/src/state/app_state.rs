//! What the user gave, and what the user chose to look at. Nothing here is computed.

use super::page::{Learning, Message, PlanPart, View};
use super::plan::kept_keys::KeptPlans;
use super::plan::plan_history::PlanSteps;
use super::session::data_entry_state::DataEntryState;
use super::session::on_screen_state::OnScreenState;
use super::session::scan_state::ScanState;
use super::study::history::History;
use super::study::score_rows::ScoresShown;
use super::tab_state::Tabs;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::plan::tests::short_test::ShortTest;
use likeness_core::read::ReadOptions;
use likeness_core::study::{MarginOrigin, Scale, Study};
use std::sync::Arc;

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
    /// The attribute that stays selected until another is, by name.
    pub selected_attribute_kept: RwSignal<Option<String>>,
    /// Samples that the profile shows, by name; empty means all.
    pub shown_samples: RwSignal<Vec<String>>,
    /// Which scores the view Scores shows.
    pub scores_shown: RwSignal<ScoresShown>,
    /// The plan that was made, with its orders and codes.
    pub plan: RwSignal<Option<TastingPlan>>,
    /// What is typed of a plan; stays beside the plan that was made from it.
    pub plan_draft: RwSignal<PlanDraft>,
    pub plan_part: RwSignal<PlanPart>,
    /// A test that is no profile, with its answers.
    pub short_test: RwSignal<ShortTest>,
    pub plan_steps: RwSignal<PlanSteps>,
    pub kept_plans: KeptPlans,
    pub learning: Learning,
    pub data_entry: DataEntryState,
    pub on_screen: OnScreenState,
    pub scanning: ScanState,
    /// What this tab knows of others that show the same page.
    pub tabs: Tabs,
    /// Local date and time, for the log. An input, so that tests can set it.
    pub clock: fn() -> String,
}

impl OpenedFiles {
    /// The names of all files, as one text.
    pub fn names(&self) -> String {
        self.files.iter().map(|file| file.name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

impl DecidedBefore {
    /// The margin that was stated, else a tenth of the scale, in units of the scale; `None` without either.
    pub fn margin_width_on(&self, scale: Option<&Scale>) -> Option<f64> {
        self.margin_width.or_else(|| scale.map(|scale| (scale.maximum - scale.minimum) / 10.0))
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
            scores_shown: RwSignal::new(ScoresShown::default()),
            plan: RwSignal::new(None),
            plan_draft: RwSignal::new(PlanDraft::default()),
            plan_part: RwSignal::new(PlanPart::default()),
            short_test: RwSignal::new(ShortTest::default()),
            plan_steps: RwSignal::new(PlanSteps::default()),
            kept_plans: KeptPlans::default(),
            learning: Learning::new(),
            data_entry: DataEntryState::default(),
            on_screen: OnScreenState::default(),
            scanning: ScanState::default(),
            tabs: Tabs::default(),
            clock,
        }
    }

    pub fn now(&self) -> String {
        (self.clock)()
    }
}
