//! Rows of a table to servings and scores. It decides nothing about scales and says nothing about balance.

use super::names::{Meaning, NameTable};
use super::notes::Notes;
use super::numbers::{MarkEvidence, NotANumber, ScoreCell, mark_evidence, score_cell, whole_number};
use super::sentences as say;
use super::table::Table;
use super::words::TotalsWord;
use super::{ColumnRole, ColumnRoles, DecimalMark, DuplicateChoice, ReadOptions};
use crate::study::{Origin, Scale, ServingKey, Study, StudyBuilder};
use std::collections::HashMap;

/// Where each thing that names a score stands.
pub(super) struct Plan {
    pub assessor: Option<usize>,
    pub sample: Option<usize>,
    pub code: Option<usize>,
    pub replicate: Option<usize>,
    pub session: Option<usize>,
    pub position: Option<usize>,
    pub label: Option<usize>,
    pub attribute: Option<usize>,
    pub scores: Vec<usize>,
    /// Decimal mark of each column of scores; `None` where each cell tells its own.
    pub marks: Vec<Option<DecimalMark>>,
    /// What the header of a score column names; `None` where the attribute stands in the row.
    pub header_names: Option<ColumnRole>,
    /// Cells that a row may have.
    pub width: usize,
}

/// Everything that came out of the rows.
pub(super) struct Gathered {
    pub builder: StudyBuilder,
    pub assessors: NameTable,
    pub samples: NameTable,
    pub attributes: NameTable,
    pub sessions: NameTable,
    /// Codes seen for each sample, both as indices of the study.
    pub codes: Vec<Vec<String>>,
    pub same_duplicates: usize,
    pub conflicts: Vec<Conflict>,
    pub conflict_count: usize,
    /// Cells of missing codes that the user named.
    pub coded_missing: usize,
    pub position_conflicts: usize,
    /// Rows whose assessor or sample is blank.
    pub nameless_rows: Vec<usize>,
}

/// Two different scores for one cell of the study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Conflict {
    pub first: Origin,
    pub first_score: f64,
    pub second: Origin,
    pub second_score: f64,
    pub serving: usize,
    pub attribute: usize,
}

const REMEMBERED_CONFLICTS: usize = 1000;

impl Plan {
    pub fn new(roles: &ColumnRoles, names: &[String]) -> Self {
        let across = [ColumnRole::AttributeScores, ColumnRole::AssessorScores, ColumnRole::SampleScores]
            .into_iter()
            .find(|role| roles.find(*role).is_some());
        let scores = match (roles.find(ColumnRole::Attribute), roles.find(ColumnRole::Score), across) {
            (Some(_), Some(column), _) => vec![column],
            (_, _, Some(role)) => roles.all(role),
            _ => Vec::new(),
        };
        let long = roles.find(ColumnRole::Attribute).is_some() && roles.find(ColumnRole::Score).is_some();
        Plan {
            assessor: roles.find(ColumnRole::Assessor),
            sample: roles.find(ColumnRole::Sample),
            code: roles.find(ColumnRole::Code),
            replicate: roles.find(ColumnRole::Replicate),
            session: roles.find(ColumnRole::Session),
            position: roles.find(ColumnRole::Position),
            label: roles.find(ColumnRole::Label),
            attribute: roles.find(ColumnRole::Attribute),
            marks: vec![Some(DecimalMark::Point); scores.len()],
            scores,
            header_names: if long { None } else { across },
            width: names.len(),
        }
    }

    /// What of assessor, sample, attribute and score can't be told, in words.
    pub fn missing(&self) -> Vec<&'static str> {
        let by_header = |role| self.header_names == Some(role);
        let assessor = self.assessor.is_some() || by_header(ColumnRole::AssessorScores);
        let sample = self.sample.is_some() || by_header(ColumnRole::SampleScores);
        let attribute = self.attribute.is_some() || by_header(ColumnRole::AttributeScores) || self.scores.is_empty();
        let parts = [
            (assessor, "the assessor"),
            (sample, "the sample"),
            (attribute, "the attribute"),
            (!self.scores.is_empty(), "the scores"),
        ];
        parts.into_iter().filter(|(there, _)| !there).map(|(_, words)| words).collect()
    }
}

