//! What was read in several pictures, laid against the plan and against each other, in the form that the shell prints.
//! It knows nothing of pictures' bytes.
//!
//! Form: `{"pages": [{"file", "code_text", "status": "read" | "failed" | "test", "why", "rows": [{"row", "attribute", "score_mm",
//! "state": "read" | "ask" | "empty", "why"}]}]}`. `score_mm` is 0 to 100 on the line; where a row is asked about it is
//! a suggestion.

use super::judge::{RowReading, RowState};
use super::known_pages::{KnownPage, KnownPages};
use super::reading::PageFound;
use super::test_finding::TestFinding;
use serde::Serialize;

/// Everything that was read.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Answer {
    pub pages: Vec<AnsweredPage>,
}

/// One page of a picture.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnsweredPage {
    pub file: String,
    /// What its code says, where that is known.
    pub code_text: Option<String>,
    /// `read`, `failed`, or `test` for a page with printed strokes.
    pub status: &'static str,
    pub why: String,
    pub rows: Vec<AnsweredRow>,
    /// What a test page says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub test: Option<TestFinding>,
    /// Index into `KnownPages::pages`.
    #[serde(skip)]
    pub page: Option<usize>,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnsweredRow {
    /// The number printed beside the line.
    pub row: u32,
    pub attribute: String,
    pub score_mm: Option<f64>,
    /// `read`, `ask` or `empty`.
    pub state: &'static str,
    pub why: String,
}

/// Two pictures of one page say the same where their scores lie no farther apart than this, in mm.
const SAME_MM: f64 = 1.0;

impl Answer {
    /// A picture that could not be opened.
    pub fn add_unopened(&mut self, file: &str, why: &str) {
        self.pages.push(failed(file, None, why.to_owned()));
    }

    /// What was found in one picture. A page that was read before is left out and told; rows in which the two pictures
    /// differ are asked about.
    pub fn add(&mut self, file: &str, known: &KnownPages, found: Vec<PageFound>) {
        for one in found {
            let page = one.page.map(|index| &known.pages[index]);
            let code_text = page.map(|page| page.codes[one.code].text.clone());
            let mut answered = match (page, one.fault) {
                (Some(page), None) => read(file, page, one.code, &one.rows),
                (None, Some(said)) if one.test.is_some() => tested(file, said, one.test),
                (_, fault) => failed(file, code_text, fault.unwrap_or_default()),
            };
            answered.page = one.page;
            let twin = self.pages.iter_mut().find(|page| page.is_read() && page.page == one.page);
            if let (true, Some(twin)) = (answered.is_read(), twin) {
                answered = twin.settle_with(&answered);
            }
            self.pages.push(answered);
        }
    }

    /// How many pages were read, rows taken, rows asked about, rows empty, pages failed.
    pub fn counts(&self) -> [usize; 5] {
        let of = |state: &str| self.pages.iter().flat_map(|page| &page.rows).filter(|row| row.state == state).count();
        let pages = |status: &str| self.pages.iter().filter(|page| page.status == status).count();
        [pages(READ), of(READ), of("ask"), of("empty"), pages(FAILED)]
    }
}

const READ: &str = "read";
const FAILED: &str = "failed";

fn failed(file: &str, code_text: Option<String>, why: String) -> AnsweredPage {
    AnsweredPage { file: file.to_owned(), code_text, status: FAILED, why, rows: Vec::new(), test: None, page: None }
}

fn tested(file: &str, said: String, test: Option<TestFinding>) -> AnsweredPage {
    AnsweredPage { status: "test", test, ..failed(file, None, said) }
}

fn read(file: &str, page: &KnownPage, code: usize, rows: &[RowReading]) -> AnsweredPage {
    let first = page.layouts.first().and_then(|layout| layout.rows.first()).map_or(1, |row| row.number);
    let row = |((number, name), row): ((u32, &String), &RowReading)| AnsweredRow {
        row: number,
        attribute: name.clone(),
        score_mm: row.score_mm.map(|score| (score * 100.0).round() / 100.0),
        state: match row.state {
            RowState::Read => READ,
            RowState::Ask => "ask",
            RowState::Empty => "empty",
        },
        why: row.doubts.iter().map(|doubt| doubt.words()).collect::<Vec<_>>().join("; "),
    };
    AnsweredPage {
        file: file.to_owned(),
        code_text: Some(page.codes[code].text.clone()),
        status: READ,
        why: String::new(),
        rows: (first..).zip(&page.names).zip(rows).map(row).collect(),
        test: None,
        page: None,
    }
}

impl AnsweredPage {
    pub fn is_read(&self) -> bool {
        self.status == READ
    }

    /// Takes note of another picture of the same page; answers with what is said of that one.
    fn settle_with(&mut self, other: &AnsweredPage) -> AnsweredPage {
        let mut differ = 0;
        for (row, twin) in self.rows.iter_mut().zip(&other.rows) {
            if row.differs_from(twin) {
                differ += 1;
                row.doubt(&format!("another picture of the page, {}, says otherwise", other.file));
            }
        }
        let rest = match differ {
            0 => "The two say the same.".to_owned(),
            1 => "1 row differs and is asked about: was the page marked again, or printed twice?".to_owned(),
            _ => format!("{differ} rows differ and are asked about: was the page marked again, or printed twice?"),
        };
        let why = format!("The page was read in {} already, so this picture is left out. {rest}", self.file);
        failed(&other.file, other.code_text.clone(), why)
    }
}

impl AnsweredRow {
    /// Whether its score is taken without asking.
    pub fn is_read(&self) -> bool {
        self.state == READ
    }

    /// Whether two pictures of a row can't both be right; a row that is asked about in one of them says nothing.
    fn differs_from(&self, other: &AnsweredRow) -> bool {
        match (self.state, other.state) {
            ("ask", _) | (_, "ask") => false,
            _ => match (self.score_mm, other.score_mm) {
                (Some(one), Some(other)) => (one - other).abs() > SAME_MM,
                (one, other) => one.is_some() != other.is_some(),
            },
        }
    }

    fn doubt(&mut self, why: &str) {
        self.state = "ask";
        self.why = if self.why.is_empty() { why.to_owned() } else { format!("{}; {why}", self.why) };
    }
}
