//! Keys: tables that tell which sample each code stood for, and the rules by which they are joined to scores.
//!
//! A code is text and means something only where its session is known: the same code may stand for another sample in
//! another session. So a key that names no session is never joined to several sessions in which a code repeats,
//! unless the person says that it holds for all of them.

use crate::read::columns::column_plan::ColumnPlan;
use crate::read::columns::survey::SurveyedSheet;
use crate::read::grid::spelling::{folded, tidy};
use crate::read::grid::table::Table;
use crate::read::messages::notes::{Notes, Source};
use crate::read::messages::sentences as say;
use crate::read::options::{Question, ReadOptions};
use std::collections::{BTreeMap, BTreeSet};

/// All keys, with what was surveyed up in them.
#[derive(Default)]
pub(in crate::read) struct Keys {
    entries: Vec<Entry>,
    /// Codes that no key row holds: where each first stands, and how many rows have it.
    unknown: BTreeMap<String, (usize, usize)>,
    /// Codes found only once zeros were put in front.
    short: BTreeMap<String, (usize, String)>,
    /// Codes that stand for several samples, with these samples.
    unclear: BTreeMap<String, BTreeSet<String>>,
    /// The sessions in which each code was surveyed up in a key that names none.
    sessions_of: BTreeMap<String, BTreeSet<String>>,
    joined: usize,
    pub questions: Vec<Question>,
    /// Whether the key contradicts itself, so that nothing can be read by it.
    pub is_broken: bool,
}

/// One row of a key.
struct Entry {
    source: Source,
    /// The file whose scores the key belongs to; `None` where it stands in a file of its own.
    file: Option<usize>,
    session: Option<String>,
    assessor: Option<String>,
    code: String,
    sample: String,
    line: u32,
    is_used: bool,
}

/// A code as it stands beside a score.
pub(in crate::read) struct Lookup {
    pub file: usize,
    pub session: Option<String>,
    pub assessor: Option<String>,
    pub code: String,
    /// Row of the combined table.
    pub row: usize,
}

/// What a code stands for: its own text where no key tells.
pub(in crate::read) struct Found {
    pub sample: String,
    pub code: String,
}

const PADDED_DIGITS: usize = 3;

impl Keys {
    /// Takes the rows of a key. `file` is that of the scores that it belongs to.
    pub fn add(&mut self, surveyed: &SurveyedSheet<'_>, file: Option<usize>) {
        let Some((code, sample)) = surveyed.key_columns() else { return };
        let plan = ColumnPlan::new(&surveyed.guess.roles, surveyed.layout.names.len());
        let table = &surveyed.sheet.table;
        for row in surveyed.layout.first_data..table.row_count() {
            let cell = |column: usize| tidy(&table.text(row, column));
            let optional = |column: Option<usize>| {
                column.filter(|column| *column != code && *column != sample).map(cell).filter(|text| !text.is_empty())
            };
            let (session, assessor) = (optional(plan.session), optional(plan.assessor));
            let (source, line) = (surveyed.sheet.source.clone(), table.line(row));
            let (code, sample) = (cell(code), cell(sample));
            if !code.is_empty() && !sample.is_empty() {
                self.entries.push(Entry { source, file, session, assessor, code, sample, line, is_used: false });
            }
        }
    }

    /// Whether there is no key at all.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Tells codes that one key gives to two samples in the same session.
    pub fn check(&mut self, notes: &mut Notes) {
        let mut first: BTreeMap<[Option<String>; 4], usize> = BTreeMap::new();
        for (index, entry) in self.entries.iter().enumerate() {
            let fold = |text: &Option<String>| text.as_deref().map(folded);
            let file = entry.file.map(|file| file.to_string());
            let key = [Some(folded(&entry.code)), file, fold(&entry.session), fold(&entry.assessor)];
            let earlier = &self.entries[*first.entry(key).or_insert(index)];
            if folded(&earlier.sample) != folded(&entry.sample) {
                let note = say::code_of_two(&entry.code, (&earlier.sample, earlier.line), &entry.sample);
                notes.at(entry.source.place().row(entry.line), note);
                self.is_broken = true;
            }
        }
    }

