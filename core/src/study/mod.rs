//! The study: what a panel did, as the user gave it. It knows nothing of files, statistics or the page.
//!
//! A *serving* is one assessor tasting one sample once: a page of the score sheet, with one score per attribute.
//! Scores lie in columns, one column an attribute, one line a serving; a missing score is `None` for every reader.

mod builder;
mod consistency;
mod edits;
mod exclusions;
mod from_pictures;
mod late;
mod log;
mod record;
mod report_details;
mod settings;
mod view;

pub use builder::{ScoreAddress, ScoreConflict, ServingKey, StudyBuilder};
pub use edits::Edit;
pub use exclusions::{Exclusion, ExclusionScope};
pub use from_pictures::{FailedPicture, HowRead, PictureReadPage, PictureReadRow, PictureRecord, SpotCheckRecord};
pub use log::{LogEntry, LogKind};
pub use record::{RecordedEvent, recorded_line};
pub use report_details::{ReportDetails, ReportField};
pub use settings::{Margin, MarginOrigin, Settings, USUAL_PROFILE_SHARE};
pub use view::{AttributeScores, Observation};

use crate::notice::{Notice, Place};
use crate::numeric::tolerance::is_same_number;
use serde::{Deserialize, Serialize};

/// One person of the panel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Assessor {
    pub name: String,
}

/// One thing that was tasted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sample {
    pub name: String,
    /// Codes under which it was served, as text ("012" is not 12).
    pub codes: Vec<String>,
}

/// Whether an attribute describes one character or sums up several.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AttributeKind {
    /// One character, such as "green".
    #[default]
    Analytic,
    /// A word for the whole, such as "true to fruit", "intensity" or "balance".
    Integrated,
}

/// One line of the score sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Attribute {
    pub name: String,
    pub definition: String,
    /// Word at the low end of the line, such as "none".
    pub low_end: String,
    /// Word at the high end of the line, such as "strong".
    pub high_end: String,
    pub kind: AttributeKind,
}

/// The line on which marks are made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scale {
    pub minimum: f64,
    pub maximum: f64,
    /// "mm" for the 100 mm line, "points" for any other.
    pub unit: String,
}

/// One assessor, one sample, once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Serving {
    /// Index into `Study::assessors`.
    pub assessor: u32,
    /// Index into `Study::samples`.
    pub sample: u32,
    /// Number of the replicate, from 1.
    pub replicate: u32,
    /// Index into `Study::sessions`, where the file names sessions.
    pub session: Option<u32>,
    /// Serving position from 1, where the file gives positions. Never made up from the order of rows.
    pub position: Option<u32>,
    /// What the cup was called to the assessor, where the study is about labels.
    pub label: Option<String>,
}

/// What the first field of a study file says.
pub const STUDY_FILE_FORMAT: &str = "likeness-study";

/// The newest form of the study file that this program writes and opens.
pub const STUDY_FILE_VERSION: u32 = 4;

/// The form of a study without a record of reading pictures: programs that know no such record open it.
pub const STUDY_FILE_VERSION_WITHOUT_PICTURES: u32 = 3;

/// Where a score stands in the file it came from. Written as `[file, row, column]`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "(u16, u32, u16)", into = "(u16, u32, u16)")]
pub struct Origin {
    /// Index into `Study::files`.
    pub file: u16,
    /// Row from 1; 0 where the score was typed into the page.
    pub row: u32,
    /// Column from 1; 0 where the score was typed into the page.
    pub column: u16,
}

/// A file that scores came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SourceFile {
    pub name: String,
    /// The sheet, where the file is a workbook.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    pub length_bytes: u64,
    /// What `numeric::hash::fingerprint` makes of the bytes, 64 bits in hexadecimal: tells two versions of a file apart, no
    /// seal against forgery.
    pub fingerprint: String,
}

impl SourceFile {
    /// Whether a place lies in this file, and in this sheet of it. What the place leaves open fits.
    pub fn holds(&self, place: &Place) -> bool {
        let is_file = place.file.as_ref().is_none_or(|name| *name == self.name);
        is_file && place.sheet.as_ref().is_none_or(|name| Some(name) == self.sheet.as_ref())
    }
}

