//! The analysis of variance of every attribute, with the wrong denominator beside the right one, as teaching.

use super::words;
use crate::stats::samples::multiplicity::{AdjustedP, adjust_over_attributes};
use crate::stats::{Analysis, Anova, AnovaTable, AttributeAnalysis, Defined, ModelVariances, NotDefined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;

/// One line an attribute: test of the sample effect, p over all attributes, mean squares and variances in squared units
/// of the scale, scores; last and marked as a warning, F on the wrong denominator.
pub fn anova(analysis: &Analysis) -> Table {
    let adjusted = adjust_over_attributes(&analysis.sample_p());
    let tests = adjusted.iter().flatten().count();
    let rows = analysis.attributes.iter().zip(&adjusted).map(|(attribute, adjusted)| row(attribute, adjusted));
    Table::new("anova", words::ANOVA, columns(analysis.scale_maximum), analysis.scale_maximum)
        .in_sheet("ANOVA")
        .with_rows(rows)
        .with_note(words::ANOVA_RIGHT)
        .with_note(words::adjusted_over(tests))
        .with_note(words::ANOVA_WRONG)
}

fn columns(scale_maximum: f64) -> Vec<Column> {
    let test = [
        Column::name(common::ATTRIBUTE),
        Column::of(common::F, Format::Fixed(2), "f"),
        Column::of(words::DF_SAMPLE, Format::Statistic(1), "sample_df").under(words::DF_GROUP),
        Column::of(words::DF_ERROR, Format::Statistic(1), "error_df").under(words::DF_GROUP),
        Column::of(common::P, Format::Probability, "p"),
        Column::of(words::HOLM_COLUMN, Format::Probability, "p_holm").under(words::P_OVER_ATTRIBUTES),
        Column::of(words::SHARE_COLUMN, Format::Probability, "p_benjamini_hochberg").under(words::P_OVER_ATTRIBUTES),
    ];
    test.into_iter().chain(square_columns(scale_maximum)).chain(last_columns()).collect()
}

fn square_columns(scale_maximum: f64) -> [Column; 6] {
    // A variance on a short scale is a small number.
    let squares = Format::Fixed(if scale_maximum >= 50.0 { 1 } else { 3 });
    let mean_square = |head, field| Column::of(head, Format::Fixed(1), field).under(words::MS_GROUP);
    let variance = |head, field| Column::of(head, squares, field).under(words::VARIANCE_GROUP);
    [
        mean_square(words::MS_SAMPLE, "ms_sample"),
        mean_square(words::ASSESSOR_BY_SAMPLE, "ms_interaction"),
        mean_square(words::ERROR, "ms_error"),
        variance(common::ASSESSOR, "var_assessor"),
        variance(words::ASSESSOR_BY_SAMPLE, "var_interaction"),
        variance(words::ERROR, "var_error"),
    ]
}

fn last_columns() -> [Column; 3] {
    [
        Column::of(words::SCORES_USED, Format::Count, "n_used").under(words::SCORES_GROUP),
        Column::of(words::SCORES_DROPPED, Format::Count, "n_dropped").under(words::SCORES_GROUP),
        Column::of(words::WRONG_F, Format::Fixed(2), "f_on_error_wrong").under(words::WRONG_GROUP).as_warning(),
    ]
}

fn row(attribute: &AttributeAnalysis, adjusted: &Defined<AdjustedP>) -> Vec<Cell> {
    let anova = |pick: fn(&Anova) -> f64| Cell::of(&attribute.anova, pick);
    let [samples, interaction, error, wrong] = of_table(attribute);
    let [assessor, by_sample, within] = variances(&attribute.model);
    vec![
        Cell::words(&attribute.attribute),
        anova(|anova| anova.f),
        anova(|anova| anova.sample_df),
        anova(|anova| anova.error_df),
        anova(|anova| anova.p),
        Cell::of(adjusted, |adjusted| adjusted.holm),
        Cell::of(adjusted, |adjusted| adjusted.benjamini_hochberg),
        samples,
        interaction,
        error,
        assessor,
        by_sample,
        within,
        Cell::number(attribute.n_used as f64),
        Cell::number(attribute.n_dropped as f64),
        wrong,
    ]
}

/// Mean squares of samples, assessor x sample and error, and F on the error.
fn of_table(attribute: &AttributeAnalysis) -> [Cell; 4] {
    let table: Result<&AnovaTable, &NotDefined> = attribute.anova.as_ref().and_then(|anova| anova.table.as_ref());
    let cell =
        |pick: fn(&AnovaTable) -> Cell| table.map_or_else(|reason| Cell::not_defined(reason.because.clone()), pick);
    [
        cell(|table| Cell::number(table.sample.ms)),
        cell(|table| Cell::number(table.interaction.ms)),
        cell(|table| Cell::of(&table.error, |line| line.ms)),
        cell(|table| Cell::of(&table.f_on_error_wrong, |f| *f)),
    ]
}

/// Between assessors, of assessor x sample, of error.
fn variances(model: &Defined<ModelVariances>) -> [Cell; 3] {
    [
        Cell::of(model, |model| model.var_assessor),
        Cell::of_cell(model, |model| Cell::of(&model.var_interaction, |variance| *variance)),
        Cell::of(model, |model| model.var_error),
    ]
}
