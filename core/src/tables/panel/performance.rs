//! The panel: what each assessor tells apart, repeats and agrees on, over all attributes and on each.

use super::words;
use crate::stats::panel::assessor::AssessorOnAttribute;
use crate::stats::panel::performance::{AssessorSummary, FailureShare, PanelAttribute, PanelPerformance};
use crate::stats::{Analysis, Defined};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::numbers::{fixed, score};

/// One line an assessor, all attributes together. Failures are shares, said as counts.
pub fn assessors(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let failed = |group: &str, field| Column::of(words::FAILED, Format::Percent(0), field).under(group);
    let columns = vec![
        Column::name(common::ASSESSOR),
        Column::of(words::ATTRIBUTES, Format::Count, "n_discriminating").under(words::TELLS_APART),
        failed(words::TELLS_APART, "fails_to_discriminate"),
        Column::of(words::SCATTER, Format::Score, "repeatability_sd").in_unit(&analysis.unit).under(words::REPEATS),
        failed(words::REPEATS, "fails_to_repeat"),
        Column::of(words::MEAN_R, Format::Fixed(2), "mean_correlation").under(words::AGREES),
        failed(words::AGREES, "fails_to_agree"),
    ];
    let all = panel.attributes.len();
    Table::new("assessors", words::ASSESSORS, columns, analysis.scale_maximum)
        .in_sheet("Panel")
        .with_rows(panel.assessors.iter().map(|assessor| assessor_row(assessor, all)))
        .with_note(words::ASSESSORS_HOW)
        .with_note(words::NEVER_LEFT_OUT)
}

/// The panel as a whole, one line an attribute.
pub fn attributes(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        Column::of(words::P_SAMPLES, Format::Probability, "sample_p"),
        Column::of(common::F, Format::Fixed(2), "interaction_f").under(words::DISAGREEMENT),
        Column::of(common::P, Format::Probability, "interaction_p").under(words::DISAGREEMENT),
        Column::of(words::REPEATABILITY, Format::Score, "repeatability").in_unit(&analysis.unit),
        Column::of(words::INTRACLASS, Format::Fixed(2), "intraclass"),
    ];
    Table::new("panel", words::PANEL_ON_ATTRIBUTES, columns, analysis.scale_maximum)
        .in_sheet("Panel by attribute")
        .with_rows(panel.attributes.iter().map(attribute_row))
        .with_note(words::PANEL_HOW)
}

/// Every assessor on every attribute: F over samples, with agreement and repeatability as detail.
pub fn grid(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let scale = analysis.scale_maximum;
    let heads = analysis.assessors.iter().map(|name| Column::of(name, Format::Statistic(1), "discrimination_f"));
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(heads).collect();
    let row = |attribute: &PanelAttribute| {
        let aside = if attribute.panel_discriminates { "" } else { words::PANEL_SEES_NO_DIFFERENCE };
        let name = Cell::words(&attribute.attribute).with_detail(aside);
        [name].into_iter().chain(attribute.assessors.iter().map(|one| grid_cell(one, scale))).collect()
    };
    Table::new("assessor-grid", words::GRID, columns, scale)
        .with_rows(panel.attributes.iter().map(row))
        .with_note(words::grid_how(&analysis.unit))
}

fn assessor_row(assessor: &AssessorSummary, attributes: usize) -> Vec<Cell> {
    let count = assessor.n_discriminating;
    vec![
        Cell::words(&assessor.assessor),
        Cell::said(count as f64, common::count_of(count, attributes)),
        failed(&assessor.fails_to_discriminate),
        Cell::of(&assessor.repeatability_sd, |sd| *sd),
        failed(&assessor.fails_to_repeat),
        Cell::of(&assessor.mean_correlation, |r| *r),
        failed(&assessor.fails_to_agree),
    ]
}

fn attribute_row(attribute: &PanelAttribute) -> Vec<Cell> {
    vec![
        Cell::words(&attribute.attribute),
        Cell::of(&attribute.sample_p, |p| *p),
        Cell::of(&attribute.interaction, |test| test.f),
        Cell::of(&attribute.interaction, |test| test.p),
        Cell::of(&attribute.repeatability, |pooled| pooled.sd),
        Cell::of(&attribute.intraclass, |found| found.consistency_mean),
    ]
}

fn grid_cell(one: &AssessorOnAttribute, scale_maximum: f64) -> Cell {
    let none = || words::NONE.to_owned();
    let repeats = one.repeatability.as_ref().map_or_else(|_| none(), |found| score(found.sd, scale_maximum));
    let agrees = one.agreement.as_ref().map_or_else(|_| none(), |found| fixed(found.correlation, 2));
    Cell::of_cell(&one.discrimination, |test| Cell::number(test.f).with_detail(words::grid_detail(&agrees, &repeats)))
        .selecting(&one.assessor)
}

fn failed(share: &Defined<FailureShare>) -> Cell {
    Cell::of_cell(share, |found| {
        let percent = |part: f64| fixed(100.0 * part, 0);
        let interval = words::percent_span(&percent(found.interval95.lower), &percent(found.interval95.upper));
        Cell::said(found.share, common::count_of(found.failed, found.tested)).with_detail(interval)
    })
}
