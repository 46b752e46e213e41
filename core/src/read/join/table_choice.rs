//! Which of several tables hold scores, which one is a key, and what tells one table of scores from the next.
//! It looks at headers and roles; it joins nothing.

use super::combine::groups_mean;
use super::names::folded;
use crate::notice::Place;
use crate::read::columns::column_plan::Plan;
use crate::read::columns::header_words::role_of_header;
use crate::read::columns::layout;
use crate::read::columns::layout::Layout;
use crate::read::columns::roles;
use crate::read::columns::roles::Guess;
use crate::read::grid::table::Table;
use crate::read::messages::sentences as say;
use crate::read::open::sheet::Sheet;
use crate::read::{ColumnRole, PartsMean, PreviewSheet, ReadOptions, Reader, SheetUse, TableShape};
use std::collections::BTreeSet;

/// A table with what its rows and columns were taken for.
pub(in crate::read) struct Looked<'a> {
    pub sheet: Sheet<'a>,
    pub layout: Layout,
    pub guess: Guess,
    /// What of assessor, sample, attribute and score no column tells.
    pub missing: Vec<&'static str>,
}

/// What is read of the tables, by their index, and what tells them apart.
#[derive(Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct Choice {
    pub scores: Vec<usize>,
    pub keys: Vec<usize>,
    pub sheets_mean: Option<PartsMean>,
    pub files_mean: Option<PartsMean>,
}

/// Characters of a row that a note repeats.
const TOLD_CHARACTERS: usize = 200;

const NO_SAMPLE: &str = "the sample";
const NO_ASSESSOR: &str = "the assessor";

