//! What a word for the whole goes together with.

use super::words;
use crate::stats::r#match::integrated_attributes::{Association, IntegratedExplained};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words as common;

/// One row a single character, the strongest association first: correlations between -1 and 1, share of draws.
pub fn integrated(found: &IntegratedExplained) -> Table {
    let fixed = |head, field| Column::of(head, Format::Fixed(2), field);
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        fixed(words::CORRELATION, "correlation"),
        fixed(common::FROM, "correlation_lower").under(common::INTERVAL_95),
        fixed(common::TO, "correlation_upper").under(common::INTERVAL_95),
        Column::of(words::SAME_DIRECTION, Format::OfHundred, "same_sign"),
        fixed(words::BETWEEN_SAMPLES, "between_samples"),
        fixed(words::WITHIN_SAMPLES, "within_samples"),
    ];
    Table::new("integrated", words::goes_with(&found.attribute), columns, ANY_SCALE)
        .with_rows(found.associations.iter().map(row))
        .with_note(&found.model)
        .with_note(words::integrated_draws(found.draws, found.seed))
}

fn row(association: &Association) -> Vec<Cell> {
    let aside = if association.is_steady { "" } else { words::NOT_STEADY };
    vec![
        Cell::words(&association.attribute).with_detail(aside),
        Cell::number(association.correlation),
        Cell::number(association.interval95.lower),
        Cell::number(association.interval95.upper),
        Cell::number(association.same_sign),
        Cell::of(&association.between_samples, |r| *r),
        Cell::of(&association.within_samples, |r| *r),
    ]
}