impl Gathered {
    /// Gives every name in the study the spelling that the file uses most.
    pub fn name_all(&self, study: &mut Study) {
        for (index, name) in placed_names(&self.assessors) {
            study.assessors[index].name = name;
        }
        for (index, name) in placed_names(&self.samples) {
            study.samples[index].codes = self.codes.get(index).cloned().unwrap_or_default();
            study.samples[index].name = name;
        }
        for (index, name) in placed_names(&self.attributes) {
            study.attributes[index].name = name;
        }
        for (index, name) in placed_names(&self.sessions) {
            study.sessions[index] = name;
        }
    }
}

fn placed_names(table: &NameTable) -> Vec<(usize, String)> {
    let placed = (0..table.names.len()).filter_map(|name| Some((table.names[name].placed? as usize, name)));
    placed.map(|(index, name)| (index, table.display(name))).collect()
}

/// Goes through the rows once.
pub(super) fn gather(
    table: &Table<'_>,
    first_data: usize,
    plan: &Plan,
    names: &[String],
    options: &ReadOptions,
    notes: &mut Notes,
) -> Gathered {
    let mut gatherer = Gatherer::new(table, plan, names, options, notes);
    gatherer.name_columns();
    for row in first_data..table.row_count() {
        gatherer.row(row);
    }
    gatherer.out
}

struct Gatherer<'g> {
    table: &'g Table<'g>,
    plan: &'g Plan,
    names: &'g [String],
    options: &'g ReadOptions,
    notes: &'g mut Notes,
    out: Gathered,
    /// Index in its own name table of what each score column's header names.
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

impl<'g> Gatherer<'g> {
    fn new(
        table: &'g Table<'g>,
        plan: &'g Plan,
        names: &'g [String],
        options: &'g ReadOptions,
        notes: &'g mut Notes,
    ) -> Self {
        let out = Gathered {
            builder: StudyBuilder::new(Scale::default()),
            assessors: NameTable::default(),
            samples: NameTable::default(),
            attributes: NameTable::default(),
            sessions: NameTable::default(),
            codes: Vec::new(),
            same_duplicates: 0,
            conflicts: Vec::new(),
            conflict_count: 0,
            coded_missing: 0,
            position_conflicts: 0,
            nameless_rows: Vec::new(),
        };
        Gatherer {
            table,
            plan,
            names,
            options,
            notes,
            out,
            header_index: Vec::new(),
            replicate_words: NameTable::default(),
            sessions_of_pair: HashMap::new(),
            above: Above::default(),
        }
    }

    /// Headers that name attributes, assessors or samples. Two columns never share a name.
    fn name_columns(&mut self) {
        let Some(role) = self.plan.header_names else { return };
        for column in &self.plan.scores {
            let header = self.names.get(*column).map_or("", String::as_str);
            let mut name = if header.is_empty() { format!("column {}", column + 1) } else { header.to_owned() };
            let table = match role {
                ColumnRole::AssessorScores => &mut self.out.assessors,
                ColumnRole::SampleScores => &mut self.out.samples,
                _ => &mut self.out.attributes,
            };
            let known = table.names.len();
            let mut index = name_index(table.resolve(name.as_bytes(), 0));
            if index.is_some_and(|index| index < known) {
                name = format!("{name} (column {})", column + 1);
                let place = self.notes.column(self.names, *column);
                self.notes.at(place, say::same_header(header, &name));
                index = name_index(table.resolve(name.as_bytes(), 0));
            }
            self.header_index.push(index.unwrap_or(0));
        }
        if role == ColumnRole::AttributeScores {
            for index in 0..self.out.attributes.names.len() {
                placed(&mut self.out.attributes, index, |name| self.out.builder.attribute(name) as u32);
            }
        }
    }

