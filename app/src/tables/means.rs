//! Means of the samples, attribute by attribute, in the order of the ballot.

use super::{Cell, Column, Content, Row, Table};
use crate::words::tables as words;
use likeness_core::stats::{Analysis, AttributeAnalysis, SampleMean};
use likeness_core::text::numbers::score;

/// Means with the 95 % interval of each mean, for the samples named (all where none is).
pub fn means(analysis: &Analysis, shown: &[String]) -> Table {
    let samples: Vec<&String> =
        analysis.samples.iter().filter(|name| shown.is_empty() || shown.contains(name)).collect();
    let head = |name: &String| {
        let is_target = analysis.target.as_ref() == Some(name);
        Column::plain(if is_target { words::target_head(name) } else { name.clone() })
    };
    Table {
        name: "means",
        caption: words::means(&analysis.unit),
        corner: words::ATTRIBUTE.to_owned(),
        columns: samples.iter().map(|name| head(name)).collect(),
        rows: analysis.attributes.iter().map(|attribute| row(analysis, attribute, &samples)).collect(),
        notes: vec![words::MEANS_INTERVAL.to_owned()],
    }
}

fn row(analysis: &Analysis, attribute: &AttributeAnalysis, samples: &[&String]) -> Row {
    let cell = |name: &&String| match attribute.means.iter().find(|mean| mean.sample == **name) {
        Some(mean) => mean_cell(mean, analysis.scale_maximum),
        None => Cell::missing(name, "mean", words::NO_SCORES),
    };
    Row { head: attribute.attribute.clone(), aside: String::new(), cells: samples.iter().map(cell).collect() }
}

fn mean_cell(mean: &SampleMean, scale_maximum: f64) -> Cell {
    let detail = match &mean.spread {
        Ok(spread) => words::span(&score(spread.lower, scale_maximum), &score(spread.upper, scale_maximum)),
        Err(_) => words::INTERVAL_NOT_DEFINED.to_owned(),
    };
    let content = Content::Number { value: mean.mean, shown: score(mean.mean, scale_maximum), detail };
    Cell { content, sample: mean.sample.clone(), field: "mean" }
}

/// Means with standard errors, degrees of freedom and intervals, one line a mean: what other programs read.
pub fn means_for_programs(analysis: &Analysis) -> Table {
    let rows = analysis.attributes.iter().flat_map(|attribute| {
        attribute.means.iter().map(|mean| Row {
            head: attribute.attribute.clone(),
            aside: mean.sample.clone(),
            cells: program_cells(mean),
        })
    });
    Table {
        name: "means",
        caption: words::means(&analysis.unit),
        corner: words::ATTRIBUTE.to_owned(),
        columns: ["mean", "se", "df", "lower", "upper", "n"].map(Column::plain).to_vec(),
        rows: rows.collect(),
        notes: Vec::new(),
    }
}

fn program_cells(mean: &SampleMean) -> Vec<Cell> {
    let plain = |field, value: f64| Cell::number(&mean.sample, field, value, value.to_string());
    let mut cells = vec![plain("mean", mean.mean)];
    match &mean.spread {
        Ok(spread) => cells.extend([
            plain("se", spread.se),
            plain("df", spread.df),
            plain("lower", spread.lower),
            plain("upper", spread.upper),
        ]),
        Err(reason) => cells
            .extend(["se", "df", "lower", "upper"].map(|field| Cell::missing(&mean.sample, field, &reason.because))),
    }
    cells.push(plain("n", mean.n as f64));
    cells
}
