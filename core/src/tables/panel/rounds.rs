//! Whether the panel holds from round to round, and from session to session.

use super::serving_order::adjusted;
use super::words;
use crate::stats::panel::replicate_effect::{ReplicateAnalysis, RoundFinding};
use crate::stats::panel::round_shift::RoundShift;
use crate::stats::panel::sessions::SessionPerformance;
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words as common;

/// Shifts between rounds, one line an attribute. `names` are the attributes in the order of `found`.
pub fn rounds(names: &[String], found: &[Defined<ReplicateAnalysis>]) -> Table {
    let tests = [
        (words::WHOLE_PANEL, "round_f", "round_p"),
        (words::ASSESSORS_SHIFT, "assessor_by_round_f", "assessor_by_round_p"),
        (words::SAMPLES_CHANGE, "sample_by_round_f", "sample_by_round_p"),
    ];
    let p = |head, group, field| Column::of(head, Format::Probability, field).under(group);
    let mut columns = vec![Column::name(common::ATTRIBUTE)];
    for (group, f_field, p_field) in tests {
        columns.push(Column::of(common::F, Format::Statistic(2), f_field).under(group));
        columns.push(p(common::P, group, p_field));
    }
    columns.push(p(words::ADJUSTED, words::SAMPLES_CHANGE, "sample_by_round_p_adjusted"));
    columns.push(p(words::P_WITH, words::SAMPLES_DIFFER, "sample_p_with"));
    columns.push(p(words::P_WITHOUT, words::SAMPLES_DIFFER, "sample_p_without"));
    Table::new("rounds", words::ROUNDS, columns, ANY_SCALE)
        .with_rows(names.iter().zip(found).map(|(name, one)| rounds_row(name, one)))
        .with_note(words::ROUNDS_HOW)
}

fn rounds_row(name: &str, one: &Defined<ReplicateAnalysis>) -> Vec<Cell> {
    let number = |pick: fn(&ReplicateAnalysis) -> f64| Cell::of(one, pick);
    let finding = one.as_ref().ok().map(|one| one.finding).filter(|finding| *finding != RoundFinding::NoShift);
    vec![
        Cell::words(name).with_detail(finding.map_or("", RoundFinding::in_words)),
        number(|one| one.round_effect.f),
        number(|one| one.round_effect.p),
        number(|one| one.assessor_by_round.f),
        number(|one| one.assessor_by_round.p),
        number(|one| one.sample_by_round.f),
        number(|one| one.sample_by_round.p),
        Cell::of_cell(one, |one| adjusted(one.sample_by_round_p_adjusted)),
        number(|one| one.sample_with.p),
        Cell::of_cell(one, |one| Cell::of(&one.sample_without, |test| test.p)),
    ]
}

/// Differences to the target that are shown to shift between rounds.
pub fn round_shifts(analysis: &Analysis, found: &[RoundShift]) -> Table {
    let columns = vec![
        Column::name(common::CANDIDATE),
        Column::of(common::ATTRIBUTE, Format::Words, "attribute"),
        Column::of(words::SHIFT, Format::Score, "shift").in_unit(&analysis.unit),
        Column::of(common::P, Format::Probability, "p"),
        Column::of(words::ADJUSTED, Format::Probability, "p_adjusted"),
        Column::of(words::IN_WORDS, Format::Words, "sentence"),
    ];
    let row = |one: &RoundShift| {
        let shift = one.found.as_ref().ok().filter(|shift| shift.is_shown)?;
        Some(vec![
            Cell::words(&one.candidate),
            Cell::words(&one.attribute),
            Cell::number(shift.size),
            Cell::number(shift.test.p),
            Cell::number(shift.p_adjusted),
            Cell::words(&shift.sentence),
        ])
    };
    let rows: Vec<Vec<Cell>> = found.iter().filter_map(row).collect();
    let none = if rows.is_empty() { words::NO_SHIFT } else { "" };
    Table::new("round-shifts", words::ROUND_SHIFTS, columns, analysis.scale_maximum)
        .with_rows(rows)
        .with_note(none)
        .with_note(words::SHIFTS_HOW)
}

/// The panel in each session, in the order of the sessions.
pub fn sessions(analysis: &Analysis, found: &[SessionPerformance]) -> Table {
    let columns = vec![
        Column::name(words::SESSION),
        Column::of(words::N_ASSESSORS, Format::Count, "n_assessors"),
        Column::of(words::N_SAMPLES, Format::Count, "n_samples"),
        Column::of(words::N_PAGES, Format::Count, "n_pages"),
        Column::of(words::TOLD_APART_ON, Format::Count, "n_discriminated"),
        Column::of(words::REPEATABILITY, Format::Score, "repeatability_sd").in_unit(&analysis.unit),
        Column::of(words::AGREEMENT, Format::Fixed(2), "mean_correlation"),
        Column::of(words::MEAN_MARK, Format::Score, "mean_score").in_unit(&analysis.unit),
    ];
    Table::new("sessions", words::SESSIONS, columns, analysis.scale_maximum)
        .with_rows(found.iter().map(session_row))
        .with_note(words::SESSIONS_HOW)
}

fn session_row(one: &SessionPerformance) -> Vec<Cell> {
    let maybe = |value: &Defined<f64>| Cell::of(value, |value| *value);
    vec![
        Cell::words(&one.session),
        Cell::number(one.n_assessors as f64),
        Cell::number(one.n_samples as f64),
        Cell::number(one.n_pages as f64),
        Cell::said(one.n_discriminated as f64, common::count_of(one.n_discriminated, one.n_tested)),
        maybe(&one.repeatability_sd),
        maybe(&one.mean_correlation),
        maybe(&one.mean_score),
    ]
}
