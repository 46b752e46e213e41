//! What hangs on one person, and how each person uses the line.

use super::{Cell, Column, Content, Row, Table};
use crate::words::panel as say;
use crate::words::tables as words;
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::leave_one_out::{CandidateVerdict, Influence, WithoutAssessor};
use likeness_core::stats::panel::scale_use::ScaleUse;
use likeness_core::text::numbers::{fixed, p_value};

/// Verdicts with everybody and without each assessor.
pub fn influence(found: &Influence) -> Table {
    let verdicts = |candidates: &[CandidateVerdict]| -> Vec<Cell> {
        let cell = |one: &CandidateVerdict| Cell {
            content: Content::Verdict(one.verdict),
            sample: one.sample.clone(),
            field: "verdict",
        };
        candidates.iter().map(cell).collect()
    };
    let everybody = {
        let mut cells = verdicts(&found.everybody);
        cells.push(Cell::number("", "n_changed", 0.0, "0".to_owned()));
        Row { head: say::EVERYBODY.to_owned(), aside: String::new(), cells }
    };
    let without = |one: &WithoutAssessor| {
        let mut cells = verdicts(&one.candidates);
        let mut names: Vec<String> = one.attributes.iter().map(|changed| changed.attribute.clone()).collect();
        names.sort();
        names.dedup();
        let content = Content::Number {
            value: names.len() as f64,
            shown: names.len().to_string(),
            detail: say::first_of(&names),
        };
        cells.push(Cell { content, sample: String::new(), field: "n_changed" });
        let aside = if one.changed.is_empty() { String::new() } else { say::verdict_changes(&one.changed) };
        Row { head: format!("{} {}", say::WITHOUT, one.assessor), aside, cells }
    };
    let candidates = found.everybody.iter().map(|one| Column::plain(one.sample.clone()));
    Table {
        name: "influence",
        caption: say::HANGS_CAPTION.to_owned(),
        corner: words::ASSESSOR.to_owned(),
        columns: candidates.chain([Column::plain(say::ATTRIBUTES_CHANGED)]).collect(),
        rows: std::iter::once(everybody).chain(found.without.iter().map(without)).collect(),
        notes: vec![say::HANGS_HOW.to_owned()],
    }
}

/// One line an attribute, one column an assessor. `names` are the attributes in their order.
pub fn line_use(assessors: &[String], names: &[String], found: &[Defined<ScaleUse>]) -> Table {
    let row = |(name, one): (&String, &Defined<ScaleUse>)| {
        let slope = |assessor: &String| match one {
            Ok(one) => match one.slopes.iter().find(|slope| slope.assessor == *assessor) {
                Some(slope) => Cell::number(assessor, "slope", slope.slope, fixed(slope.slope, 2)),
                None => Cell::missing(assessor, "slope", ""),
            },
            Err(reason) => Cell::missing(assessor, "slope", &reason.because),
        };
        let p = match one {
            Ok(one) => Cell::number("", "scaling_p", one.scaling_test.p, p_value(one.scaling_test.p)),
            Err(reason) => Cell::missing("", "scaling_p", &reason.because),
        };
        Row {
            head: name.clone(),
            aside: one.as_ref().map_or_else(|_| String::new(), |one| one.advice.clone()),
            cells: assessors.iter().map(slope).chain([p]).collect(),
        }
    };
    Table {
        name: "line-use",
        caption: say::LINE_USE_CAPTION.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: assessors.iter().map(Column::plain).chain([Column::grouped(say::STRETCHING, words::P)]).collect(),
        rows: names.iter().zip(found).map(row).collect(),
        notes: vec![say::LINE_USE_HOW.to_owned()],
    }
}
