//! One line a candidate: the verdict, what it stands on, how far the whole profile is.

use super::headline::late_sentence;
use super::sentences::candidate_sentence;
use super::words;
use crate::stats::r#match::calibrated::{CalibratedVerdict, MatchRule};
use crate::stats::{Analysis, CandidateAnalysis, Defined, ProfileDistance};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// Candidates in the order of the study, the target under another code last.
pub fn verdicts(analysis: &Analysis) -> Table {
    let mut candidates: Vec<&CandidateAnalysis> = analysis.candidates.iter().collect();
    candidates.sort_by_key(|candidate| analysis.is_target_again(&candidate.sample));
    Table::new("verdicts", words::verdicts(&analysis.unit), columns(), analysis.scale_maximum)
        .with_rows(candidates.into_iter().map(|candidate| row(analysis, candidate)))
        .with_note(late_sentence(analysis).unwrap_or_default())
        .with_note(words::whole_rule(analysis))
        .with_note(words::VERDICTS_HOW)
}

fn columns() -> Vec<Column> {
    let deciding = |head, field| Column::of(head, Format::Count, field).under(words::DECIDING_GROUP);
    let typical = |head, field| Column::of(head, Format::Score, field).under(words::TYPICAL_GROUP);
    let distance = |head, field| Column::of(head, Format::Score, field).under(words::DISTANCE_GROUP);
    vec![
        Column::name(common::CANDIDATE),
        Column::of(common::VERDICT, Format::Words, "verdict"),
        deciding("match", "n_match"),
        deciding("off", "n_off"),
        deciding("not shown", "n_not_shown"),
        Column::of("alike within", Format::Score, "alike_within"),
        typical("scatter taken off", "typical_estimate"),
        typical("at most", "typical_bound"),
        distance("as measured", "distance"),
        distance("scatter taken off", "distance_adjusted"),
        distance("of scatter alone", "distance_of_noise"),
        Column::of("overall offset", Format::Difference, "overall_offset"),
    ]
}

fn row(analysis: &Analysis, candidate: &CandidateAnalysis) -> Vec<Cell> {
    let sample = candidate.sample.as_str();
    let again = if analysis.is_target_again(sample) { common::TARGET_AGAIN } else { "" };
    let name = Cell::words(sample).with_detail(again);
    [name].into_iter().chain(results(candidate).map(|cell| cell.selecting(sample))).collect()
}

fn results(candidate: &CandidateAnalysis) -> [Cell; 11] {
    let distance = |pick: fn(&ProfileDistance) -> f64| Cell::of(&candidate.distance, pick);
    let judged = |pick: fn(&CalibratedVerdict) -> Defined<f64>| {
        Cell::of(&candidate.judged.as_ref().map_err(Clone::clone).and_then(pick), |value| *value)
    };
    let by_profile = candidate.rule() == Some(MatchRule::Profile);
    [
        Cell::verdict(candidate.verdict).with_detail(if by_profile { words::AS_A_WHOLE } else { "" }),
        Cell::number(candidate.n_match as f64),
        Cell::number(candidate.n_off as f64),
        Cell::number(candidate.n_not_shown as f64),
        judged(|judged| judged.alike_within_mm.clone().map(|widest| widest.within)),
        judged(|judged| judged.typical.clone().map(|typical| typical.estimate)),
        judged(|judged| judged.typical.clone().map(|typical| typical.bound)),
        distance(|found| found.distance),
        distance(|found| found.distance_adjusted),
        distance(|found| found.distance_of_noise),
        distance(|found| found.overall_offset),
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
