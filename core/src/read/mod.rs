//! Reading: bytes of a text table to a study, with everything odd told and nothing repaired silently.
//!
//! `read_text` decodes the bytes, takes the text apart, finds the header and what each column holds, and builds the
//! study score by score. It never fails whole and never panics: what can't be used stands in the notices, and what
//! only the person can decide stands in the questions. It knows nothing of statistics, figures or the page.

#![allow(dead_code)] // Parts of the bad-input table are on their way.

mod checks;
mod decimals;
mod decode;
mod gather;
mod layout;
mod names;
mod notes;
mod numbers;
mod options;
mod roles;
mod scale;
mod sentences;
mod table;
mod words;

pub use options::{
    Answer, Choice, ColumnRole, ColumnRoles, Counts, DecimalMark, DuplicateChoice, Preview, PreviewRow, Question,
    ReadOptions, Reading, TableShape,
};

use crate::study::{SourceFile, Study};
use decimals::{ColumnMarks, Decision};
use decode::{Decoded, NotText};
use gather::Plan;
use notes::Notes;
use sentences as say;
use table::Table;

/// Rows shown for confirmation.
const PREVIEW_ROWS: usize = 20;
/// Characters of a cell shown for confirmation.
const PREVIEW_CHARACTERS: usize = 200;

/// Reads one text table. `file_name` is only for notices and the record; `bytes` are the whole file.
/// The study is `None` where nothing can be computed or a question stops; the preview stands as far as it went.
pub fn read_text(file_name: &str, bytes: &[u8], options: &ReadOptions) -> Reading {
    let mut reader = Reader { file_name, bytes, options, notes: Notes::about(file_name), reading: Reading::default() };
    reader.read();
    let Reader { notes, mut reading, .. } = reader;
    let log = notes.log_lines();
    reading.notices = notes.into_notices();
    if let Some(study) = &mut reading.study {
        study.notices = reading.notices.clone();
        log.into_iter().for_each(|line| study.note_in_log("", line));
    }
    reading
}

struct Reader<'r> {
    file_name: &'r str,
    bytes: &'r [u8],
    options: &'r ReadOptions,
    notes: Notes,
    reading: Reading,
}

