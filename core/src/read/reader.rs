//! What is known while files are read: the options, the notes, and the reading as far as it went. The steps themselves
//! stand in the folders, in the order of the way: open, columns, join, collect.

use super::messages::notes::{Notes, Source};
use super::options::{ReadOptions, Reading};
use crate::study::{LogKind, SourceFile};

pub(in crate::read) struct Reader<'r> {
    pub options: &'r ReadOptions,
    pub notes: Notes,
    pub reading: Reading,
    /// What scores are read from, in the order of `Origin::file`.
    pub records: Vec<SourceFile>,
    /// Which of the preview's sheets they are.
    pub used: Vec<usize>,
    /// Whether what tells the tables apart has to be asked before their rows can be read.
    pub asks_first: bool,
    /// Whether something was found that makes all scores unsafe, so that no study is handed over.
    pub is_blocked: bool,
}

impl<'r> Reader<'r> {
    /// Before the first file is opened; `sources` are for the places of notes.
    pub fn new(sources: Vec<Source>, options: &'r ReadOptions) -> Self {
        Reader {
            options,
            notes: Notes::about(sources),
            reading: Reading::default(),
            records: Vec::new(),
            used: Vec::new(),
            asks_first: false,
            is_blocked: false,
        }
    }

    /// The reading with its notices; what was left out or changed goes into the study's log.
    pub fn finish(self) -> Reading {
        let Reader { notes, mut reading, .. } = self;
        let log = notes.log_lines();
        reading.notices = notes.into_notices();
        if let Some(study) = &mut reading.study {
            study.notices = reading.notices.clone();
            log.into_iter().for_each(|line| study.note_in_log("", LogKind::Read, line));
        }
        reading
    }
}