    /// Whether at least half of these different values are codes of the key.
    pub fn holds_most_of(&self, values: impl Iterator<Item = String>, pad: bool) -> bool {
        let values: BTreeSet<String> = values.map(|value| folded(&value)).collect();
        let fits = |value: &&String| {
            self.entries.iter().any(|entry| folded(&entry.code) == **value || is_short_of(value, &entry.code, pad))
        };
        !values.is_empty() && values.iter().filter(fits).count() * 2 >= values.len()
    }

    /// The sample of a code; the code itself where no key row, or more than one, tells it.
    pub fn sample_of(&mut self, wanted: &Lookup, pad: bool) -> Found {
        let untold = Found { sample: wanted.code.clone(), code: wanted.code.clone() };
        let (matching, is_short) = self.matching_entries(wanted);
        let Some(first) = self.only_sample(&matching, wanted) else { return untold };
        let (sample, code) = (self.entries[first].sample.clone(), self.entries[first].code.clone());
        if is_short {
            self.short.entry(wanted.code.clone()).or_insert((wanted.row, code.clone()));
        }
        if is_short && !pad {
            return untold;
        }
        if let (None, Some(session)) = (&self.entries[first].session, &wanted.session) {
            self.sessions_of.entry(folded(&code)).or_default().insert(session.clone());
        }
        self.joined += 1;
        Found { sample, code }
    }

    /// The key rows of a code, and whether they fit only once zeros are put in front of it.
    fn matching_entries(&self, wanted: &Lookup) -> (Vec<usize>, bool) {
        let exact = self.entries_of(wanted, &|entry| folded(&entry.code) == folded(&wanted.code));
        if exact.is_empty() {
            return (self.entries_of(wanted, &|entry| is_short_of(&wanted.code, &entry.code, true)), true);
        }
        (exact, false)
    }

    /// The first of the key rows that fit, where all of them name one sample; otherwise the code is noted.
    fn only_sample(&mut self, matching: &[usize], wanted: &Lookup) -> Option<usize> {
        let Some(first) = matching.first().copied() else {
            self.unknown.entry(wanted.code.clone()).or_insert((wanted.row, 0)).1 += 1;
            return None;
        };
        matching.iter().for_each(|index| self.entries[*index].is_used = true);
        let samples: BTreeSet<String> = matching.iter().map(|index| self.entries[*index].sample.clone()).collect();
        if samples.iter().map(|sample| folded(sample)).collect::<BTreeSet<_>>().len() > 1 {
            self.unclear.entry(wanted.code.clone()).or_default().extend(samples);
            return None;
        }
        Some(first)
    }

    /// The key rows that fit what stands beside a score, those of its own file before the others.
    fn entries_of(&self, wanted: &Lookup, fits: &dyn Fn(&Entry) -> bool) -> Vec<usize> {
        let same = |key: &Option<String>, score: &Option<String>| match (key, score) {
            (Some(key), Some(score)) => is_same_name(key, score),
            _ => true,
        };
        let of_file = |file: Option<usize>| -> Vec<usize> {
            let matches = |entry: &Entry| {
                entry.file == file
                    && fits(entry)
                    && same(&entry.session, &wanted.session)
                    && same(&entry.assessor, &wanted.assessor)
            };
            (0..self.entries.len()).filter(|index| matches(&self.entries[*index])).collect()
        };
        let own = of_file(Some(wanted.file));
        if own.is_empty() { of_file(None) } else { own }
    }

