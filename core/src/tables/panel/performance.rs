//! The panel: what each assessor tells apart, repeats and agrees on, over all attributes and on each.

use super::words;
use crate::stats::Analysis;
use crate::stats::panel::assessor::AssessorOnAttribute;
use crate::stats::panel::outcomes::OutcomeCounts;
use crate::stats::panel::performance::{AssessorSummary, PanelAttribute, PanelPerformance, TestCounts};
use crate::stats::results::Interval;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::numbers::{fixed, score};

/// One line an assessor, all attributes together, and one for all of them: how often each test shows, fails, or has too few
/// cups to tell.
pub fn assessors(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let told = |group: &str, field| Column::of(words::SHOWN_OR_NOT, Format::Count, field).under(group);
    let columns = vec![
        Column::name(common::ASSESSOR),
        Column::of(words::ATTRIBUTES, Format::Count, "n_discriminating").under(words::TELLS_APART),
        told(words::TELLS_APART, "fails_to_discriminate"),
        Column::of(words::SCATTER, Format::Score, "repeatability_sd").in_unit(&analysis.unit).under(words::REPEATS),
        told(words::REPEATS, "fails_to_repeat"),
        Column::of(words::MEAN_R, Format::Fixed(2), "mean_correlation").under(words::AGREES),
        told(words::AGREES, "fails_to_agree"),
    ];
    let all = panel.attributes.len();
    Table::new("assessors", words::ASSESSORS, columns, analysis.scale_maximum)
        .in_sheet("Panel")
        .with_rows(panel.assessors.iter().map(|assessor| assessor_row(assessor, all)).chain([everyone_row(&panel.all)]))
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
        .with_rows(panel.attributes.iter().map(|attribute| attribute_row(attribute, analysis.scale_maximum)))
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
        told(&assessor.counts.discrimination),
        Cell::of(&assessor.repeatability_sd, |sd| *sd),
        told(&assessor.counts.repeatability),
        Cell::of(&assessor.mean_correlation, |r| *r),
        told(&assessor.counts.agreement),
    ]
}

fn attribute_row(attribute: &PanelAttribute, scale_maximum: f64) -> Vec<Cell> {
    vec![
        Cell::words(&attribute.attribute),
        Cell::of(&attribute.sample_p, |p| *p),
        Cell::of(&attribute.interaction, |test| test.f),
        Cell::of(&attribute.interaction, |test| test.p),
        Cell::of_cell(&attribute.repeatability, |pooled| {
            let ends = pooled.interval95.as_ref();
            with_ends(Cell::number(pooled.sd), ends, |end| score(end, scale_maximum))
        }),
        Cell::of_cell(&attribute.intraclass, |found| {
            let ends = found.consistency_mean_interval95.as_ref();
            with_ends(Cell::number(found.consistency_mean), ends, |end| fixed(end, 2))
        }),
    ]
}

fn with_ends(cell: Cell, ends: Option<&Interval>, shown: impl Fn(f64) -> String) -> Cell {
    match ends {
        Some(ends) => cell.with_detail(words::interval_detail(&shown(ends.lower), &shown(ends.upper))),
        None => cell,
    }
}

fn everyone_row(all: &TestCounts) -> Vec<Cell> {
    let none = || Cell::not_defined("");
    let tests = [none(), told(&all.discrimination), none(), told(&all.repeatability), none(), told(&all.agreement)];
    [Cell::words(words::ALL_ASSESSORS)].into_iter().chain(tests).collect()
}

fn grid_cell(one: &AssessorOnAttribute, scale_maximum: f64) -> Cell {
    let none = || words::NONE.to_owned();
    let in_full = |value: f64, ends: Option<&Interval>, shown: &dyn Fn(f64) -> String| {
        words::with_interval(&shown(value), ends.map(|ends| (shown(ends.lower), shown(ends.upper))))
    };
    let millimetres = |value: f64| score(value, scale_maximum);
    let plain = |value: f64| fixed(value, 2);
    let repeats = one.repeatability.as_ref();
    let repeats = repeats.map_or_else(|_| none(), |found| in_full(found.sd, found.interval95.as_ref(), &millimetres));
    let (agrees, slope) = one.agreement.as_ref().map_or_else(
        |_| (none(), none()),
        |found| {
            let r = in_full(found.correlation, found.correlation_interval95.as_ref(), &plain);
            (r, in_full(found.slope, found.slope_interval95.as_ref(), &plain))
        },
    );
    let detail = words::grid_detail(&agrees, &slope, &repeats);
    Cell::of_cell(&one.discrimination, |test| Cell::number(test.f).with_detail(detail)).selecting(&one.assessor)
}

/// "5 / 1 / 2", worth its failures; what chance alone may bring as detail.
fn told(counts: &OutcomeCounts) -> Cell {
    if counts.tested() == 0 {
        return Cell::not_defined(words::NOTHING_TO_JUDGE);
    }
    let said = [counts.shown, counts.fails, counts.too_few_cups].map(|count| count.to_string()).join(" / ");
    Cell::said(counts.fails as f64, said).with_detail(words::by_chance(&fixed(counts.fails_by_chance, 1)))
}