/// Everything the user gave. All that is shown is computed from this.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Study {
    pub title: String,
    pub files: Vec<SourceFile>,
    pub scale: Scale,
    pub assessors: Vec<Assessor>,
    pub samples: Vec<Sample>,
    pub attributes: Vec<Attribute>,
    pub sessions: Vec<String>,
    pub servings: Vec<Serving>,
    pub exclusions: Vec<Exclusion>,
    /// Scores corrected by hand, oldest first.
    #[serde(default)]
    pub edits: Vec<Edit>,
    pub settings: Settings,
    pub log: Vec<LogEntry>,
    /// When target, margin and deciding attributes were settled, as given by the caller: in the plan, or by asking for
    /// the verdict. No verdict is shown before; what is changed afterwards is marked. No step takes this back, since
    /// what was seen stays seen. Studies saved before this was kept were settled at a time nobody knows (empty).
    #[serde(default = "settled_at_unknown_time")]
    pub decided_at: Option<String>,
    /// What the leader states for the report.
    #[serde(default)]
    pub report: ReportDetails,
    /// Under which key the caller keeps this study. It goes with the study through undo and is no part of its file.
    #[serde(skip)]
    pub kept_as: Option<String>,
    /// What was found on reading; prints with the report.
    pub notices: Vec<Notice>,
    /// What was noted at the tasting.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub record: Vec<RecordedEvent>,
    /// How scores were read from pictures of filled pages, where they were.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_pictures: Option<PictureRecord>,
    /// One column an attribute, one entry a serving.
    columns: Vec<ScoreColumn>,
}

#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct ScoreColumn {
    scores: Vec<Option<f64>>,
    origins: Vec<Origin>,
}

impl From<(u16, u32, u16)> for Origin {
    fn from((file, row, column): (u16, u32, u16)) -> Self {
        Origin { file, row, column }
    }
}

impl From<Origin> for (u16, u32, u16) {
    fn from(origin: Origin) -> Self {
        (origin.file, origin.row, origin.column)
    }
}

impl Default for Scale {
    fn default() -> Self {
        Scale { minimum: 0.0, maximum: 100.0, unit: "mm".to_owned() }
    }
}

impl Scale {
    /// A scale from 0 to `maximum`; in mm where that is the 100 mm line, else in points.
    pub fn up_to(maximum: f64) -> Self {
        let unit = if is_same_number(maximum, 100.0) { "mm" } else { "points" };
        Scale { minimum: 0.0, maximum, unit: unit.to_owned() }
    }

    pub fn contains(&self, score: f64) -> bool {
        score >= self.minimum && score <= self.maximum
    }
}

impl Attribute {
    pub fn named(name: &str) -> Self {
        Attribute {
            name: name.to_owned(),
            definition: String::new(),
            low_end: String::new(),
            high_end: String::new(),
            kind: AttributeKind::Analytic,
        }
    }
}

fn settled_at_unknown_time() -> Option<String> {
    Some(String::new())
}

impl Study {
    /// The score of a serving on an attribute; `None` where the mark is missing.
    pub fn score(&self, serving: usize, attribute: usize) -> Option<f64> {
        self.columns.get(attribute)?.scores.get(serving).copied().flatten()
    }

    /// Where that score stands in its file.
    pub fn origin(&self, serving: usize, attribute: usize) -> Option<Origin> {
        self.columns.get(attribute)?.origins.get(serving).copied()
    }

    /// The cell of the file that a mark came from; `None` where it was typed into the page or never given.
    pub fn place_of(&self, serving: usize, attribute: usize) -> Option<Place> {
        let origin = self.origin(serving, attribute).filter(|origin| origin.row > 0)?;
        let file = self.files.get(usize::from(origin.file))?;
        let place = Place { sheet: file.sheet.clone(), ..Place::file(&file.name) };
        Some(Place { row: Some(origin.row), column: Some(u32::from(origin.column)), ..place })
    }

    /// Sets or clears one score and keeps no record of it: what a person corrects goes through `correct_score`.
    pub fn set_score(&mut self, serving: usize, attribute: usize, score: Option<f64>) {
        if let Some(cell) = self.columns.get_mut(attribute).and_then(|column| column.scores.get_mut(serving)) {
            *cell = score.filter(|value| value.is_finite());
        }
    }

    /// How many scores there are, missing ones left out.
    pub fn score_count(&self) -> usize {
        self.columns.iter().map(|column| column.scores.iter().flatten().count()).sum()
    }

    /// The highest replicate number.
    pub fn replicate_count(&self) -> u32 {
        self.servings.iter().map(|serving| serving.replicate).max().unwrap_or(0)
    }

    /// The page and row of a picture that a score was read from.
    pub fn picture_row(&self, serving: usize, attribute: usize) -> Option<(&PictureReadPage, &PictureReadRow)> {
        let pages = &self.from_pictures.as_ref()?.pages;
        let of_page = |page: &PictureReadPage| page.rows.iter().position(|row| row.attribute == attribute);
        let page = pages.iter().find(|page| page.serving == serving && of_page(page).is_some())?;
        Some((page, page.rows.get(of_page(page)?)?))
    }

    pub fn sample_index(&self, name: &str) -> Option<usize> {
        self.samples.iter().position(|sample| sample.name == name)
    }

    pub fn attribute_index(&self, name: &str) -> Option<usize> {
        self.attributes.iter().position(|attribute| attribute.name == name)
    }
}