    /// Says what the join found and asks what only the person can tell.
    pub fn tell(&mut self, table: &Table<'_>, column: usize, options: &ReadOptions, notes: &mut Notes) {
        notes.of_file(say::key_joined(self.joined, self.entries.len()));
        for (code, (row, rows)) in &self.unknown {
            let note = match self.beside(code) {
                Some(beside) => say::code_of_others(code, *rows, &beside),
                None => say::code_without_key(code, *rows),
            };
            notes.at(notes.cell(table, *row, column), note);
        }
        let is_told = |entry: &Entry| self.unknown.keys().any(|code| folded(code) == folded(&entry.code));
        for entry in self.entries.iter().filter(|entry| !entry.is_used && !is_told(entry)) {
            notes.at(entry.source.place().row(entry.line), say::key_without_scores(&entry.code, &entry.sample));
        }
        for (code, samples) in &self.unclear {
            let samples: Vec<String> = samples.iter().cloned().collect();
            notes.of_file(say::unclear_code(code, &samples));
            self.is_broken = true;
        }
        self.tell_short(table, column, options, notes);
        self.tell_repeated(options, notes);
    }

    /// The session and the assessor for which the key has a code; `None` where it has none.
    fn beside(&self, code: &str) -> Option<String> {
        let entry = self.entries.iter().find(|entry| folded(&entry.code) == folded(code))?;
        let session = entry.session.as_ref().map(|name| format!("session {name}"));
        let assessor = entry.assessor.as_ref().map(|name| format!("assessor {name}"));
        Some(session.into_iter().chain(assessor).collect::<Vec<_>>().join(", ")).filter(|beside| !beside.is_empty())
    }

    /// Codes that fit the key once zeros are put in front.
    fn tell_short(&mut self, table: &Table<'_>, column: usize, options: &ReadOptions, notes: &mut Notes) {
        let mut pairs = Vec::new();
        for (code, (row, whole)) in &self.short {
            let note = if options.pad_codes { say::padded_code(code, whole) } else { say::short_code(code, whole) };
            notes.at(notes.cell(table, *row, column), note);
            pairs.push(format!("{code} was {whole}"));
        }
        if !pairs.is_empty() && !options.pad_codes {
            self.questions.push(say::ask_key_padding(&pairs));
        }
    }

    /// Codes of a key without sessions that stand in several sessions of the scores.
    fn tell_repeated(&mut self, options: &ReadOptions, notes: &mut Notes) {
        let repeated = self.sessions_of.iter().filter(|(_, sessions)| sessions.len() > 1);
        let repeated: Vec<String> = repeated.map(|(code, _)| code.clone()).collect();
        if !repeated.is_empty() && !options.codes_hold_in_every_session {
            notes.of_file(say::code_across_sessions(&repeated));
            self.questions.push(say::ask_codes_across_sessions());
        }
    }
}

/// Whether a whole number is a code of the key that lost the zeros in front.
fn is_short_of(short: &str, code: &str, may_pad: bool) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    may_pad
        && digits(short)
        && digits(code)
        && code.len() >= PADDED_DIGITS
        && short.len() < code.len()
        && code.trim_start_matches('0') == short.trim_start_matches('0')
}

/// The same name, or the same number at its end: "2", "Session 2" and "day 2".
fn is_same_name(a: &str, b: &str) -> bool {
    let number = |text: &str| {
        let start = text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        text[start..].trim_start_matches('0').to_owned()
    };
    let is_number = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let by_number = (is_number(a) || is_number(b)) && !number(a).is_empty() && number(a) == number(b);
    folded(a) == folded(b) || by_number
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zeros_that_were_lost_are_recognised() {
        assert!(is_short_of("12", "012", true) && is_short_of("7", "007", true));
        for (short, code) in [("12", "112"), ("012", "012"), ("12", "12"), ("1a", "01a"), ("", "000")] {
            assert!(!is_short_of(short, code, true), "{short} {code}");
        }
    }

    #[test]
    fn sessions_are_the_same_by_name_or_by_number() {
        assert!(is_same_name("Day 1", "day 1") && is_same_name("2", "Session 2") && is_same_name("02", "2"));
        assert!(!is_same_name("1", "Session 2") && !is_same_name("Day 1", "Session 1") && !is_same_name("a", "b"));
    }
}
