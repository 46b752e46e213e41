//! Rows of a table to servings and scores. It decides nothing about scales and says nothing about balance.

use super::collected::{Collected, Conflict};
use crate::read::columns::column_plan::{ColumnPlan, Headers};
use crate::read::columns::header_words::TotalsWord;
use crate::read::grid::cell_values::whole_number;
use crate::read::grid::row_cells::{RowCells, Word};
use crate::read::grid::table::Table;
use crate::read::join::names::{Meaning, NameTable};
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::options::{DuplicateChoice, ReadOptions};
use crate::study::{Origin, ServingKey};
use std::collections::HashMap;

const REMEMBERED_CONFLICTS: usize = 1000;

/// Goes through the rows once, from `first_data` on.
pub(in crate::read) fn collect(
    table: &Table<'_>,
    first_data: usize,
    plan: &ColumnPlan,
    names: &[String],
    options: &ReadOptions,
    notes: &mut Notes,
) -> Collected {
    let mut collector = RowCollector {
        table,
        plan,
        names,
        options,
        notes,
        out: Collected::for_columns(plan, names, options),
        header_index: Vec::new(),
        replicate_words: NameTable::default(),
        sessions_of_pair: HashMap::new(),
        above: Above::default(),
    };
    if plan.headers == Headers::Attributes {
        collector.out.builder.expect_servings(table.row_count().saturating_sub(first_data));
    }
    collector.name_columns();
    let mut ends = Vec::new();
    for row in first_data..table.row_count() {
        collector.row(table.row(row, &mut ends));
    }
    collector.out
}

pub(in crate::read) struct RowCollector<'g> {
    pub table: &'g Table<'g>,
    pub plan: &'g ColumnPlan,
    pub options: &'g ReadOptions,
    pub notes: &'g mut Notes,
    pub out: Collected,
    names: &'g [String],
    /// What each score column's header names: an index in its name table, or the number of a replicate.
    header_index: Vec<usize>,
    replicate_words: NameTable,
    sessions_of_pair: HashMap<(u32, u32), Vec<Option<u32>>>,
    above: Above,
}

/// The latest names, for sheets that write a name once and leave it blank below.
#[derive(Default)]
struct Above {
    assessor: Option<usize>,
    sample: Option<usize>,
}

/// What a row names, as indices into the name tables.
#[derive(Clone, Copy)]
struct RowNames {
    assessor: Option<usize>,
    sample: Option<usize>,
    attribute: Option<usize>,
    session: Option<u32>,
    /// From 1; 0 where the file has no replicate column.
    replicate: u32,
}

