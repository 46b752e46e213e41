//! Where the table begins: lines of titles above, the header (of one row or two), the first row of data.
//! It knows nothing of scores.

use super::header_words::{Firmness, role_of_header};
use crate::read::grid::cell_values::{is_missing, is_word, looks_like_number};
use crate::read::grid::spelling::{folded, tidy};
use crate::read::grid::table::Table;
use crate::read::options::{ColumnRole, ReadOptions};

/// What the rows of a table are. Rows are counted from 0 in the table.
#[derive(Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct Layout {
    pub header: Option<usize>,
    pub first_data: usize,
    /// Header of each column; empty where the header has none.
    pub names: Vec<String>,
    /// Row under the header that holds words only: units, end words, or the names themselves.
    pub second_header: Option<usize>,
    /// Row whose groups were put in front of names that repeat.
    pub groups: Option<usize>,
    /// For each column under such a group: the group, and the name under it.
    pub grouped: Vec<Option<GroupedName>>,
    /// Whether the first column holds row names that the header leaves out.
    pub row_names: bool,
    /// Whether names repeat under groups and nothing names the samples: the groups may be samples.
    pub groups_may_be_samples: bool,
}

/// A column's name in two header rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::read) struct GroupedName {
    pub group: String,
    pub name: String,
}

/// The header is surveyed for among this many rows.
const SEARCHED_ROWS: usize = 30;

pub(in crate::read) fn find(table: &Table<'_>, options: &ReadOptions) -> Layout {
    let stated = options.header_line.and_then(|line| (0..table.row_count()).find(|row| table.line(*row) == line));
    let header = stated
        .or_else(|| (0..table.row_count().min(SEARCHED_ROWS)).find(|row| roles_named(table, *row).len() >= 2))
        .or_else(|| header_by_one_word(table))
        .or_else(|| header_by_contrast(table));
    let Some(header) = header else { return without_header(table) };
    let mut layout = Layout { header: Some(header), first_data: header + 1, ..Layout::default() };
    layout.names = names_in(table, header, &mut layout.row_names);
    layout.second_header = Some(header + 1).filter(|row| is_second_header(table, *row));
    layout.first_data += usize::from(layout.second_header.is_some());
    layout.name_apart(table, header);
    layout
}

/// The roles that the words of a row name, each once.
pub(in crate::read) fn roles_named(table: &Table<'_>, row: usize) -> Vec<ColumnRole> {
    roles_in(table.texts(row).into_iter())
}

/// The roles that a list of cells names, each once.
pub(in crate::read) fn roles_in(cells: impl Iterator<Item = String>) -> Vec<ColumnRole> {
    let strong = |cell: String| role_of_header(&cell).filter(|(_, firmness)| *firmness == Firmness::Strong);
    let mut roles: Vec<ColumnRole> = cells.filter_map(strong).map(|(role, _)| role).collect();
    roles.sort_unstable();
    roles.dedup();
    roles
}

fn without_header(table: &Table<'_>) -> Layout {
    Layout {
        first_data: first_full_row(table),
        names: vec![String::new(); table.commonest_width()],
        ..Layout::default()
    }
}

/// The first full row in which the assessor or the sample is named, with words alone beside it.
fn header_by_one_word(table: &Table<'_>) -> Option<usize> {
    let names_one = |row: &usize| {
        let roles = roles_named(table, *row);
        roles.contains(&ColumnRole::Assessor) || roles.contains(&ColumnRole::Sample)
    };
    let full = |row: &usize| table.filled(*row) * 2 >= table.commonest_width().max(2);
    (0..table.row_count().min(SEARCHED_ROWS)).filter(names_one).find(full)
}

/// The first full row, if it has words where the rows below have numbers.
fn header_by_contrast(table: &Table<'_>) -> Option<usize> {
    let row = first_full_row(table);
    if row + 1 >= table.row_count() {
        return None;
    }
    let shares = shares_of_numbers(table, row + 1);
    let is_number = |column: usize| looks_like_number(table.cell(row, column));
    let numbers_above_numbers = (0..shares.len()).any(|column| shares[column] > 0.8 && is_number(column));
    (!numbers_above_numbers).then_some(row)
}

/// The first row with at least half as many filled cells as rows usually have cells.
fn first_full_row(table: &Table<'_>) -> usize {
    let width = table.commonest_width();
    (0..table.row_count()).find(|row| table.filled(*row) * 2 >= width.max(2)).unwrap_or(0)
}

/// Share of numbers among the filled cells of every column, from a row on; at most two hundred rows are surveyed at.
fn shares_of_numbers(table: &Table<'_>, from: usize) -> Vec<f64> {
    let mut tallies: Vec<(usize, usize)> = Vec::new();
    let mut ends = Vec::new();
    for row in (from..table.row_count()).take(200) {
        let cells = table.row(row, &mut ends);
        tallies.resize(tallies.len().max(cells.width()), (0, 0));
        for (column, (filled, numbers)) in tallies.iter_mut().enumerate().take(cells.width()) {
            let cell = cells.cell(column);
            *filled += usize::from(!is_missing(cell));
            *numbers += usize::from(!is_missing(cell) && looks_like_number(cell));
        }
    }
    tallies.into_iter().map(|(filled, numbers)| numbers as f64 / filled.max(1) as f64).collect()
}

