//! What lies on the desk: pictures, pages, rows, and what was decided about each. It knows nothing of the order in which
//! a person is asked.

use crate::plan::data_entry::entry::Entry;
use crate::scan::KnownPage;
use serde::{Deserialize, Serialize};

/// The state of reading filled pages of one plan.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ScanDesk {
    /// `TastingPlan::study_id`.
    pub study: String,
    /// Draws the rows of the spot check.
    pub seed: u64,
    /// Who decides now; empty until somebody says so.
    #[serde(default)]
    pub who: String,
    /// Files in the order in which they came.
    pub pictures: Vec<TakenPicture>,
    pub pages: Vec<DeskPage>,
    /// Steps of deciding, the latest last, each with the rows that it decided.
    pub steps: Vec<Vec<RowPlace>>,
}

/// A row on the desk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct RowPlace {
    pub page: usize,
    pub row: usize,
}

/// One file that was put in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TakenPicture {
    pub file: String,
    pub length_bytes: u64,
    pub fingerprint: String,
    /// One a page that was found; one where none was.
    pub found: Vec<PictureSays>,
}

/// What a picture holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PictureSays {
    /// Index into `ScanDesk::pages`, and how the page lies where it doesn't stand upright.
    Read { page: usize, turned: Option<String> },
    /// Why nothing was read, and what to do.
    Failed { why: String },
    /// The test page: what it says of printer and scanner.
    Test { said: String },
    /// A page that was read before; how many rows differ.
    Again { page: usize, differ: usize },
}

/// One page that was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DeskPage {
    /// Index into `ScanDesk::pictures`.
    pub picture: usize,
    /// What the square code says.
    pub code_text: String,
    pub assessor: String,
    pub session: u32,
    /// The code of the cup.
    pub code: String,
    pub rows: Vec<DeskRow>,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DeskRow {
    /// The number printed beside the line.
    pub number: u32,
    pub attribute: String,
    pub state: DeskRowState,
    /// What the reader read or suggests, 0 to 100 along the line.
    pub suggested_mm: Option<f64>,
    /// Why it is asked about.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decided: Option<Decided>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub looked_again: Option<LookedAgain>,
}

/// How the reader understood a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DeskRowState {
    Read,
    Ask,
    Empty,
}

/// What a person decided.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Decided {
    pub what: Decision,
    pub who: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Decision {
    /// The reader's suggestion stands.
    Accepted,
    /// Put in another place along the line, in mm, by hand or in digits.
    Put {
        mark_mm: f64,
    },
    NoMark,
}

/// What a person saw in a row of the spot check without knowing what was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LookedAgain {
    /// Along the line; nothing where no mark was seen.
    pub mark_mm: Option<f64>,
    /// Where the two differ: whether the person, looking once more, found the reader wrong; nothing until that is said.
    pub reader_was_wrong: Option<bool>,
    pub who: String,
}

impl TakenPicture {
    /// Whether a page of the plan was found in it, for the first time or again.
    pub fn has_page(&self) -> bool {
        self.found.iter().any(|says| matches!(says, PictureSays::Read { .. } | PictureSays::Again { .. }))
    }
}

impl DeskPage {
    /// Whether its lines are those of a page that the plan prints.
    pub fn has_rows(&self, page: &KnownPage) -> bool {
        self.rows.iter().map(|row| &row.attribute).eq(&page.names)
    }

    /// Whether every row has a score or is known to have none.
    pub fn is_settled(&self) -> bool {
        self.rows.iter().all(|row| row.standing_mm() != Entry::NotTyped)
    }
}

impl DeskRow {
    /// What stands, in mm along the line.
    pub fn standing_mm(&self) -> Entry {
        let entry = |mark: Option<f64>| mark.map_or(Entry::NoMark, Entry::Score);
        if let Some(LookedAgain { mark_mm, reader_was_wrong: Some(true), .. }) = &self.looked_again {
            return entry(*mark_mm);
        }
        match (self.decided.as_ref().map(|decided| decided.what), self.state) {
            (Some(Decision::Accepted), _) | (None, DeskRowState::Read) => entry(self.suggested_mm),
            (Some(Decision::Put { mark_mm }), _) => Entry::Score(mark_mm),
            (Some(Decision::NoMark), _) => Entry::NoMark,
            (None, DeskRowState::Ask | DeskRowState::Empty) => Entry::NotTyped,
        }
    }

    /// Whether a person still has to say something.
    pub fn is_open(&self) -> bool {
        self.standing_mm() == Entry::NotTyped
    }
}

impl ScanDesk {
    /// An empty desk for a plan.
    pub fn new(study: &str, seed: u64) -> Self {
        ScanDesk { study: study.to_owned(), seed, ..ScanDesk::default() }
    }

    pub fn row(&self, place: RowPlace) -> Option<&DeskRow> {
        self.pages.get(place.page)?.rows.get(place.row)
    }

    pub(super) fn row_mut(&mut self, place: RowPlace) -> Option<&mut DeskRow> {
        self.pages.get_mut(place.page)?.rows.get_mut(place.row)
    }

    /// Every row with its place.
    pub fn rows(&self) -> impl Iterator<Item = (RowPlace, &DeskRow)> {
        let of_page = |(page, one): (usize, &DeskPage)| (0..one.rows.len()).map(move |row| RowPlace { page, row });
        let places: Vec<RowPlace> = self.pages.iter().enumerate().flat_map(of_page).collect();
        places.into_iter().filter_map(|place| Some((place, self.row(place)?)))
    }

    /// The name of the file that a page was read from.
    pub fn file_of(&self, page: usize) -> &str {
        let picture = self.pages.get(page).and_then(|page| self.pictures.get(page.picture));
        picture.map_or("", |picture| picture.file.as_str())
    }

    /// A file with these bytes that came before.
    pub fn picture_with(&self, fingerprint: &str) -> Option<&TakenPicture> {
        self.pictures.iter().find(|picture| !fingerprint.is_empty() && picture.fingerprint == fingerprint)
    }
}

/// A place along the line as it is stored: to a tenth of a millimetre.
pub(super) fn tenths(mark_mm: f64) -> f64 {
    (mark_mm.clamp(0.0, 100.0) * 10.0).round() / 10.0
}
