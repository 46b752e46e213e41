//! What this panel could have shown, attribute by attribute.

use super::words;
use crate::stats::Analysis;
use crate::stats::r#match::panel_power::{AttributePower, PanelPower};
use crate::stats::r#match::power::PowerReached;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// One row an attribute, the least likely to be shown first: chance, assessors needed, sizes in units of the scale.
pub fn power(analysis: &Analysis, found: &PanelPower) -> Table {
    let unit = &analysis.unit;
    let size = |head, format, field| Column::of(head, format, field).in_unit(unit);
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        Column::of(words::POWER_CHANCE, Format::OfHundred, "p_match"),
        Column::of(words::POWER_NEEDED, Format::Count, "assessors_needed"),
        size(words::HALF_WIDTH, Format::Score, "half_width"),
        size(words::OWN_MARGIN, Format::Typed, "margin"),
        size(words::SCATTER_OF_DIFFERENCE, Format::Score, "sd_of_difference"),
        Column::of(common::DF, Format::Fixed(0), "df"),
    ];
    Table::new("power", words::POWER, columns, analysis.scale_maximum)
        .with_rows(least_first(found).into_iter().map(|one| row(analysis, one)))
        .with_note(words::POWER_HOW)
}

/// What is not defined stands last.
fn least_first(found: &PanelPower) -> Vec<&AttributePower> {
    let chance = |one: &AttributePower| one.reached.as_ref().map_or(2.0, |reached| reached.p_match);
    let mut sorted: Vec<&AttributePower> = found.attributes.iter().collect();
    sorted.sort_by(|a, b| chance(a).total_cmp(&chance(b)));
    sorted
}

fn row(analysis: &Analysis, one: &AttributePower) -> Vec<Cell> {
    let decides = analysis.attributes.iter().any(|known| known.attribute == one.attribute && known.deciding);
    let number = |pick: fn(&PowerReached) -> f64| Cell::of(&one.reached, pick);
    vec![
        Cell::words(&one.attribute).with_detail(if decides { "" } else { common::NOT_DECIDING }),
        number(|reached| reached.p_match),
        Cell::of_cell(&one.reached, |reached| Cell::of(&reached.assessors_needed, |count| *count as f64)),
        number(|reached| reached.half_width),
        number(|reached| reached.margin),
        number(|reached| reached.sd_of_difference),
        number(|reached| reached.plan.assessors as f64 - 1.0),
    ]
}
