//! Sentences about a study once it is built: scale, names, balance.

use crate::read::messages::note::{Kind, Note, check, count, refused, repaired, understood};
use crate::read::options::Counts;

pub(in crate::read) fn scale_guessed(highest: f64, minimum: f64, maximum: f64) -> Note {
    let what = format!("The highest score is {highest}, so the scale was taken as {minimum} to {maximum} points.");
    understood(Kind::Scale, what, "If the scale ends higher, state its maximum.")
}

pub(in crate::read) fn scale_hundred() -> Note {
    understood(Kind::Scale, "The scale was taken as 0 to 100 mm.", "If it is another, state its maximum.")
}

pub(in crate::read) fn many_above(number: usize, scores: usize, highest: f64) -> Note {
    let what = format!("{number} of {scores} scores are above 100, the highest is {highest}.");
    refused(Kind::ScaleUnclear, what, "State the maximum of the scale.")
}

pub(in crate::read) fn many_below(number: usize, scores: usize, lowest: f64) -> Note {
    let what = format!("{number} of {scores} scores are below 0, the lowest is {lowest}.");
    refused(Kind::ScaleUnclear, what, "State the minimum of the scale.")
}

pub(in crate::read) fn scale_of_one(assessor: &str, scores: usize, highest: f64, others: f64, maximum: f64) -> Note {
    let what = format!(
        "All {scores} scores of assessor {assessor} are {highest} or less, while half of the others' are above \
         {others}: {assessor} may have used a scale of 0 to {maximum}."
    );
    check(Kind::ScaleOfOne, what, "Ask, and put the scores right or exclude the assessor with that reason.")
}

pub(in crate::read) fn scale_of_one_longer(assessor: &str, above: usize, scores: usize, maximum: f64) -> Note {
    let what = format!(
        "{above} of the {scores} scores of assessor {assessor} are above {maximum}, and hardly any of the others': \
         {assessor} may have used a longer scale."
    );
    check(Kind::ScaleOfOne, what, "Ask, and put the scores right or exclude the assessor with that reason.")
}

pub(in crate::read) fn missing_code_outside(code: f64, cells: usize) -> Note {
    let what = format!("{code} stands in {} and is outside the scale; read as missing.", count(cells, "cell", "cells"));
    check(Kind::MissingCode, what, "Say whether it is the code for \"no score\".")
}

pub(in crate::read) fn missing_code_inside(code: f64, cells: usize) -> Note {
    let what = format!(
        "{code} stands in {} and hardly any other score is as high; it was kept as a score.",
        count(cells, "cell", "cells")
    );
    check(Kind::MissingCode, what, "Say whether it is the code for \"no score\".")
}

pub(in crate::read) fn coded_missing(code: f64, cells: usize) -> Note {
    let what = format!("{code} was read as \"no score\" in {}.", count(cells, "cell", "cells"));
    repaired(Kind::MissingCode, what, "")
}

/// Two scores for one cell, with what was done about it.
pub(in crate::read) fn conflict(cell: &str, first: (f64, &str), second: (f64, &str), kept: Option<f64>) -> Note {
    let what = format!("{cell} has two scores: {} in {} and {} in {}.", first.0, first.1, second.0, second.1);
    match kept {
        None => refused(Kind::Conflict, what, "Say which of them counts."),
        Some(kept) => repaired(Kind::Conflict, format!("{what} {kept} was kept."), ""),
    }
}

pub(in crate::read) fn unnumbered_replicates(cells: usize) -> Note {
    let what = format!(
        "{} scored more than once, and no column numbers the replicates.",
        count(cells, "cell of assessor, sample and attribute is", "cells of assessor, sample and attribute are")
    );
    refused(Kind::Replicates, what, "Have them numbered by the order of rows, or say which score counts.")
}

pub(in crate::read) fn replicates_numbered() -> Note {
    let what = "The replicates were numbered by the order of rows in the file.";
    repaired(Kind::Replicates, what, "")
}

pub(in crate::read) fn replicates_by_session() -> Note {
    let what = "No column numbers the replicates, so the sessions of each assessor and sample were counted as such.";
    understood(Kind::Replicates, what, "")
}

pub(in crate::read) fn similar_name(kind: &str, rare: (&str, usize), common: (&str, usize)) -> Note {
    let servings = |number| count(number, "serving", "servings");
    let what = format!(
        "\"{}\" ({}) and \"{}\" ({}) differ by one letter and never meet: are they the same {kind}?",
        rare.0,
        servings(rare.1),
        common.0,
        servings(common.1)
    );
    check(Kind::SimilarName, what, "If so, write the name one way in the file.")
}

/// Two names of one look; `sign` is the one that gives the difference away, if any does.
pub(in crate::read) fn look_alike(kind: &str, (a, b): (&str, &str), sign: Option<char>) -> Note {
    let sign = sign.map_or_else(String::new, |sign| format!(" (one has the sign {})", number_of(sign)));
    let what = format!(
        "Two names look alike, \"{a}\" and \"{b}\", and are written with other signs{sign}: they were kept apart. Are they \
         the same {kind}?"
    );
    check(Kind::LookAlike, what, "If so, write the name one way in the file.")
}

pub(in crate::read) fn unseen_sign(kind: &str, name: &str, sign: char) -> Note {
    let what = format!("The {kind} \"{name}\" has a sign in the name that can't be seen ({}).", number_of(sign));
    check(Kind::LookAlike, what, "Type the name again in the file if the sign isn't meant.")
}

/// A sign by its number in Unicode.
fn number_of(sign: char) -> String {
    format!("U+{:04X}", u32::from(sign))
}

pub(in crate::read) fn position_conflicts(number: usize) -> Note {
    let what =
        format!("{} a serving position other than the serving's first one.", count(number, "row states", "rows state"));
    check(Kind::PositionConflict, what, "Check the column of serving positions.")
}

pub(in crate::read) fn no_positions() -> Note {
    let what = "The file gives no serving positions, so effects of order and carry-over can't be checked.";
    understood(Kind::Positions, what, "")
}

pub(in crate::read) fn size(counts: &Counts) -> Note {
    let what = format!(
        "{}, {}, {}, {}: {}.",
        count(counts.assessors, "assessor", "assessors"),
        count(counts.samples, "sample", "samples"),
        count(counts.attributes, "attribute", "attributes"),
        count(counts.replicates, "replicate", "replicates"),
        count(counts.scores, "score", "scores"),
    );
    understood(Kind::Balance, what, "")
}

pub(in crate::read) fn unbalanced(servings: usize, expected: usize, fewest: &str, has: usize, of: usize) -> Note {
    let what = format!(
        "The study is not balanced: {servings} of {expected} servings are there; assessor {fewest} has the fewest, \
         {has} of {of}."
    );
    understood(Kind::Balance, what, "")
}

pub(in crate::read) fn missing_scores(missing: usize, cells: usize) -> Note {
    let what = format!("{missing} of {cells} scores are missing.");
    understood(Kind::Missing, what, "")
}

pub(in crate::read) fn constant(attribute: &str, score: f64) -> Note {
    let what = format!("Every score of {attribute} is {score}, so nothing can be told by it.");
    understood(Kind::Constant, what, "")
}

pub(in crate::read) fn single(what_is_single: &str) -> Note {
    check(Kind::Balance, format!("There is only one {what_is_single}, so nothing can be compared."), "")
}

pub(in crate::read) fn no_replicates() -> Note {
    let what = "Each assessor scored each sample once, so repeatability can't be told.";
    understood(Kind::Balance, what, "")
}
