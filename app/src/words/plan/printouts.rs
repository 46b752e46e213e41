//! Words of the part with printouts.

use crate::words::counted;

pub const HEADING: &str = "Ballots and other papers";
pub const INTRO: &str =
    "Print at 100 %, not fitted to the page: the bar at the foot of each ballot must measure 100 mm.";
pub const NO_PLAN: &str = "Papers come from a plan, and none has been made yet.";
pub const TO_ORDERS: &str = "Go to orders and codes";
pub const WHICH: &str = "Which paper";
pub const PAPER: &str = "Paper";
pub const SESSION: &str = "Session";
pub const ALL_SESSIONS: &str = "all sessions";
pub const PRINT: &str = "Print";
pub const SAVE_PRINT: &str = "Save as a file to print elsewhere";
pub const SAVE_PRINT_NAME: &str = "ballots.html";
pub const TO_SCREENS: &str = "Or taste on screens: save a ballot file for each device";
pub const PRINTED_SO_FAR: &str = "Printed so far";
pub const PREVIEW: &str = "Preview";
pub const EARLIER: &str = "Earlier cup";
pub const LATER: &str = "Later cup";
pub const NOT_SHOWN: &str = "This paper names the samples. It is printed or saved without being shown here, so that nobody reads it over your shoulder. Keep it apart from ballots and labels.";
pub const PRINT_NOTE: &str =
    "If the browser's dialogue offers margins or scaling: no margins, 100 %, no headers and footers.";
pub const PAPERS: [&str; 2] = ["A4", "Letter"];

/// One kind of printout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PrintoutKind {
    #[default]
    Ballots,
    Serving,
    Labels,
    Preparation,
    Key,
    Checklist,
    Words,
    Brief,
}

impl PrintoutKind {
    pub const ALL: [PrintoutKind; 8] = [
        PrintoutKind::Ballots,
        PrintoutKind::Serving,
        PrintoutKind::Labels,
        PrintoutKind::Preparation,
        PrintoutKind::Key,
        PrintoutKind::Checklist,
        PrintoutKind::Words,
        PrintoutKind::Brief,
    ];

    pub fn name(self) -> &'static str {
        match self {
            PrintoutKind::Ballots => "Ballots",
            PrintoutKind::Serving => "Serving sheet",
            PrintoutKind::Labels => "Cup labels",
            PrintoutKind::Preparation => "Preparation sheet",
            PrintoutKind::Key => "Key",
            PrintoutKind::Checklist => "Checklist",
            PrintoutKind::Words => "Word list",
            PrintoutKind::Brief => "Brief",
        }
    }

    pub fn about(self) -> &'static str {
        match self {
            PrintoutKind::Ballots => {
                "One set of pages a cup, in the order of tasting. Each page carries who, which code, which cup, and a square code that a scan can read."
            }
            PrintoutKind::Serving => {
                "For who serves: one line an assessor, one column a cup, a box to tick at each code. No sample is named."
            }
            PrintoutKind::Labels => {
                "One label a cup, the code large. Cut along the lines; a second person checks them against the serving sheet."
            }
            PrintoutKind::Preparation => "For the kitchen: which sample under which code, how many cups. Confidential.",
            PrintoutKind::Key => {
                "Which code is which sample, all sessions. Confidential: locked away until all scores are in."
            }
            PrintoutKind::Checklist => {
                "What to see to before, during and after a session: light, temperature, rest, cleanser, allergens, consent."
            }
            PrintoutKind::Words => {
                "The attribute list with definitions and references, for training and for the wall of the room."
            }
            PrintoutKind::Brief => {
                "What was decided before anybody tasted: samples, margin and where it comes from, profile margin, what decides. Confidential."
            }
        }
    }

    pub fn hook(self) -> &'static str {
        match self {
            PrintoutKind::Ballots => "ballots",
            PrintoutKind::Serving => "serving",
            PrintoutKind::Labels => "labels",
            PrintoutKind::Preparation => "preparation",
            PrintoutKind::Key => "key",
            PrintoutKind::Checklist => "checklist",
            PrintoutKind::Words => "word-list",
            PrintoutKind::Brief => "brief",
        }
    }
}

pub fn sheets(pages: usize, cups: usize) -> String {
    format!("{} for {}.", counted(pages, "sheet of paper", "sheets of paper"), counted(cups, "cup", "cups"))
}

pub fn cup_of(cup: usize, all: usize) -> String {
    format!("cup {cup} of {all}")
}

pub fn label_small(assessor: &str, session: &str, position: &str, preparation: Option<&str>) -> String {
    let preparation = preparation.map(|number| format!(", preparation {number}")).unwrap_or_default();
    format!("{assessor}, session {session}, cup {position}{preparation}")
}