    fn row(&mut self, row: usize) {
        if self.has_too_many_cells(row) {
            return;
        }
        let Some(names) = self.names_of(row) else { return };
        match self.plan.header_names {
            None => self.one_score(row, 0, names),
            Some(ColumnRole::AttributeScores) => self.one_serving(row, names),
            Some(role) => (0..self.plan.scores.len()).for_each(|score| {
                let index = Some(self.header_index[score]);
                let names = match role {
                    ColumnRole::AssessorScores => RowNames { assessor: index, ..names },
                    _ => RowNames { sample: index, ..names },
                };
                self.one_score(row, score, names);
            }),
        }
    }

    /// A row with more filled cells than there are columns: which of them is too many can't be known.
    fn has_too_many_cells(&mut self, row: usize) -> bool {
        let width = self.table.width(row);
        if width == self.plan.width {
            return false;
        }
        let place = self.notes.line(self.table.line(row));
        if (self.plan.width..width).any(|column| !self.table.cell(row, column).is_empty()) {
            self.notes.at(place, say::long_row(width, self.plan.width));
            return true;
        }
        if width < self.plan.width && self.plan.scores.iter().any(|column| *column >= width) {
            self.notes.at(place, say::short_row(width, self.plan.width));
        }
        false
    }

    fn names_of(&mut self, row: usize) -> Option<RowNames> {
        let (table, plan) = (self.table, self.plan);
        let assessor = plan.assessor.map(|column| self.out.assessors.resolve(table.cell(row, column), row));
        let sample = plan.sample.map(|column| self.out.samples.resolve(table.cell(row, column), row));
        let attribute = plan.attribute.map(|column| self.out.attributes.resolve(table.cell(row, column), row));
        if self.is_totals_row(row, assessor, sample) {
            return None;
        }
        let assessor = self.filled_down(assessor, |above| &mut above.assessor);
        let sample = self.filled_down(sample, |above| &mut above.sample);
        let blank = |meaning: Option<Meaning>| meaning == Some(Meaning::Blank);
        if blank(assessor) || blank(sample) || blank(attribute) {
            self.out.nameless_rows.push(row);
            return None;
        }
        let session = plan.session.and_then(|column| {
            let index = name_index(self.out.sessions.resolve(table.cell(row, column), row))?;
            Some(placed(&mut self.out.sessions, index, |name| self.out.builder.session(name)))
        });
        Some(RowNames {
            assessor: assessor.and_then(name_index),
            sample: sample.and_then(name_index),
            attribute: attribute.and_then(name_index),
            session,
            replicate: self.replicate_of(row)?,
        })
    }

    fn is_totals_row(&mut self, row: usize, assessor: Option<Meaning>, sample: Option<Meaning>) -> bool {
        let blank_beside = assessor == Some(Meaning::Blank)
            || sample == Some(Meaning::Blank)
            || self.plan.replicate.is_some_and(|column| self.table.cell(row, column).is_empty());
        let is_totals = [assessor, sample].into_iter().flatten().any(|meaning| match meaning {
            Meaning::Totals(_, TotalsWord::Strong) => true,
            Meaning::Totals(_, TotalsWord::Weak) => blank_beside,
            _ => false,
        });
        if is_totals {
            let columns = [self.plan.assessor, self.plan.sample].into_iter().flatten();
            let words: Vec<String> = columns.map(|column| self.table.text(row, column).into_owned()).collect();
            let place = self.notes.line(self.table.line(row));
            self.notes.at(place, say::totals_row(words.join(" ").trim()));
        }
        is_totals
    }

