//! What a word for the whole goes together with.

use super::{Cell, Column, Row, Table};
use crate::words::matching as words;
use crate::words::tables::{ATTRIBUTE, FROM, INTERVAL_95, TO, in_a_hundred};
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::integrated_attributes::{Association, IntegratedExplained};
use likeness_core::text::numbers::fixed;

/// The strongest association first.
pub fn integrated(found: &IntegratedExplained) -> Table {
    Table {
        name: "integrated",
        caption: words::goes_with(&found.attribute),
        corner: ATTRIBUTE.to_owned(),
        columns: vec![
            Column::plain(words::CORRELATION),
            Column::grouped(INTERVAL_95, FROM),
            Column::grouped(INTERVAL_95, TO),
            Column::plain(words::SAME_DIRECTION),
            Column::plain(words::BETWEEN_SAMPLES),
            Column::plain(words::WITHIN_SAMPLES),
        ],
        rows: found.associations.iter().map(row).collect(),
        notes: vec![found.model.clone(), words::integrated_draws(found.draws, found.seed)],
    }
}

fn row(association: &Association) -> Row {
    let plain = |field, value: f64| Cell::number("", field, value, fixed(value, 2));
    let maybe = |field, value: &Defined<f64>| match value {
        Ok(value) => plain(field, *value),
        Err(reason) => Cell::missing("", field, &reason.because),
    };
    let aside = if association.is_steady { String::new() } else { words::NOT_STEADY.to_owned() };
    let same = in_a_hundred(&fixed(100.0 * association.same_sign, 0));
    let cells = vec![
        plain("correlation", association.correlation),
        plain("correlation_lower", association.interval95.lower),
        plain("correlation_upper", association.interval95.upper),
        Cell::number("", "same_sign", association.same_sign, same),
        maybe("between_samples", &association.between_samples),
        maybe("within_samples", &association.within_samples),
    ];
    Row { head: association.attribute.clone(), aside, cells }
}
