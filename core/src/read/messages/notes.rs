//! Collects what the user is told. Many notes alike are told one by one up to twenty, then counted.

use super::note::{Kind, Note, TOLD_ONE_BY_ONE};
use crate::notice::{Notice, Place, Severity};
use crate::read::grid::table::Table;
use crate::study::Origin;
use std::collections::BTreeMap;

/// Everything found so far about the files that are read together.
pub(in crate::read) struct Notes {
    /// What is read, in the order of `Origin::file`.
    sources: Vec<Source>,
    by_kind: BTreeMap<Kind, Group>,
}

/// A text file, or one sheet of a workbook.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct Source {
    pub file: String,
    pub sheet: Option<String>,
    /// Headers of its columns, for the places of notes; empty for a table transposed.
    pub headers: Vec<String>,
}

#[derive(Default)]
struct Group {
    total: usize,
    notices: Vec<Notice>,
}

impl Source {
    /// A text file, or a whole workbook.
    pub fn of_file(file: &str) -> Self {
        Source { file: file.to_owned(), ..Source::default() }
    }

    /// The source as a place.
    pub fn place(&self) -> Place {
        Place { file: Some(self.file.clone()), sheet: self.sheet.clone(), ..Place::default() }
    }
}

impl Notes {
    /// No notes yet about these sources.
    pub fn about(sources: Vec<Source>) -> Self {
        Notes { sources, by_kind: BTreeMap::new() }
    }

    /// What is read turns out to be these sources; what was told before keeps its places.
    pub fn read_from(&mut self, sources: Vec<Source>) {
        self.sources = sources;
    }

    /// Whether anything was refused so far.
    pub fn has_refusal(&self) -> bool {
        self.by_kind.values().flat_map(|group| &group.notices).any(|notice| notice.severity == Severity::Refused)
    }

    /// Tells headers of a source by the numbers of their columns from 0.
    pub fn name_source<'n>(&mut self, source: u16, names: impl Iterator<Item = (usize, &'n String)>) {
        let Some(source) = self.sources.get_mut(usize::from(source)) else { return };
        for (column, name) in names {
            if source.headers.len() <= column {
                source.headers.resize(column + 1, String::new());
            }
            source.headers[column] = name.clone();
        }
    }

    /// Tells the headers of the only source, once they are known.
    pub fn name_columns(&mut self, table: &Table<'_>, names: &[String]) {
        if let [source] = self.sources.as_mut_slice() {
            source.headers = if table.is_transposed() { Vec::new() } else { names.to_vec() };
        }
    }

    /// A note about all that is read: its place is the file, and the sheet where there is just one.
    pub fn of_file(&mut self, note: Note) {
        self.at(self.whole(), note);
    }

    fn whole(&self) -> Place {
        match self.sources.as_slice() {
            [source] => source.place(),
            [first, others @ ..] if others.iter().all(|other| other.file == first.file) => Place::file(&first.file),
            _ => Place::default(),
        }
    }

    fn source(&self, index: u16) -> Place {
        self.sources.get(usize::from(index)).map(Source::place).unwrap_or_default()
    }

    /// A note with its place.
    pub fn at(&mut self, place: Place, note: Note) {
        let group = self.by_kind.entry(note.kind).or_default();
        group.total += 1;
        if group.notices.len() < TOLD_ONE_BY_ONE {
            group.notices.push(Notice::new(note.severity, place, note.what, note.hint));
        }
    }

    /// How many notes there are of a kind, told one by one or not.
    pub fn count(&self, kind: Kind) -> usize {
        self.by_kind.get(&kind).map_or(0, |group| group.total)
    }

    /// Place of a row of a table; of a column of its file, when it was transposed.
    pub fn row(&self, table: &Table<'_>, row: usize) -> Place {
        let place = self.source(table.origin(row, 0).file);
        if table.is_transposed() { place.column(table.line(row), "") } else { place.row(table.line(row)) }
    }

    /// Place of a cell of a table.
    pub fn cell(&self, table: &Table<'_>, row: usize, column: usize) -> Place {
        self.origin(table.origin(row, column))
    }

    /// Place that a score came from.
    pub fn origin(&self, origin: Origin) -> Place {
        let place = self.source(origin.file).row(origin.row);
        let Some(column) = usize::from(origin.column).checked_sub(1) else { return place };
        let source = self.sources.get(usize::from(origin.file));
        let header = source.and_then(|source| source.headers.get(column)).map_or("", String::as_str);
        place.column(u32::from(origin.column), header)
    }

    /// A row in words, with its file or sheet where that is another one than that of the cell beside it.
    pub fn row_beside(&self, origin: Origin, beside: Origin) -> String {
        let row = format!("row {}", origin.row);
        if origin.file == beside.file {
            return row;
        }
        match (self.sources.get(usize::from(origin.file)), self.sources.get(usize::from(beside.file))) {
            (Some(source), Some(other)) if source.file == other.file => {
                format!("{row} of sheet {}", source.sheet.as_deref().unwrap_or_default())
            }
            (Some(source), _) => format!("{row} of {}", source.place()),
            _ => row,
        }
    }

    /// Place of a whole column of a table; of a row of the file, when the table was transposed. In a table put
    /// together from several it is called by its name alone.
    pub fn column(&self, table: &Table<'_>, column: usize, name: &str) -> Place {
        if table.is_combined() {
            return Place { column_name: Some(name.to_owned()), ..self.whole() };
        }
        let origin = table.origin(0, column);
        let place = self.whole();
        if table.is_transposed() { place.row(origin.row) } else { place.column(u32::from(origin.column), name) }
    }

    /// What was left out or changed, counted, for the record of the study.
    pub fn log_lines(&self) -> Vec<String> {
        self.by_kind.iter().filter_map(|(kind, group)| kind.in_log(group.total)).collect()
    }

    /// All notices, the ones that matter most first.
    pub fn into_notices(self) -> Vec<Notice> {
        let whole = self.whole();
        let mut notices = Vec::new();
        for (kind, group) in self.by_kind {
            let severity = group.notices.first().map_or(Severity::Check, |notice| notice.severity);
            let more = group.total - group.notices.len();
            notices.extend(group.notices);
            if more > 0 {
                notices.push(Notice::new(severity, whole.clone(), kind.and_more(more, group.total), ""));
            }
        }
        notices.sort_by_key(|notice| std::cmp::Reverse(notice.severity));
        notices
    }
}
