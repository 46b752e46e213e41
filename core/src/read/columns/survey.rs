//! A sheet with what its rows and columns were taken for. It is read alone; what stands beside it doesn't matter here.

use crate::read::columns::column_plan::ColumnPlan;
use crate::read::columns::header_words::{Firmness, role_of_header};
use crate::read::columns::layout::{self, Layout};
use crate::read::columns::roles::{self, Guess};
use crate::read::grid::spelling::folded;
use crate::read::messages::sentences as say;
use crate::read::open::sheet::Sheet;
use crate::read::options::{ColumnRole, PartsMean, PreviewSheet, ReadOptions, SheetUse, TableShape};
use std::collections::BTreeSet;

/// A table with what its rows and columns were taken for.
pub(in crate::read) struct SurveyedSheet<'a> {
    pub sheet: Sheet<'a>,
    pub layout: Layout,
    pub guess: Guess,
    /// What of assessor, sample, attribute and score no column tells.
    pub missing: Vec<&'static str>,
}

pub(in crate::read) const NO_SAMPLE: &str = "the sample";
pub(in crate::read) const NO_ASSESSOR: &str = "the assessor";

/// Finds header and roles of a table; sets it upright first where servings run across.
pub(in crate::read) fn survey<'a>(mut sheet: Sheet<'a>, options: &ReadOptions) -> SurveyedSheet<'a> {
    let transposed = match options.shape {
        Some(TableShape::Transposed) => Some(sheet.table.transposed(0)),
        None if options.roles.is_none() => names_first_column(&sheet).map(|row| sheet.table.transposed(row)),
        _ => None,
    };
    if let Some(transposed) = transposed {
        sheet.table = transposed;
    }
    let layout = layout::find(&sheet.table, options);
    let guess = roles::guess(&sheet.table, layout.first_data, &layout.names, options);
    let missing = ColumnPlan::new(&guess.roles, layout.names.len()).missing();
    SurveyedSheet { sheet, layout, guess, missing }
}

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

