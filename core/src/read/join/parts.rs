//! Tables of scores as parts of one table: which columns of each are taken, and what holds for all of its rows because
//! of its name, its file's or its group's. It puts nothing together.

use super::table_choice::TableChoice;
use crate::read::columns::doubts::Doubt;
use crate::read::columns::survey::{SurveyedSheet, groups_mean};
use crate::read::grid::row_cells::RowCells;
use crate::read::grid::spelling::{folded, tidy};
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::open::sheet::title_of;
use crate::read::options::{ColumnRole, PartsMean, ReadOptions};
use std::borrow::Cow;

/// Rows of one table of scores, or of one group of its columns.
pub(in crate::read) struct Part<'l, 'a> {
    pub surveyed: &'l SurveyedSheet<'a>,
    pub source: u16,
    pub columns: Vec<TakenColumn>,
    pub constants: Vec<Constant>,
}

/// A column of a source that is read.
#[derive(Clone)]
pub(in crate::read) struct TakenColumn {
    pub from: usize,
    pub name: String,
    pub role: ColumnRole,
    pub by_content: bool,
    /// Why it may be no attribute.
    pub doubt: Option<Doubt>,
}

/// What holds for all rows of a part.
#[derive(Clone)]
pub(in crate::read) struct Constant {
    pub name: String,
    pub role: ColumnRole,
    pub value: String,
}

/// A column of the combined table.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::read) struct Column {
    pub name: String,
    pub role: ColumnRole,
    pub by_content: bool,
    /// Why it may be no attribute.
    pub doubt: Option<Doubt>,
}

/// What a row has in a column of the combined table.
#[derive(Clone)]
pub(in crate::read) enum Filling {
    From(usize),
    Constant(String),
    Blank,
}