impl Reader<'_> {
    fn read(&mut self) {
        if self.bytes.len() > self.options.longest_file_bytes.min(u32::MAX as usize) {
            return self.notes.of_file(say::too_long(self.bytes.len(), self.options.longest_file_bytes));
        }
        match decode::decode(self.bytes) {
            Err(NotText::Empty) => self.notes.of_file(say::empty_file()),
            Err(NotText::Known(kind)) => self.notes.of_file(say::wrong_kind(kind)),
            Err(NotText::Unknown) => self.notes.of_file(say::binary_file()),
            Ok(decoded) => self.text(&decoded),
        }
    }

    fn text(&mut self, decoded: &Decoded<'_>) {
        self.reading.preview.encoding = decoded.encoding.to_owned();
        if !decoded.sure {
            self.notes.of_file(say::encoding(decoded.encoding));
        }
        if decoded.damaged_signs > 0 {
            self.notes.of_file(say::damaged_signs(decoded.damaged_signs, decoded.encoding));
        }
        let Some(separator) = self.options.separator.or_else(|| table::guess_separator(&decoded.text)) else {
            return self.notes.of_file(say::one_column());
        };
        self.reading.preview.separator = Some(separator);
        let table = Table::parse(&decoded.text, separator);
        if let Some(line) = table.open_quote_line {
            self.notes.at(self.notes.line(line), say::open_quote());
        }
        self.table(&table);
    }

    fn table(&mut self, table: &Table<'_>) {
        let layout = layout::find(table, self.options.header_line);
        self.show(table, &layout);
        let guess = roles::guess(table, layout.first_data, &layout.names);
        let roles = self.options.roles.clone().unwrap_or(guess.roles);
        self.reading.preview.shape = Some(self.options.shape.unwrap_or_else(|| roles::shape_of(&roles)));
        let mut plan = Plan::new(&roles, &layout.names);
        self.reading.preview.roles = roles;
        if layout.header.is_none() && self.options.roles.is_none() {
            return self.notes.of_file(say::no_header());
        }
        if layout.first_data >= table.row_count() {
            return self.notes.of_file(say::no_rows());
        }
        let missing = plan.missing();
        if !missing.is_empty() {
            return self.notes.of_file(say::roles_missing(&missing));
        }
        if self.options.roles.is_none() {
            for column in guess.by_content {
                let role = self.reading.preview.roles.get(column).words();
                self.notes.at(self.notes.column(&layout.names, column), say::role_by_content(role));
            }
        }
        if self.decimal_marks(table, &layout, &mut plan) {
            self.scores(table, &layout, &plan);
        }
    }

    /// Decides the decimal mark of each column of scores; false where only the person can.
    fn decimal_marks(&mut self, table: &Table<'_>, layout: &layout::Layout, plan: &mut Plan) -> bool {
        if let Some(mark) = self.options.decimal {
            plan.marks = vec![Some(mark); plan.scores.len()];
            self.reading.preview.decimal = Some(mark);
            return true;
        }
        let scale_end = self.options.scale_maximum.unwrap_or(100.0);
        let commas_possible = table.may_hold(b',');
        let marks: Vec<ColumnMarks> = plan
            .scores
            .iter()
            .filter(|_| commas_possible)
            .map(|column| decimals::marks_of(table, layout.first_data, *column, scale_end))
            .collect();
        let decisions: Vec<Option<Decision>> = marks.iter().map(ColumnMarks::decide).collect();
        let usual = decimals::commonest(&decisions);
        self.reading.preview.decimal = Some(usual);
        let mut clear = true;
        for (score, column) in plan.scores.iter().enumerate() {
            let place = self.notes.column(&layout.names, *column);
            plan.marks[score] = match decisions.get(score).copied().flatten() {
                None => Some(usual),
                Some(Decision::All(mark)) => Some(mark),
                Some(Decision::EachCell) => {
                    self.notes.at(place, say::both_marks(marks[score].sure_points, marks[score].sure_commas));
                    None
                }
                Some(Decision::Unclear) => {
                    let rows = &marks[score].either;
                    let places = rows.iter().map(|row| self.notes.cell(table, &layout.names, *row, *column));
                    let question = say::which_mark(&table.text(rows[0], *column), places.take(20).collect());
                    self.notes.at(place, say::unclear_mark(&table.text(rows[0], *column)));
                    self.reading.questions.push(question);
                    clear = false;
                    None
                }
            };
        }
        clear
    }

    fn scores(&mut self, table: &Table<'_>, layout: &layout::Layout, plan: &Plan) {
        let mut gathered = gather::gather(table, layout.first_data, plan, &layout.names, self.options, &mut self.notes);
        let mut builder = std::mem::take(&mut gathered.builder);
        builder.file(self.source_file());
        let mut study = builder.finish(title_of(self.file_name));
        gathered.name_all(&mut study);
        let found = scale::find(&study, self.options);
        study.scale = found.scale.clone();
        study.settings.margin.width_mm = (study.scale.maximum - study.scale.minimum) / 10.0;
        scale::leave_out(&mut study, &mut self.notes);
        checks::study(&study, &found, self.options, &mut self.notes);
        self.reading.preview.counts = counts_of(&study, table.row_count() - layout.first_data);
        self.reading.preview.scale_maximum = Some(study.scale.maximum);
        if study.score_count() == 0 {
            return self.notes.of_file(say::no_scores());
        }
        self.reading.study = Some(study);
    }

    /// The first rows for confirmation.
    fn show(&mut self, table: &Table<'_>, layout: &layout::Layout) {
        let cut = |text: &str| text.chars().take(PREVIEW_CHARACTERS).collect::<String>();
        let preview = &mut self.reading.preview;
        preview.header_line = layout.header.map(|row| table.line(row));
        preview.header = layout.names.iter().map(|name| cut(name)).collect();
        preview.rows = (layout.first_data..table.row_count())
            .take(PREVIEW_ROWS)
            .map(|row| PreviewRow {
                line: table.line(row),
                cells: (0..table.width(row)).map(|column| cut(&table.text(row, column))).collect(),
            })
            .collect();
        let titles_above = layout.header.is_some_and(|row| row > 0);
        if let (Some(line), true, false) = (preview.header_line, titles_above, table.is_turned()) {
            self.notes.of_file(say::header_below(line));
        }
        if !table.blank_lines.is_empty() {
            let lines: Vec<String> = table.blank_lines.iter().take(1000).map(u32::to_string).collect();
            self.notes.of_file(say::blank_rows(&lines));
        }
    }

    fn source_file(&self) -> SourceFile {
        SourceFile {
            name: self.file_name.to_owned(),
            length_bytes: self.bytes.len() as u64,
            fingerprint: fingerprint(self.bytes),
        }
    }
}

/// FNV-1a, 64 bits (Fowler, Noll & Vo; offset basis and prime as in RFC 9923), in hexadecimal.
pub fn fingerprint(bytes: &[u8]) -> String {
    let hash = bytes
        .iter()
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3));
    format!("{hash:016x}")
}

fn title_of(file_name: &str) -> &str {
    file_name.rsplit_once('.').map_or(file_name, |(stem, _)| stem)
}

fn counts_of(study: &Study, rows: usize) -> Counts {
    let scores = study.score_count();
    Counts {
        rows,
        assessors: study.assessors.len(),
        samples: study.samples.len(),
        attributes: study.attributes.len(),
        replicates: study.replicate_count() as usize,
        sessions: study.sessions.len(),
        servings: study.servings.len(),
        scores,
        missing: study.servings.len() * study.attributes.len() - scores,
    }
}
