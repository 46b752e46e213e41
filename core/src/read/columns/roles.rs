//! What each column holds, by the words of its header and by what stands in it.

use super::doubts::{ColumnDoubt, Doubt, far_outside};
use super::header_words::{Firmness, is_ignored_header, names_a_person, role_of_header, totals_word};
use crate::read::grid::cell_values::{is_missing, looks_like_number, whole_number};
use crate::read::grid::table::Table;
use crate::read::options::{ColumnRole, ColumnRoles, ReadOptions, TableShape};
use crate::text::tidy_columns::are_tidy_columns;
use std::collections::BTreeSet;

/// Roles with the shape they make.
#[derive(Debug, PartialEq)]
pub(in crate::read) struct Guess {
    pub roles: ColumnRoles,
    pub shape: TableShape,
    /// Columns whose role rests on their content alone.
    pub by_content: Vec<usize>,
    /// Columns of numbers that may be no attributes.
    pub doubts: Vec<ColumnDoubt>,
}

/// What stands in a column, from at most four hundred rows spread over the table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Profile {
    filled: usize,
    numbers: usize,
    fractions: usize,
    /// Different cells, numbers with decimals left aside: those are scores, never names.
    distinct: usize,
    /// Whole numbers, each one more than the last.
    counts_up: bool,
}

const PROFILED_ROWS: usize = 400;

pub(in crate::read) fn guess(table: &Table<'_>, first_data: usize, names: &[String], options: &ReadOptions) -> Guess {
    if options.shape.is_none() && options.roles_kept.is_empty() && are_tidy_columns(names) {
        return of_tidy_columns(names);
    }
    let mut draft = Draft::new(names, profiles(table, first_data, names.len()));
    draft.by_hand(options);
    draft.by_words(Firmness::Strong);
    draft.by_words(Firmness::Weak);
    draft.set_aside();
    draft.last_text_column();
    draft.scores(options.shape);
    let doubts = draft.doubts(table, first_data, options);
    let by_column: Vec<ColumnRole> = draft.roles.iter().map(|role| role.unwrap_or(ColumnRole::Ignored)).collect();
    let roles = ColumnRoles { by_column };
    Guess { shape: shape_of(&roles), roles, by_content: draft.by_content, doubts }
}

/// Columns of words that repeat: each may name the assessor where no header says so.
pub(in crate::read) fn columns_of_names(table: &Table<'_>, first_data: usize, columns: usize) -> Vec<usize> {
    let profiles = profiles(table, first_data, columns);
    (0..columns).filter(|column| profiles[*column].is_words_that_repeat()).collect()
}

/// The roles of a table that Likeness wrote: names there may be numbers, so the content tells nothing.
fn of_tidy_columns(names: &[String]) -> Guess {
    let role = |name: &String| match name.as_str() {
        "assessor" => ColumnRole::Assessor,
        "sample" => ColumnRole::Sample,
        "replicate" => ColumnRole::Replicate,
        "session" => ColumnRole::Session,
        "position" => ColumnRole::Position,
        "label" => ColumnRole::Label,
        "attribute" => ColumnRole::Attribute,
        "score" => ColumnRole::Score,
        _ => ColumnRole::Ignored,
    };
    let by_column = names.iter().map(role).collect();
    Guess { roles: ColumnRoles { by_column }, shape: TableShape::Long, by_content: Vec::new(), doubts: Vec::new() }
}

/// The shape that a set of roles makes.
pub(in crate::read) fn shape_of(roles: &ColumnRoles) -> TableShape {
    let has = |role| roles.find(role).is_some();
    match () {
        () if has(ColumnRole::Score) && has(ColumnRole::Attribute) => TableShape::Long,
        () if has(ColumnRole::AssessorScores) => TableShape::AssessorsAcross,
        () if has(ColumnRole::SampleScores) => TableShape::SamplesAcross,
        () if has(ColumnRole::ReplicateScores) => TableShape::ReplicatesAcross,
        () => TableShape::Wide,
    }
}

struct Draft<'a> {
    names: &'a [String],
    /// The role that each header names.
    headed: Vec<Option<(ColumnRole, Firmness)>>,
    /// Whether some column is headed as one of attribute names and holds words.
    has_attribute_names: bool,
    profiles: Vec<Profile>,
    roles: Vec<Option<ColumnRole>>,
    by_content: Vec<usize>,
}

