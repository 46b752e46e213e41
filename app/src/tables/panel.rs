//! The panel: what each assessor tells apart, repeats and agrees on.

use super::{Cell, Column, Content, Row, Table};
use crate::words::tables as words;
use likeness_core::stats::panel::assessor::AssessorOnAttribute;
use likeness_core::stats::panel::performance::{AssessorSummary, FailureShare, PanelAttribute, PanelPerformance};
use likeness_core::stats::{Analysis, Defined};
use likeness_core::text::numbers::{fixed, p_value, score, statistic};

/// One line an assessor, all attributes together.
pub fn assessors(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    Table {
        name: "assessors",
        caption: words::ASSESSORS.to_owned(),
        corner: words::ASSESSOR.to_owned(),
        columns: vec![
            Column::grouped(words::TELLS_APART, words::ATTRIBUTES),
            Column::grouped(words::TELLS_APART, words::FAILED),
            Column::grouped(words::REPEATS, words::within(&analysis.unit)),
            Column::grouped(words::REPEATS, words::FAILED),
            Column::grouped(words::AGREES, words::MEAN_R),
            Column::grouped(words::AGREES, words::FAILED),
        ],
        rows: panel.assessors.iter().map(|assessor| assessor_row(analysis, panel, assessor)).collect(),
        notes: vec![words::ASSESSORS_HOW.to_owned(), words::NEVER_LEFT_OUT.to_owned()],
    }
}

/// The panel as a whole, one line an attribute.
pub fn attributes(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    Table {
        name: "panel",
        caption: words::PANEL_ON_ATTRIBUTES.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: vec![
            Column::plain(words::P_SAMPLES),
            Column::grouped(words::DISAGREEMENT, words::F),
            Column::grouped(words::DISAGREEMENT, words::P),
            Column::plain(words::repeatability(&analysis.unit)),
            Column::plain(words::INTRACLASS),
        ],
        rows: panel.attributes.iter().map(|attribute| attribute_row(analysis, attribute)).collect(),
        notes: vec![words::PANEL_HOW.to_owned()],
    }
}

/// Every assessor on every attribute: F over samples, with repeatability and agreement below it.
pub fn grid(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let row = |attribute: &PanelAttribute| Row {
        head: attribute.attribute.clone(),
        aside: if attribute.panel_discriminates { String::new() } else { words::PANEL_SEES_NO_DIFFERENCE.to_owned() },
        cells: attribute.assessors.iter().map(|one| grid_cell(analysis, one)).collect(),
    };
    Table {
        name: "assessor-grid",
        caption: words::GRID.to_owned(),
        corner: words::ATTRIBUTE.to_owned(),
        columns: analysis.assessors.iter().map(Column::plain).collect(),
        rows: panel.attributes.iter().map(row).collect(),
        notes: vec![words::grid_how(&analysis.unit)],
    }
}

fn assessor_row(analysis: &Analysis, panel: &PanelPerformance, assessor: &AssessorSummary) -> Row {
    let all = panel.attributes.len();
    let count = assessor.n_discriminating;
    Row {
        head: assessor.assessor.clone(),
        aside: String::new(),
        cells: vec![
            Cell::number("", "n_discriminating", count as f64, words::count_of(count, all)),
            failed("fails_to_discriminate", &assessor.fails_to_discriminate),
            defined("repeatability_sd", &assessor.repeatability_sd, |sd| score(sd, analysis.scale_maximum)),
            failed("fails_to_repeat", &assessor.fails_to_repeat),
            defined("mean_correlation", &assessor.mean_correlation, |r| fixed(r, 2)),
            failed("fails_to_agree", &assessor.fails_to_agree),
        ],
    }
}

fn attribute_row(analysis: &Analysis, attribute: &PanelAttribute) -> Row {
    let interaction =
        |field: &'static str, pick: fn(&likeness_core::stats::FTest) -> (f64, String)| match &attribute.interaction {
            Ok(test) => {
                let (value, shown) = pick(test);
                Cell::number("", field, value, shown)
            }
            Err(reason) => Cell::missing("", field, &reason.because),
        };
    let sd = attribute.repeatability.as_ref().map(|pooled| pooled.sd).map_err(Clone::clone);
    let icc = attribute.intraclass.as_ref().map(|found| found.consistency_mean).map_err(Clone::clone);
    Row {
        head: attribute.attribute.clone(),
        aside: String::new(),
        cells: vec![
            defined("sample_p", &attribute.sample_p, p_value),
            interaction("interaction_f", |test| (test.f, fixed(test.f, 2))),
            interaction("interaction_p", |test| (test.p, p_value(test.p))),
            defined("repeatability", &sd, |sd| score(sd, analysis.scale_maximum)),
            defined("intraclass", &icc, |icc| fixed(icc, 2)),
        ],
    }
}

fn grid_cell(analysis: &Analysis, one: &AssessorOnAttribute) -> Cell {
    let repeats = match &one.repeatability {
        Ok(found) => score(found.sd, analysis.scale_maximum),
        Err(_) => words::NONE.to_owned(),
    };
    let agrees = match &one.agreement {
        Ok(found) => fixed(found.correlation, 2),
        Err(_) => words::NONE.to_owned(),
    };
    match &one.discrimination {
        Ok(test) => {
            let detail = words::grid_detail(&agrees, &repeats);
            let content = Content::Number { value: test.f, shown: statistic(test.f, 1), detail };
            Cell { content, sample: one.assessor.clone(), field: "discrimination_f" }
        }
        Err(reason) => Cell::missing(&one.assessor, "discrimination_f", &reason.because),
    }
}

fn failed(field: &'static str, share: &Defined<FailureShare>) -> Cell {
    match share {
        Ok(found) => {
            let shown = words::count_of(found.failed, found.tested);
            let percent = |part: f64| fixed(100.0 * part, 0);
            let detail = words::percent_span(&percent(found.interval95.lower), &percent(found.interval95.upper));
            Cell { content: Content::Number { value: found.share, shown, detail }, sample: String::new(), field }
        }
        Err(reason) => Cell::missing("", field, &reason.because),
    }
}

fn defined(field: &'static str, quantity: &Defined<f64>, show: impl Fn(f64) -> String) -> Cell {
    match quantity {
        Ok(value) => Cell::number("", field, *value, show(*value)),
        Err(reason) => Cell::missing("", field, &reason.because),
    }
}
