//! Names of assessors, samples, attributes and sessions: which spellings mean the same one.
//! Blanks at the ends, double blanks and capitals make no difference; anything more is only suggested.

use crate::read::columns::header_words::{TotalsWord, totals_word};
use crate::read::grid::row_cells::Word;
use crate::read::grid::spelling::{folded, tidy};
use std::collections::HashMap;

/// Signs that stand for "no name". "NA" is not among them: it may be somebody's initials.
const NO_NAMES: [&str; 7] = ["-", "--", ".", "n/a", "nan", "null", "#n/a"];

/// All spellings of one kind of name, in the order in which they appear.
#[derive(Default)]
pub(in crate::read) struct NameTable {
    pub spellings: Vec<Spelling>,
    pub names: Vec<Name>,
    /// Folded header of the column, to tell where it is repeated among the rows.
    header: Option<String>,
    /// Digits that codes are padded to; 0 where nothing is padded.
    pad_to: usize,
    by_text: HashMap<Vec<u8>, usize>,
    by_fold: HashMap<String, usize>,
    latest: usize,
}

/// One way in which a name is written in the file.
pub(in crate::read) struct Spelling {
    pub text: Vec<u8>,
    first_bytes: u128,
    pub meaning: Meaning,
    pub rows: u32,
    /// Row of the table where it first appears.
    pub first_row: usize,
    /// The spelling that came after this one last time: files repeat their order.
    follows: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum Meaning {
    Blank,
    /// The header once more.
    Header,
    /// Index into `NameTable::names`.
    Name(usize),
    /// The same, but the words are those of a row of totals.
    Totals(usize, TotalsWord),
}

pub(in crate::read) struct Name {
    pub fold: String,
    /// Index in the study, once a score was placed under it.
    pub placed: Option<u32>,
}

impl Meaning {
    /// Index of the name, if it is one.
    pub fn name(self) -> Option<usize> {
        match self {
            Meaning::Name(index) | Meaning::Totals(index, _) => Some(index),
            Meaning::Blank | Meaning::Header => None,
        }
    }
}

impl NameTable {
    /// An empty table for a column with this header.
    pub fn under(header: Option<String>, pad_to: usize) -> Self {
        NameTable { header, pad_to, ..NameTable::default() }
    }

    /// What a header of this kind means.
    pub fn resolve_text(&mut self, text: &str) -> Meaning {
        self.resolve(Word::of(text.as_bytes()), 0)
    }

    /// What a cell of this kind means. Cells are surveyed up by their bytes, so a spelling is folded once a file.
    pub fn resolve(&mut self, cell: Word<'_>, row: usize) -> Meaning {
        let guess = self.spellings.get(self.latest).map_or(0, |latest| latest.follows);
        let found = match self.spellings.get(guess) {
            Some(spelling) if spelling.is(cell) => guess,
            _ => self.look_up(cell, row),
        };
        if let Some(latest) = self.spellings.get_mut(self.latest) {
            latest.follows = found;
        }
        self.latest = found;
        let spelling = &mut self.spellings[found];
        spelling.rows += 1;
        spelling.meaning
    }

    /// The meaning in a row that is no header: somebody, or a sample, may be called as the column is.
    pub fn unless_header(&mut self, meaning: Meaning) -> Meaning {
        if meaning == Meaning::Header { self.header_as_name() } else { meaning }
    }

    fn header_as_name(&mut self) -> Meaning {
        let Some(fold) = self.header.take() else { return Meaning::Blank };
        let next = self.names.len();
        self.by_fold.insert(fold.clone(), next);
        self.names.push(Name { fold, placed: None });
        let meaning = Meaning::Name(next);
        self.spellings.iter_mut().filter(|one| one.meaning == Meaning::Header).for_each(|one| one.meaning = meaning);
        meaning
    }

    /// The spelling that stands in the study for a name: the commonest, and of equals the first.
    pub fn display(&self, name: usize) -> String {
        let ours = self.spellings_of(name);
        let best = ours.iter().copied().reduce(|best, next| if next.rows > best.rows { next } else { best });
        best.map_or_else(String::new, |spelling| self.padded(&tidy(&String::from_utf8_lossy(&spelling.text))))
    }

    /// All spellings of a name, in the order in which they appear.
    pub fn spellings_of(&self, name: usize) -> Vec<&Spelling> {
        self.spellings.iter().filter(|spelling| spelling.meaning.name() == Some(name)).collect()
    }

    /// Index in the study of a name, registered at its first use: names of rows left out don't appear.
    pub fn place(&mut self, name: usize, register: impl FnOnce(&str) -> u32) -> u32 {
        let name = &mut self.names[name];
        *name.placed.get_or_insert_with(|| register(&name.fold))
    }

    /// Index in the study and spelling of every name in it.
    pub fn placed_names(&self) -> Vec<(usize, String)> {
        let placed = (0..self.names.len()).filter_map(|name| Some((self.names[name].placed? as usize, name)));
        placed.map(|(index, name)| (index, self.display(name))).collect()
    }

    /// A code with its lost zeros in front, where the user asked for it.
    pub fn padded(&self, text: &str) -> String {
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        if digits && text.len() < self.pad_to {
            format!("{text:0>width$}", width = self.pad_to)
        } else {
            text.to_owned()
        }
    }

    fn look_up(&mut self, cell: Word<'_>, row: usize) -> usize {
        if let Some(index) = self.by_text.get(cell.text) {
            return *index;
        }
        let index = self.spellings.len();
        let meaning = self.meaning_of(cell.text);
        self.spellings.push(Spelling {
            text: cell.text.to_vec(),
            first_bytes: cell.first_bytes,
            meaning,
            rows: 0,
            first_row: row,
            follows: index,
        });
        self.by_text.insert(cell.text.to_vec(), index);
        index
    }

    fn meaning_of(&mut self, cell: &[u8]) -> Meaning {
        let text = String::from_utf8_lossy(cell);
        let fold = self.padded(&folded(&text));
        if fold.is_empty() || NO_NAMES.contains(&fold.as_str()) {
            return Meaning::Blank;
        }
        if self.header.as_ref() == Some(&fold) {
            return Meaning::Header;
        }
        let next = self.names.len();
        let name = *self.by_fold.entry(fold.clone()).or_insert(next);
        if name == next {
            self.names.push(Name { fold, placed: None });
        }
        match totals_word(&text) {
            Some(word) => Meaning::Totals(name, word),
            None => Meaning::Name(name),
        }
    }
}

impl Spelling {
    fn is(&self, cell: Word<'_>) -> bool {
        let length = cell.text.len();
        self.text.len() == length
            && self.first_bytes == cell.first_bytes
            && (length <= 16 || self.text[16..] == cell.text[16..])
    }
}
