//! Reading: bytes of a text table to a study, with everything odd told and nothing repaired silently.
//!
//! `read_text` decodes the bytes, takes the text apart, finds the header and what each column holds, and builds the
//! study score by score. It never fails whole and never panics: what can't be used stands in the notices, and what
//! only the person can decide stands in the questions. It knows nothing of statistics, figures or the page.

mod assemble;
mod cells;
mod checks;
mod decimals;
mod decode;
mod encodings;
mod gather;
mod layout;
mod names;
mod near;
mod notes;
mod numbers;
mod options;
mod plan;
mod roles;
mod scale;
mod sentences;
mod separator;
mod table;
mod words;

pub use options::{
    Answer, Choice, ColumnRole, ColumnRoles, Counts, DecimalMark, DuplicateChoice, GivenFile, Preview, PreviewRow,
    Question, ReadOptions, Reading, TableShape,
};

use crate::study::SourceFile;
use decode::{Decoded, NotText};
use notes::Notes;
use sentences as say;
use table::Table;

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

/// The text of a small file that is no score table, such as an attribute list, decoded as score files are; `None` where
/// it holds no text.
pub fn text_in(bytes: &[u8]) -> Option<String> {
    decode::decode(bytes).ok().map(|decoded| decoded.text.into_owned())
}

/// Reads files that belong together, in the order given.
pub fn read_files(files: &[GivenFile], options: &ReadOptions) -> Reading {
    match files {
        [file] => read_text(&file.name, &file.bytes, options),
        files => {
            let mut notes = Notes::about("");
            let names: Vec<String> = files.iter().map(|file| file.name.clone()).collect();
            notes.of_file(say::several_files(&names));
            Reading { notices: notes.into_notices(), ..Reading::default() }
        }
    }
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
        let text: &str = &decoded.text;
        if let Some((separator, below)) = separator::stated(text) {
            return self.parsed(below, self.options.separator.unwrap_or(separator), 1);
        }
        match self.options.separator.or_else(|| separator::guess(text)) {
            Some(separator) => self.parsed(text, separator, 0),
            None => self.notes.of_file(say::one_column()),
        }
    }

    fn parsed(&mut self, text: &str, separator: u8, lines_above: u32) {
        self.reading.preview.separator = Some(separator);
        let table = Table::parse(text, separator, lines_above);
        if let Some(line) = table.open_quote_line {
            self.notes.at(self.notes.line(line), say::open_quote());
        }
        self.table(&table);
    }

    fn source_file(&self) -> SourceFile {
        SourceFile {
            name: self.file_name.to_owned(),
            length_bytes: self.bytes.len() as u64,
            fingerprint: fingerprint(self.bytes),
        }
    }
}

/// FNV-1a (Fowler, Noll & Vo; offset basis and prime as in RFC 9923) with 64 bits, in hexadecimal. Four lanes take
/// every fourth byte each, which is three times as fast, and the four results and the length are hashed once more.
pub fn fingerprint(bytes: &[u8]) -> String {
    let mut lanes = [FNV_BASIS; 4];
    let quads = bytes.chunks_exact(4);
    let rest = quads.remainder();
    for quad in quads {
        for (lane, byte) in lanes.iter_mut().zip(quad) {
            *lane = fnv_1a(*lane, *byte);
        }
    }
    let tail = rest.iter().fold(FNV_BASIS, |hash, byte| fnv_1a(hash, *byte));
    let ends = lanes.into_iter().chain([tail, bytes.len() as u64]);
    let hash = ends.flat_map(u64::to_le_bytes).fold(FNV_BASIS, fnv_1a);
    format!("{hash:016x}")
}

const FNV_BASIS: u64 = 0xcbf2_9ce4_8422_2325;

fn fnv_1a(hash: u64, byte: u8) -> u64 {
    (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
}
