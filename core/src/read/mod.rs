//! Reading: bytes of text tables and workbooks to a study, with everything odd told and nothing repaired silently.
//!
//! `read_files` decodes or unpacks the files, takes every sheet apart into cells, finds its header and what each column
//! holds, chooses the sheets with scores and the key to their codes, puts them together, and builds the study score by
//! score. It never fails whole and never panics: what can't be used stands in the notices, and what
//! only the person can decide stands in the questions. It knows nothing of statistics, figures or the page.

mod collect;
mod columns;
mod grid;
mod join;
mod messages;
mod open;
mod options;
pub mod study_file;

pub use collect::cell_map::{CellFill, CellMap};
pub use options::{
    Answer, Choice, ColumnRole, ColumnRoles, Counts, DecimalMark, DuplicateChoice, GivenFile, PartsMean, Preview,
    PreviewRow, PreviewSheet, Question, ReadOptions, Reading, SheetUse, TableShape,
};

use crate::notice::Place;
use crate::study::{LogKind, SourceFile};
use join::key::Keys;
use join::table_choice::Looked;
use messages::notes::{Notes, Source};
use messages::sentences as say;
use open::sheet::{Content, FileBytes, Sheet};

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
    let notes = Notes::about(files.iter().map(|file| Source::of_file(file.name)).collect());
    let mut reader = Reader {
        options,
        notes,
        reading: Reading::default(),
        records: Vec::new(),
        used: Vec::new(),
        asks_first: false,
        is_blocked: false,
    };
    reader.read(files);
    let Reader { notes, mut reading, .. } = reader;
    let log = notes.log_lines();
    reading.notices = notes.into_notices();
    if let Some(study) = &mut reading.study {
        study.notices = reading.notices.clone();
        log.into_iter().for_each(|line| study.note_in_log("", LogKind::Read, line));
    }
    reading
}

/// The text of a small file that is no score table, such as an attribute list, decoded as score files are; `None` where
/// it holds no text.
pub fn text_in(bytes: &[u8]) -> Option<String> {
    crate::read::open::decode::decode(bytes).ok().map(|decoded| decoded.text.into_owned())
}

struct Reader<'r> {
    options: &'r ReadOptions,
    notes: Notes,
    reading: Reading,
    /// What scores are read from, in the order of `Origin::file`.
    records: Vec<SourceFile>,
    /// Which of the preview's sheets they are.
    used: Vec<usize>,
    /// Whether what tells the tables apart has to be asked before their rows can be read.
    asks_first: bool,
    /// Whether something was found that makes all scores unsafe, so that no study is handed over.
    is_blocked: bool,
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
        let looked: Vec<Looked<'_>> = sheets.into_iter().map(|sheet: Sheet<'_>| self.look(sheet)).collect();
        if !looked.is_empty() {
            self.tables(looked);
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
    fn tables(&mut self, mut looked: Vec<Looked<'_>>) {
        let choice = self.choose(&looked);
        looked.iter().enumerate().for_each(|(index, one)| self.tell_sheet(index, one, &choice));
        let is_one = choice.scores.len() <= 1 && choice.keys.is_empty() && !self.options.means_of_panel;
        let index = choice.scores.first().copied().or_else(|| {
            let filled = |index: &usize| !looked[*index].is_empty();
            (0..looked.len()).filter(filled).min_by_key(|index| choice.keys.contains(index))
        });
        let Some(index) = index else { return self.notes.of_file(say::empty_workbook()) };
        if choice.scores.is_empty() || (is_one && !looked[index].is_split(self.options)) {
            let one = looked.swap_remove(index);
            self.reading.preview.encoding = one.sheet.encoding.to_owned();
            self.reading.preview.separator = one.sheet.separator;
            self.records = vec![one.sheet.record.clone()];
            self.notes.read_from(vec![one.sheet.source.clone()]);
            self.tell_layout(&one.sheet.source.place(), &one.sheet.table, &one.layout, true);
            return self.table(&one.sheet.table, &one.layout, one.guess, index);
        }
        self.together(&looked, &choice);
    }

    fn together(&mut self, looked: &[Looked<'_>], choice: &crate::read::join::table_choice::Choice) {
        let used: Vec<&Looked<'_>> = choice.scores.iter().map(|index| &looked[*index]).collect();
        let first = &used[0].sheet;
        if used.iter().all(|one| one.sheet.encoding == first.encoding && one.sheet.separator == first.separator) {
            self.reading.preview.encoding = first.encoding.to_owned();
            self.reading.preview.separator = first.separator;
        }
        self.used = choice.scores.clone();
        self.records = used.iter().map(|one| one.sheet.record.clone()).collect();
        self.notes.read_from(used.iter().map(|one| one.sheet.source.clone()).collect());
        let mut keys = Keys::default();
        for key in choice.keys.iter().map(|index| &looked[*index]) {
            let beside_scores = used.iter().any(|one| one.sheet.file == key.sheet.file);
            if key.key_columns().is_none() {
                self.notes.at(key.sheet.source.place(), say::no_key_columns());
            }
            keys.add(key, beside_scores.then_some(key.sheet.file));
        }
        keys.check(&mut self.notes);
        let is_clear = self.confirm_parts(looked, choice);
        if self.options.means_of_panel {
            self.notes.of_file(say::means_of_panel());
        }
        for one in &used {
            let is_split = one.is_split(self.options);
            self.tell_layout(&one.sheet.source.place(), &one.sheet.table, &one.layout, !is_split);
            self.confirm_groups(one);
        }
        let combined = crate::read::join::combine::combine(looked, choice, &mut keys, self.options, &mut self.notes);
        self.is_blocked |= keys.is_broken;
        self.asks_first = !is_clear;
        self.reading.questions.append(&mut keys.questions);
        let layout = crate::read::columns::layout::Layout {
            names: combined.names,
            ..crate::read::columns::layout::Layout::default()
        };
        let shape = crate::read::columns::roles::shape_of(&combined.roles);
        let guess =
            crate::read::columns::roles::Guess { roles: combined.roles, shape, by_content: combined.by_content };
        self.table(&combined.table, &layout, guess, choice.scores[0]);
    }
}
