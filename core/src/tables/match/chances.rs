//! How often this panel would reach each verdict, and what margins it could show for the target against itself.

use super::words;
use crate::stats::Analysis;
use crate::stats::r#match::calibrated::{Chances, NextMargins, Truth};
use crate::stats::r#match::panel_chances::PanelChances;
use crate::table::{Cell, Column, Format, Table};
use crate::text::numbers::{fixed, score};

/// One row a truth; shares of simulated studies.
pub fn chances(analysis: &Analysis, found: &PanelChances) -> Table {
    let share = |head: &str, field| Column::of(head, Format::OfHundred, field);
    let columns = vec![
        Column::name(words::IF_TRUE),
        share("match, each attribute", "match_each_attribute"),
        share("match, as a whole", "match_profile"),
        share("not shown", "not_shown"),
        share("off", "off"),
    ];
    Table::new("chances", words::CHANCES, columns, analysis.scale_maximum)
        .with_rows(found.chances.iter().map(|chances| row(analysis, chances)))
        .with_note(words::chances_how(found.n_assessors, found.n_attributes, found.studies))
}

fn row(analysis: &Analysis, chances: &Chances) -> Vec<Cell> {
    let share = |count: u64| Cell::number(chances.share(count));
    vec![
        Cell::words(chances.truth.in_words(&analysis.unit)),
        share(chances.match_each_attribute),
        share(chances.match_profile),
        share(chances.not_shown),
        share(chances.off),
    ]
}

/// "A sample that does not differ at all would match 83 times in 100 ...": what the panel is good for.
pub fn chances_sentence(analysis: &Analysis, found: &PanelChances) -> String {
    let times = |chances: &Chances, count: u64| fixed(100.0 * chances.share(count), 0);
    let sentence = |chances: &Chances| match chances.truth {
        Truth::Duplicate => format!(
            "a true duplicate would be shown to match {} times in 100",
            times(chances, chances.match_each_attribute + chances.match_profile)
        ),
        _ => {
            let truth = chances.truth.in_words(&analysis.unit);
            format!("a sample with {truth} would be called off {} times", times(chances, chances.off))
        }
    };
    let told = found.chances.iter().take(2).map(sentence).collect::<Vec<_>>();
    format!("At this panel's scatter {}.", told.join(", and "))
}

/// One row: margins within which the target would be shown to match itself, in 80 of 100 studies.
pub fn next_margins(analysis: &Analysis, found: &NextMargins) -> Table {
    let unit = &analysis.unit;
    let size = |head: &str, field| Column::of(head, Format::Score, field).in_unit(unit);
    let columns = vec![
        Column::name(words::MARGIN_OF),
        size("least margin", "mm"),
        Column::of("in margins of today", Format::Fixed(2), "multiple"),
    ];
    let rows = [
        (words::OF_EACH, found.each_attribute_mm, found.each_attribute_multiple),
        (words::OF_TYPICAL, found.typical_mm, found.typical_multiple),
    ];
    Table::new("next-margins", words::NEXT_MARGINS, columns, analysis.scale_maximum)
        .with_rows(rows.map(|(name, mm, multiple)| vec![Cell::words(name), Cell::number(mm), Cell::number(multiple)]))
        .with_note(words::next_margins_how(
            &score(found.each_attribute_mm, analysis.scale_maximum),
            unit,
            found.share,
            found.draws,
        ))
}
