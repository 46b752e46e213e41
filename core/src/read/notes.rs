//! Collects what the user is told. Many notes alike are told one by one up to twenty, then counted.

use super::sentences::{Kind, Note};
use super::table::Table;
use crate::notice::{Notice, Place, Severity};
use crate::study::Origin;
use std::collections::BTreeMap;

/// How many of one kind are told one by one.
pub(super) const TOLD_ONE_BY_ONE: usize = 20;

/// Everything found so far about one file.
pub(super) struct Notes {
    file: String,
    /// Headers of the file's columns, for the places of notes; empty for a table on its side.
    headers: Vec<String>,
    by_kind: BTreeMap<Kind, Group>,
}

#[derive(Default)]
struct Group {
    total: usize,
    notices: Vec<Notice>,
}

impl Notes {
    pub fn about(file: &str) -> Self {
        Notes { file: file.to_owned(), headers: Vec::new(), by_kind: BTreeMap::new() }
    }

    /// Tells the headers, once they are known.
    pub fn name_columns(&mut self, table: &Table<'_>, names: &[String]) {
        self.headers = if table.is_turned() { Vec::new() } else { names.to_vec() };
    }

    pub fn of_file(&mut self, note: Note) {
        self.at(Place::file(&self.file), note);
    }

    pub fn at(&mut self, place: Place, note: Note) {
        let group = self.by_kind.entry(note.kind).or_default();
        group.total += 1;
        if group.notices.len() < TOLD_ONE_BY_ONE {
            group.notices.push(Notice::new(note.severity, place, note.what, note.hint));
        }
    }

    pub fn count(&self, kind: Kind) -> usize {
        self.by_kind.get(&kind).map_or(0, |group| group.total)
    }

    /// Place of a line of the file.
    pub fn line(&self, line: u32) -> Place {
        Place::file(&self.file).row(line)
    }

    /// Place of a row of a table; of a column of the file, when the table was turned on its side.
    pub fn row(&self, table: &Table<'_>, row: usize) -> Place {
        if table.is_turned() { Place::file(&self.file).column(table.line(row), "") } else { self.line(table.line(row)) }
    }

    /// Place of a cell of a table.
    pub fn cell(&self, table: &Table<'_>, row: usize, column: usize) -> Place {
        self.origin(table.origin(row, column))
    }

    /// Place that a score came from.
    pub fn origin(&self, origin: Origin) -> Place {
        let header = (origin.column as usize).checked_sub(1).and_then(|column| self.headers.get(column));
        Place::file(&self.file).row(origin.row).column(u32::from(origin.column), header.map_or("", String::as_str))
    }

    /// Place of a whole column of a table; of a row of the file, when the table was turned on its side.
    pub fn column(&self, table: &Table<'_>, column: usize) -> Place {
        let origin = table.origin(0, column);
        let name = self.headers.get(column).map_or("", String::as_str);
        let file = Place::file(&self.file);
        if table.is_turned() { file.row(origin.row) } else { file.column(u32::from(origin.column), name) }
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
}