    fn filled_down(
        &mut self,
        meaning: Option<Meaning>,
        slot: impl Fn(&mut Above) -> &mut Option<usize>,
    ) -> Option<Meaning> {
        let slot = slot(&mut self.above);
        match (meaning, *slot) {
            (Some(Meaning::Blank), Some(above)) if self.options.fill_names_down => Some(Meaning::Name(above)),
            (Some(Meaning::Name(index)), _) => {
                *slot = Some(index);
                meaning
            }
            _ => meaning,
        }
    }

    /// The number of the replicate; 0 where there is no column for it; `None` where the cell says nothing.
    fn replicate_of(&mut self, row: usize) -> Option<u32> {
        let Some(column) = self.plan.replicate else { return Some(0) };
        let cell = self.table.cell(row, column);
        if let [digit @ b'1'..=b'9'] = cell {
            return Some(u32::from(digit - b'0'));
        }
        let digits = cell.iter().position(u8::is_ascii_digit).map_or(cell, |at| &cell[at..]);
        if let Some(number) = whole_number(digits).filter(|number| *number > 0) {
            return Some(number);
        }
        match self.replicate_words.resolve(cell, row) {
            Meaning::Name(index) | Meaning::Totals(index, _) => {
                if self.replicate_words.spellings.last().is_some_and(|latest| latest.rows == 1) {
                    let place = self.notes.cell(self.table, self.names, row, column);
                    self.notes.at(place, say::replicate_by_word(&self.table.text(row, column), index + 1));
                }
                Some(index as u32 + 1)
            }
            Meaning::Blank => {
                let place = self.notes.cell(self.table, self.names, row, column);
                self.notes.at(place, say::no_replicate());
                None
            }
        }
    }

    fn one_serving(&mut self, row: usize, names: RowNames) {
        let Some(first) = self.header_index.first().copied() else { return };
        let serving = self.serving_for(row, names, first);
        for score in 0..self.plan.scores.len() {
            self.put(row, score, serving, self.header_index[score]);
        }
    }

    fn one_score(&mut self, row: usize, score: usize, names: RowNames) {
        let Some(name) = names.attribute else { return };
        let attribute = placed(&mut self.out.attributes, name, |name| self.out.builder.attribute(name) as u32) as usize;
        let serving = self.serving_for(row, names, attribute);
        self.put(row, score, serving, attribute);
    }

    /// The serving that a score of this attribute belongs to.
    fn serving_for(&mut self, row: usize, names: RowNames, attribute: usize) -> usize {
        let (Some(assessor), Some(sample)) = (names.assessor, names.sample) else { return 0 };
        let builder = &mut self.out.builder;
        let assessor = placed(&mut self.out.assessors, assessor, |name| builder.assessor(name));
        let sample = placed(&mut self.out.samples, sample, |name| builder.sample(name));
        let mut key = ServingKey { assessor, sample, replicate: names.replicate.max(1), session: names.session };
        if names.replicate == 0 && key.session.is_some() {
            key.replicate = self.replicate_by_session(key);
        }
        let mut serving = self.out.builder.serving_at(key);
        let counts = names.replicate == 0 && self.options.number_replicates_in_file_order;
        while counts && self.out.builder.origin(serving, attribute).is_some_and(|origin| origin.row > 0) {
            key.replicate += 1;
            serving = self.out.builder.serving_at(key);
        }
        self.describe(row, serving, sample);
        serving
    }

    /// Where there is no replicate column, the sessions in which a pair occurs count as its replicates.
    fn replicate_by_session(&mut self, key: ServingKey) -> u32 {
        let sessions = self.sessions_of_pair.entry((key.assessor, key.sample)).or_default();
        let index = sessions.iter().position(|session| *session == key.session).unwrap_or_else(|| {
            sessions.push(key.session);
            sessions.len() - 1
        });
        index as u32 + 1
    }

