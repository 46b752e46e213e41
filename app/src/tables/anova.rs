//! The analysis of variance of every attribute, with the wrong denominator beside the right one, as teaching.

use super::{Cell, Column, Row, Table};
use crate::words::{profile, tables as words};
use likeness_core::stats::samples::multiplicity::{AdjustedP, adjust_over_attributes};
use likeness_core::stats::{Analysis, Anova, AnovaTable, AttributeAnalysis, Defined};
use likeness_core::text::numbers::{fixed, p_value, statistic};

pub fn anova(analysis: &Analysis) -> Table {
    let p = |attribute: &AttributeAnalysis| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone);
    let adjusted = adjust_over_attributes(&analysis.attributes.iter().map(p).collect::<Vec<_>>());
    let tests = adjusted.iter().flatten().count();
    let wrong = Column { is_warning: true, ..Column::grouped(words::WRONG_GROUP, words::WRONG_F) };
    Table {
        name: "anova",
        caption: words::ANOVA.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: vec![
            Column::plain(words::F),
            Column::grouped(words::DF_GROUP, words::DF_SAMPLE),
            Column::grouped(words::DF_GROUP, words::DF_ERROR),
            Column::plain(words::P),
            Column::grouped(profile::P_OVER_ATTRIBUTES, profile::HOLM_COLUMN),
            Column::grouped(profile::P_OVER_ATTRIBUTES, profile::SHARE_COLUMN),
            Column::grouped(words::MS_GROUP, words::MS_SAMPLE),
            Column::grouped(words::MS_GROUP, words::MS_INTERACTION),
            Column::grouped(words::MS_GROUP, words::MS_ERROR),
            wrong,
        ],
        rows: analysis.attributes.iter().zip(&adjusted).map(|(attribute, adjusted)| row(attribute, adjusted)).collect(),
        notes: vec![words::ANOVA_RIGHT.to_owned(), profile::adjusted_over(tests), words::ANOVA_WRONG.to_owned()],
    }
}

fn row(attribute: &AttributeAnalysis, adjusted: &Defined<AdjustedP>) -> Row {
    let cells = match (&attribute.anova, adjusted) {
        (Ok(anova), Ok(adjusted)) => cells(anova, *adjusted),
        (Err(reason), _) | (_, Err(reason)) => FIELDS.map(|field| Cell::missing("", field, &reason.because)).to_vec(),
    };
    Row { head: attribute.attribute.clone(), aside: String::new(), cells }
}

const FIELDS: [&str; 10] = [
    "f",
    "sample_df",
    "error_df",
    "p",
    "p_holm",
    "p_benjamini_hochberg",
    "ms_sample",
    "ms_interaction",
    "ms_error",
    "f_on_error_wrong",
];

fn cells(anova: &Anova, adjusted: AdjustedP) -> Vec<Cell> {
    let mut cells = vec![
        Cell::number("", "f", anova.f, fixed(anova.f, 2)),
        Cell::number("", "sample_df", anova.sample_df, statistic(anova.sample_df, 1)),
        Cell::number("", "error_df", anova.error_df, statistic(anova.error_df, 1)),
        Cell::number("", "p", anova.p, p_value(anova.p)),
        Cell::number("", "p_holm", adjusted.holm, p_value(adjusted.holm)),
        Cell::number("", "p_benjamini_hochberg", adjusted.benjamini_hochberg, p_value(adjusted.benjamini_hochberg)),
    ];
    match &anova.table {
        Ok(table) => cells.extend(mean_squares(table)),
        Err(reason) => cells.extend(FIELDS[6..].iter().map(|field| Cell::missing("", field, &reason.because))),
    }
    cells
}

fn mean_squares(table: &AnovaTable) -> [Cell; 4] {
    let plain = |field, value: f64| Cell::number("", field, value, fixed(value, 1));
    let error = match &table.error {
        Ok(line) => plain("ms_error", line.ms),
        Err(reason) => Cell::missing("", "ms_error", &reason.because),
    };
    let wrong = match &table.f_on_error_wrong {
        Ok(f) => Cell::number("", "f_on_error_wrong", *f, fixed(*f, 2)),
        Err(reason) => Cell::missing("", "f_on_error_wrong", &reason.because),
    };
    [plain("ms_sample", table.sample.ms), plain("ms_interaction", table.interaction.ms), error, wrong]
}
