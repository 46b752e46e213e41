//! What an answer, or a role stated by hand, changes in the options of reading. It reads nothing itself.

use super::grid::spelling::folded;
use super::options::{Answer, ColumnRole, ColumnRoles, ReadOptions, SheetUse, StatedRole};

impl ReadOptions {
    /// The same options with one question answered; answers that need more from the caller change nothing.
    pub fn answered(mut self, answer: &Answer) -> Self {
        match answer {
            Answer::Duplicates(choice) => self.duplicates = *choice,
            Answer::NumberReplicates => self.number_replicates_in_file_order = true,
            Answer::Missing(code) => self.missing_codes.push(*code),
            Answer::Score(code) => self.kept_codes.push(*code),
            Answer::Decimal(mark) => self.decimal = Some(*mark),
            Answer::PadCodes => self.pad_codes = true,
            Answer::FillNamesDown => self.fill_names_down = true,
            Answer::CodesHoldInEverySession => self.codes_hold_in_every_session = true,
            Answer::StateRoles | Answer::StateScale => {}
            Answer::SheetsMean(_)
            | Answer::FilesMean(_)
            | Answer::GroupsMean(_)
            | Answer::OnlySheet { .. }
            | Answer::MeansOfPanel
            | Answer::Role(_) => self.take_tables_as(answer),
        }
        self
    }

    /// Answers by which other tables are put together: they have other columns, so their roles are found anew, all but
    /// those that the person stated.
    fn take_tables_as(&mut self, answer: &Answer) {
        self.find_roles_anew();
        match answer {
            Answer::Role(stated) => keep(&mut self.roles_kept, stated.clone()),
            Answer::SheetsMean(meaning) => self.sheets_mean = Some(*meaning),
            Answer::FilesMean(meaning) => self.files_mean = Some(*meaning),
            Answer::GroupsMean(meaning) => self.groups_mean = Some(*meaning),
            Answer::OnlySheet { index, others } => {
                self.sheet_uses.insert(*index, SheetUse::Scores);
                self.sheet_uses.extend(others.iter().map(|other| (*other, SheetUse::LeftOut)));
            }
            _ => self.means_of_panel = true,
        }
    }

    /// States the role of one column of the table that is shown, whose columns have these headers and roles. The others
    /// stay as they are shown.
    pub fn state_role(&mut self, headers: &[String], shown: &ColumnRoles, column: usize, role: ColumnRole) {
        let mut roles = shown.clone();
        if roles.by_column.len() <= column {
            roles.by_column.resize(column + 1, ColumnRole::Ignored);
        }
        roles.by_column[column] = role;
        // The shape follows from the roles: it is found anew.
        self.shape = None;
        self.roles = Some(roles);
        let header = headers.get(column).cloned().unwrap_or_default();
        keep(&mut self.roles_by_hand, StatedRole { header, column, role });
    }

    /// Lets the roles be found anew, since the tables are put together in another way; what was stated by hand stays.
    pub fn find_roles_anew(&mut self) {
        self.roles = None;
        for stated in std::mem::take(&mut self.roles_by_hand) {
            keep(&mut self.roles_kept, stated);
        }
    }

    /// Whether the person said what this column of a table with these headers holds.
    pub(in crate::read) fn is_stated(&self, headers: &[String], column: usize) -> bool {
        self.roles_by_hand.iter().chain(&self.roles_kept).any(|stated| stated.is_of(headers, column))
    }
}

impl StatedRole {
    /// Whether it speaks of this column of a table with these headers.
    pub(in crate::read) fn is_of(&self, headers: &[String], column: usize) -> bool {
        let same = |header: &String| folded(header) == folded(&self.header);
        let is_told_apart = !self.header.is_empty() && headers.iter().filter(|header| same(header)).count() == 1;
        headers.get(column).is_some_and(same) && (is_told_apart || self.column == column)
    }
}

/// Adds a role in place of what was stated of the same column before.
fn keep(stated: &mut Vec<StatedRole>, new: StatedRole) {
    stated.retain(|old| old.header != new.header || old.column != new.column);
    stated.push(new);
}