impl Reader<'_> {
    /// Finds header and roles of a table; turns it upright first where servings run across.
    pub(in crate::read) fn look<'a>(&self, mut sheet: Sheet<'a>) -> Looked<'a> {
        let turned = match self.options.shape {
            Some(TableShape::Transposed) => Some(sheet.table.turned(0)),
            None if self.options.roles.is_none() => names_first_column(&sheet).map(|row| sheet.table.turned(row)),
            _ => None,
        };
        if let Some(turned) = turned {
            sheet.table = turned;
        }
        let layout = layout::find(&sheet.table, self.options);
        let guess = roles::guess(&sheet.table, layout.first_data, &layout.names, self.options.shape);
        let missing = Plan::new(&guess.roles, layout.names.len()).missing();
        Looked { sheet, layout, guess, missing }
    }

    /// What each table is used for. The preview lists all of them with the reason.
    pub(in crate::read) fn choose(&mut self, looked: &[Looked<'_>]) -> Choice {
        let mut uses: Vec<(SheetUse, String)> = looked.iter().map(|_| (SheetUse::LeftOut, String::new())).collect();
        let whole: Vec<usize> = (0..looked.len()).filter(|index| looked[*index].is_whole()).collect();
        let visible = |index: &usize| !looked[*index].sheet.is_hidden;
        let mut scores: Vec<usize> = whole.iter().copied().filter(visible).collect();
        if scores.is_empty() {
            scores = lacking_alike(looked);
        }
        if scores.is_empty() {
            scores = whole;
        }
        if scores.is_empty() && self.options.means_of_panel {
            let is_mean = |index: &usize| looked[*index].missing == [NO_ASSESSOR] && looked[*index].has_scores();
            scores = (0..looked.len()).find(is_mean).into_iter().collect();
        }
        let reference = scores.first().copied();
        for (index, one) in looked.iter().enumerate() {
            let stated = self.options.sheet_uses.get(&index).copied();
            let found = one.sheet_use(index, &scores, reference.map(|first| &looked[first]));
            uses[index] = stated.map_or(found, |stated| (stated, String::new()));
        }
        let used_as = |wanted: SheetUse| (0..uses.len()).filter(|index| uses[*index].0 == wanted).collect::<Vec<_>>();
        let (scores, keys) = (used_as(SheetUse::Scores), used_as(SheetUse::Key));
        for (one, (sheet_use, why)) in looked.iter().zip(uses) {
            self.reading.preview.sheets.push(one.shown(sheet_use, why));
        }
        let mut choice = Choice { scores, keys, ..Choice::default() };
        self.tell_apart(looked, &mut choice);
        choice
    }

    /// What sheets and files stand for, as far as the content says so.
    fn tell_apart(&self, looked: &[Looked<'_>], choice: &mut Choice) {
        let files: BTreeSet<usize> = choice.scores.iter().map(|index| looked[*index].sheet.file).collect();
        let many_sheets = choice.scores.len() > files.len();
        let lacks = |what: &str| choice.scores.iter().all(|index| looked[*index].missing.contains(&what));
        let lacking = match () {
            () if choice.scores.len() < 2 => None,
            () if lacks(NO_SAMPLE) => Some(PartsMean::Samples),
            () if lacks(NO_ASSESSOR) => Some(PartsMean::Assessors),
            () => None,
        };
        let has_session = |index: &usize| looked[*index].guess.roles.find(ColumnRole::Session).is_some();
        let all_sessions = choice.scores.iter().all(has_session);
        let of_files = match lacking {
            Some(lacking) if !many_sheets => lacking,
            _ if all_sessions => PartsMean::Nothing,
            _ => PartsMean::Sessions,
        };
        if files.len() > 1 {
            choice.files_mean = self.options.files_mean.or(Some(of_files));
        }
        if many_sheets {
            let is_plain = all_sessions && files.len() == 1 && !has_codes_alone(looked, choice);
            let by_content = lacking.or(is_plain.then_some(PartsMean::Nothing));
            choice.sheets_mean = self.options.sheets_mean.or(by_content);
        }
    }

    /// Says how the sheets and files were told apart, and asks where only the person can tell. False where that stops.
    pub(in crate::read) fn confirm_parts(&mut self, looked: &[Looked<'_>], choice: &Choice) -> bool {
        let files: BTreeSet<usize> = choice.scores.iter().map(|index| looked[*index].sheet.file).collect();
        let names = |indices: &[usize]| indices.iter().map(|index| looked[*index].name()).collect::<Vec<_>>();
        if choice.scores.len() > files.len() {
            let names = names(&choice.scores);
            let Some(meaning) = choice.sheets_mean else {
                self.notes.of_file(say::several_sheets(&names));
                let may_be_samples = has_codes_alone(looked, choice);
                self.reading.questions.push(say::ask_sheets(&names, &choice.scores, may_be_samples));
                return false;
            };
            if self.options.sheets_mean.is_none() {
                self.notes.of_file(say::sheets_mean(names.len(), meaning));
                self.reading.questions.push(say::offer_sheets(meaning));
            }
        }
        if let Some(meaning) = choice.files_mean.filter(|_| self.options.files_mean.is_none()) {
            self.notes.of_file(say::files_mean(files.len(), meaning));
            self.reading.questions.push(say::offer_files(meaning));
        }
        true
    }

    /// Says what the groups of an upper header row were taken for, and offers what else they may be.
    pub(in crate::read) fn confirm_groups(&mut self, looked: &Looked<'_>) {
        if looked.layout.grouped.is_empty() || !looked.is_split(self.options) || self.options.groups_mean.is_some() {
            return;
        }
        let meaning = groups_mean(&looked.layout, self.options);
        let line = looked.layout.groups.map_or(0, |row| looked.sheet.table.line(row));
        self.notes.at(looked.sheet.source.place().row(line), say::groups_mean(meaning));
        self.reading.questions.push(say::offer_groups(meaning));
    }

    /// What was passed over above and between the rows of a table; `groups_are_joined` says that the groups of an upper
    /// header row became part of the names.
    pub(in crate::read) fn tell_layout(
        &mut self,
        source: &Place,
        table: &Table<'_>,
        layout: &Layout,
        groups_are_joined: bool,
    ) {
        let above = layout.header.filter(|row| *row > 0 && layout.groups != Some(*row - 1) && !table.is_turned());
        let mut tell = |place: Place, note: say::Note| self.notes.at(place, note);
        if let Some(row) = above {
            tell(source.clone(), say::header_below(table.line(row)));
        }
        if let Some(row) = layout.groups.filter(|_| groups_are_joined) {
            tell(source.clone(), say::groups_joined(table.line(row)));
        }
        if let Some(row) = layout.second_header.filter(|row| layout.groups != Some(row - 1)) {
            let words: String = table.texts(row).join(" ").trim().chars().take(TOLD_CHARACTERS).collect();
            let (line, place) = (table.line(row), source.clone());
            let place = if table.is_turned() { place.column(line, "") } else { place.row(line) };
            tell(place, say::second_header(&words));
        }
        if layout.row_names {
            tell(source.clone(), say::row_names());
        }
        if !table.blank_lines.is_empty() {
            let lines: Vec<String> = table.blank_lines.iter().map(u32::to_string).collect();
            tell(source.clone(), say::blank_rows(&lines));
        }
    }

    /// Says what becomes of a sheet beside others, and which of its cells are merged.
    pub(in crate::read) fn tell_sheet(&mut self, index: usize, looked: &Looked<'_>, choice: &Choice) {
        let shown = &self.reading.preview.sheets[index];
        let (why, sheet_use) = (shown.why.clone(), shown.sheet_use);
        let place = looked.sheet.source.place();
        if !why.is_empty() && self.reading.preview.sheets.len() > 1 {
            self.notes.at(place.clone(), say::sheet_used(sheet_use, &why));
        }
        let header = looked.layout.second_header.or(looked.layout.header).map_or(0, |row| looked.sheet.table.line(row));
        let in_body = looked.sheet.merged.iter().filter(|merged| merged.last_row + 1 > header);
        let ranges: Vec<String> = in_body.map(|merged| say::cell_range(*merged)).collect();
        if !ranges.is_empty() && (choice.scores.contains(&index) || choice.scores.is_empty()) {
            self.notes.at(place, say::merged_cells(&ranges));
        }
    }
}

impl Looked<'_> {
    /// The sheet's name, or the file's where it has none.
    pub fn name(&self) -> String {
        self.sheet.source.sheet.clone().unwrap_or_else(|| self.sheet.source.file.clone())
    }

    /// Whether groups in an upper header row tell its rows apart, so that they have to be put one below the other.
    pub fn is_split(&self, options: &ReadOptions) -> bool {
        !self.layout.grouped.is_empty() && groups_mean(&self.layout, options) != PartsMean::Nothing
    }

    pub fn is_empty(&self) -> bool {
        self.sheet.table.row_count() == 0
    }

    /// Whether scores can be read of this table alone.
    fn is_whole(&self) -> bool {
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

    fn has_scores(&self) -> bool {
        !Plan::new(&self.guess.roles, self.layout.names.len()).scores.is_empty()
    }

    /// Whether the table tells which sample each code stood for.
    fn is_key(&self, others_hold_scores: bool) -> bool {
        let has_rows = self.layout.first_data < self.sheet.table.row_count();
        let no_scores = !self.has_scores() || (others_hold_scores && self.missing.contains(&NO_ASSESSOR));
        has_rows && no_scores && self.key_columns().is_some()
    }

    /// The columns of the code and of the sample's name, if the table has both.
    pub fn key_columns(&self) -> Option<(usize, usize)> {
        let is_code = |name: &&String| matches!(role_of_header(name), Some((ColumnRole::Code, _)));
        let code = self.layout.names.iter().position(|name| is_code(&name))?;
        let named = (0..self.layout.names.len()).find(|column| {
            *column != code && matches!(role_of_header(&self.layout.names[*column]), Some((ColumnRole::Sample, _)))
        });
        let text = || {
            let is_free = |column: &usize| {
                let name = role_of_header(&self.layout.names[*column]);
                *column != code
                    && !matches!(name, Some((role, crate::read::columns::header_words::Firmness::Strong)) if role != ColumnRole::Sample)
            };
            let mut free = (0..self.layout.names.len()).filter(is_free);
            free.next().filter(|_| self.layout.names.len() == 2)
        };
        named.or_else(text).map(|sample| (code, sample))
    }

    fn sheet_use(&self, index: usize, scores: &[usize], reference: Option<&Looked<'_>>) -> (SheetUse, String) {
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
    fn differs_from(&self, first: &Looked<'_>) -> Option<String> {
        if self.guess.shape != first.guess.shape {
            return Some(say::sheet_shape(&first.name()));
        }
        let names = |one: &Looked<'_>| {
            let scores = one.guess.roles.all(ColumnRole::AttributeScores);
            scores.into_iter().map(|column| folded(&one.layout.names[column])).collect::<BTreeSet<String>>()
        };
        let (ours, theirs) = (names(self), names(first));
        let shared = ours.intersection(&theirs).count();
        (shared * 2 < ours.len().min(theirs.len())).then(|| say::sheet_columns(&first.name()))
    }

    fn shown(&self, sheet_use: SheetUse, why: String) -> PreviewSheet {
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

/// Whether codes alone tell the samples in every table of scores, and no key names them: the sheets may be the samples.
fn has_codes_alone(looked: &[Looked<'_>], choice: &Choice) -> bool {
    choice.keys.is_empty() && choice.scores.iter().all(|index| looked[*index].code_for_sample().is_some())
}

/// Tables that all lack the sample, or all lack the assessor: their names tell it.
fn lacking_alike(looked: &[Looked<'_>]) -> Vec<usize> {
    let lack = |what: &str| -> Vec<usize> {
        let lacks = |one: &Looked<'_>| one.missing == [what] && !one.sheet.is_hidden && one.has_scores();
        (0..looked.len()).filter(|index| lacks(&looked[*index]) && !looked[*index].is_key(false)).collect()
    };
    let (no_sample, no_assessor) = (lack(NO_SAMPLE), lack(NO_ASSESSOR));
    let best = if no_sample.len() >= no_assessor.len() { no_sample } else { no_assessor };
    if best.len() > 1 { best } else { Vec::new() }
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
