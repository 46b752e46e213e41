//! Typing that is put aside and taken up again: as a file, and on a plan that was changed meanwhile. It knows nothing of
//! how marks are typed.
//!
//! Form, version 1: the envelope of `file_envelope` with format `likeness-keying` and part `keying`: `{"study": ...,
//! "keying": {...}}`, where `study` is that of the plan and `keying` is `DataEntry` as serde writes it. Its pages and
//! attributes stand in the file although the plan has them too: the plan may have changed since, and marks find their
//! new places by them.

use super::entry::{DataEntry, Entry, EntryPage, Pass, Resolution};
use crate::plan::PlanError;
use crate::plan::file_envelope::{FileKind, refused};
use crate::plan::tasting_plan::TastingPlan;
use serde::{Deserialize, Serialize};

/// The kind of this file; people know it as the typing file.
pub const KEYING_FILE: FileKind =
    FileKind { format: "likeness-keying", version: 1, part: "keying", called: "typing file" };

/// Typing with the plan it belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct EntryFile {
    /// `TastingPlan::study_id`.
    pub study: String,
    #[serde(rename = "keying")]
    pub data_entry: DataEntry,
}

/// Typing on a changed plan.
#[derive(Clone, Debug, PartialEq)]
pub struct CarriedEntry {
    pub data_entry: DataEntry,
    /// Marks that have no place in the plan any more. They are in the old typing only.
    pub left_behind: usize,
}

impl EntryFile {
    /// The text of the file, the same bytes for the same typing.
    pub fn to_text(&self) -> String {
        KEYING_FILE.text_of(self)
    }

    /// Opens the text of a typing file.
    ///
    /// # Errors
    /// Text that is something else, a newer version, damage, lists that don't fit each other.
    pub fn from_text(text: &str) -> Result<EntryFile, PlanError> {
        let file: EntryFile = KEYING_FILE.content_of(text)?;
        if file.data_entry.is_sound() {
            return Ok(file);
        }
        let what = "Its marks don't fit its own pages.".to_owned();
        Err(refused(what, "The file was changed outside this program; open an older copy."))
    }
}

impl DataEntry {
    /// Whether every page and row is that of the plan, so that `keyed_study` puts each mark where it belongs.
    pub fn fits(&self, plan: &TastingPlan) -> bool {
        let blank = DataEntry::of_plan(plan, self.options);
        self.pages == blank.pages && self.attributes == blank.attributes && self.scale == blank.scale
    }

    /// The same typing on a plan that was changed: marks stay with their assessor, session, code and attribute.
    pub fn carried_to(&self, plan: &TastingPlan) -> CarriedEntry {
        let mut data_entry = DataEntry::of_plan(plan, self.options);
        let mut left_behind = 0;
        let rows: Vec<Option<usize>> = self.attributes.iter().map(|name| place(&data_entry.attributes, name)).collect();
        for (page, of_page) in self.pages.iter().enumerate() {
            let there = data_entry.pages.iter().position(|other| same_cup(other, of_page));
            for (row, new_row) in rows.iter().enumerate() {
                match (there, *new_row) {
                    (Some(there), Some(new_row)) => self.carry((page, row), (there, new_row), &mut data_entry),
                    _ => left_behind += self.typed_in(page, row),
                }
            }
        }
        data_entry.begin_pass(self.pass);
        CarriedEntry { data_entry, left_behind }
    }

    /// Puts what stands in one place, given by page and row, into a place of another data entry.
    fn carry(&self, from: (usize, usize), to: (usize, usize), into: &mut DataEntry) {
        let (page, row) = to;
        into.first[page][row] = self.first[from.0][from.1];
        into.second[page][row] = self.second[from.0][from.1];
        let decided = self.resolved.iter().find(|one| (one.page, one.row) == from);
        into.resolved.extend(decided.map(|one| Resolution { page, row, entry: one.entry }));
    }

    /// How many of the two people typed something there.
    fn typed_in(&self, page: usize, row: usize) -> usize {
        [self.first[page][row], self.second[page][row]].iter().filter(|entry| **entry != Entry::NotTyped).count()
    }

    /// How many marks either person has typed.
    pub fn typed_by_anybody(&self) -> usize {
        self.first.iter().chain(&self.second).flatten().filter(|entry| **entry != Entry::NotTyped).count()
    }

    /// Whether the second person has begun.
    pub fn is_typed_twice(&self) -> bool {
        self.pass == Pass::Second || self.second.iter().flatten().any(|entry| *entry != Entry::NotTyped)
    }

    /// A file may be edited by hand: nothing in it may point outside its own lists, and every score lies on the scale.
    fn is_sound(&self) -> bool {
        let fits = |entries: &[Vec<Entry>]| {
            entries.len() == self.pages.len() && entries.iter().all(|line| line.len() == self.attributes.len())
        };
        let on_scale = |entry: &Entry| match entry {
            Entry::Score(score) => self.scale.contains(*score),
            _ => true,
        };
        let decided = |one: &Resolution| one.page < self.pages.len() && one.row < self.attributes.len();
        fits(&self.first)
            && fits(&self.second)
            && self.first.iter().chain(&self.second).flatten().all(on_scale)
            && self.resolved.iter().all(|one| decided(one) && on_scale(&one.entry))
            && self.page <= self.pages.len().saturating_sub(1)
            && self.row <= self.attributes.len()
    }
}

fn place(names: &[String], name: &str) -> Option<usize> {
    names.iter().position(|known| known == name)
}

fn same_cup(left: &EntryPage, right: &EntryPage) -> bool {
    (&left.assessor, left.session, &left.code) == (&right.assessor, right.session, &right.code)
}
