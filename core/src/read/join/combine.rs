//! Several tables to one: sheets, files and groups of columns one below the other, with a column for what tells them
//! apart and, where there is a key, one for the sample that each code stood for. It counts and judges nothing.

use super::key::{Keys, Lookup};
use super::parts::{Column, Filling, NAMING, Part, TakenColumn, is_same, parts_of};
use super::table_choice::TableChoice;
use crate::read::columns::doubts::ColumnDoubt;
use crate::read::columns::survey::SurveyedSheet;
use crate::read::grid::spelling::tidy;
use crate::read::grid::table::{StoredCell, Table, TablePart};
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::options::{ColumnRole, ColumnRoles, ReadOptions};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A table put together from several, with the roles of its columns.
pub(in crate::read) struct Combined {
    pub table: Table<'static>,
    pub names: Vec<String>,
    pub roles: ColumnRoles,
    /// Columns whose role rests on their content alone.
    pub by_content: Vec<usize>,
    /// Columns that may be no attributes.
    pub doubts: Vec<ColumnDoubt>,
}

/// Puts the tables of scores together and joins the key to them.
pub(in crate::read) fn combine(
    surveyed: &[SurveyedSheet<'_>],
    choice: &TableChoice,
    keys: &mut Keys,
    options: &ReadOptions,
    notes: &mut Notes,
) -> Combined {
    let mut parts = Vec::new();
    for (source, index) in choice.scores.iter().enumerate() {
        parts.extend(parts_of(&surveyed[*index], source as u16, choice, options));
    }
    tell_differences(&parts, notes);
    let columns = columns_of(&parts);
    let mut joiner = Joiner { columns, code: None, keys, options };
    joiner.find_code(&parts);
    let mut table = Table::empty_sheet();
    table.rows_may_be_short = true;
    let mut bytes = Vec::new();
    for part in &parts {
        joiner.add_part(part, &mut table, &mut bytes, notes);
    }
    table.bytes = Cow::Owned(bytes);
    joiner.finish(table, notes)
}

fn columns_of(parts: &[Part<'_, '_>]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for part in parts {
        let constants = part.constants.iter().map(|one| (one.name.as_str(), one.role, false, None));
        let taken = part.columns.iter().filter(|one| one.role != ColumnRole::Ignored || !one.name.is_empty());
        let taken = taken.map(|one| (one.name.as_str(), one.role, one.by_content, one.doubt));
        for (name, role, by_content, doubt) in constants.chain(taken) {
            match columns.iter_mut().find(|column| is_same((&column.name, column.role), (name, role))) {
                // What only one of the tables uses is used.
                Some(column) if column.role == ColumnRole::Ignored => column.role = role,
                Some(_) => {}
                None => columns.push(Column { name: name.to_owned(), role, by_content, doubt }),
            }
        }
    }
    columns
}

/// Columns of scores that stand in some tables and not in others.
fn tell_differences(parts: &[Part<'_, '_>], notes: &mut Notes) {
    let mut names: Vec<(&str, ColumnRole)> = Vec::new();
    for known in parts.iter().flat_map(scores_of) {
        if !names.iter().any(|name| is_same(*name, known)) {
            names.push(known);
        }
    }
    for part in parts {
        let own = scores_of(part);
        let lacking = names.iter().filter(|wanted| !own.iter().any(|one| is_same(*one, **wanted)));
        let lacking: Vec<String> = lacking.map(|(name, _)| format!("\"{name}\"")).collect();
        if !lacking.is_empty() {
            notes.at(part.surveyed.sheet.source.place(), say::columns_lacking(&lacking));
        }
    }
}

/// Name and role of each column of scores of a part.
fn scores_of<'p>(part: &'p Part<'_, '_>) -> Vec<(&'p str, ColumnRole)> {
    let is_score = |one: &&TakenColumn| !NAMING.contains(&one.role) && one.role != ColumnRole::Ignored;
    part.columns.iter().filter(is_score).map(|one| (one.name.as_str(), one.role)).collect()
}

/// Adds the rows of all parts and looks their codes up.
struct Joiner<'k> {
    columns: Vec<Column>,
    /// The column of codes to which a key is joined.
    code: Option<usize>,
    keys: &'k mut Keys,
    options: &'k ReadOptions,
}

