//! Data entry of scores from paper with a ruler in hand: page by page in ballot order, a number and Enter, with stops for
//! what can't be right. The state is plain data that can be saved after every key; the page only shows it.
//!
//! Two guards watch for a slip of the ruler by a row: every few rows the row number printed on the ballot is asked for,
//! and a finished page is compared with the panel's other pages of the same sample (`page_guard`). A second person
//! types everything again without seeing the first; `compare` lists where the two differ.

use crate::plan::orders::codes::{CodeCheck, CodeSet, check_code_in, no_such_code};
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use crate::study::Scale;
use serde::{Deserialize, Serialize};

/// One mark as it was typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Entry {
    #[default]
    NotTyped,
    /// The assessor made no mark on this line.
    NoMark,
    Score(f64),
}

/// Which person is typing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pass {
    #[default]
    First,
    Second,
}

/// One page set of the ballot: one assessor, one cup. Its place in the list is that of `TastingPlan::servings`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct EntryPage {
    pub assessor: String,
    /// Index of the sample; for the guard only, never shown while typing.
    pub sample: usize,
    pub session: u32,
    pub position: u32,
    pub code: String,
}

/// What the next line that is typed means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Awaiting {
    /// The code printed on the page.
    #[default]
    PageCode,
    /// The number printed beside the row where the ruler lies.
    RowNumber,
    Score,
    /// All pages are typed.
    Nothing,
}

/// How data entry is watched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct EntryOptions {
    /// Whether each page begins with the code printed on it.
    pub ask_page_code: bool,
    /// After how many rows the row number is asked for; 0 for never.
    pub rows_between_checks: usize,
}

/// The state of data entry. Every change is a method; nothing else needs to be kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DataEntry {
    pub options: EntryOptions,
    pub scale: Scale,
    pub attributes: Vec<String>,
    pub pages: Vec<EntryPage>,
    pub pass: Pass,
    /// Index of the page that is being typed.
    pub page: usize,
    /// Index of the row that comes next.
    pub row: usize,
    pub awaiting: Awaiting,
    /// One line a page, one entry an attribute.
    pub first: Vec<Vec<Entry>>,
    pub second: Vec<Vec<Entry>>,
    /// Differences between the two that somebody decided by looking at the paper.
    pub resolved: Vec<Resolution>,
    /// The codes of the plan, for the check at typing time.
    pub codes: CodeSet,
}

/// A difference that was decided.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Resolution {
    pub page: usize,
    pub row: usize,
    pub entry: Entry,
}

/// What a typed line led to.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// Taken; the next row or page is due.
    Accepted,
    /// The page is full; the next one is due.
    PageDone { page: usize },
    /// The last page is full.
    AllDone,
    /// The code or row number is the right one.
    Confirmed,
    /// Not taken; the sentence says why.
    Stopped { why: String },
}

/// How far data entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EntryCount {
    pub typed: usize,
    pub total: usize,
    pub pages_done: usize,
    pub pages: usize,
}

impl Default for EntryOptions {
    fn default() -> Self {
        EntryOptions { ask_page_code: true, rows_between_checks: 8 }
    }
}

impl EntryPage {
    fn of(plan: &TastingPlan, serving: PlannedServing) -> Self {
        EntryPage {
            assessor: plan.assessors[serving.assessor].clone(),
            sample: serving.sample,
            session: serving.session,
            position: serving.position,
            code: serving.code,
        }
    }
}

impl DataEntry {
    /// Data entry of all pages of a plan, from the beginning.
    pub fn of_plan(plan: &TastingPlan, options: EntryOptions) -> Self {
        let pages: Vec<EntryPage> = plan.servings().into_iter().map(|serving| EntryPage::of(plan, serving)).collect();
        let attributes: Vec<String> = plan.attributes.attributes.iter().map(|line| line.name.clone()).collect();
        let blank = vec![vec![Entry::NotTyped; attributes.len()]; pages.len()];
        let codes = pages.iter().map(|page| page.code.clone()).collect();
        let mut data_entry = DataEntry {
            options,
            scale: plan.scale.clone(),
            attributes,
            first: blank.clone(),
            second: blank,
            pages,
            pass: Pass::First,
            page: 0,
            row: 0,
            awaiting: Awaiting::Nothing,
            resolved: Vec::new(),
            codes: CodeSet { codes, self_checking: plan.orders.codes_check_themselves, lost: None },
        };
        data_entry.await_page(0);
        data_entry
    }

