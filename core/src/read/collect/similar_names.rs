//! Names that may be slips of the pen, codes that a spreadsheet may have damaged. Suggestions only.

use super::collected::Collected;
use crate::read::columns::column_plan::ColumnPlan;
use crate::read::grid::look_alike::{look, odd_sign, unseen_sign};
use crate::read::grid::spelling::{differ_by_one_letter, tidy};
use crate::read::grid::table::Table;
use crate::read::join::names::NameTable;
use crate::read::messages::notes::Notes;
use crate::read::messages::sentences as say;
use crate::read::options::{Question, ReadOptions};
use crate::study::Study;
use std::collections::{BTreeMap, BTreeSet};

/// Names are compared in pairs; beyond this many the pairs are too many to look at.
const COMPARED_NAMES: usize = 400;

/// Spellings that were read as one name, each of them told.
pub(in crate::read) fn tell_merged(collected: &Collected, plan: &ColumnPlan, table: &Table<'_>, notes: &mut Notes) {
    let kinds = [
        (&collected.assessors, plan.assessor),
        (&collected.samples, plan.sample),
        (&collected.attributes, plan.attribute),
        (&collected.sessions, plan.session),
    ];
    for (names, column) in kinds {
        let Some(column) = column else { continue };
        for name in 0..names.names.len() {
            tell_spellings(names, name, (table, column), notes);
        }
    }
}

