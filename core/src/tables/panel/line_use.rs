//! How each person uses the line.

use super::words;
use crate::stats::Defined;
use crate::stats::panel::scale_use::ScaleUse;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words as common;

/// One line an attribute, one column an assessor: slope on the panel's means, and p of the stretching. `names` are the
/// attributes in the order of `found`.
pub fn line_use(assessors: &[String], names: &[String], found: &[Defined<ScaleUse>]) -> Table {
    let slopes = assessors.iter().map(|assessor| Column::of(assessor, Format::Fixed(2), "slope"));
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(slopes).chain([Column::of(
        common::P,
        Format::Probability,
        "scaling_p",
    )
    .under(words::STRETCHING)]);
    Table::new("line-use", words::LINE_USE, columns.collect(), ANY_SCALE)
        .with_rows(names.iter().zip(found).map(|(name, one)| row(assessors, name, one)))
        .with_note(words::LINE_USE_HOW)
}

fn row(assessors: &[String], name: &str, one: &Defined<ScaleUse>) -> Vec<Cell> {
    let advice = one.as_ref().map_or("", |one| one.advice.as_str());
    let slope = |assessor: &String| {
        let of = |one: &ScaleUse| match one.slopes.iter().find(|slope| slope.assessor == *assessor) {
            Some(slope) => Cell::number(slope.slope),
            None => Cell::not_defined(""),
        };
        Cell::of_cell(one, of).selecting(assessor)
    };
    let p = Cell::of(one, |one| one.scaling_test.p);
    [Cell::words(name).with_detail(advice)].into_iter().chain(assessors.iter().map(slope)).chain([p]).collect()
}