/// Roles of which a table has one column at most.
pub(in crate::read) const NAMING: [ColumnRole; 9] = [
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

/// The rows of a table as one part, or as one part a group where an upper header row tells samples apart.
pub(in crate::read) fn parts_of<'l, 'a>(
    surveyed: &'l SurveyedSheet<'a>,
    source: u16,
    choice: &TableChoice,
    options: &ReadOptions,
) -> Vec<Part<'l, 'a>> {
    let mut constants = constants_of(surveyed, choice);
    if options.means_of_panel && surveyed.guess.roles.find(ColumnRole::Assessor).is_none() {
        let (name, role) = (ColumnRole::Assessor.words().to_owned(), ColumnRole::Assessor);
        constants.push(Constant { name, role, value: say::MEAN_OF_PANEL.to_owned() });
    }
    let is_named = constants.iter().any(|constant| constant.role == ColumnRole::Sample);
    let columns: Vec<TakenColumn> =
        (0..surveyed.layout.names.len()).map(|from| TakenColumn::of(surveyed, from, is_named)).collect();
    let whole = Part { surveyed, source, columns, constants };
    match role_of_parts(groups_mean(&surveyed.layout, options)) {
        Some(role) if !surveyed.layout.grouped.is_empty() => {
            surveyed.layout.group_names().into_iter().map(|group| whole.of_group(group, role)).collect()
        }
        _ => vec![whole],
    }
}

/// What the names of a table's file and sheet tell of all its rows.
fn constants_of(surveyed: &SurveyedSheet<'_>, choice: &TableChoice) -> Vec<Constant> {
    let source = &surveyed.sheet.source;
    let stem = title_of(&source.file).to_owned();
    let sheet = source.sheet.clone().unwrap_or_else(|| stem.clone());
    let told = |meaning: Option<PartsMean>, name: fn(ColumnRole) -> String, value: String| {
        let role = meaning.and_then(role_of_parts)?;
        (!is_told_by_column(surveyed, role)).then(|| Constant { name: name(role), role, value })
    };
    let of_file = told(choice.files_mean, say::column_of_files, stem);
    let of_sheet = told(choice.sheets_mean, say::column_of_sheets, sheet);
    match (of_file, of_sheet) {
        (Some(file), Some(sheet)) if file.role == sheet.role => {
            vec![Constant { value: format!("{}, {}", file.value, sheet.value), ..file }]
        }
        (of_file, of_sheet) => of_file.into_iter().chain(of_sheet).collect(),
    }
}

/// What a column of the table itself tells is not told by its name; a code is no name of a sample.
fn is_told_by_column(surveyed: &SurveyedSheet<'_>, role: ColumnRole) -> bool {
    let is_code = role == ColumnRole::Sample && surveyed.code_for_sample().is_some();
    surveyed.guess.roles.find(role).is_some() && !is_code
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
pub(in crate::read) fn is_same(a: (&str, ColumnRole), b: (&str, ColumnRole)) -> bool {
    let naming = |role: ColumnRole| NAMING.contains(&role);
    if naming(a.1) || naming(b.1) { a.1 == b.1 } else { folded(a.0) == folded(b.0) }
}

impl Filling {
    /// The column of the source that is read, if any.
    pub fn source_column(&self) -> Option<usize> {
        match self {
            Filling::From(column) => Some(*column),
            Filling::Constant(_) | Filling::Blank => None,
        }
    }

    /// What a row of the source has.
    pub fn value<'v>(&'v self, cells: RowCells<'v>) -> Cow<'v, str> {
        match self {
            Filling::From(column) => String::from_utf8_lossy(cells.cell(*column)),
            Filling::Constant(value) => Cow::Borrowed(value),
            Filling::Blank => Cow::Borrowed(""),
        }
    }
}

impl TakenColumn {
    /// `is_named`: something else names the samples, so that the column of samples holds codes.
    fn of(surveyed: &SurveyedSheet<'_>, from: usize, is_named: bool) -> Self {
        let role = match surveyed.guess.roles.get(from) {
            ColumnRole::Sample if is_named => ColumnRole::Code,
            role => role,
        };
        let by_content = surveyed.guess.by_content.contains(&from);
        let doubt = surveyed.guess.doubts.iter().find(|doubt| doubt.column == from).map(|found| found.doubt);
        TakenColumn { from, name: surveyed.layout.names[from].clone(), role, by_content, doubt }
    }
}

impl<'l, 'a> Part<'l, 'a> {
    /// The columns of one group and those outside all groups, the group's name standing in every row.
    fn of_group(&self, group: &str, role: ColumnRole) -> Part<'l, 'a> {
        let grouped = &self.surveyed.layout.grouped;
        let in_group = |one: &&TakenColumn| grouped[one.from].as_ref().is_none_or(|named| named.group == group);
        let named = |one: &TakenColumn| match &grouped[one.from] {
            Some(named) => TakenColumn { name: named.name.clone(), ..one.clone() },
            None => one.clone(),
        };
        let columns = self.columns.iter().filter(in_group).map(named).collect();
        let mut constants = self.constants.clone();
        constants.push(Constant { name: say::column_of_groups(role), role, value: group.to_owned() });
        Part { surveyed: self.surveyed, source: self.source, columns, constants }
    }

    /// What its rows have in a column of the combined table.
    pub fn filling(&self, column: &Column) -> Filling {
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
    pub fn values(&self, columns: &[Column], column: usize) -> Vec<String> {
        match self.filling(&columns[column]) {
            Filling::Constant(value) => vec![value],
            Filling::Blank => Vec::new(),
            Filling::From(from) => {
                let table = &self.surveyed.sheet.table;
                let rows = self.surveyed.layout.first_data..table.row_count();
                rows.map(|row| tidy(&table.text(row, from))).filter(|value| !value.is_empty()).collect()
            }
        }
    }

    /// Tells a row with too many cells, which is left out, and one with too few.
    pub fn is_ragged(&self, width: usize, row: usize, notes: &mut Notes) -> bool {
        let (table, columns) = (&self.surveyed.sheet.table, self.surveyed.layout.names.len());
        let place = || self.surveyed.sheet.source.place().row(table.line(row));
        let too_many = (columns..width).any(|column| !table.cell(row, column).is_empty());
        if too_many {
            notes.at(place(), say::long_row(width, columns));
        } else if width < columns && !table.rows_may_be_short {
            notes.at(place(), say::short_row(width, columns));
        }
        too_many
    }
}