impl<'a> Draft<'a> {
    fn new(names: &'a [String], profiles: Vec<Profile>) -> Self {
        let headed: Vec<_> = names.iter().map(|name| role_of_header(name)).collect();
        let has_attribute_names = headed
            .iter()
            .zip(&profiles)
            .any(|(headed, profile)| matches!(headed, Some((ColumnRole::Attribute, _))) && !profile.mostly_numbers());
        let roles = vec![None; names.len()];
        Draft { names, headed, has_attribute_names, profiles, roles, by_content: Vec::new() }
    }

    /// What the person said of columns before their tables were put together anew.
    fn by_hand(&mut self, options: &ReadOptions) {
        for column in 0..self.names.len() {
            let said = options.roles_kept.iter().rfind(|stated| stated.is_of(self.names, column));
            self.roles[column] = said.map(|stated| stated.role);
        }
    }

    fn by_words(&mut self, firmness: Firmness) {
        for column in 0..self.names.len() {
            let Some((role, found)) = self.headed[column] else { continue };
            if found == firmness && self.roles[column].is_none() && self.may_be(role, column) {
                self.roles[column] = Some(role);
            }
        }
        let codes = self.columns_with(ColumnRole::Code);
        if firmness == Firmness::Strong && !self.has(ColumnRole::Sample) && codes.len() == 1 {
            self.roles[codes[0]] = Some(ColumnRole::Sample);
        }
    }

    /// One column a role, and only where the content does not speak against it.
    fn may_be(&self, role: ColumnRole, column: usize) -> bool {
        let profile = &self.profiles[column];
        let repeats = profile.distinct < profile.filled;
        let content_fits = match role {
            ColumnRole::Score => profile.mostly_numbers() && self.has_attribute_names,
            ColumnRole::Attribute => !profile.mostly_numbers(),
            ColumnRole::Position => profile.mostly_numbers() && profile.fractions == 0,
            _ => profile.fractions * 10 <= profile.filled,
        };
        let weak = matches!(self.headed[column], Some((_, Firmness::Weak)));
        !self.has(role) && content_fits && (!weak || repeats)
    }

    /// Row numbers, comments, what is told of a person and columns of totals hold no scores.
    fn set_aside(&mut self) {
        for column in 0..self.names.len() {
            let name = &self.names[column];
            let numbered = name.is_empty() && self.profiles[column].counts_up;
            let aside = numbered || is_ignored_header(name) || names_a_person(name) || totals_word(name).is_some();
            if self.roles[column].is_none() && aside {
                self.roles[column] = Some(ColumnRole::Ignored);
            }
        }
    }

    /// Where only the sample is missing, the one column of repeated words left over is taken for it. An assessor is
    /// never found so: a supplier or a batch beside means would become a panel.
    fn last_text_column(&mut self) {
        let is_sample = self.has(ColumnRole::Assessor) && !self.has(ColumnRole::Sample);
        let left: Vec<usize> = (0..self.names.len())
            .filter(|column| self.roles[*column].is_none() && self.profiles[*column].is_words_that_repeat())
            .collect();
        if let ([column], true, false) = (left.as_slice(), is_sample, self.has(ColumnRole::Attribute)) {
            self.roles[*column] = Some(ColumnRole::Sample);
            self.by_content.push(*column);
        }
    }

    /// Columns of numbers beside attributes that seem to be none; they are set aside.
    fn doubts(&mut self, table: &Table<'_>, first_data: usize, options: &ReadOptions) -> Vec<ColumnDoubt> {
        if !self.has(ColumnRole::AttributeScores) {
            return Vec::new();
        }
        let of_person = self
            .columns_with(ColumnRole::Ignored)
            .into_iter()
            .filter(|column| names_a_person(&self.names[*column]) && self.profiles[*column].mostly_numbers());
        let mut doubts: Vec<ColumnDoubt> =
            of_person.map(|column| ColumnDoubt { column, doubt: Doubt::OfPerson }).collect();
        doubts.extend(far_outside(table, first_data, &self.columns_with(ColumnRole::AttributeScores)));
        doubts.retain(|doubt| !options.is_stated(self.names, doubt.column));
        doubts.iter().for_each(|doubt| self.roles[doubt.column] = Some(ColumnRole::Ignored));
        doubts
    }

