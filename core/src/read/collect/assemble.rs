//! From a table to a study: roles, decimal marks, scores, scale, and what is asked where only the person can tell.

use super::collected::{Collected, Conflict};
use super::scale::FoundScale;
use super::{checks, rows, scale, similar_names};
use crate::notice::Place;
use crate::read::columns::column_plan::ColumnPlan;
use crate::read::columns::decimals::{self, ColumnMarks, Decision};
use crate::read::columns::doubts::ColumnDoubt;
use crate::read::columns::layout::{self, Layout};
use crate::read::columns::roles::{self, Guess};
use crate::read::columns::survey::NO_ASSESSOR;
use crate::read::grid::table::{Stored, StoredCell, Table};
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences::{self as say, Kind};
use crate::read::open::sheet::title_of;
use crate::read::options::{ColumnRole, DuplicateChoice, PreviewRow, TableShape};
use crate::read::reader::Reader;
use crate::study::{SourceFile, Study};
use std::collections::BTreeMap;

/// Rows shown for confirmation.
const PREVIEW_ROWS: usize = 20;
/// Characters of a cell shown for confirmation.
const PREVIEW_CHARACTERS: usize = 200;
/// Places shown with a question.
const QUESTION_PLACES: usize = 20;

impl Reader<'_> {
    /// A table with what was found of it: its columns get their roles, and its rows become scores. `sheet` is its
    /// index in the preview.
    pub(in crate::read) fn read_table(&mut self, table: &Table<'_>, layout: &Layout, guess: Guess, sheet: usize) {
        if !table.is_combined() {
            self.notes.name_columns(table, &layout.names);
        }
        self.show(table, layout, sheet);
        let by_content = if self.options.roles.is_none() { guess.by_content } else { Vec::new() };
        let roles = self.options.roles.clone().unwrap_or(guess.roles);
        let shape = if table.is_transposed() { TableShape::Transposed } else { roles::shape_of(&roles) };
        let mut plan = ColumnPlan::new(&roles, layout.names.len());
        self.reading.preview.shape = Some(shape);
        self.reading.preview.roles = roles;
        if self.asks_first || !self.can_be_read(table, layout, &plan) {
            return;
        }
        self.ask_about_doubts(table, layout, &guess.doubts);
        self.tell_by_content(table, layout, &by_content);
        self.tell_unused(table, layout);
        self.tell_stored(table, layout, &plan);
        if self.decimal_marks(table, layout, &mut plan) {
            self.build_study(table, layout, &plan);
        }
    }

    /// Columns that may be no attributes: they are not used before the person says what they hold.
    fn ask_about_doubts(&mut self, table: &Table<'_>, layout: &Layout, doubts: &[ColumnDoubt]) {
        for ColumnDoubt { column, doubt } in doubts {
            let header = &layout.names[*column];
            let is_open = self.reading.preview.roles.get(*column) == ColumnRole::Ignored
                && !self.options.is_stated(&layout.names, *column);
            if is_open {
                let place = self.notes.column(table, *column, header);
                self.notes.at(place.clone(), say::maybe_no_attribute(*doubt));
                self.reading.questions.push(say::ask_if_attribute(header, *column, place));
            }
        }
    }

    fn tell_by_content(&mut self, table: &Table<'_>, layout: &Layout, columns: &[usize]) {
        for column in columns {
            let role = self.reading.preview.roles.get(*column).words();
            self.notes.at(self.notes.column(table, *column, &layout.names[*column]), say::role_by_content(role));
        }
    }

    /// Whether header, rows and roles are there; what is missing is told and asked.
    fn can_be_read(&mut self, table: &Table<'_>, layout: &Layout, plan: &ColumnPlan) -> bool {
        let missing = plan.missing();
        let stated = self.options.roles.is_some();
        match () {
            () if layout.header.is_none() && !stated && !table.is_combined() => self.notes.of_file(say::no_header()),
            () if layout.first_data >= table.row_count() => self.notes.of_file(say::no_rows()),
            () if missing.contains(&"the sample") && layout.groups_may_be_samples => {
                self.notes.of_file(say::samples_over_attributes());
            }
            () if !missing.is_empty() => self.notes.of_file(say::roles_missing(&missing)),
            () => return true,
        }
        if layout.first_data < table.row_count() {
            let names = self.possible_assessors(table, layout, &missing);
            self.reading.questions.push(say::ask_roles(&missing, &names));
        }
        false
    }

    /// Columns, with their headers, that may name the assessor where nothing else is missing: unused ones of words that
    /// repeat. Only the person can tell; a supplier's name repeats as well.
    fn possible_assessors(&self, table: &Table<'_>, layout: &Layout, missing: &[&str]) -> Vec<(usize, String)> {
        if missing != [NO_ASSESSOR] {
            return Vec::new();
        }
        let is_free = |column: &usize| {
            self.reading.preview.roles.get(*column) == ColumnRole::Ignored
                && !layout.names[*column].is_empty()
                && !self.options.is_stated(&layout.names, *column)
        };
        let columns = roles::columns_of_names(table, layout.first_data, layout.names.len());
        columns.into_iter().filter(is_free).map(|column| (column, layout.names[column].clone())).collect()
    }

    /// The first rows for confirmation, and what was passed over above and between them.
    fn show(&mut self, table: &Table<'_>, layout: &Layout, sheet: usize) {
        let cut = |text: &str| text.chars().take(PREVIEW_CHARACTERS).collect::<String>();
        let preview = &mut self.reading.preview;
        preview.header_line = layout.header.map(|row| table.line(row));
        preview.header = layout.names.iter().map(|name| cut(name)).collect();
        let rows = table.first_rows(layout.first_data, PREVIEW_ROWS);
        preview.rows = rows
            .into_iter()
            .map(|row| PreviewRow {
                sheet: table.part_of(row).map_or(sheet, |part| self.used[usize::from(part.source)]),
                line: table.line(row),
                cells: table.texts(row).iter().map(|text| cut(text)).collect(),
            })
            .collect();
    }

    fn tell_unused(&mut self, table: &Table<'_>, layout: &Layout) {
        let filled = layout::filled_columns(table, layout.first_data);
        let unused: Vec<String> = (0..layout.names.len())
            .filter(|column| self.reading.preview.roles.get(*column) == ColumnRole::Ignored)
            .filter(|column| !layout.names[*column].is_empty() || filled.get(*column) == Some(&true))
            .map(|column| match layout.names[column].as_str() {
                "" => format!("column {}", column + 1),
                name => format!("\"{name}\""),
            })
            .collect();
        if !unused.is_empty() && self.options.roles.is_none() {
            self.notes.of_file(say::columns_unused(&unused));
        }
    }

    /// Numbers kept as text, and formulas, among the scores of a sheet.
    fn tell_stored(&mut self, table: &Table<'_>, layout: &Layout, plan: &ColumnPlan) {
        let is_score = |cell: &&StoredCell| cell.row >= layout.first_data && plan.scores.contains(&cell.column);
        let stored = |how: Stored| table.stored.iter().filter(is_score).filter(move |cell| cell.how == how);
        for cell in stored(Stored::UnsavedFormula) {
            let place = self.notes.cell(table, cell.row, cell.column);
            self.notes.at(place, say::unsaved_formula());
        }
        let mut as_text: BTreeMap<usize, usize> = BTreeMap::new();
        stored(Stored::NumberAsText).for_each(|cell| *as_text.entry(cell.column).or_default() += 1);
        for (column, cells) in as_text {
            let place = self.notes.column(table, column, &layout.names[column]);
            self.notes.at(place, say::numbers_as_text(cells));
        }
        let formulas = stored(Stored::Formula).count();
        if formulas > 0 {
            self.notes.of_file(say::formulas(formulas));
        }
    }

    /// Decides the decimal mark of each column of scores; false where only the person can.
    fn decimal_marks(&mut self, table: &Table<'_>, layout: &Layout, plan: &mut ColumnPlan) -> bool {
        match self.options.decimal {
            Some(mark) => {
                plan.marks = vec![Some(mark); plan.scores.len()];
                self.reading.preview.decimal = Some(mark);
                true
            }
            None => self.find_marks(table, layout, plan),
        }
    }

    fn find_marks(&mut self, table: &Table<'_>, layout: &Layout, plan: &mut ColumnPlan) -> bool {
        let marks = self.marks_of_scores(table, layout, plan);
        let decisions: Vec<Option<Decision>> = marks.iter().map(ColumnMarks::decide).collect();
        let usual = decimals::commonest(&decisions);
        self.reading.preview.decimal = Some(usual);
        for (score, column) in plan.scores.iter().enumerate() {
            plan.marks[score] = match decisions.get(score).copied().flatten() {
                None => Some(usual),
                Some(Decision::All(mark)) => Some(mark),
                Some(undecided) => {
                    let place = self.notes.column(table, *column, &layout.names[*column]);
                    self.tell_undecided(undecided, table, place, (&marks[score], *column));
                    None
                }
            };
        }
        !decisions.contains(&Some(Decision::Unclear))
    }

    /// What the cells of each column of scores say of their mark; nothing where the table holds no comma at all.
    fn marks_of_scores(&self, table: &Table<'_>, layout: &Layout, plan: &ColumnPlan) -> Vec<ColumnMarks> {
        let scale_end = self.options.scale_maximum.unwrap_or(100.0);
        let inspected: &[usize] = if table.may_hold(b',') { &plan.scores } else { &[] };
        decimals::marks_of(table, layout.first_data, inspected, scale_end)
    }

    fn tell_undecided(&mut self, why: Decision, table: &Table<'_>, place: Place, column: (&ColumnMarks, usize)) {
        let (marks, column) = column;
        match why {
            Decision::EachCell => self.notes.at(place, say::both_marks(marks.sure_points, marks.sure_commas)),
            _ => self.ask_mark(table, place, marks, column),
        }
    }

    fn ask_mark(&mut self, table: &Table<'_>, place: Place, marks: &ColumnMarks, column: usize) {
        let Some(first) = marks.either.first() else { return };
        let example = table.text(*first, column);
        self.notes.at(place, say::unclear_mark(&example));
        if self.reading.questions.is_empty() {
            let rows = marks.either.iter().take(QUESTION_PLACES);
            let places = rows.map(|row| self.notes.cell(table, *row, column)).collect();
            self.reading.questions.push(say::ask_decimal_mark(&example, places));
        }
    }

    /// Reads the rows and hands over the study, unless there is nothing in it or something must be asked first.
    fn build_study(&mut self, table: &Table<'_>, layout: &Layout, plan: &ColumnPlan) {
        let rows = table.row_count() - layout.first_data;
        let mut collected = rows::collect(table, layout.first_data, plan, &layout.names, self.options, &mut self.notes);
        let mut study = self.study_of(&mut collected);
        similar_names::tell_merged(&collected, plan, table, &mut self.notes);
        self.ask_about_rows(table, &collected, rows, plan.width);
        self.ask_about_duplicates(&study, plan, &collected);
        self.reading.preview.counts = checks::counts_of(&study, rows);
        // Most rows too long: that was told, and "no scores" would only hide it.
        if self.notes.count(Kind::LongRow) * 2 > rows || !self.has_scores() {
            return;
        }
        self.settle_scale(&mut study, &collected);
        self.reading.preview.counts = checks::counts_of(&study, rows);
        similar_names::tell_similar(&study, &mut self.notes);
        let padding = similar_names::tell_codes(&collected, &study, plan, table, self.options, &mut self.notes);
        self.reading.questions.extend(padding);
        self.tell_understood(&study, &collected);
        self.hand_over(study);
    }

    /// The study, where it has scores and no question stops.
    fn hand_over(&mut self, study: Study) {
        if self.has_scores() {
            let stops = self.is_blocked || self.reading.questions.iter().any(|question| question.stops);
            self.reading.study = Some(study).filter(|_| !stops);
        }
    }

    fn study_of(&mut self, collected: &mut Collected) -> Study {
        let mut builder = std::mem::take(&mut collected.builder);
        let title = title_of_all(&self.records);
        for record in std::mem::take(&mut self.records) {
            builder.file(record);
        }
        let mut study = builder.finish(&title);
        collected.name_all(&mut study);
        study
    }

    /// False, and told, where no score is left.
    fn has_scores(&mut self) -> bool {
        let has_scores = self.reading.preview.counts.scores > 0;
        if !has_scores {
            self.notes.of_file(say::no_scores());
        }
        has_scores
    }

    fn tell_understood(&mut self, study: &Study, collected: &Collected) {
        let preview = &self.reading.preview;
        if let (Some(shape), Some(decimal)) = (preview.shape, preview.decimal) {
            self.notes.of_file(say::table(shape, preview.separator, decimal));
        }
        checks::tell_size(study, &preview.counts, &mut self.notes);
        if collected.position_conflicts > 0 {
            self.notes.of_file(say::position_conflicts(collected.position_conflicts));
        }
        if collected.sessions_as_replicates {
            self.notes.of_file(say::replicates_by_session());
        }
        if collected.numbered {
            self.notes.of_file(say::replicates_numbered());
        }
    }

    /// Rows left out by their thousands are a matter of the whole table.
    fn ask_about_rows(&mut self, table: &Table<'_>, collected: &Collected, rows: usize, width: usize) {
        let long = self.notes.count(Kind::LongRow);
        if long * 2 > rows {
            self.notes.of_file(say::most_rows_long(long, rows, width));
        }
        let nameless = &collected.nameless_rows;
        if nameless.len() * 10 > rows && !self.options.fill_names_down {
            let places = nameless.iter().take(QUESTION_PLACES).map(|row| self.notes.row(table, *row)).collect();
            self.reading.questions.push(say::ask_fill_names(nameless.len(), places));
        }
    }

    /// Two different scores for one cell: told with both places, and asked until the user has said which counts.
    fn ask_about_duplicates(&mut self, study: &Study, plan: &ColumnPlan, collected: &Collected) {
        if collected.conflict_count == 0 {
            return;
        }
        let choice = self.options.duplicates;
        let unnumbered = !plan.numbers_replicates() && choice == DuplicateChoice::Stop;
        for conflict in collected.conflicts.iter().filter(|_| !unnumbered) {
            let place = self.notes.origin(conflict.second);
            let note = conflict_note(study, conflict, choice, &self.notes);
            self.notes.at(place, note);
        }
        if choice == DuplicateChoice::Stop {
            self.ask_which_counts(collected, unnumbered);
        }
    }

    /// `unnumbered`: they may all be replicates that no column numbers.
    fn ask_which_counts(&mut self, collected: &Collected, unnumbered: bool) {
        let shown = collected.conflicts.iter().take(QUESTION_PLACES / 2);
        let origins = shown.flat_map(|conflict| [conflict.first, conflict.second]);
        let places: Vec<Place> = origins.map(|origin| self.notes.origin(origin)).collect();
        if unnumbered {
            self.notes.at(places[0].clone(), say::unnumbered_replicates(collected.conflict_count));
            self.reading.questions.push(say::ask_replicates(places));
        } else {
            self.reading.questions.push(say::ask_conflicts(collected.conflict_count, places));
        }
    }

    fn settle_scale(&mut self, study: &mut Study, collected: &Collected) {
        for (code, cells) in self.options.missing_codes.iter().zip(&collected.coded_missing) {
            if *cells > 0 {
                self.notes.of_file(say::coded_missing(*code, *cells));
            }
        }
        let found = scale::find(study, self.options);
        study.scale = found.scale.clone();
        study.settings.margin.width_mm = 0.1 * (study.scale.maximum - study.scale.minimum);
        self.reading.preview.scale_maximum = Some(study.scale.maximum);
        checks::tell_scale_of_one(study, &found.scale, &mut self.notes);
        match found.is_unclear(self.options, &mut self.notes) {
            Some(question) => self.reading.questions.push(question),
            None => self.settle_outside(study, &found),
        }
    }

    /// Scores outside the scale, and numbers that may mean "no score".
    fn settle_outside(&mut self, study: &mut Study, found: &FoundScale) {
        if self.options.scale_maximum.is_none() {
            checks::tell_scale(found, &mut self.notes);
        }
        found.leave_out(study, &mut self.notes);
        let questions = found.ask_codes(study, self.options, &mut self.notes);
        self.reading.questions.extend(questions);
    }
}

fn conflict_note(study: &Study, conflict: &Conflict, choice: DuplicateChoice, notes: &Notes) -> say::Note {
    let serving = &study.servings[conflict.serving];
    let cell = format!(
        "Assessor {}, sample {}, replicate {}, {}",
        study.assessors[serving.assessor as usize].name,
        study.samples[serving.sample as usize].name,
        serving.replicate,
        study.attributes[conflict.attribute].name
    );
    let kept = match choice {
        DuplicateChoice::Stop => None,
        DuplicateChoice::KeepFirst => Some(conflict.first_score),
        DuplicateChoice::KeepLast => Some(conflict.second_score),
    };
    let first = notes.row_beside(conflict.first, conflict.second);
    let second = notes.row_beside(conflict.second, conflict.first);
    say::conflict(&cell, (conflict.first_score, &first), (conflict.second_score, &second), kept)
}

/// The names of all files without folders and endings, each once.
fn title_of_all(records: &[SourceFile]) -> String {
    let mut titles: Vec<&str> = Vec::new();
    for title in records.iter().map(|record| title_of(&record.name)) {
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    titles.join(", ")
}