impl RowCollector<'_> {
    /// Headers that name attributes, assessors or samples. Two columns never share a name.
    fn name_columns(&mut self) {
        for (number, column) in self.plan.scores.iter().enumerate() {
            let header = self.names.get(*column).map_or("", String::as_str);
            match self.plan.headers {
                Headers::Nothing => return,
                Headers::Replicates => {
                    self.header_index.push(number_in(header.as_bytes()).map_or(number + 1, |named| named as usize));
                }
                Headers::Assessors | Headers::Samples | Headers::Attributes => self.name_column(*column, header),
            }
        }
        if self.plan.headers == Headers::Attributes {
            let (names, builder) = (&mut self.out.attributes, &mut self.out.builder);
            (0..names.names.len()).for_each(|index| {
                names.place(index, |name| builder.attribute(name) as u32);
            });
        }
    }

    /// The name that a header gives to its column; with the column's number where another column has the same one.
    fn name_column(&mut self, column: usize, header: &str) {
        let names = match self.plan.headers {
            Headers::Assessors => &mut self.out.assessors,
            Headers::Samples => &mut self.out.samples,
            _ => &mut self.out.attributes,
        };
        let known = names.names.len();
        let name = if header.is_empty() { format!("column {}", column + 1) } else { header.to_owned() };
        // A header such as "-" or "NaN" names nothing; its column has scores all the same.
        let named = names.resolve_text(&name).name();
        let mut index = named.or_else(|| names.resolve_text(&format!("column {}", column + 1)).name());
        if index.is_some_and(|index| index < known) {
            let own = format!("{name} (column {})", column + 1);
            index = names.resolve_text(&own).name();
            let place = self.notes.column(self.table, column, header);
            self.notes.at(place, say::same_header(header, &own));
        }
        self.header_index.push(index.unwrap_or(0));
    }

    fn row(&mut self, cells: RowCells<'_>) {
        if self.has_too_many_cells(cells) {
            return;
        }
        let Some(names) = self.names_of(cells) else { return };
        self.tell_short_row(cells);
        match self.plan.headers {
            Headers::Nothing => self.one_score(cells, 0, names),
            Headers::Attributes => self.one_serving(cells, names),
            across => (0..self.plan.scores.len()).for_each(|score| {
                let index = self.header_index[score];
                let names = match across {
                    Headers::Assessors => RowNames { assessor: Some(index), ..names },
                    Headers::Samples => RowNames { sample: Some(index), ..names },
                    _ => RowNames { replicate: index as u32, ..names },
                };
                self.one_score(cells, score, names);
            }),
        }
    }

    /// A row with more filled cells than there are columns: which of them is too many can't be known.
    #[inline]
    fn has_too_many_cells(&mut self, cells: RowCells<'_>) -> bool {
        let (width, columns) = (cells.width(), self.plan.width);
        let too_many = width > columns && (columns..width).any(|column| !cells.cell(column).is_empty());
        if too_many {
            let place = self.notes.row(self.table, cells.row);
            self.notes.at(place, say::long_row(width, columns));
        }
        too_many
    }

    #[inline]
    fn tell_short_row(&mut self, cells: RowCells<'_>) {
        let width = cells.width();
        if !self.table.rows_may_be_short
            && width < self.plan.width
            && self.plan.scores.iter().any(|column| *column >= width)
        {
            let place = self.notes.row(self.table, cells.row);
            self.notes.at(place, say::short_row(width, self.plan.width));
        }
    }

    /// What the row names; `None`, and told, where it is left out.
    fn names_of(&mut self, cells: RowCells<'_>) -> Option<RowNames> {
        let (plan, out) = (self.plan, &mut self.out);
        let assessor = plan.assessor.map(|column| out.assessors.resolve(cells.word(column), cells.row));
        let sample = plan.sample.map(|column| out.samples.resolve(cells.word(column), cells.row));
        let attribute = plan.attribute.map(|column| out.attributes.resolve(cells.word(column), cells.row));
        let all = [assessor, sample, attribute];
        if !all.iter().flatten().all(|meaning| matches!(meaning, Meaning::Name(_))) {
            return self.names_of_odd_row(cells, all);
        }
        self.above = Above { assessor: assessor.and_then(Meaning::name), sample: sample.and_then(Meaning::name) };
        self.row_names(cells, all)
    }

    fn row_names(
        &mut self,
        cells: RowCells<'_>,
        [assessor, sample, attribute]: [Option<Meaning>; 3],
    ) -> Option<RowNames> {
        Some(RowNames {
            assessor: assessor.and_then(Meaning::name),
            sample: sample.and_then(Meaning::name),
            attribute: attribute.and_then(Meaning::name),
            session: self.session_of(cells),
            replicate: self.replicate_of(cells)?,
        })
    }

    /// A row in which a name is blank, a header or a word for totals.
    fn names_of_odd_row(&mut self, cells: RowCells<'_>, all: [Option<Meaning>; 3]) -> Option<RowNames> {
        if self.is_no_data_row(cells.row, all) {
            return None;
        }
        let out = &mut self.out;
        let [assessor, sample, attribute] = all;
        let assessor = assessor.map(|meaning| out.assessors.unless_header(meaning));
        let sample = sample.map(|meaning| out.samples.unless_header(meaning));
        let attribute = attribute.map(|meaning| out.attributes.unless_header(meaning));
        let assessor = self.filled_down(cells.row, self.plan.assessor, assessor);
        let sample = self.filled_down(cells.row, self.plan.sample, sample);
        let named = [(assessor, "assessor"), (sample, "sample"), (attribute, "attribute")];
        if let Some((_, blank)) = named.iter().find(|(meaning, _)| *meaning == Some(Meaning::Blank)) {
            let place = self.notes.row(self.table, cells.row);
            self.notes.at(place, say::nameless_row(blank));
            self.out.nameless_rows.push(cells.row);
            return None;
        }
        self.row_names(cells, [assessor, sample, attribute])
    }

    /// Rows of totals and headers that are repeated further down.
    fn is_no_data_row(&mut self, row: usize, all: [Option<Meaning>; 3]) -> bool {
        if all.iter().flatten().all(|meaning| *meaning == Meaning::Header) {
            let place = self.notes.row(self.table, row);
            self.notes.at(place, say::repeated_header());
            return true;
        }
        let replicate_is_blank = || self.plan.replicate.is_some_and(|column| self.table.cell(row, column).is_empty());
        let is_totals = all[..2].iter().flatten().any(|meaning| match meaning {
            Meaning::Totals(_, TotalsWord::Strong) => true,
            Meaning::Totals(_, TotalsWord::Weak) => all.contains(&Some(Meaning::Blank)) || replicate_is_blank(),
            _ => false,
        });
        if is_totals {
            let columns = [self.plan.assessor, self.plan.sample].into_iter().flatten();
            let words: Vec<String> = columns.map(|column| self.table.text(row, column).into_owned()).collect();
            let place = self.notes.row(self.table, row);
            self.notes.at(place, say::totals_row(words.join(" ").trim()));
        }
        is_totals
    }

    /// A blank name is the one above it, where the user said so.
    fn filled_down(&mut self, row: usize, column: Option<usize>, meaning: Option<Meaning>) -> Option<Meaning> {
        let is_assessor = column == self.plan.assessor;
        let above = if is_assessor { &mut self.above.assessor } else { &mut self.above.sample };
        match (meaning, *above) {
            (Some(Meaning::Blank), Some(index)) if self.options.fill_names_down => {
                let names = if is_assessor { &self.out.assessors } else { &self.out.samples };
                let place = self.notes.cell(self.table, row, column.unwrap_or(0));
                self.notes.at(place, say::filled_name(&names.display(index)));
                Some(Meaning::Name(index))
            }
            _ => {
                *above = meaning.and_then(Meaning::name).or(*above);
                meaning
            }
        }
    }

    fn session_of(&mut self, cells: RowCells<'_>) -> Option<u32> {
        let cell = cells.word(self.plan.session?);
        let (sessions, builder) = (&mut self.out.sessions, &mut self.out.builder);
        let index = sessions.resolve(cell, cells.row).name()?;
        Some(sessions.place(index, |name| builder.session(name)))
    }

    /// The number of the replicate; 0 where there is no column for it; `None`, and told, where the cell is blank.
    fn replicate_of(&mut self, cells: RowCells<'_>) -> Option<u32> {
        let Some(column) = self.plan.replicate else { return Some(0) };
        let cell = cells.cell(column);
        if let [digit @ b'1'..=b'9'] = cell {
            return Some(u32::from(digit - b'0'));
        }
        if let Some(number) = number_in(cell) {
            return Some(number);
        }
        let known = self.replicate_words.names.len();
        let place = self.notes.cell(self.table, cells.row, column);
        let Some(index) = self.replicate_words.resolve(Word::of(cell), cells.row).name() else {
            self.notes.at(place, say::no_replicate());
            return None;
        };
        if index == known {
            self.notes.at(place, say::replicate_by_word(&String::from_utf8_lossy(cell), index + 1));
        }
        Some(index as u32 + 1)
    }

    fn one_serving(&mut self, cells: RowCells<'_>, names: RowNames) {
        let Some(first) = self.header_index.first().copied() else { return };
        let Some(serving) = self.serving_for(cells, names, first) else { return };
        for score in 0..self.plan.scores.len() {
            self.put(cells, score, serving, self.header_index[score]);
        }
    }

    fn one_score(&mut self, cells: RowCells<'_>, score: usize, names: RowNames) {
        let Some(name) = names.attribute else { return };
        let builder = &mut self.out.builder;
        let attribute = self.out.attributes.place(name, |name| builder.attribute(name) as u32) as usize;
        let Some(serving) = self.serving_for(cells, names, attribute) else { return };
        self.put(cells, score, serving, attribute);
    }

    /// The serving that a score of this attribute belongs to.
    fn serving_for(&mut self, cells: RowCells<'_>, names: RowNames, attribute: usize) -> Option<usize> {
        let (Some(assessor), Some(sample)) = (names.assessor, names.sample) else { return None };
        let builder = &mut self.out.builder;
        let assessor = self.out.assessors.place(assessor, |name| builder.assessor(name));
        let sample = self.out.samples.place(sample, |name| builder.sample(name));
        let mut key = ServingKey { assessor, sample, replicate: names.replicate.max(1), session: names.session };
        if names.replicate == 0 && key.session.is_some() {
            key.replicate = self.replicate_by_session(key);
        }
        let mut serving = self.out.builder.serving_at(key);
        let counts = names.replicate == 0 && self.options.number_replicates_in_file_order;
        while counts && self.out.builder.origin(serving, attribute).is_some_and(|origin| origin.row > 0) {
            self.out.numbered = true;
            key.replicate += 1;
            serving = self.out.builder.serving_at(key);
        }
        self.describe(cells, serving, sample);
        Some(serving)
    }

    /// Where there is no replicate column, the sessions in which a pair occurs count as its replicates.
    fn replicate_by_session(&mut self, key: ServingKey) -> u32 {
        let sessions = self.sessions_of_pair.entry((key.assessor, key.sample)).or_default();
        let index = sessions.iter().position(|session| *session == key.session).unwrap_or_else(|| {
            sessions.push(key.session);
            sessions.len() - 1
        });
        self.out.sessions_as_replicates |= index > 0;
        index as u32 + 1
    }

    /// Position, label and code of a serving.
    fn describe(&mut self, cells: RowCells<'_>, serving: usize, sample: u32) {
        let plan = self.plan;
        let text = |column: usize| String::from_utf8_lossy(cells.cell(column));
        let position = plan.position.and_then(|column| whole_number(cells.cell(column)));
        if position.is_some_and(|position| !self.out.builder.set_position(serving, position)) {
            self.out.position_conflicts += 1;
        }
        if let Some(label) = plan.label.map(text).filter(|label| !label.is_empty()) {
            self.out.builder.set_label(serving, &label);
        }
        if let Some(code) = plan.code.map(text).filter(|code| !code.is_empty()) {
            let index = sample as usize;
            if self.out.codes.len() <= index {
                self.out.codes.resize(index + 1, Vec::new());
            }
            if !self.out.codes[index].iter().any(|known| *known == code) {
                self.out.codes[index].push(code.into_owned());
            }
        }
    }

    fn put(&mut self, cells: RowCells<'_>, score: usize, serving: usize, attribute: usize) {
        let column = self.plan.scores[score];
        let value = self.value(cells, column, self.plan.marks[score]);
        let origin = self.table.origin(cells.row, column);
        let Err(conflict) = self.out.builder.put(serving, attribute, value, origin) else { return };
        if (conflict.kept - conflict.refused).abs() <= f64::EPSILON * conflict.kept.abs() {
            return self.tell_same_score(conflict.kept, conflict.kept_origin, origin);
        }
        self.note_conflict(Conflict {
            first: conflict.kept_origin,
            first_score: conflict.kept,
            second: origin,
            second_score: conflict.refused,
            serving,
            attribute,
        });
        if self.options.duplicates == DuplicateChoice::KeepLast {
            self.out.builder.replace(serving, attribute, value, origin);
        }
    }

    fn tell_same_score(&mut self, score: f64, kept: Origin, repeated: Origin) {
        let place = self.notes.origin(repeated);
        let kept_in = self.notes.row_beside(kept, repeated);
        self.notes.at(place, say::same_duplicate(score, &kept_in));
    }

    fn note_conflict(&mut self, conflict: Conflict) {
        self.out.conflict_count += 1;
        if self.out.conflicts.len() < REMEMBERED_CONFLICTS {
            self.out.conflicts.push(conflict);
        }
    }
}

/// The whole number that a word such as "2", "R2" or "rep 2" ends in.
fn number_in(cell: &[u8]) -> Option<u32> {
    let digits = cell.iter().position(u8::is_ascii_digit)?;
    whole_number(&cell[digits..]).filter(|number| *number > 0)
}
