//! Reading: bytes of text tables and workbooks to a study, with everything odd told and nothing repaired silently.
//!
//! `read_files` decodes or unpacks the files, takes every sheet apart into cells, finds its header and what each column
//! holds, chooses the sheets with scores and the key to their codes, puts them together, and builds the study score by
//! score. It never fails whole and never panics: what can't be used stands in the notices, and what
//! only the person can decide stands in the questions. It knows nothing of statistics, figures or the page.

mod answers;
mod collect;
mod columns;
mod grid;
mod join;
mod messages;
mod open;
mod options;
mod reader;
pub mod study_file;

pub use collect::cell_map::{CellFill, CellMap};
pub use options::{
    Answer, Choice, ColumnRole, ColumnRoles, Counts, DecimalMark, DuplicateChoice, GivenFile, PartsMean, Preview,
    PreviewRow, PreviewSheet, Question, ReadOptions, Reading, SheetUse, StatedRole, TableShape,
};

use crate::notice::Place;
use columns::layout::Layout;
use columns::roles::{Guess, shape_of};
use columns::survey::{SurveyedSheet, survey};
use join::combine::combine;
use join::key::Keys;
use join::table_choice::TableChoice;
use messages::notes::Source;
use messages::sentences as say;
use open::decode::decode;
use open::sheet::{Content, FileBytes, Sheet};
use reader::Reader;

/// Reads one file: a workbook or a text table, as its content says. `file_name` is only for notices and the record;
/// `bytes` are the whole file. The study is `None` where nothing can be computed or a question stops; the preview
/// stands as far as it went.
pub fn read_file(file_name: &str, bytes: &[u8], options: &ReadOptions) -> Reading {
    read_all(&[FileBytes { name: file_name, bytes }], options)
}

/// The same as `read_file`, for callers that hold text.
pub fn read_text(file_name: &str, bytes: &[u8], options: &ReadOptions) -> Reading {
    read_file(file_name, bytes, options)
}

/// Reads files that belong together, in the order given: files of scores, and files with the key to their codes.
pub fn read_files(files: &[GivenFile], options: &ReadOptions) -> Reading {
    let files: Vec<FileBytes<'_>> =
        files.iter().map(|file| FileBytes { name: &file.name, bytes: &file.bytes }).collect();
    read_all(&files, options)
}

