//! The three words of a verdict. It knows nothing of how one is reached.

use serde::Serialize;

/// The three honest answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Shown to lie inside the margin.
    Match,
    /// Shown to differ, and not shown to lie inside the margin.
    Off,
    /// This panel shows neither.
    NotShown,
}

impl Verdict {
    /// The word used in files and by the shell program.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Match => "match",
            Verdict::Off => "off",
            Verdict::NotShown => "not_shown",
        }
    }

    /// The word used in sentences.
    pub fn in_words(self) -> &'static str {
        match self {
            Verdict::Match => "match",
            Verdict::Off => "off",
            Verdict::NotShown => "not shown",
        }
    }
}
