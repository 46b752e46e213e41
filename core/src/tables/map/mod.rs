//! The numbers behind the map: what each axis shows, and how well each attribute is shown.

mod answer;

pub use answer::answer;

use crate::stats::map::ellipses::MapEllipses;
use crate::stats::map::product_map::{LeftOut, MapAttribute, MapAxis, ProductMap};
use crate::stats::results::Interval;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::ANY_SCALE;
use crate::tables::words::{ATTRIBUTE, FROM, INTERVAL_95, TO};

const AXES: &str = "How much does each axis show?";
const AXIS: &str = "axis";
const SHARE: &str = "share of all differences";
const CUMULATIVE: &str = "with the axes before it";
const NO_DRAWS: &str = "no panels were drawn again";
const VARIANCE: &str = "variance";
const ATTRIBUTES_SHOWN: &str = "Which attributes does this map show, and which badly? Worst first";
const SHARE_SHOWN: &str = "shown on these axes";

/// Share of the differences on each axis, the first axis first, with its interval once panels were drawn again.
pub fn axes(map: &ProductMap, ellipses: Option<&MapEllipses>) -> Table {
    let columns = vec![
        Column::name(AXIS),
        Column::of(SHARE, Format::Percent(1), "share"),
        Column::of(FROM, Format::Percent(1), "share_lower").under(INTERVAL_95),
        Column::of(TO, Format::Percent(1), "share_upper").under(INTERVAL_95),
        Column::of(CUMULATIVE, Format::Percent(1), "cumulative_share"),
        Column::of(VARIANCE, Format::Fixed(2), "variance"),
    ];
    let row = |(place, axis): (usize, &MapAxis)| {
        let interval = ellipses.and_then(|found| found.share_intervals.get(place));
        let end = |pick: fn(&Interval) -> f64| {
            interval.map_or_else(|| Cell::not_defined(NO_DRAWS), |interval| Cell::of(interval, pick))
        };
        vec![
            Cell::words(format!("{AXIS} {}", place + 1)),
            Cell::number(axis.share),
            end(|interval| interval.lower),
            end(|interval| interval.upper),
            Cell::number(axis.cumulative_share),
            Cell::number(axis.variance),
        ]
    };
    Table::new("axes", AXES, columns, ANY_SCALE).with_rows(map.axes.iter().enumerate().map(row)).with_note(&map.model)
}

/// Correlation of each attribute with two axes, counted from 0, and the part of its differences that they show; worst
/// first.
pub fn attributes(map: &ProductMap, x_axis: usize, y_axis: usize) -> Table {
    let correlation = |axis: usize, field| Column::of(format!("r with axis {}", axis + 1), Format::Fixed(2), field);
    let columns = vec![
        Column::name(ATTRIBUTE),
        Column::of(SHARE_SHOWN, Format::Percent(1), "share_shown"),
        correlation(x_axis, "correlation_across"),
        correlation(y_axis, "correlation_up"),
    ];
    let mut shown: Vec<ShownAttribute> =
        map.attributes.iter().map(|attribute| ShownAttribute::of(attribute, x_axis, y_axis)).collect();
    shown.sort_by(|a, b| a.share.total_cmp(&b.share));
    let table = Table::new("map-attributes", ATTRIBUTES_SHOWN, columns, ANY_SCALE)
        .with_rows(shown.iter().map(ShownAttribute::row));
    map.left_out.iter().fold(table, |table, left_out| table.with_note(takes_no_part(left_out)))
}

/// How well two axes show an attribute.
struct ShownAttribute<'a> {
    attribute: &'a str,
    share: f64,
    /// Correlations with the two axes.
    across_and_up: [f64; 2],
}

impl<'a> ShownAttribute<'a> {
    fn of(attribute: &'a MapAttribute, x_axis: usize, y_axis: usize) -> Self {
        let on = |axis: usize| attribute.correlations.get(axis).copied().unwrap_or(0.0);
        let (x, y) = (on(x_axis), on(y_axis));
        let share = if x_axis == y_axis { x * x } else { x * x + y * y };
        ShownAttribute { attribute: &attribute.attribute, share, across_and_up: [x, y] }
    }

    fn row(&self) -> Vec<Cell> {
        let [x, y] = self.across_and_up;
        [Cell::words(self.attribute)].into_iter().chain([self.share, x, y].map(Cell::number)).collect()
    }
}

fn takes_no_part(left_out: &LeftOut) -> String {
    format!("{} takes no part: {}.", left_out.what, left_out.because)
}
