//! Scores that were read from pictures of filled pages: which file, page and row each came from, how it was decided, and
//! how the reading was checked. It knows nothing of how a picture is read.

use serde::{Deserialize, Serialize};

/// The record of reading.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PictureRecord {
    pub pages: Vec<PictureReadPage>,
    /// Pictures in which nothing was read, each with why.
    pub failed: Vec<FailedPicture>,
    pub spot_check: SpotCheckRecord,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FailedPicture {
    pub file: String,
    pub why: String,
}

/// One page that was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PictureReadPage {
    pub file: String,
    /// What the square code on the page says.
    pub code_text: String,
    /// Index into `Study::servings`.
    pub serving: usize,
    pub rows: Vec<PictureReadRow>,
}

/// One row of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PictureReadRow {
    /// Index into `Study::attributes`.
    pub attribute: usize,
    /// The number printed beside the line.
    pub row: u32,
    pub how: HowRead,
    /// What the reader read or suggested, in mm along the line.
    pub suggested_mm: Option<f64>,
    /// Why a person was asked.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
    /// Who decided; empty where nobody did or nobody said who.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub who: String,
    /// Whether it was looked at again, without knowing what was read.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub looked_again: bool,
}

/// How a row came to its score.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HowRead {
    /// Taken without asking.
    Read,
    /// Asked about, and the suggestion stands.
    Accepted,
    /// Asked about, and put in another place.
    Corrected,
    /// Asked about, and there is no mark.
    NoMark,
    /// No mark was found, and a person confirmed it.
    ConfirmedEmpty,
    /// Taken without asking, and found wrong in the spot check.
    FoundWrong,
    /// Nobody decided yet: there is no score.
    Open,
}

/// How the spot check ended.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SpotCheckRecord {
    /// Rows taken without asking.
    pub rows_read: usize,
    /// Of these, rows that were drawn, and rows that were looked at again.
    pub drawn: usize,
    pub looked_at: usize,
    /// Rows that were found wrong by more than 2 mm.
    pub errors: usize,
    /// With 95 % confidence no larger share of the rows read is wrong; nothing where no row was looked at.
    pub error_limit: Option<f64>,
}

impl HowRead {
    pub const ALL: [HowRead; 7] = [
        HowRead::Read,
        HowRead::Accepted,
        HowRead::Corrected,
        HowRead::NoMark,
        HowRead::ConfirmedEmpty,
        HowRead::FoundWrong,
        HowRead::Open,
    ];

    pub fn in_words(self) -> &'static str {
        match self {
            HowRead::Read => "read without asking",
            HowRead::Accepted => "asked about, the suggestion accepted",
            HowRead::Corrected => "asked about, put in another place",
            HowRead::NoMark => "asked about, no mark",
            HowRead::ConfirmedEmpty => "empty, confirmed",
            HowRead::FoundWrong => "read without asking, found wrong in the spot check",
            HowRead::Open => "not decided",
        }
    }
}

impl PictureRecord {
    /// How many rows came to their scores in this way.
    pub fn count(&self, how: HowRead) -> usize {
        self.pages.iter().flat_map(|page| &page.rows).filter(|row| row.how == how).count()
    }

    /// Who decided, each once, in the order of pages.
    pub fn people(&self) -> Vec<&str> {
        let mut people: Vec<&str> = Vec::new();
        for row in self.pages.iter().flat_map(|page| &page.rows).filter(|row| !row.who.is_empty()) {
            if !people.contains(&row.who.as_str()) {
                people.push(&row.who);
            }
        }
        people
    }
}