    /// One line was typed and Enter pressed.
    pub fn enter(&mut self, text: &str) -> Reply {
        let text = text.trim();
        match self.awaiting {
            Awaiting::PageCode => self.enter_code(text),
            Awaiting::RowNumber => self.enter_row_number(text),
            Awaiting::Score => self.enter_score(text),
            Awaiting::Nothing => stopped("All pages are typed. Go to a page to change it."),
        }
    }

    /// What a text would be as a mark on this scale.
    ///
    /// # Errors
    /// Why it is none.
    pub fn entry_in(&self, text: &str) -> Result<Entry, String> {
        entry_of(text.trim(), &self.scale)
    }

    /// Goes one row back, over the start of a page too; what stands there stays until it is typed over.
    pub fn back(&mut self) {
        if self.awaiting == Awaiting::Nothing || (self.row == 0 && self.page > 0) {
            self.page =
                if self.awaiting == Awaiting::Nothing { self.pages.len().saturating_sub(1) } else { self.page - 1 };
            self.row = self.attributes.len().saturating_sub(1);
        } else {
            self.row = self.row.saturating_sub(1);
        }
        if !self.pages.is_empty() {
            self.awaiting = Awaiting::Score;
        }
    }

    /// Goes to a row of a page, such as the one that the slip guard found. Stays where it is if there is none.
    pub fn go_to(&mut self, page: usize, row: usize) {
        if page < self.pages.len() && row < self.attributes.len() {
            (self.page, self.row, self.awaiting) = (page, row, Awaiting::Score);
        }
    }

    /// Index of the page of an assessor under a code.
    pub fn page_of(&self, assessor: &str, code: &str) -> Option<usize> {
        self.pages.iter().position(|page| page.assessor == assessor && page.code == code)
    }

    /// What to say where an assessor has no page under a code: it may be another's, or never have been given.
    pub fn why_no_page(&self, assessor: &str, code: &str) -> String {
        if self.codes.codes.iter().any(|given| given == code) {
            return format!("{assessor} has no page with the code {code}. Check both on the paper.");
        }
        let own: Vec<String> =
            self.pages.iter().filter(|page| page.assessor == assessor).map(|page| page.code.clone()).collect();
        no_such_code(code, &own)
    }

    /// Goes to the first page of a pass that is not full; to the end where all are.
    pub fn begin_pass(&mut self, pass: Pass) {
        self.pass = pass;
        let open = self.entries().iter().position(|page| page.contains(&Entry::NotTyped));
        match open {
            Some(page) => self.await_page(page),
            None => self.awaiting = Awaiting::Nothing,
        }
    }

    /// The entries of the person who is typing.
    pub fn entries(&self) -> &[Vec<Entry>] {
        match self.pass {
            Pass::First => &self.first,
            Pass::Second => &self.second,
        }
    }

    /// How far the person is who is typing.
    pub fn count(&self) -> EntryCount {
        let entries = self.entries();
        EntryCount {
            typed: entries.iter().flatten().filter(|entry| **entry != Entry::NotTyped).count(),
            total: self.pages.len() * self.attributes.len(),
            pages_done: entries.iter().filter(|page| !page.contains(&Entry::NotTyped)).count(),
            pages: self.pages.len(),
        }
    }

    /// What to show as the question for the next line.
    pub fn prompt(&self) -> String {
        match (self.awaiting, self.pages.get(self.page)) {
            (Awaiting::PageCode, Some(page)) => {
                format!(
                    "Code printed on the page of {}, session {}, position {}?",
                    page.assessor, page.session, page.position
                )
            }
            (Awaiting::RowNumber, Some(_)) => "Number printed beside the row where the ruler lies?".to_owned(),
            (Awaiting::Score, Some(_)) => {
                let name = self.attributes.get(self.row).map_or("", String::as_str);
                format!("{}. {name} in {}, or - for no mark", self.row + 1, self.scale.unit)
            }
            _ => "All pages are typed.".to_owned(),
        }
    }

