//! Several tables to one: sheets, files and groups of columns one below the other, with a column for what tells them
//! apart and, where there is a key, one for the sample that each code stood for. It counts and judges nothing.

use super::key::{Keys, Lookup};
use super::names::{folded, tidy};
use super::table_choice::{Choice, Looked};
use crate::read::columns::header_words::role_of_header;
use crate::read::columns::layout::Layout;
use crate::read::grid::table::{StoredCell, Table, TablePart};
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::{ColumnRole, ColumnRoles, PartsMean, ReadOptions};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A table put together from several, with the roles of its columns.
pub(in crate::read) struct Combined {
    pub table: Table<'static>,
    pub names: Vec<String>,
    pub roles: ColumnRoles,
    /// Columns whose role rests on their content alone.
    pub by_content: Vec<usize>,
}

/// Rows of one table of scores, or of one group of its columns.
struct Part<'l, 'a> {
    looked: &'l Looked<'a>,
    source: u16,
    columns: Vec<TakenColumn>,
    constants: Vec<Constant>,
}

/// A column of a source that is read.
#[derive(Clone)]
struct TakenColumn {
    from: usize,
    name: String,
    role: ColumnRole,
    by_content: bool,
}

/// What holds for all rows of a part.
#[derive(Clone)]
struct Constant {
    name: String,
    role: ColumnRole,
    value: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Column {
    name: String,
    role: ColumnRole,
    by_content: bool,
}

/// What a row has in a column of the combined table.
#[derive(Clone)]
enum Filling {
    From(usize),
    Constant(String),
    Blank,
}

/// Roles of which a table has one column at most.
const NAMING: [ColumnRole; 9] = [
    ColumnRole::Assessor,
    ColumnRole::Sample,
    ColumnRole::Code,
    ColumnRole::Replicate,
    ColumnRole::Session,
    ColumnRole::Position,
    ColumnRole::Label,
    ColumnRole::Attribute,
    ColumnRole::Score,
];

/// What the groups of an upper header row stand for: stated, told by the words, or samples where no column names them.
pub(in crate::read) fn groups_mean(layout: &Layout, options: &ReadOptions) -> PartsMean {
    let groups: Vec<&str> = layout.grouped.iter().flatten().map(|named| named.group.as_str()).collect();
    let word = |group: &str| group.trim_end_matches(|c: char| c.is_ascii_digit() || c.is_whitespace()).to_owned();
    let all_are = |role: ColumnRole| {
        !groups.is_empty()
            && groups.iter().all(|group| role_of_header(&word(group)).is_some_and(|(found, _)| found == role))
    };
    let by_words = match () {
        () if all_are(ColumnRole::Replicate) => PartsMean::Replicates,
        () if all_are(ColumnRole::Session) => PartsMean::Sessions,
        () if layout.groups_may_be_samples => PartsMean::Samples,
        () => PartsMean::Nothing,
    };
    options.groups_mean.unwrap_or(by_words)
}

/// Puts the tables of scores together and joins the key to them.
pub(in crate::read) fn combine(
    looked: &[Looked<'_>],
    choice: &Choice,
    keys: &mut Keys,
    options: &ReadOptions,
    notes: &mut Notes,
) -> Combined {
    let mut parts = Vec::new();
    for (source, index) in choice.scores.iter().enumerate() {
        parts.extend(parts_of(&looked[*index], source as u16, choice, options));
    }
    tell_differences(&parts, notes);
    let columns = columns_of(&parts);
    let mut joiner = Joiner { columns, code: None, keys, options };
    joiner.find_code(&parts);
    let mut table = Table::empty_sheet();
    table.rows_may_be_short = true;
    let mut bytes = Vec::new();
    for part in &parts {
        joiner.add_rows(part, &mut table, &mut bytes, notes);
    }
    table.bytes = Cow::Owned(bytes);
    joiner.finish(table, notes)
}

/// The rows of a table as one part, or as one part a group where an upper header row tells samples apart.
fn parts_of<'l, 'a>(looked: &'l Looked<'a>, source: u16, choice: &Choice, options: &ReadOptions) -> Vec<Part<'l, 'a>> {
    let layout = &looked.layout;
    let mut constants = constants_of(looked, choice);
    if options.means_of_panel && looked.guess.roles.find(ColumnRole::Assessor).is_none() {
        let (name, role) = (ColumnRole::Assessor.words().to_owned(), ColumnRole::Assessor);
        constants.push(Constant { name, role, value: say::MEAN_OF_PANEL.to_owned() });
    }
    let is_named = constants.iter().any(|constant| constant.role == ColumnRole::Sample);
    let taken = |from: usize| TakenColumn {
        from,
        name: layout.names[from].clone(),
        role: match looked.guess.roles.get(from) {
            ColumnRole::Sample if is_named => ColumnRole::Code,
            role => role,
        },
        by_content: looked.guess.by_content.contains(&from),
    };
    let meaning = groups_mean(layout, options);
    let (Some(role), false) = (role_of_parts(meaning), layout.grouped.is_empty()) else {
        let columns = (0..layout.names.len()).map(taken).collect();
        return vec![Part { looked, source, columns, constants }];
    };
    let mut groups: Vec<&str> = Vec::new();
    for named in layout.grouped.iter().flatten() {
        if !groups.contains(&named.group.as_str()) {
            groups.push(&named.group);
        }
    }
    let part_of = |group: &str| {
        let in_group = |from: &usize| layout.grouped[*from].as_ref().is_none_or(|named| named.group == group);
        let named = |from: usize| match &layout.grouped[from] {
            Some(named) => TakenColumn { name: named.name.clone(), ..taken(from) },
            None => taken(from),
        };
        let columns = (0..layout.names.len()).filter(in_group).map(named).collect();
        let value = group.to_owned();
        let mut constants = constants.clone();
        constants.push(Constant { name: say::column_of_groups(role), role, value });
        Part { looked, source, columns, constants }
    };
    groups.into_iter().map(part_of).collect()
}

fn constants_of(looked: &Looked<'_>, choice: &Choice) -> Vec<Constant> {
    let stem = crate::read::collect::assemble::title_of(&looked.sheet.source.file).to_owned();
    let of_sheet = choice.sheets_mean.and_then(role_of_parts).map(|role| Constant {
        name: say::column_of_sheets(role),
        role,
        value: looked.sheet.source.sheet.clone().unwrap_or_else(|| stem.clone()),
    });
    let of_file = choice.files_mean.and_then(role_of_parts).map(|role| Constant {
        name: say::column_of_files(role),
        role,
        value: stem.clone(),
    });
    // What a column of the table itself tells is not told by its name; a code is no name of a sample.
    let is_told = |constant: &Constant| {
        let is_code = constant.role == ColumnRole::Sample && looked.code_for_sample().is_some();
        looked.guess.roles.find(constant.role).is_some() && !is_code
    };
    let mut constants: Vec<Constant> = of_file.into_iter().filter(|constant| !is_told(constant)).collect();
    if let Some(constant) = of_sheet.filter(|constant| !is_told(constant)) {
        match constants.iter_mut().find(|other| other.role == constant.role) {
            Some(other) => other.value = format!("{}, {}", other.value, constant.value),
            None => constants.push(constant),
        }
    }
    constants
}

fn role_of_parts(meaning: PartsMean) -> Option<ColumnRole> {
    match meaning {
        PartsMean::Samples => Some(ColumnRole::Sample),
        PartsMean::Assessors => Some(ColumnRole::Assessor),
        PartsMean::Sessions => Some(ColumnRole::Session),
        PartsMean::Replicates => Some(ColumnRole::Replicate),
        PartsMean::Nothing => None,
    }
}

/// Whether two columns hold the same: the same naming role, or the same name.
fn is_same(a: (&str, ColumnRole), b: (&str, ColumnRole)) -> bool {
    let naming = |role: ColumnRole| NAMING.contains(&role);
    if naming(a.1) || naming(b.1) { a.1 == b.1 } else { folded(a.0) == folded(b.0) }
}

fn columns_of(parts: &[Part<'_, '_>]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for part in parts {
        let constants = part.constants.iter().map(|one| (one.name.as_str(), one.role, false));
        let taken = part.columns.iter().filter(|one| one.role != ColumnRole::Ignored || !one.name.is_empty());
        let taken = taken.map(|one| (one.name.as_str(), one.role, one.by_content));
        for (name, role, by_content) in constants.chain(taken) {
            match columns.iter_mut().find(|column| is_same((&column.name, column.role), (name, role))) {
                // What only one of the tables uses is used.
                Some(column) if column.role == ColumnRole::Ignored => column.role = role,
                Some(_) => {}
                None => columns.push(Column { name: name.to_owned(), role, by_content }),
            }
        }
    }
    columns
}

/// Columns of scores that stand in some tables and not in others.
fn tell_differences(parts: &[Part<'_, '_>], notes: &mut Notes) {
    let mut names: Vec<(&str, ColumnRole)> = Vec::new();
    let scores = |part: &Part<'_, '_>| {
        let is_score = |one: &&TakenColumn| !NAMING.contains(&one.role) && one.role != ColumnRole::Ignored;
        part.columns.iter().filter(is_score).map(|one| (one.name.clone(), one.role)).collect::<Vec<_>>()
    };
    let all: Vec<Vec<(String, ColumnRole)>> = parts.iter().map(scores).collect();
    for (name, role) in all.iter().flatten() {
        if !names.iter().any(|known| is_same(*known, (name, *role))) {
            names.push((name, *role));
        }
    }
    for (part, own) in parts.iter().zip(&all) {
        let has = |wanted: &(&str, ColumnRole)| own.iter().any(|(name, role)| is_same((name, *role), *wanted));
        let lacking: Vec<String> =
            names.iter().filter(|name| !has(name)).map(|(name, _)| format!("\"{name}\"")).collect();
        if !lacking.is_empty() {
            notes.at(part.looked.sheet.source.place(), say::columns_lacking(&lacking));
        }
    }
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
        let column_of = |role: ColumnRole| self.columns.iter().position(|column| column.role == role);
        let sample = column_of(ColumnRole::Sample);
        let candidate = match (column_of(ColumnRole::Code), sample) {
            (Some(code), None) => Some(code),
            (None, Some(sample)) => {
                let values = parts.iter().flat_map(|part| part.values(&self.columns, sample));
                self.keys.holds_most_of(values, self.options.pad_codes).then_some(sample)
            }
            _ => None,
        };
        self.code = candidate;
        if let Some(code) = candidate {
            self.columns[code].role = ColumnRole::Code;
            let role = ColumnRole::Sample;
            self.columns.push(Column { name: say::COLUMN_OF_KEY.to_owned(), role, by_content: false });
        }
    }

    fn add_rows(&mut self, part: &Part<'_, '_>, table: &mut Table<'static>, bytes: &mut Vec<u8>, notes: &mut Notes) {
        let fillings: Vec<Filling> = self.columns.iter().map(|column| part.filling(column)).collect();
        let from = |filling: &Filling| match filling {
            Filling::From(column) => Some(*column),
            _ => None,
        };
        let source = &part.looked.sheet.table;
        table.parts.push(TablePart {
            first_row: table.row_count(),
            source: part.source,
            columns: fillings.iter().map(from).collect(),
            turned: source.turned_lines().cloned(),
        });
        let mut ends = Vec::new();
        let mut row_of = BTreeMap::new();
        for row in part.looked.layout.first_data..source.row_count() {
            let cells = source.row(row, &mut ends);
            if part.is_ragged(cells.width(), row, notes) {
                continue;
            }
            let mut values: Vec<Cow<'_, str>> = fillings
                .iter()
                .map(|filling| match filling {
                    Filling::From(column) => String::from_utf8_lossy(cells.cell(*column)),
                    Filling::Constant(value) => Cow::Borrowed(value.as_str()),
                    Filling::Blank => Cow::Borrowed(""),
                })
                .collect();
            self.look_up(&mut values, part, table.row_count());
            row_of.insert(row, table.row_count());
            table.add_row(bytes, source.line(row), values.iter().map(|value| value.as_bytes()));
        }
        for cell in &source.stored {
            let column = fillings.iter().position(|filling| from(filling) == Some(cell.column));
            if let (Some(row), Some(column)) = (row_of.get(&cell.row), column) {
                table.stored.push(StoredCell { row: *row, column, how: cell.how });
            }
        }
    }

    /// Fills in the sample that the key names for the code of a row.
    fn look_up(&mut self, values: &mut [Cow<'_, str>], part: &Part<'_, '_>, row: usize) {
        let Some(code_column) = self.code else { return };
        let value = |role: ColumnRole| {
            let column = self.columns.iter().position(|column| column.role == role);
            column.map(|column| values[column].to_string()).filter(|value| !value.is_empty())
        };
        let code = tidy(&values[code_column]);
        if code.is_empty() {
            return;
        }
        let wanted = Lookup {
            file: part.looked.sheet.file,
            session: value(ColumnRole::Session),
            assessor: value(ColumnRole::Assessor),
            code,
            row,
        };
        let found = self.keys.sample_of(&wanted, self.options.pad_codes);
        let last = values.len() - 1;
        values[last] = Cow::Owned(found.sample);
        values[code_column] = Cow::Owned(found.code);
    }

    fn finish(self, table: Table<'static>, notes: &mut Notes) -> Combined {
        for part in table.parts.iter() {
            let names =
                part.columns.iter().zip(&self.columns).filter_map(|(from, column)| Some(((*from)?, &column.name)));
            if part.turned.is_none() {
                notes.name_source(part.source, names);
            }
        }
        if let Some(column) = self.code {
            self.keys.tell(&table, column, self.options, notes);
        }
        let by_content = (0..self.columns.len()).filter(|column| self.columns[*column].by_content).collect();
        let roles = ColumnRoles { by_column: self.columns.iter().map(|column| column.role).collect() };
        Combined { table, names: self.columns.into_iter().map(|column| column.name).collect(), roles, by_content }
    }
}

impl Part<'_, '_> {
    fn filling(&self, column: &Column) -> Filling {
        let same = |name: &str, role: ColumnRole| is_same((&column.name, column.role), (name, role));
        // A column of samples that turned out to be one of codes is still called what it was.
        let was = |one: &&TakenColumn| {
            same(&one.name, one.role) || (column.role == ColumnRole::Code && one.role == ColumnRole::Sample)
        };
        let constant = self.constants.iter().find(|one| same(&one.name, one.role));
        let is_joined = column.name == say::COLUMN_OF_KEY;
        match (self.columns.iter().find(was), constant) {
            _ if is_joined => Filling::Blank,
            (Some(taken), _) => Filling::From(taken.from),
            (None, Some(constant)) => Filling::Constant(constant.value.clone()),
            (None, None) => Filling::Blank,
        }
    }

    /// All values of a column of the combined table, blank ones left out.
    fn values(&self, columns: &[Column], column: usize) -> Vec<String> {
        match self.filling(&columns[column]) {
            Filling::Constant(value) => vec![value],
            Filling::Blank => Vec::new(),
            Filling::From(from) => {
                let table = &self.looked.sheet.table;
                let rows = self.looked.layout.first_data..table.row_count();
                rows.map(|row| tidy(&table.text(row, from))).filter(|value| !value.is_empty()).collect()
            }
        }
    }

    /// Tells a row with too many cells, which is left out, and one with too few.
    fn is_ragged(&self, width: usize, row: usize, notes: &mut Notes) -> bool {
        let (table, columns) = (&self.looked.sheet.table, self.looked.layout.names.len());
        let place = || self.looked.sheet.source.place().row(table.line(row));
        let too_many = (columns..width).any(|column| !table.cell(row, column).is_empty());
        if too_many {
            notes.at(place(), say::long_row(width, columns));
        } else if width < columns && !table.rows_may_be_short {
            notes.at(place(), say::short_row(width, columns));
        }
        too_many
    }
}
