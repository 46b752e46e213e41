//! The numbers behind the map: what each axis shows, and how well each attribute is shown.

use super::{Cell, Column, Row, Table};
use crate::words::map as words;
use likeness_core::stats::map::product_map::{MapAttribute, MapAxis, ProductMap};
use likeness_core::text::numbers::fixed;

/// Share of the differences on each axis, the first axis first.
pub fn axes(map: &ProductMap) -> Table {
    let row = |(place, axis): (usize, &MapAxis)| Row {
        head: words::axis(place + 1),
        aside: String::new(),
        cells: vec![
            Cell::number("", "share", axis.share, words::percent(axis.share)),
            Cell::number("", "cumulative_share", axis.cumulative_share, words::percent(axis.cumulative_share)),
            Cell::number("", "variance", axis.variance, fixed(axis.variance, 2)),
        ],
    };
    Table {
        name: "axes",
        caption: words::AXES.to_owned(),
        corner: words::AXIS.to_owned(),
        columns: vec![Column::plain(words::SHARE), Column::plain(words::CUMULATIVE), Column::plain(words::VARIANCE)],
        rows: map.axes.iter().enumerate().map(row).collect(),
        notes: vec![map.model.clone()],
    }
}

/// Correlation of each attribute with the two axes, and the part of its differences that they show; worst first.
pub fn attributes(map: &ProductMap, x_axis: usize, y_axis: usize) -> Table {
    let on = |attribute: &MapAttribute, axis: usize| attribute.correlations.get(axis).copied().unwrap_or(0.0);
    let shown = |attribute: &MapAttribute| {
        let (x, y) = (on(attribute, x_axis), on(attribute, y_axis));
        if x_axis == y_axis { x * x } else { x * x + y * y }
    };
    let mut sorted: Vec<&MapAttribute> = map.attributes.iter().collect();
    sorted.sort_by(|a, b| shown(a).total_cmp(&shown(b)));
    let row = |attribute: &&MapAttribute| {
        let (x, y) = (on(attribute, x_axis), on(attribute, y_axis));
        Row {
            head: attribute.attribute.clone(),
            aside: String::new(),
            cells: vec![
                Cell::number("", "share_shown", shown(attribute), words::percent(shown(attribute))),
                Cell::number("", "correlation_across", x, fixed(x, 2)),
                Cell::number("", "correlation_up", y, fixed(y, 2)),
            ],
        }
    };
    Table {
        name: "map-attributes",
        caption: words::ATTRIBUTES_SHOWN.to_owned(),
        corner: crate::words::tables::ATTRIBUTE.to_owned(),
        columns: vec![
            Column::plain(words::SHARE_SHOWN),
            Column::plain(words::correlation_with(x_axis + 1)),
            Column::plain(words::correlation_with(y_axis + 1)),
        ],
        rows: sorted.iter().map(row).collect(),
        notes: map.left_out.iter().map(|left_out| words::left_out(&left_out.what, &left_out.because)).collect(),
    }
}