    /// Position, label and code of a serving.
    fn describe(&mut self, row: usize, serving: usize, sample: u32) {
        let (table, plan) = (self.table, self.plan);
        let position = plan.position.and_then(|column| whole_number(table.cell(row, column)));
        if position.is_some_and(|position| !self.out.builder.set_position(serving, position)) {
            self.out.position_conflicts += 1;
        }
        if let Some(label) = plan.label.map(|column| table.text(row, column)).filter(|label| !label.is_empty()) {
            self.out.builder.set_label(serving, &label);
        }
        if let Some(code) = plan.code.map(|column| table.text(row, column)).filter(|code| !code.is_empty()) {
            let index = sample as usize;
            if self.out.codes.len() <= index {
                self.out.codes.resize(index + 1, Vec::new());
            }
            if !self.out.codes[index].iter().any(|known| *known == code) {
                self.out.codes[index].push(code.into_owned());
            }
        }
    }

    fn put(&mut self, row: usize, score: usize, serving: usize, attribute: usize) {
        let column = self.plan.scores[score];
        let value = self.value(row, column, self.plan.marks[score]);
        let origin = self.table.origin(row, column);
        if let Err(conflict) = self.out.builder.put(serving, attribute, value, origin) {
            let same = (conflict.kept - conflict.refused).abs() <= f64::EPSILON * conflict.kept.abs();
            if same {
                self.out.same_duplicates += 1;
                let place = self.notes.cell(self.table, self.names, row, column);
                self.notes.at(place, say::same_duplicate(conflict.kept, conflict.kept_origin));
                return;
            }
            self.out.conflict_count += 1;
            if self.out.conflicts.len() < REMEMBERED_CONFLICTS {
                self.out.conflicts.push(Conflict {
                    first: conflict.kept_origin,
                    first_score: conflict.kept,
                    second: origin,
                    second_score: conflict.refused,
                    serving,
                    attribute,
                });
            }
            if self.options.duplicates == DuplicateChoice::KeepLast {
                self.out.builder.replace(serving, attribute, value, origin);
            }
        }
    }

    fn value(&mut self, row: usize, column: usize, mark: Option<DecimalMark>) -> Option<f64> {
        let cell = self.table.cell(row, column);
        match score_cell(cell, mark.unwrap_or_else(|| own_mark(cell))) {
            ScoreCell::Score(score) if is_one_of(&self.options.missing_codes, score) => {
                self.out.coded_missing += 1;
                None
            }
            ScoreCell::Score(score) => Some(score),
            ScoreCell::Missing => None,
            ScoreCell::NotANumber(kind) => {
                let text = String::from_utf8_lossy(cell).chars().take(40).collect::<String>();
                let note = match kind {
                    NotANumber::Date => say::date_cell(&text),
                    NotANumber::SheetError => say::error_cell(&text),
                    NotANumber::Text => say::text_cell(&text),
                };
                let place = self.notes.cell(self.table, self.names, row, column);
                self.notes.at(place, note);
                None
            }
        }
    }
}

/// The decimal mark that a cell shows by itself, in columns where both occur.
fn own_mark(cell: &[u8]) -> DecimalMark {
    match mark_evidence(cell) {
        MarkEvidence::Sure(mark) => mark,
        _ => DecimalMark::Point,
    }
}

/// Index in the study of a name, registered at its first use, so that names of rows left out don't appear.
fn placed(table: &mut NameTable, name: usize, register: impl FnOnce(&str) -> u32) -> u32 {
    match table.names[name].placed {
        Some(index) => index,
        None => {
            let index = register(&table.names[name].fold);
            table.names[name].placed = Some(index);
            index
        }
    }
}

fn name_index(meaning: Meaning) -> Option<usize> {
    match meaning {
        Meaning::Blank => None,
        Meaning::Name(index) | Meaning::Totals(index, _) => Some(index),
    }
}

pub(super) fn is_one_of(codes: &[f64], score: f64) -> bool {
    codes.iter().any(|code| (code - score).abs() < 1e-9)
}
