//! Which of several tables hold scores, which one is a key, and what tells one table of scores from the next.
//! It looks at headers and roles; it joins nothing.

use crate::notice::Place;
use crate::read::columns::layout::Layout;
use crate::read::columns::survey::{NO_ASSESSOR, NO_SAMPLE, SurveyedSheet, groups_mean};
use crate::read::grid::table::Table;
use crate::read::messages::sentences as say;
use crate::read::options::{ColumnRole, PartsMean, SheetUse};
use crate::read::reader::Reader;
use std::collections::BTreeSet;

/// What is read of the tables, by their index, and what tells them apart.
#[derive(Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct TableChoice {
    pub scores: Vec<usize>,
    pub keys: Vec<usize>,
    pub sheets_mean: Option<PartsMean>,
    pub files_mean: Option<PartsMean>,
}

/// Characters of a row that a note repeats.
const TOLD_CHARACTERS: usize = 200;

impl Reader<'_> {
    /// What each table is used for. The preview lists all of them with the reason.
    pub(in crate::read) fn choose(&mut self, surveyed: &[SurveyedSheet<'_>]) -> TableChoice {
        let candidates = self.candidates(surveyed);
        let reference = candidates.first().map(|first| &surveyed[*first]);
        let use_of = |(index, one): (usize, &SurveyedSheet<'_>)| match self.options.sheet_uses.get(&index) {
            Some(stated) => (*stated, String::new()),
            None => one.sheet_use(index, &candidates, reference),
        };
        let uses: Vec<(SheetUse, String)> = surveyed.iter().enumerate().map(use_of).collect();
        let used_as = |wanted: SheetUse| (0..uses.len()).filter(|index| uses[*index].0 == wanted).collect::<Vec<_>>();
        let (scores, keys) = (used_as(SheetUse::Scores), used_as(SheetUse::Key));
        for (one, (sheet_use, why)) in surveyed.iter().zip(uses) {
            self.reading.preview.sheets.push(one.shown(sheet_use, why));
        }
        let mut choice = TableChoice { scores, keys, ..TableChoice::default() };
        self.tell_apart(surveyed, &mut choice);
        choice
    }

    /// The tables that may hold scores: whole ones in sight, else those that lack the same, else hidden ones, else a
    /// table of means where the person said so.
    fn candidates(&self, surveyed: &[SurveyedSheet<'_>]) -> Vec<usize> {
        let whole: Vec<usize> = (0..surveyed.len()).filter(|index| surveyed[*index].is_whole()).collect();
        let visible = |index: &usize| !surveyed[*index].sheet.is_hidden;
        let mut scores: Vec<usize> = whole.iter().copied().filter(visible).collect();
        if scores.is_empty() {
            scores = lacking_alike(surveyed);
        }
        if scores.is_empty() {
            scores = whole;
        }
        if scores.is_empty() && self.options.means_of_panel {
            let is_mean = |index: &usize| surveyed[*index].missing == [NO_ASSESSOR] && surveyed[*index].has_scores();
            scores = (0..surveyed.len()).find(is_mean).into_iter().collect();
        }
        scores
    }

    /// What sheets and files stand for, as far as the content says so.
    fn tell_apart(&self, surveyed: &[SurveyedSheet<'_>], choice: &mut TableChoice) {
        let files: BTreeSet<usize> = choice.scores.iter().map(|index| surveyed[*index].sheet.file).collect();
        let many_sheets = choice.scores.len() > files.len();
        let lacking = what_all_lack(surveyed, choice);
        let has_session = |index: &usize| surveyed[*index].guess.roles.find(ColumnRole::Session).is_some();
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
            let is_plain = all_sessions && files.len() == 1 && !has_codes_alone(surveyed, choice);
            let by_content = lacking.or(is_plain.then_some(PartsMean::Nothing));
            choice.sheets_mean = self.options.sheets_mean.or(by_content);
        }
    }

    /// Says how the sheets and files were told apart, and asks where only the person can tell. False where that stops.
    pub(in crate::read) fn confirm_parts(&mut self, surveyed: &[SurveyedSheet<'_>], choice: &TableChoice) -> bool {
        let files: BTreeSet<usize> = choice.scores.iter().map(|index| surveyed[*index].sheet.file).collect();
        let names = |indices: &[usize]| indices.iter().map(|index| surveyed[*index].name()).collect::<Vec<_>>();
        if choice.scores.len() > files.len() {
            let names = names(&choice.scores);
            let Some(meaning) = choice.sheets_mean else {
                self.notes.of_file(say::several_sheets(&names));
                let may_be_samples = has_codes_alone(surveyed, choice);
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
    pub(in crate::read) fn confirm_groups(&mut self, surveyed: &SurveyedSheet<'_>) {
        if surveyed.layout.grouped.is_empty() || !surveyed.is_split(self.options) || self.options.groups_mean.is_some()
        {
            return;
        }
        let meaning = groups_mean(&surveyed.layout, self.options);
        let line = surveyed.layout.groups.map_or(0, |row| surveyed.sheet.table.line(row));
        self.notes.at(surveyed.sheet.source.place().row(line), say::groups_mean(meaning));
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
        let above = layout.header.filter(|row| *row > 0 && layout.groups != Some(*row - 1) && !table.is_transposed());
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
            let place = if table.is_transposed() { place.column(line, "") } else { place.row(line) };
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
    pub(in crate::read) fn tell_sheet(&mut self, index: usize, surveyed: &SurveyedSheet<'_>, choice: &TableChoice) {
        let shown = &self.reading.preview.sheets[index];
        let (why, sheet_use) = (shown.why.clone(), shown.sheet_use);
        let place = surveyed.sheet.source.place();
        if !why.is_empty() && self.reading.preview.sheets.len() > 1 {
            self.notes.at(place.clone(), say::sheet_used(sheet_use, &why));
        }
        let header =
            surveyed.layout.second_header.or(surveyed.layout.header).map_or(0, |row| surveyed.sheet.table.line(row));
        let in_body = surveyed.sheet.merged.iter().filter(|merged| merged.last_row + 1 > header);
        let ranges: Vec<String> = in_body.map(|merged| say::cell_range(*merged)).collect();
        if !ranges.is_empty() && (choice.scores.contains(&index) || choice.scores.is_empty()) {
            self.notes.at(place, say::merged_cells(&ranges));
        }
    }
}

/// What every one of several tables of scores lacks, so that their names must tell it.
fn what_all_lack(surveyed: &[SurveyedSheet<'_>], choice: &TableChoice) -> Option<PartsMean> {
    let lack = |what: &str| choice.scores.iter().all(|index| surveyed[*index].missing.contains(&what));
    match () {
        () if choice.scores.len() < 2 => None,
        () if lack(NO_SAMPLE) => Some(PartsMean::Samples),
        () if lack(NO_ASSESSOR) => Some(PartsMean::Assessors),
        () => None,
    }
}

/// Whether codes alone tell the samples in every table of scores, and no key names them: the sheets may be the samples.
fn has_codes_alone(surveyed: &[SurveyedSheet<'_>], choice: &TableChoice) -> bool {
    choice.keys.is_empty() && choice.scores.iter().all(|index| surveyed[*index].code_for_sample().is_some())
}

/// Tables that all lack the sample, or all lack the assessor: their names tell it.
fn lacking_alike(surveyed: &[SurveyedSheet<'_>]) -> Vec<usize> {
    let lack = |what: &str| -> Vec<usize> {
        let lacks = |one: &SurveyedSheet<'_>| one.missing == [what] && !one.sheet.is_hidden && one.has_scores();
        (0..surveyed.len()).filter(|index| lacks(&surveyed[*index]) && !surveyed[*index].is_key(false)).collect()
    };
    let (no_sample, no_assessor) = (lack(NO_SAMPLE), lack(NO_ASSESSOR));
    let best = if no_sample.len() >= no_assessor.len() { no_sample } else { no_assessor };
    if best.len() > 1 { best } else { Vec::new() }
}
