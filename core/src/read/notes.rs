//! Collects what the user is told. Many notes alike are told one by one up to twenty, then counted.

use super::sentences::{Kind, Note};
use super::table::Table;
use crate::notice::{Notice, Place, Severity};
use std::collections::BTreeMap;

/// How many of one kind are told one by one.
pub(super) const TOLD_ONE_BY_ONE: usize = 20;

/// Everything found so far about one file.
pub(super) struct Notes {
    file: String,
    by_kind: BTreeMap<Kind, Group>,
}

#[derive(Default)]
struct Group {
    total: usize,
    notices: Vec<Notice>,
}

impl Notes {
    pub fn about(file: &str) -> Self {
        Notes { file: file.to_owned(), by_kind: BTreeMap::new() }
    }

    pub fn of_file(&mut self, note: Note) {
        self.add(Place::file(&self.file), note);
    }

    pub fn at(&mut self, place: Place, note: Note) {
        self.add(place, note);
    }

    pub fn count(&self, kind: Kind) -> usize {
        self.by_kind.get(&kind).map_or(0, |group| group.total)
    }

    /// Place of a line of the file.
    pub fn line(&self, line: u32) -> Place {
        Place::file(&self.file).row(line)
    }

    /// Place of a cell of a table, named as the header names its column.
    pub fn cell(&self, table: &Table<'_>, names: &[String], row: usize, column: usize) -> Place {
        let origin = table.origin(row, column);
        let name = if table.is_turned() { "" } else { names.get(column).map_or("", String::as_str) };
        Place::file(&self.file).row(origin.row).column(u32::from(origin.column), name)
    }

    /// Place of a whole column.
    pub fn column(&self, names: &[String], column: usize) -> Place {
        Place::file(&self.file).column(column as u32 + 1, names.get(column).map_or("", String::as_str))
    }

    /// What was left out or changed, counted, for the record of the study.
    pub fn log_lines(&self) -> Vec<String> {
        self.by_kind.iter().filter_map(|(kind, group)| kind.in_log(group.total)).collect()
    }

    /// All notices, the ones that matter most first.
    pub fn into_notices(self) -> Vec<Notice> {
        let file = Place::file(&self.file);
        let mut notices = Vec::new();
        for (kind, group) in self.by_kind {
            let severity = group.notices.first().map_or(Severity::Check, |notice| notice.severity);
            let more = group.total - group.notices.len();
            notices.extend(group.notices);
            if more > 0 {
                notices.push(Notice::new(severity, file.clone(), kind.and_more(more, group.total), ""));
            }
        }
        notices.sort_by_key(|notice| std::cmp::Reverse(notice.severity));
        notices
    }

    fn add(&mut self, place: Place, note: Note) {
        let group = self.by_kind.entry(note.kind).or_default();
        group.total += 1;
        if group.notices.len() < TOLD_ONE_BY_ONE {
            group.notices.push(Notice::new(note.severity, place, note.what, note.hint));
        }
    }
}
