//! Means of the samples, attribute by attribute, in the order of the ballot: side by side, and one a line for programs.

use super::sample_names::{sample_head, shown_samples};
use super::words;
use crate::stats::{Analysis, AttributeAnalysis, MeanSpread, SampleMean};
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::numbers::score;

/// One row an attribute, one column a sample, with the 95 % interval of each mean as detail; all samples where none is
/// named. In units of the scale.
pub fn means(analysis: &Analysis, samples: &[String]) -> Table {
    let shown = shown_samples(analysis, samples);
    let scale = analysis.scale_maximum;
    let heads = shown.iter().map(|name| Column::of(sample_head(analysis, name), Format::Score, "mean"));
    let columns = [Column::name(common::ATTRIBUTE)].into_iter().chain(heads).collect();
    let rows = analysis.attributes.iter().map(|attribute| row(attribute, &shown, scale));
    Table::new("means", words::means(&analysis.unit), columns, scale).with_rows(rows).with_note(words::MEANS_INTERVAL)
}

fn row(attribute: &AttributeAnalysis, samples: &[&String], scale_maximum: f64) -> Vec<Cell> {
    let cell = |name: &&String| match attribute.sample_mean(name) {
        Some(mean) => Cell::number(mean.mean).with_detail(interval(mean, scale_maximum)).selecting(*name),
        None => Cell::not_defined(common::NO_SCORES).selecting(*name),
    };
    [Cell::words(&attribute.attribute)].into_iter().chain(samples.iter().map(cell)).collect()
}

fn interval(mean: &SampleMean, scale_maximum: f64) -> String {
    match &mean.spread {
        Ok(spread) => common::span(&score(spread.lower, scale_maximum), &score(spread.upper, scale_maximum)),
        Err(_) => words::INTERVAL_NOT_DEFINED.to_owned(),
    }
}

/// One line a mean, with standard error, degrees of freedom, 95 % interval and number of scores: what other programs
/// read.
pub fn means_long(analysis: &Analysis) -> Table {
    let columns = vec![
        Column::name(common::ATTRIBUTE),
        Column::of(common::SAMPLE, Format::Words, "sample"),
        Column::of("mean", Format::Score, "mean"),
        Column::of("se", Format::Score, "se"),
        Column::of("df", Format::Statistic(1), "df"),
        Column::of("lower", Format::Score, "lower"),
        Column::of("upper", Format::Score, "upper"),
        Column::of("n", Format::Count, "n"),
    ];
    let of_attribute = |attribute: &AttributeAnalysis| -> Vec<Vec<Cell>> {
        attribute.means.iter().map(|mean| long_row(&attribute.attribute, mean)).collect()
    };
    Table::new("means-long", words::means(&analysis.unit), columns, analysis.scale_maximum)
        .in_sheet("Means")
        .with_rows(analysis.attributes.iter().flat_map(of_attribute))
}

fn long_row(attribute: &str, mean: &SampleMean) -> Vec<Cell> {
    let spread = |pick: fn(&MeanSpread) -> f64| Cell::of(&mean.spread, pick).selecting(&mean.sample);
    vec![
        Cell::words(attribute),
        Cell::words(&mean.sample).selecting(&mean.sample),
        Cell::number(mean.mean).selecting(&mean.sample),
        spread(|spread| spread.se),
        spread(|spread| spread.df),
        spread(|spread| spread.lower),
        spread(|spread| spread.upper),
        Cell::number(mean.n as f64).selecting(&mean.sample),
    ]
}
