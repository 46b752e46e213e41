//! The names of the views and the question that each answers. It must not know which view is open.

/// What stands on the button of a view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ViewWords {
    pub name: &'static str,
    /// The question that the view answers.
    pub question: &'static str,
}

pub const PLAN: ViewWords = ViewWords { name: "Plan", question: "before the tasting" };
pub const SCORES: ViewWords = ViewWords { name: "Scores", question: "what was loaded" };
pub const PANEL: ViewWords = ViewWords { name: "Panel", question: "can it be believed" };
pub const PROFILE: ViewWords = ViewWords { name: "Profile", question: "what each is like" };
pub const MATCH: ViewWords = ViewWords { name: "Match", question: "the verdict" };
pub const MAP: ViewWords = ViewWords { name: "Map", question: "who lies near whom" };
pub const REPORT: ViewWords = ViewWords { name: "Report", question: "to print and keep" };