impl Joiner<'_> {
    /// The column of codes: the one called so, or the one of samples where it holds the codes of the key.
    fn find_code(&mut self, parts: &[Part<'_, '_>]) {
        if self.keys.is_empty() {
            return;
        }
        let sample = self.column_of(ColumnRole::Sample);
        self.code = match (self.column_of(ColumnRole::Code), sample) {
            (Some(code), None) => Some(code),
            (None, Some(sample)) => {
                let values = parts.iter().flat_map(|part| part.values(&self.columns, sample));
                self.keys.holds_most_of(values, self.options.pad_codes).then_some(sample)
            }
            _ => None,
        };
        if let Some(code) = self.code {
            self.columns[code].role = ColumnRole::Code;
            let role = ColumnRole::Sample;
            self.columns.push(Column { name: say::COLUMN_OF_KEY.to_owned(), role, by_content: false, doubt: None });
        }
    }

    fn column_of(&self, role: ColumnRole) -> Option<usize> {
        self.columns.iter().position(|column| column.role == role)
    }

    /// Adds the rows of one part below those that are there.
    fn add_part(&mut self, part: &Part<'_, '_>, table: &mut Table<'static>, bytes: &mut Vec<u8>, notes: &mut Notes) {
        let fillings: Vec<Filling> = self.columns.iter().map(|column| part.filling(column)).collect();
        let source = &part.surveyed.sheet.table;
        table.parts.push(TablePart {
            first_row: table.row_count(),
            source: part.source,
            columns: fillings.iter().map(Filling::source_column).collect(),
            transposed: source.transposed_lines().cloned(),
        });
        let row_of = self.add_rows(part, &fillings, table, bytes, notes);
        for cell in &source.stored {
            let column = fillings.iter().position(|filling| filling.source_column() == Some(cell.column));
            if let (Some(row), Some(column)) = (row_of.get(&cell.row), column) {
                table.stored.push(StoredCell { row: *row, column, how: cell.how });
            }
        }
    }

    /// The row of the combined table for each row of the source that was not left out.
    fn add_rows(
        &mut self,
        part: &Part<'_, '_>,
        fillings: &[Filling],
        table: &mut Table<'static>,
        bytes: &mut Vec<u8>,
        notes: &mut Notes,
    ) -> BTreeMap<usize, usize> {
        let source = &part.surveyed.sheet.table;
        let (mut ends, mut row_of) = (Vec::new(), BTreeMap::new());
        for row in part.surveyed.layout.first_data..source.row_count() {
            let cells = source.row(row, &mut ends);
            if part.is_ragged(cells.width(), row, notes) {
                continue;
            }
            let mut values: Vec<Cow<'_, str>> = fillings.iter().map(|filling| filling.value(cells)).collect();
            self.look_up(&mut values, part, table.row_count());
            row_of.insert(row, table.row_count());
            table.add_row(bytes, source.line(row), values.iter().map(|value| value.as_bytes()));
        }
        row_of
    }

    /// Fills in the sample that the key names for the code of a row.
    fn look_up(&mut self, values: &mut [Cow<'_, str>], part: &Part<'_, '_>, row: usize) {
        let Some(code_column) = self.code else { return };
        let value = |role: ColumnRole| {
            self.column_of(role).map(|column| values[column].to_string()).filter(|value| !value.is_empty())
        };
        let code = tidy(&values[code_column]);
        if code.is_empty() {
            return;
        }
        let (session, assessor) = (value(ColumnRole::Session), value(ColumnRole::Assessor));
        let wanted = Lookup { file: part.surveyed.sheet.file, session, assessor, code, row };
        let found = self.keys.sample_of(&wanted, self.options.pad_codes);
        let last = values.len() - 1;
        values[last] = Cow::Owned(found.sample);
        values[code_column] = Cow::Owned(found.code);
    }

    fn finish(self, table: Table<'static>, notes: &mut Notes) -> Combined {
        for part in table.parts.iter() {
            let names =
                part.columns.iter().zip(&self.columns).filter_map(|(from, column)| Some(((*from)?, &column.name)));
            if part.transposed.is_none() {
                notes.name_source(part.source, names);
            }
        }
        if let Some(column) = self.code {
            self.keys.tell(&table, column, self.options, notes);
        }
        let by_content = (0..self.columns.len()).filter(|column| self.columns[*column].by_content).collect();
        let doubt_of = |(column, one): (usize, &Column)| {
            Some(ColumnDoubt { column, doubt: one.doubt.filter(|_| one.role == ColumnRole::Ignored)? })
        };
        let doubts = self.columns.iter().enumerate().filter_map(doubt_of).collect();
        let roles = ColumnRoles { by_column: self.columns.iter().map(|column| column.role).collect() };
        let names = self.columns.into_iter().map(|column| column.name).collect();
        Combined { table, names, roles, by_content, doubts }
    }
}