fn read_all(files: &[FileBytes<'_>], options: &ReadOptions) -> Reading {
    let sources = files.iter().map(|file| Source::of_file(file.name)).collect();
    let mut reader = Reader::new(sources, options);
    reader.read(files);
    reader.finish()
}

/// The text of a small file that is no score table, such as an attribute list, decoded as score files are; `None` where
/// it holds no text.
pub fn text_in(bytes: &[u8]) -> Option<String> {
    decode(bytes).ok().map(|decoded| decoded.text.into_owned())
}

impl Reader<'_> {
    fn read(&mut self, files: &[FileBytes<'_>]) {
        let files = self.without_repeats(files);
        let contents: Vec<Content<'_>> = files.iter().map(|file| self.content(*file)).collect();
        // A file that can't be read must not go missing among others: a session would be lost unseen.
        self.is_blocked = contents.len() > 1 && contents.iter().any(|one| matches!(one, Content::Unreadable));
        let mut sheets = Vec::new();
        for (number, (file, content)) in files.iter().zip(&contents).enumerate() {
            sheets.extend(self.sheets_of(number, *file, content));
        }
        self.is_blocked |= files.len() > 1 && self.notes.has_refusal();
        let surveyed: Vec<SurveyedSheet<'_>> =
            sheets.into_iter().map(|sheet: Sheet<'_>| survey(sheet, self.options)).collect();
        if !surveyed.is_empty() {
            self.read_tables(surveyed);
        }
    }

    /// Files with the same bytes are one file that was taken twice.
    fn without_repeats<'f>(&mut self, files: &[FileBytes<'f>]) -> Vec<FileBytes<'f>> {
        let mut kept: Vec<FileBytes<'f>> = Vec::new();
        for file in files {
            match kept.iter().find(|earlier| earlier.bytes == file.bytes) {
                Some(earlier) => self.notes.at(Place::file(file.name), say::same_file(earlier.name)),
                None => kept.push(*file),
            }
        }
        kept
    }

    /// Reads one table as it is, or puts several together first.
    fn read_tables(&mut self, mut surveyed: Vec<SurveyedSheet<'_>>) {
        let choice = self.choose(&surveyed);
        surveyed.iter().enumerate().for_each(|(index, one)| self.tell_sheet(index, one, &choice));
        let is_one = choice.scores.len() <= 1 && choice.keys.is_empty() && !self.options.means_of_panel;
        let index = choice.scores.first().copied().or_else(|| {
            let filled = |index: &usize| !surveyed[*index].is_empty();
            (0..surveyed.len()).filter(filled).min_by_key(|index| choice.keys.contains(index))
        });
        let Some(index) = index else { return self.notes.of_file(say::empty_workbook()) };
        if choice.scores.is_empty() || (is_one && !surveyed[index].is_split(self.options)) {
            return self.read_alone(surveyed.swap_remove(index), index);
        }
        self.read_combined(&surveyed, &choice);
    }

    fn read_alone(&mut self, one: SurveyedSheet<'_>, index: usize) {
        self.reading.preview.encoding = one.sheet.encoding.to_owned();
        self.reading.preview.separator = one.sheet.separator;
        self.records = vec![one.sheet.record.clone()];
        self.notes.read_from(vec![one.sheet.source.clone()]);
        self.tell_layout(&one.sheet.source.place(), &one.sheet.table, &one.layout, true);
        self.read_table(&one.sheet.table, &one.layout, one.guess, index);
    }

    /// Several tables of scores, or one with a key or with groups in its header, as one table.
    fn read_combined(&mut self, surveyed: &[SurveyedSheet<'_>], choice: &TableChoice) {
        let used: Vec<&SurveyedSheet<'_>> = choice.scores.iter().map(|index| &surveyed[*index]).collect();
        self.name_sources(&used, choice);
        let mut keys = self.keys_of(surveyed, choice, &used);
        self.asks_first = !self.confirm_parts(surveyed, choice);
        self.tell_parts(&used);
        let combined = combine(surveyed, choice, &mut keys, self.options, &mut self.notes);
        self.is_blocked |= keys.is_broken;
        self.reading.questions.append(&mut keys.questions);
        let layout = Layout { names: combined.names, ..Layout::default() };
        let shape = shape_of(&combined.roles);
        let guess = Guess { roles: combined.roles, shape, by_content: combined.by_content, doubts: combined.doubts };
        self.read_table(&combined.table, &layout, guess, choice.scores[0]);
    }

    /// What scores are read from, for the preview, the record and the places of notes.
    fn name_sources(&mut self, used: &[&SurveyedSheet<'_>], choice: &TableChoice) {
        let first = &used[0].sheet;
        if used.iter().all(|one| one.sheet.encoding == first.encoding && one.sheet.separator == first.separator) {
            self.reading.preview.encoding = first.encoding.to_owned();
            self.reading.preview.separator = first.separator;
        }
        self.used = choice.scores.clone();
        self.records = used.iter().map(|one| one.sheet.record.clone()).collect();
        self.notes.read_from(used.iter().map(|one| one.sheet.source.clone()).collect());
    }

    /// The rows of all keys, held to their own rules. A key beside scores in one file belongs to these alone.
    fn keys_of(&mut self, surveyed: &[SurveyedSheet<'_>], choice: &TableChoice, used: &[&SurveyedSheet<'_>]) -> Keys {
        let mut keys = Keys::default();
        for key in choice.keys.iter().map(|index| &surveyed[*index]) {
            let beside_scores = used.iter().any(|one| one.sheet.file == key.sheet.file);
            if key.key_columns().is_none() {
                self.notes.at(key.sheet.source.place(), say::no_key_columns());
            }
            keys.add(key, beside_scores.then_some(key.sheet.file));
            let unused = key.unused_of_key();
            if !unused.is_empty() {
                self.notes.at(key.sheet.source.place(), say::key_columns_unused(&unused));
            }
        }
        keys.check(&mut self.notes);
        keys
    }

    fn tell_parts(&mut self, used: &[&SurveyedSheet<'_>]) {
        if self.options.means_of_panel {
            self.notes.of_file(say::means_of_panel());
        }
        for one in used {
            let is_split = one.is_split(self.options);
            self.tell_layout(&one.sheet.source.place(), &one.sheet.table, &one.layout, !is_split);
            self.confirm_groups(one);
        }
    }
}
