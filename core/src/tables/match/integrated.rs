//! What a word for the whole goes together with.

use super::words;
use crate::stats::r#match::integrated_attributes::{Association, IntegratedExplained, OverSamples};
use crate::stats::results::Interval;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words as common;

const P_TOGETHER: &str = "p, all attributes together";
const OVER_ASSESSORS: &str = "over assessors and samples";
const NO_INTERVAL: &str = "a correlation of 1 has none";

/// One row a single character, the strongest association over samples first: correlations between -1 and 1, share of draws.
pub fn integrated(found: &IntegratedExplained) -> Table {
    let fixed = |head, field| Column::of(head, Format::Fixed(2), field);
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        fixed(words::CORRELATION, "over_samples").under(words::BETWEEN_SAMPLES),
        fixed(common::FROM, "over_samples_lower").under(words::BETWEEN_SAMPLES),
        fixed(common::TO, "over_samples_upper").under(words::BETWEEN_SAMPLES),
        Column::of(P_TOGETHER, Format::Probability, "over_samples_p_adjusted").under(words::BETWEEN_SAMPLES),
        fixed(words::CORRELATION, "correlation").under(OVER_ASSESSORS),
        Column::of(words::SAME_DIRECTION, Format::OfHundred, "same_sign").under(OVER_ASSESSORS),
        fixed(words::WITHIN_SAMPLES, "within_samples"),
    ];
    Table::new("integrated", words::goes_with(&found.attribute), columns, ANY_SCALE)
        .with_rows(found.associations.iter().map(row))
        .with_note(&found.model)
        .with_note(words::integrated_draws(found.draws, found.seed))
}

fn row(association: &Association) -> Vec<Cell> {
    let aside = if association.is_steady || association.over_samples.is_err() { "" } else { words::NOT_STEADY };
    let over = &association.over_samples;
    let end = |pick: fn(&Interval) -> f64| {
        let cell = |found: &OverSamples| {
            found.interval95.as_ref().map_or_else(|| Cell::not_defined(NO_INTERVAL), |ends| Cell::number(pick(ends)))
        };
        Cell::of_cell(over, cell)
    };
    vec![
        Cell::words(&association.attribute).with_detail(aside),
        Cell::of(over, |found| found.correlation),
        end(|ends| ends.lower),
        end(|ends| ends.upper),
        Cell::of(over, |found| found.p_adjusted),
        Cell::number(association.correlation),
        Cell::number(association.same_sign),
        Cell::of(&association.within_samples, |r| *r),
    ]
}
