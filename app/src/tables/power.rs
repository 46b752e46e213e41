//! What this panel could have shown, attribute by attribute, least first.

use super::{Cell, Column, Row, Table};
use crate::words::matching as words;
use crate::words::tables::{DF, NOT_DECIDING};
use likeness_core::stats::r#match::power::PowerReached;
use likeness_core::stats::{Analysis, Defined};
use likeness_core::text::numbers::{fixed, score};

/// One attribute with its power, or why there is none.
pub type AttributePower = (String, Defined<PowerReached>);

pub fn power(analysis: &Analysis, found: &[AttributePower]) -> Table {
    let mut sorted: Vec<&AttributePower> = found.iter().collect();
    let chance = |one: &AttributePower| one.1.as_ref().map_or(2.0, |reached| reached.p_match);
    sorted.sort_by(|a, b| chance(a).total_cmp(&chance(b)));
    Table {
        name: "power",
        caption: words::POWER_CAPTION.to_owned(),
        corner: crate::words::tables::ATTRIBUTE.to_owned(),
        columns: vec![
            Column::plain(words::POWER_CHANCE),
            Column::plain(words::POWER_NEEDED),
            Column::plain(words::half_width(&analysis.unit)),
            Column::plain(words::own_margin(&analysis.unit)),
            Column::plain(words::scatter_of_difference(&analysis.unit)),
            Column::plain(DF),
        ],
        rows: sorted.into_iter().map(|one| row(analysis, one)).collect(),
        notes: vec![words::POWER_HOW.to_owned()],
    }
}

fn row(analysis: &Analysis, (attribute, reached): &AttributePower) -> Row {
    const FIELDS: [&str; 6] = ["p_match", "assessors_needed", "half_width", "margin", "sd_of_difference", "df"];
    let decides = analysis.attributes.iter().any(|one| one.attribute == *attribute && one.deciding);
    let aside = if decides { String::new() } else { NOT_DECIDING.to_owned() };
    let cells = match reached {
        Err(reason) => FIELDS.map(|field| Cell::missing("", field, &reason.because)).to_vec(),
        Ok(reached) => {
            let size = |field, value: f64| Cell::number("", field, value, score(value, analysis.scale_maximum));
            let needed = match &reached.assessors_needed {
                Ok(count) => Cell::number("", "assessors_needed", *count as f64, count.to_string()),
                Err(reason) => Cell::missing("", "assessors_needed", &reason.because),
            };
            let chance = crate::words::tables::in_a_hundred(&fixed(100.0 * reached.p_match, 0));
            let df = reached.plan.assessors as f64 - 1.0;
            vec![
                Cell::number("", "p_match", reached.p_match, chance),
                needed,
                size("half_width", reached.half_width),
                Cell::number("", "margin", reached.margin, crate::words::number(reached.margin)),
                size("sd_of_difference", reached.sd_of_difference),
                Cell::number("", "df", df, fixed(df, 0)),
            ]
        }
    };
    Row { head: attribute.clone(), aside, cells }
}