    fn scores(&mut self, stated: Option<TableShape>) {
        let left: Vec<usize> = (0..self.names.len())
            .filter(|column| self.roles[*column].is_none() && self.profiles[*column].mostly_numbers())
            .collect();
        let role = match stated {
            Some(TableShape::Long) => Some(ColumnRole::Score).filter(|role| left.len() == 1 && !self.has(*role)),
            Some(TableShape::Wide | TableShape::Transposed) => Some(ColumnRole::AttributeScores),
            Some(TableShape::AssessorsAcross) => Some(ColumnRole::AssessorScores),
            Some(TableShape::SamplesAcross) => Some(ColumnRole::SampleScores),
            Some(TableShape::ReplicatesAcross) => Some(ColumnRole::ReplicateScores),
            None => self.scores_by_content(left.len()),
        };
        left.into_iter().for_each(|column| self.roles[column] = role);
    }

    /// What so many columns of numbers hold, where nobody said it.
    fn scores_by_content(&self, columns: usize) -> Option<ColumnRole> {
        match (self.has(ColumnRole::Attribute), self.has(ColumnRole::Score)) {
            (true, true) => None,
            (true, false) => self.scores_beside_attribute_names(columns),
            (false, _) => Some(ColumnRole::AttributeScores),
        }
    }

    fn scores_beside_attribute_names(&self, columns: usize) -> Option<ColumnRole> {
        match (self.has(ColumnRole::Assessor), self.has(ColumnRole::Sample)) {
            (true, true) if columns == 1 => Some(ColumnRole::Score),
            (true, true) if !self.has(ColumnRole::Replicate) => Some(ColumnRole::ReplicateScores),
            (false, true) => Some(ColumnRole::AssessorScores),
            (true, false) => Some(ColumnRole::SampleScores),
            _ => None,
        }
    }

    fn has(&self, role: ColumnRole) -> bool {
        self.roles.contains(&Some(role))
    }

    fn columns_with(&self, role: ColumnRole) -> Vec<usize> {
        (0..self.roles.len()).filter(|column| self.roles[*column] == Some(role)).collect()
    }
}

/// What stands in each column, from rows spread evenly over the table.
fn profiles(table: &Table<'_>, first_data: usize, columns: usize) -> Vec<Profile> {
    let mut drafts = vec![ProfileDraft::default(); columns];
    let step = table.row_count().saturating_sub(first_data).div_ceil(PROFILED_ROWS).max(1);
    let mut ends = Vec::new();
    for row in (first_data..table.row_count()).step_by(step) {
        let cells = table.row(row, &mut ends);
        for (column, draft) in drafts.iter_mut().enumerate() {
            draft.add(cells.cell(column), step as u32);
        }
    }
    drafts.into_iter().map(ProfileDraft::finish).collect()
}

#[derive(Clone, Default)]
struct ProfileDraft {
    profile: Profile,
    /// Short cells as numbers, each as often as it comes, and the long ones.
    short: Vec<u64>,
    long: BTreeSet<Vec<u8>>,
    previous: Option<u32>,
    breaks_count: bool,
    rows: usize,
}

impl ProfileDraft {
    fn add(&mut self, cell: &[u8], step: u32) {
        let whole = whole_number(cell);
        let rises = matches!((self.previous, whole), (Some(a), Some(b)) if b == a + step);
        self.breaks_count |= !(rises || (self.rows == 0 && whole.is_some()));
        self.previous = whole;
        self.rows += 1;
        if is_missing(cell) {
            return;
        }
        let number = whole.is_some() || looks_like_number(cell);
        self.profile.filled += 1;
        self.profile.numbers += usize::from(number);
        self.profile.fractions += usize::from(number && whole.is_none());
        if whole.is_some() || !number {
            if let Some(cell) = packed(cell) {
                self.short.push(cell);
            } else {
                self.long.insert(cell.to_ascii_lowercase());
            }
        }
    }

    fn finish(mut self) -> Profile {
        let counts_up = self.rows > 0 && !self.breaks_count;
        self.short.sort_unstable();
        self.short.dedup();
        Profile { distinct: self.short.len() + self.long.len(), counts_up, ..self.profile }
    }
}

/// A cell of up to seven bytes, capitals made small, and its length as one number; `None` for longer ones.
fn packed(cell: &[u8]) -> Option<u64> {
    let byte = |sum: u64, byte: &u8| sum << 8 | u64::from(byte.to_ascii_lowercase());
    (cell.len() < 8).then(|| cell.iter().fold(cell.len() as u64, byte))
}

impl Profile {
    fn mostly_numbers(&self) -> bool {
        self.filled > 0 && self.numbers * 2 >= self.filled
    }

    fn is_words_that_repeat(&self) -> bool {
        self.filled > 0 && !self.mostly_numbers() && self.distinct * 2 <= self.filled
    }
}