    fn enter_code(&mut self, text: &str) -> Reply {
        let expected = self.pages[self.page].code.clone();
        if text == expected {
            self.await_score();
            return Reply::Confirmed;
        }
        match check_code_in(text, &self.codes) {
            CodeCheck::CanExist { code } => stopped(&format!(
                "{code} is another page. The page due is {expected}: find it, or go to the page of {code}."
            )),
            CodeCheck::CannotExist { .. } => stopped(&no_such_code(text, &self.codes.codes)),
        }
    }

    fn enter_row_number(&mut self, text: &str) -> Reply {
        match text.parse::<usize>() {
            Ok(number) if number == self.row + 1 => {
                self.awaiting = Awaiting::Score;
                Reply::Confirmed
            }
            Ok(number) if (1..=self.attributes.len()).contains(&number) => stopped(&format!(
                "The ruler lies at row {number} and row {} is due: a row was skipped or typed twice. Go back to the last row \
                 that is right.",
                self.row + 1
            )),
            _ => stopped(&format!("Type a row number from 1 to {}.", self.attributes.len())),
        }
    }

    fn enter_score(&mut self, text: &str) -> Reply {
        match entry_of(text, &self.scale) {
            Ok(entry) => {
                let (page, row) = (self.page, self.row);
                match self.pass {
                    Pass::First => self.first[page][row] = entry,
                    Pass::Second => self.second[page][row] = entry,
                }
                self.resolved.retain(|resolution| (resolution.page, resolution.row) != (page, row));
                self.advance()
            }
            Err(why) => Reply::Stopped { why },
        }
    }

    fn advance(&mut self) -> Reply {
        self.row += 1;
        if self.row < self.attributes.len() {
            let every = self.options.rows_between_checks;
            let due = every > 0 && self.row.is_multiple_of(every);
            self.awaiting = if due { Awaiting::RowNumber } else { Awaiting::Score };
            return Reply::Accepted;
        }
        let page = self.page;
        if self.page + 1 < self.pages.len() {
            self.await_page(self.page + 1);
            return Reply::PageDone { page };
        }
        self.awaiting = Awaiting::Nothing;
        Reply::AllDone
    }

    fn await_page(&mut self, page: usize) {
        (self.page, self.row) = (page, 0);
        if self.pages.is_empty() || self.attributes.is_empty() {
            self.awaiting = Awaiting::Nothing;
        } else if self.options.ask_page_code {
            self.awaiting = Awaiting::PageCode;
        } else {
            self.await_score();
        }
    }

    /// A page that was left half way goes on at its first open row.
    fn await_score(&mut self) {
        let open = self.entries()[self.page].iter().position(|entry| *entry == Entry::NotTyped);
        self.row = open.unwrap_or(0);
        self.awaiting = Awaiting::Score;
    }
}

/// A typed mark: a number on the scale with point or comma, or `-` for no mark.
fn entry_of(text: &str, scale: &Scale) -> Result<Entry, String> {
    if text == "-" {
        return Ok(Entry::NoMark);
    }
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b',' | b'-' | b'+'));
    let value = text.replace(',', ".").parse::<f64>().ok().filter(|value| plain && value.is_finite());
    let (low, high) = (scale.minimum, scale.maximum);
    match value {
        None if text.is_empty() => Err("Type the mark, or - where there is no mark.".to_owned()),
        None => Err(format!("“{text}” is no number. Type the mark, or - where there is no mark.")),
        Some(value) if scale.contains(value) => Ok(Entry::Score(value)),
        Some(value) => {
            let tenth = value / 10.0;
            let suggestion =
                if value > high && scale.contains(tenth) { format!(" Was {tenth} meant?") } else { String::new() };
            Err(format!("{value} is outside the scale {low} to {high}.{suggestion}"))
        }
    }
}

fn stopped(why: &str) -> Reply {
    Reply::Stopped { why: why.to_owned() }
}