/// Whether each column has something in it, by the first thousand rows.
pub(in crate::read) fn filled_columns(table: &Table<'_>, from: usize) -> Vec<bool> {
    let mut filled = Vec::new();
    let mut ends = Vec::new();
    for row in (from..table.row_count()).take(1000) {
        let cells = table.row(row, &mut ends);
        filled.resize(filled.len().max(cells.width()), false);
        (0..cells.width()).for_each(|column| filled[column] |= !cells.cell(column).is_empty());
    }
    filled
}

/// The names of the header row. A header one cell shorter than all rows leaves out the column of row names.
fn names_in(table: &Table<'_>, header: usize, row_names: &mut bool) -> Vec<String> {
    let mut names: Vec<String> = table.texts(header).iter().map(|text| tidy(text)).collect();
    let data = header + 1..table.row_count();
    let filled = filled_columns(table, header + 1).iter().rposition(|filled| *filled).map_or(0, |last| last + 1);
    let named = names.iter().rposition(|name| !name.is_empty()).map_or(0, |last| last + 1);
    names.truncate(named.max(filled).max(1));
    // Rows of a sheet may be of any length: nothing in them is shifted.
    let one_longer = !table.rows_may_be_short && data.clone().all(|row| table.width(row) == names.len() + 1);
    if one_longer && !data.is_empty() && first_cells_differ(table, header + 1) {
        *row_names = true;
        names.insert(0, String::new());
    }
    names
}

fn first_cells_differ(table: &Table<'_>, from: usize) -> bool {
    let mut cells: Vec<&[u8]> = (from..table.row_count()).map(|row| table.cell(row, 0)).collect();
    let rows = cells.len();
    cells.sort_unstable();
    cells.dedup();
    cells.len() == rows
}

/// A row of words over columns of numbers.
fn is_second_header(table: &Table<'_>, row: usize) -> bool {
    if row + 1 >= table.row_count() {
        return false;
    }
    let shares = shares_of_numbers(table, row + 1);
    let scores: Vec<usize> = (0..shares.len()).filter(|column| shares[*column] > 0.8).collect();
    let words = scores.iter().filter(|column| is_word(table.cell(row, **column))).count();
    let numbers = scores.iter().filter(|column| looks_like_number(table.cell(row, **column))).count();
    words > 0 && words * 2 >= scores.len().saturating_sub(2) && numbers == 0
}

impl Layout {
    /// Names that are blank or repeat are made whole from a second header row below or from groups above.
    fn name_apart(&mut self, table: &Table<'_>, header: usize) {
        let columns = self.unnamed_columns_of_numbers(table);
        if are_apart(columns.iter().map(|column| self.names[*column].as_str())) {
            return;
        }
        let (above, below) = match self.second_header {
            Some(second) => (header, second),
            None if header > 0 => (header - 1, header),
            None => return,
        };
        let lower_names: Vec<String> = columns.iter().map(|column| tidy(&table.text(below, *column))).collect();
        if are_apart(lower_names.iter().map(String::as_str)) {
            columns.iter().zip(lower_names).for_each(|(column, name)| self.names[*column] = name);
            return;
        }
        let groups = filled_right(table, above);
        if columns.iter().any(|column| groups.get(*column).is_some_and(|group| !group.is_empty())) {
            self.groups = Some(above);
            self.group(&columns, &groups, lower_names);
        }
    }

    /// Columns of numbers whose header names no role.
    fn unnamed_columns_of_numbers(&self, table: &Table<'_>) -> Vec<usize> {
        let shares = shares_of_numbers(table, self.first_data);
        (0..self.names.len().min(shares.len()))
            .filter(|column| shares[*column] > 0.5)
            .filter(|column| role_of_header(&self.names[*column]).is_none())
            .collect()
    }

    /// Puts the group above each column in front of the name under it.
    fn group(&mut self, columns: &[usize], groups: &[String], lower_names: Vec<String>) {
        self.groups_may_be_samples = !self.names_a_sample();
        self.grouped = vec![None; self.names.len()];
        for (column, name) in columns.iter().zip(lower_names) {
            // A sheet's row ends at its last filled cell: the last group goes on from there.
            let group = groups.get(*column).or(groups.last()).cloned().unwrap_or_default();
            self.names[*column] = tidy(&format!("{group} {name}"));
            self.grouped[*column] = Some(GroupedName { group, name });
        }
    }

    /// The groups of an upper header row, each once, from left to right.
    pub fn group_names(&self) -> Vec<&str> {
        let mut groups: Vec<&str> = Vec::new();
        for named in self.grouped.iter().flatten() {
            if !groups.contains(&named.group.as_str()) {
                groups.push(&named.group);
            }
        }
        groups
    }

    fn names_a_sample(&self) -> bool {
        let roles = roles_in(self.names.iter().cloned());
        roles.contains(&ColumnRole::Sample) || roles.contains(&ColumnRole::Code)
    }
}

/// Whether names are there and all different.
fn are_apart<'n>(names: impl Iterator<Item = &'n str>) -> bool {
    let mut folds: Vec<String> = names.map(folded).collect();
    let number = folds.len();
    folds.sort_unstable();
    folds.dedup();
    folds.len() == number && folds.first().is_none_or(|first| !first.is_empty())
}

/// The cells of a row, each blank one taking the text to its left, as merged cells are saved.
fn filled_right(table: &Table<'_>, row: usize) -> Vec<String> {
    let mut latest = String::new();
    let mut cells = Vec::new();
    for text in table.texts(row) {
        if !text.is_empty() {
            latest = tidy(&text);
        }
        cells.push(latest.clone());
    }
    cells
}