fn tell_spellings(names: &NameTable, name: usize, (table, column): (&Table<'_>, usize), notes: &mut Notes) {
    let display = names.display(name);
    let spellings = names.spellings_of(name);
    for spelling in spellings.iter().filter(|_| spellings.len() > 1) {
        let text = String::from_utf8_lossy(&spelling.text).into_owned();
        let place = notes.cell(table, spelling.first_row, column);
        if tidy(&text) != text || names.padded(&text) != display {
            notes.at(place, say::merged_name(&display, &text, spelling.rows));
        }
    }
}

/// Pairs of names that differ by one letter and never stand in the same place of the study.
pub(in crate::read) fn tell_similar(study: &Study, notes: &mut Notes) {
    let assessors: Vec<&str> = study.assessors.iter().map(|assessor| assessor.name.as_str()).collect();
    let by_assessor = places(study, |serving| (serving.assessor, (serving.sample, serving.replicate, serving.session)));
    tell_pairs("assessor", &assessors, &by_assessor, notes);
    let samples: Vec<&str> = study.samples.iter().map(|sample| sample.name.as_str()).collect();
    let by_sample = places(study, |serving| (serving.sample, (serving.assessor, serving.replicate, serving.session)));
    tell_pairs("sample", &samples, &by_sample, notes);
    tell_similar_attributes(study, notes);
    let attributes: Vec<&str> = study.attributes.iter().map(|attribute| attribute.name.as_str()).collect();
    for (kind, names) in [("assessor", assessors), ("sample", samples), ("attribute", attributes)] {
        tell_look_alikes(kind, &names, notes);
    }
}

/// Names that nobody can tell apart by looking at them, and names with signs that can't be seen.
fn tell_look_alikes(kind: &str, names: &[&str], notes: &mut Notes) {
    let mut of_look: BTreeMap<String, &str> = BTreeMap::new();
    for name in names {
        if let Some(sign) = unseen_sign(name) {
            notes.of_file(say::unseen_sign(kind, name, sign));
        }
        if let Some(other) = of_look.insert(look(name), name) {
            notes.of_file(say::look_alike(kind, (other, name), odd_sign(other, name)));
        }
    }
}

/// Attributes stand in the same place where one serving has scores of both.
fn tell_similar_attributes(study: &Study, notes: &mut Notes) {
    let attributes: Vec<&str> = study.attributes.iter().map(|attribute| attribute.name.as_str()).collect();
    if attributes.len() > COMPARED_NAMES {
        return;
    }
    let scored = |attribute: usize| -> BTreeSet<usize> {
        (0..study.servings.len()).filter(|serving| study.score(*serving, attribute).is_some()).collect()
    };
    for (a, b) in similar_pairs(&attributes) {
        tell_if_apart("attribute", (attributes[a], &scored(a)), (attributes[b], &scored(b)), notes);
    }
}

type Place = (u32, u32, Option<u32>);

fn places(study: &Study, key: impl Fn(&crate::study::Serving) -> (u32, Place)) -> BTreeMap<u32, BTreeSet<Place>> {
    let mut places: BTreeMap<u32, BTreeSet<Place>> = BTreeMap::new();
    for serving in &study.servings {
        let (name, place) = key(serving);
        places.entry(name).or_default().insert(place);
    }
    places
}

fn tell_pairs(kind: &str, names: &[&str], places: &BTreeMap<u32, BTreeSet<Place>>, notes: &mut Notes) {
    if names.len() > COMPARED_NAMES {
        return;
    }
    let none = BTreeSet::new();
    for (a, b) in similar_pairs(names) {
        let of = |name: usize| places.get(&(name as u32)).unwrap_or(&none);
        tell_if_apart(kind, (names[a], of(a)), (names[b], of(b)), notes);
    }
}

fn similar_pairs(names: &[&str]) -> Vec<(usize, usize)> {
    let folds: Vec<String> = names.iter().map(|name| name.to_lowercase()).collect();
    let pairs = (0..names.len()).flat_map(|a| (a + 1..names.len()).map(move |b| (a, b)));
    // Names one letter apart share their first or their last byte, and their lengths are close: most pairs end here.
    let may_be =
        |a: &[u8], b: &[u8]| a.len().abs_diff(b.len()) <= 4 && (a.first() == b.first() || a.last() == b.last());
    pairs
        .filter(|(a, b)| may_be(folds[*a].as_bytes(), folds[*b].as_bytes()))
        .filter(|(a, b)| differ_by_one_letter(&folds[*a], &folds[*b]) && look(names[*a]) != look(names[*b]))
        .collect()
}

fn tell_if_apart<P: Ord>(kind: &str, a: (&str, &BTreeSet<P>), b: (&str, &BTreeSet<P>), notes: &mut Notes) {
    if a.1.is_disjoint(b.1) {
        let (rare, common) = if a.1.len() <= b.1.len() { (a, b) } else { (b, a) };
        notes.of_file(say::similar_name(kind, (rare.0, rare.1.len()), (common.0, common.1.len())));
    }
}

/// Codes that lost their zeros or became numbers with an exponent, and codes that stand for two samples.
pub(in crate::read) fn tell_codes(
    collected: &Collected,
    study: &Study,
    plan: &ColumnPlan,
    table: &Table<'_>,
    options: &ReadOptions,
    notes: &mut Notes,
) -> Option<Question> {
    let samples = CodeColumn::of(&collected.samples, plan.sample);
    samples.tell_exponents(table, notes);
    let question = samples.tell_short(table, options, notes);
    // A key was held to its own rules: by session and assessor one code may stand for several samples.
    if !table.is_combined() {
        tell_shared(study, notes);
    }
    question
}

fn tell_shared(study: &Study, notes: &mut Notes) {
    let mut samples_of: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for sample in &study.samples {
        for code in &sample.codes {
            samples_of.entry(code).or_default().push(sample.name.clone());
        }
    }
    for (code, samples) in samples_of.iter().filter(|(_, samples)| samples.len() > 1) {
        notes.of_file(say::shared_code(code, &say::listed(samples, 10)));
    }
}

/// A column in which codes stand, with the first row of each.
struct CodeColumn {
    column: usize,
    codes: Vec<(String, usize)>,
}

impl CodeColumn {
    fn of(names: &NameTable, column: Option<usize>) -> Self {
        let spelled = |spelling: &crate::read::join::names::Spelling| {
            let text = tidy(&String::from_utf8_lossy(&spelling.text));
            spelling.meaning.name().map(|_| (text, spelling.first_row))
        };
        let codes = if column.is_some() { names.spellings.iter().filter_map(spelled).collect() } else { Vec::new() };
        CodeColumn { column: column.unwrap_or(0), codes }
    }

    fn tell_exponents(&self, table: &Table<'_>, notes: &mut Notes) {
        for (code, row) in self.codes.iter().filter(|(code, _)| is_exponent_number(code)) {
            let place = notes.cell(table, *row, self.column);
            notes.at(place, say::exponent_code(code));
        }
    }

    /// One- and two-digit codes among mostly three-digit ones.
    fn tell_short(&self, table: &Table<'_>, options: &ReadOptions, notes: &mut Notes) -> Option<Question> {
        let digits: Vec<&(String, usize)> =
            self.codes.iter().filter(|(code, _)| code.bytes().all(|byte| byte.is_ascii_digit())).collect();
        let short: Vec<&(String, usize)> = digits.iter().copied().filter(|(code, _)| code.len() < 3).collect();
        let three = digits.iter().filter(|(code, _)| code.len() == 3).count();
        if short.is_empty() || three < 2 || three < short.len() || digits.len() != short.len() + three {
            return None;
        }
        let mut pairs = Vec::new();
        for (code, row) in short {
            let padded = format!("{code:0>3}");
            let place = notes.cell(table, *row, self.column);
            let note = if options.pad_codes { say::padded_code(code, &padded) } else { say::short_code(code, &padded) };
            notes.at(place, note);
            pairs.push(format!("{code} was {padded}"));
        }
        (!options.pad_codes).then(|| say::ask_padding(&pairs))
    }
}

/// 1E+02, 2.75E+02 and the like.
fn is_exponent_number(code: &str) -> bool {
    let Some((mantissa, exponent)) = code.split_once(['e', 'E']) else { return false };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let mantissa_fits = digits(&mantissa.replace(['.', ','], "")) && !mantissa.starts_with(['.', ',']);
    mantissa_fits && exponent.strip_prefix('+').is_some_and(digits)
}