impl SurveyedSheet<'_> {
    /// The sheet's name, or the file's where it has none.
    pub fn name(&self) -> String {
        self.sheet.source.sheet.clone().unwrap_or_else(|| self.sheet.source.file.clone())
    }

    /// Whether groups in an upper header row tell its rows apart, so that they have to be put one below the other.
    pub fn is_split(&self, options: &ReadOptions) -> bool {
        !self.layout.grouped.is_empty() && groups_mean(&self.layout, options) != PartsMean::Nothing
    }

    /// Whether there is no row at all.
    pub fn is_empty(&self) -> bool {
        self.sheet.table.row_count() == 0
    }

    /// Whether scores can be read of this table alone.
    pub fn is_whole(&self) -> bool {
        let groups_name_samples = self.missing == [NO_SAMPLE] && self.layout.groups_may_be_samples;
        let has_rows = self.layout.first_data < self.sheet.table.row_count() && self.layout.header.is_some();
        has_rows && (self.missing.is_empty() || groups_name_samples) && !self.is_key(true)
    }

    /// The column of codes that stands for the sample, where no column names it.
    pub fn code_for_sample(&self) -> Option<usize> {
        let column = self.guess.roles.find(ColumnRole::Sample)?;
        let headed = role_of_header(&self.layout.names[column]);
        matches!(headed, Some((ColumnRole::Code, _))).then_some(column)
    }

    /// Whether any column holds scores.
    pub fn has_scores(&self) -> bool {
        !ColumnPlan::new(&self.guess.roles, self.layout.names.len()).scores.is_empty()
    }

    /// Whether the table tells which sample each code stood for.
    pub fn is_key(&self, others_hold_scores: bool) -> bool {
        let has_rows = self.layout.first_data < self.sheet.table.row_count();
        let no_scores = !self.has_scores() || (others_hold_scores && self.missing.contains(&NO_ASSESSOR));
        has_rows && no_scores && self.key_columns().is_some()
    }

    /// The columns of the code and of the sample's name, if the table has both.
    pub fn key_columns(&self) -> Option<(usize, usize)> {
        let is_code = |name: &&String| matches!(role_of_header(name), Some((ColumnRole::Code, _)));
        let code = self.layout.names.iter().position(|name| is_code(&name))?;
        // A lot beside a column called "sample" is no sample.
        let named = |firmness: Firmness| {
            let wanted = Some((ColumnRole::Sample, firmness));
            (0..self.layout.names.len())
                .find(|column| *column != code && role_of_header(&self.layout.names[*column]) == wanted)
        };
        let sample = named(Firmness::Strong).or_else(|| named(Firmness::Weak)).or_else(|| self.column_beside(code));
        sample.map(|sample| (code, sample))
    }

    /// Headers of the columns of a key that tell nothing of a code.
    pub fn unused_of_key(&self) -> Vec<String> {
        let Some((code, sample)) = self.key_columns() else { return Vec::new() };
        let names_serving = [ColumnRole::Session, ColumnRole::Assessor];
        (0..self.layout.names.len())
            .filter(|column| *column != code && *column != sample && !self.layout.names[*column].is_empty())
            .filter(|column| !names_serving.contains(&self.guess.roles.get(*column)))
            .map(|column| format!("\"{}\"", self.layout.names[column]))
            .collect()
    }

    /// The other one of two columns, unless its header firmly names something else than a sample.
    fn column_beside(&self, code: usize) -> Option<usize> {
        let is_free = |column: &usize| {
            let name = role_of_header(&self.layout.names[*column]);
            *column != code && !matches!(name, Some((role, Firmness::Strong)) if role != ColumnRole::Sample)
        };
        let mut free = (0..self.layout.names.len()).filter(is_free);
        free.next().filter(|_| self.layout.names.len() == 2)
    }

    /// What the table with this index is used for, and why where that needs words. `scores` are the tables that may hold
    /// scores, `reference` the first of them.
    pub fn sheet_use(
        &self,
        index: usize,
        scores: &[usize],
        reference: Option<&SurveyedSheet<'_>>,
    ) -> (SheetUse, String) {
        let left_out = |why: String| (SheetUse::LeftOut, why);
        match reference {
            _ if self.is_empty() => left_out(say::SHEET_EMPTY.to_owned()),
            Some(first) if scores.contains(&index) => match self.differs_from(first) {
                Some(why) => left_out(why),
                None => (SheetUse::Scores, String::new()),
            },
            reference if self.is_key(reference.is_some()) => (SheetUse::Key, say::sheet_is_key(self.sheet.is_hidden)),
            _ if self.sheet.is_hidden => left_out(say::SHEET_HIDDEN.to_owned()),
            _ => left_out(say::sheet_lacks(&self.missing)),
        }
    }

    /// Why the table can't be read together with the first one.
    fn differs_from(&self, first: &SurveyedSheet<'_>) -> Option<String> {
        if self.guess.shape != first.guess.shape {
            return Some(say::sheet_shape(&first.name()));
        }
        let names = |one: &SurveyedSheet<'_>| {
            let scores = one.guess.roles.all(ColumnRole::AttributeScores);
            scores.into_iter().map(|column| folded(&one.layout.names[column])).collect::<BTreeSet<String>>()
        };
        let (ours, theirs) = (names(self), names(first));
        let shared = ours.intersection(&theirs).count();
        (shared * 2 < ours.len().min(theirs.len())).then(|| say::sheet_columns(&first.name()))
    }

    /// The table as the preview lists it.
    pub fn shown(&self, sheet_use: SheetUse, why: String) -> PreviewSheet {
        PreviewSheet {
            file: self.sheet.source.file.clone(),
            sheet: self.sheet.source.sheet.clone(),
            is_hidden: self.sheet.is_hidden,
            rows: self.sheet.table.row_count(),
            columns: self.layout.names.len(),
            sheet_use,
            why,
        }
    }
}

/// The row in which roles begin to run down the first column, where the servings run across.
fn names_first_column(sheet: &Sheet<'_>) -> Option<usize> {
    let table = &sheet.table;
    let rows = 0..table.row_count().min(30);
    let across = rows.clone().any(|row| layout::roles_named(table, row).len() >= 2);
    let down = layout::roles_in(rows.clone().map(|row| table.text(row, 0).into_owned()));
    let names_serving = down.contains(&ColumnRole::Assessor) || down.contains(&ColumnRole::Sample);
    let names_role = |row: &usize| !layout::roles_in([table.text(*row, 0).into_owned()].into_iter()).is_empty();
    if across || down.len() < 2 || !names_serving { None } else { rows.into_iter().find(names_role) }
}
