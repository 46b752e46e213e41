//! The page itself: its views, the parts of the plan, what it says at its top, and how it is read and used. Plain values
//! that the application state is made of; it must not know the state, nor who changes it.

use crate::words::plan;
use crate::words::views;
use crate::words::views::ViewWords;
use leptos::prelude::RwSignal;
use likeness_core::notice::Severity;
use likeness_core::self_check::CheckValue;

/// The views, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    Plan,
    Scores,
    #[default]
    Match,
    Panel,
    Profile,
    Map,
    Report,
}

/// The parts of the plan, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlanPart {
    /// What is asked, by whom, and what counts as alike.
    #[default]
    Brief,
    /// What is tasted, and by whom.
    Samples,
    /// The list of attributes.
    Attributes,
    /// Serving orders and codes.
    Orders,
    /// Ballots, serving sheets, labels, key, checklist.
    Printouts,
    /// Tests that are no profile: pairs, triangle, labels.
    ShortTests,
    /// What happened at the tasting.
    SessionRecord,
    /// Data entry: scores typed from paper ballots.
    DataEntry,
    /// Filled pages, read from pictures.
    Pictures,
    /// On-screen ballots and what comes back from them.
    OnScreen,
}

/// One thing that the page says at its top until it is put away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    pub severity: Severity,
    pub what: String,
    pub hint: String,
}

/// The page for learning and checking, and how the page reads and answers keys. Nothing here is about a study.
#[derive(Clone, Copy)]
pub struct Learning {
    pub is_open: RwSignal<bool>,
    pub single_keys: RwSignal<bool>,
    /// Whether numbers on the screen have a decimal comma.
    pub decimal_comma: RwSignal<bool>,
    /// Published figures and what this machine made of them; `None` until asked.
    pub checks: RwSignal<Option<Vec<CheckValue>>>,
}

impl View {
    pub const ALL: [View; 7] =
        [View::Plan, View::Scores, View::Match, View::Panel, View::Profile, View::Map, View::Report];

    /// Its name and the question that it answers.
    pub fn in_words(self) -> ViewWords {
        match self {
            View::Plan => views::PLAN,
            View::Scores => views::SCORES,
            View::Panel => views::PANEL,
            View::Profile => views::PROFILE,
            View::Match => views::MATCH,
            View::Map => views::MAP,
            View::Report => views::REPORT,
        }
    }
}

impl PlanPart {
    /// The parts that the page shows, in the order of the work.
    pub const ALL: &[PlanPart] = &[
        PlanPart::Brief,
        PlanPart::Samples,
        PlanPart::Attributes,
        PlanPart::Orders,
        PlanPart::Printouts,
        PlanPart::SessionRecord,
        PlanPart::DataEntry,
        PlanPart::Pictures,
        PlanPart::OnScreen,
        PlanPart::ShortTests,
    ];

    pub fn name(self) -> &'static str {
        match self {
            PlanPart::Brief => plan::BRIEF,
            PlanPart::Samples => plan::SAMPLES,
            PlanPart::Attributes => plan::ATTRIBUTES,
            PlanPart::Orders => plan::ORDERS,
            PlanPart::Printouts => plan::PRINTOUTS,
            PlanPart::ShortTests => plan::SHORT_TESTS,
            PlanPart::SessionRecord => plan::SESSION_RECORD,
            PlanPart::DataEntry => plan::DATA_ENTRY,
            PlanPart::Pictures => plan::PICTURES,
            PlanPart::OnScreen => plan::ON_SCREEN,
        }
    }

    /// Its number among the steps of a plan, from 1; none for what is no step of it.
    pub fn step(self) -> Option<u8> {
        match self {
            PlanPart::Brief => Some(1),
            PlanPart::Samples => Some(2),
            PlanPart::Attributes => Some(3),
            PlanPart::Orders => Some(4),
            PlanPart::Printouts => Some(5),
            PlanPart::SessionRecord => Some(6),
            PlanPart::DataEntry | PlanPart::Pictures | PlanPart::OnScreen => Some(7),
            PlanPart::ShortTests => None,
        }
    }

    /// A name for hooks of tests.
    pub fn hook(self) -> &'static str {
        match self {
            PlanPart::Brief => "question",
            PlanPart::Samples => "samples",
            PlanPart::Attributes => "words",
            PlanPart::Orders => "orders",
            PlanPart::Printouts => "papers",
            PlanPart::ShortTests => "short-tests",
            PlanPart::SessionRecord => "day",
            PlanPart::DataEntry => "typing",
            PlanPart::Pictures => "pictures",
            PlanPart::OnScreen => "screen-forms",
        }
    }
}

impl Message {
    pub fn refused(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Message { severity: Severity::Refused, what: what.into(), hint: hint.into() }
    }
}

impl Learning {
    pub fn new() -> Self {
        Learning {
            is_open: RwSignal::new(false),
            single_keys: RwSignal::new(true),
            decimal_comma: RwSignal::new(false),
            checks: RwSignal::new(None),
        }
    }
}
