//! One line a candidate: the verdict, what it stands on, how far the whole profile is.

use super::sentences::candidate_sentence;
use super::words;
use crate::stats::{Analysis, CandidateAnalysis, ProfileDistance};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// Candidates in the order of the study, the target under another code last.
pub fn verdicts(analysis: &Analysis) -> Table {
    let mut candidates: Vec<&CandidateAnalysis> = analysis.candidates.iter().collect();
    candidates.sort_by_key(|candidate| analysis.is_target_again(&candidate.sample));
    Table::new("verdicts", words::verdicts(&analysis.unit), columns(), analysis.scale_maximum)
        .with_rows(candidates.into_iter().map(|candidate| row(analysis, candidate)))
        .with_note(words::VERDICTS_HOW)
}

fn columns() -> Vec<Column> {
    let deciding = |head, field| Column::of(head, Format::Count, field).under(words::DECIDING_GROUP);
    let distance = |head, field| Column::of(head, Format::Score, field).under(words::DISTANCE_GROUP);
    vec![
        Column::name(common::CANDIDATE),
        Column::of(common::VERDICT, Format::Words, "verdict"),
        deciding("match", "n_match"),
        deciding("off", "n_off"),
        deciding("not shown", "n_not_shown"),
        distance("as measured", "distance"),
        distance("noise off", "distance_adjusted"),
        distance("of noise alone", "distance_of_noise"),
        Column::of("typical difference", Format::Score, "typical_difference"),
        Column::of("overall offset", Format::Difference, "overall_offset"),
        Column::of("shape r", Format::Fixed(2), "shape_correlation"),
    ]
}

fn row(analysis: &Analysis, candidate: &CandidateAnalysis) -> Vec<Cell> {
    let sample = candidate.sample.as_str();
    let again = if analysis.is_target_again(sample) { common::TARGET_AGAIN } else { "" };
    let name = Cell::words(sample).with_detail(again);
    [name].into_iter().chain(results(candidate).map(|cell| cell.selecting(sample))).collect()
}

fn results(candidate: &CandidateAnalysis) -> [Cell; 10] {
    let distance = |pick: fn(&ProfileDistance) -> f64| Cell::of(&candidate.distance, pick);
    [
        Cell::verdict(candidate.verdict),
        Cell::number(candidate.n_match as f64),
        Cell::number(candidate.n_off as f64),
        Cell::number(candidate.n_not_shown as f64),
        distance(|found| found.distance),
        distance(|found| found.distance_adjusted),
        distance(|found| found.distance_of_noise),
        distance(|found| found.typical_difference),
        distance(|found| found.overall_offset),
        Cell::of_cell(&candidate.distance, |found| match found.shape_correlation {
            Some(r) => Cell::number(r),
            None => Cell::not_defined(words::FLAT_PROFILE),
        }),
    ]
}

/// The same with the sentence of each, for who reads nothing else.
pub fn verdicts_in_words(analysis: &Analysis) -> Table {
    let mut table = verdicts(analysis);
    table.columns.push(Column::of("in words", Format::Words, ""));
    for row in &mut table.rows {
        let candidate = analysis.candidates.iter().find(|candidate| candidate.sample == row.name());
        let sentence = candidate.map(|candidate| candidate_sentence(analysis, candidate));
        row.cells.push(Cell::words(sentence.unwrap_or_default()));
    }
    table
}
