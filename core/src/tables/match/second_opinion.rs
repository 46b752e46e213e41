//! The mixed model beside the verdicts: where the two agree, and where they do not.

use super::words;
use crate::stats::r#match::second_opinion::{ModelDifference, OpinionOnAttribute};
use crate::stats::{Analysis, AttributeAnalysis, Verdict};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::numbers::percent;

/// One row a candidate: on how many attributes the two say the same of a match, and on which they do not.
pub fn second_opinion(analysis: &Analysis, found: &[OpinionOnAttribute]) -> Table {
    let count = |head: &str, field| Column::of(head, Format::Count, field);
    let columns = vec![
        Column::name(common::CANDIDATE),
        count("match by both", "both"),
        count("by the verdict only", "verdict_only"),
        count("by the model only", "model_only"),
        count("by neither", "neither"),
    ];
    let candidates = analysis.candidates.iter().map(|candidate| summary(analysis, &candidate.sample, found));
    Table::new("second-opinion", words::SECOND_OPINION, columns, analysis.scale_maximum)
        .with_rows(candidates)
        .with_note(words::SECOND_OPINION_HOW)
}

fn summary(analysis: &Analysis, sample: &str, found: &[OpinionOnAttribute]) -> Vec<Cell> {
    let which = |verdict: bool, model: bool| -> Vec<String> {
        let says = |one: &&OpinionOnAttribute| says(analysis, sample, one) == Some((verdict, model));
        found.iter().filter(says).map(|one| one.attribute.clone()).collect()
    };
    let named = |names: Vec<String>| Cell::number(names.len() as f64).with_detail(common::first_of(&names));
    let counted = |names: Vec<String>| Cell::number(names.len() as f64);
    let cells = [
        counted(which(true, true)),
        named(which(true, false)),
        named(which(false, true)),
        counted(which(false, false)),
    ];
    let cells = cells.map(|cell| cell.selecting(sample));
    [Cell::words(sample)].into_iter().chain(cells).collect()
}

/// Whether the verdict is a match, and whether the model shows one; `None` where the model can't say.
fn says(analysis: &Analysis, sample: &str, one: &OpinionOnAttribute) -> Option<(bool, bool)> {
    let model = one.candidates.iter().find(|candidate| candidate.sample == sample)?.found.as_ref().ok()?;
    Some((verdict_on(analysis, sample, &one.attribute)? == Verdict::Match, model.is_inside))
}

/// One row a candidate and attribute, the candidates in the order of the study.
pub fn second_opinion_in_full(analysis: &Analysis, found: &[OpinionOnAttribute]) -> Table {
    let unit = &analysis.unit;
    let interval = format!("{} interval by the model", percent(1.0 - 2.0 * analysis.alpha));
    let end = |head, field| Column::of(head, Format::Difference, field).under(&interval);
    let columns = vec![
        Column::name(common::CANDIDATE),
        Column::of(common::ATTRIBUTE, Format::Words, "attribute"),
        Column::of(common::DIFFERENCE, Format::Difference, "difference").in_unit(unit),
        end(common::FROM, "lower"),
        end(common::TO, "upper"),
        Column::of(words::INSIDE, Format::Words, "is_inside"),
        Column::of(common::VERDICT, Format::Words, "verdict"),
    ];
    let candidates = analysis.candidates.iter().map(|candidate| candidate.sample.as_str());
    let rows = candidates.flat_map(|sample| found.iter().filter_map(move |one| row(analysis, sample, one)));
    Table::new("second-opinion", words::SECOND_OPINION, columns, analysis.scale_maximum)
        .with_rows(rows)
        .with_note(words::SECOND_OPINION_HOW)
}

fn row(analysis: &Analysis, sample: &str, one: &OpinionOnAttribute) -> Option<Vec<Cell>> {
    let found = &one.candidates.iter().find(|candidate| candidate.sample == sample)?.found;
    let number = |pick: fn(&ModelDifference) -> f64| Cell::of(found, pick);
    let inside = |found: &ModelDifference| Cell::words(if found.is_inside { words::YES } else { words::NO });
    let verdict = verdict_on(analysis, sample, &one.attribute);
    Some(vec![
        Cell::words(sample),
        Cell::words(&one.attribute),
        number(|found| found.difference),
        number(|found| found.interval.lower),
        number(|found| found.interval.upper),
        Cell::of_cell(found, inside),
        verdict.map_or_else(|| Cell::not_defined(common::NO_SCORES), Cell::verdict),
    ])
}

fn verdict_on(analysis: &Analysis, sample: &str, attribute: &str) -> Option<Verdict> {
    let of: &AttributeAnalysis = analysis.attributes.iter().find(|one| one.attribute == attribute)?;
    Some(of.difference_of(sample)?.verdict)
}
