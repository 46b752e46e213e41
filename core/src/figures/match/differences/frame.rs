//! What surrounds the rows of one band of candidates: heads, axes, margin, ruling, the words at both ends.

use super::data::Band;
use super::drawing::{AXIS_SIZE_PX, Drawing};
use super::rows::{RowLayout, draw_rows};
use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::layout::round_values;
use crate::figures::scene::primitives::{Align, Label, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::text::{shorten, text_width_px};
use crate::text::numbers;

/// A band of candidates side by side, with everything that its rows share.
pub(in crate::figures) struct BandFrame<'a> {
    /// What the whole figure is drawn from.
    pub drawing: &'a Drawing<'a>,
    /// Which candidates and rows.
    pub band: Band,
    /// Where the parts of a row stand.
    pub layout: RowLayout,
    /// One a candidate.
    pub panels: Vec<Panel>,
    /// Height of each row, in the order of the band.
    pub heights: Vec<f64>,
}

/// One candidate's axis.
pub(in crate::figures) struct Panel {
    left: f64,
    width: f64,
    lower: f64,
    upper: f64,
    ticks: Vec<f64>,
}

const HEAD_SIZE_PX: f64 = 13.0;
/// From the left end of a head to its name: the sample's marker stands before it.
const HEAD_INDENT_PX: f64 = 16.0;
/// From this many rows on, the axis is repeated below.
const ROWS_WITH_SECOND_AXIS: usize = 13;

/// A candidate's name and count of verdicts as they fit above its axis.
struct Head {
    left: f64,
    name: String,
    name_px: f64,
    counts: String,
    counts_fit_beside: bool,
}

impl<'a> BandFrame<'a> {
    /// Axes and heights of rows for a band.
    pub fn lay_out(drawing: &'a Drawing<'a>, band: Band, layout: RowLayout) -> Self {
        let spans = (0..band.candidates.len()).map(|place| layout.axis_span(place));
        let panels = spans.map(|span| Panel::new(span, drawing.data.lower, drawing.data.upper)).collect();
        let heights = layout.row_heights(drawing.data, &band);
        BandFrame { drawing, band, layout, panels, heights }
    }

    /// Returns where the figure may go on.
    pub fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let y = self.heads(scene, top);
        let y = self.end_words(scene, y);
        self.value_heading(scene, y);
        let first = self.tick_values(scene, y);
        let last = first + self.heights.iter().sum::<f64>();
        self.grounds(scene, first);
        self.axis(scene, first);
        draw_rows(self, scene, first);
        let is_long = self.heights.len() >= ROWS_WITH_SECOND_AXIS;
        if is_long { self.tick_values(scene, last + 3.0) } else { last + 3.0 }
    }

    /// Each candidate's marker, name and count of verdicts above its axis.
    fn heads(&self, scene: &mut Scene, top: f64) -> f64 {
        let theme = self.drawing.theme;
        let heads: Vec<Head> = (0..self.panels.len()).map(|place| self.head(place)).collect();
        for (head, &candidate) in heads.iter().zip(&self.band.candidates) {
            let style = theme.sample_style(self.drawing.analysis, &self.drawing.data.candidates[candidate]);
            let y = top + 9.0;
            parts::sample_marker(scene, theme, Point::new(head.left + 6.0, y), 4.8, style);
            let start = head.left + HEAD_INDENT_PX;
            scene.text(Label::new(Point::new(start, y), &head.name, HEAD_SIZE_PX, theme.ink).bold(true));
            let at = if head.counts_fit_beside {
                Point::new(start + head.name_px + 10.0, y + 0.5)
            } else {
                Point::new(start, y + 16.0)
            };
            scene.text(Label::new(at, &head.counts, AXIS_SIZE_PX, theme.quiet_ink));
        }
        top + if heads.iter().all(|head| head.counts_fit_beside) { 22.0 } else { 36.0 }
    }

    fn head(&self, place: usize) -> Head {
        let sample = &self.drawing.data.candidates[self.band.candidates[place]];
        let (left, width) = self.layout.panel_span(place);
        let room = width - HEAD_INDENT_PX - 2.0;
        let name = shorten(sample, room, HEAD_SIZE_PX, true);
        let name_px = text_width_px(&name, HEAD_SIZE_PX, true);
        let counts = parts::verdict_counts(self.drawing.analysis, sample).unwrap_or_default();
        let counts = shorten(&counts, room, AXIS_SIZE_PX, false);
        let counts_fit_beside = name_px + 10.0 + text_width_px(&counts, AXIS_SIZE_PX, false) <= room;
        Head { left, name, name_px, counts, counts_fit_beside }
    }

    /// What left and right of zero mean.
    fn end_words(&self, scene: &mut Scene, top: f64) -> f64 {
        let color = self.drawing.theme.quiet_ink;
        for panel in &self.panels {
            let long = ["← less than the target", "more than the target →"];
            let long_px: f64 = long.iter().map(|words| text_width_px(words, AXIS_SIZE_PX, false)).sum();
            let [less, more] = if long_px + 10.0 <= panel.width { long } else { ["← less", "more →"] };
            let y = top + 8.0;
            scene.text(Label::new(Point::new(panel.left, y), less, AXIS_SIZE_PX, color));
            let right = Point::new(panel.left + panel.width, y);
            scene.text(Label::new(right, more, AXIS_SIZE_PX, color).align(Align::End));
        }
        top + 17.0
    }

    fn value_heading(&self, scene: &mut Scene, top: f64) {
        if let Some((right, words)) = self.layout.value_heading(&self.drawing.data.unit) {
            let at = Point::new(right, top + 8.0);
            scene.text(Label::new(at, words, AXIS_SIZE_PX, self.drawing.theme.quiet_ink).align(Align::End));
        }
    }

    /// Numbers of the axes, each where it does not touch the one before.
    fn tick_values(&self, scene: &mut Scene, top: f64) -> f64 {
        for panel in &self.panels {
            let mut free_from = f64::NEG_INFINITY;
            for &tick in &panel.ticks {
                let text = tick_words(tick, &panel.ticks);
                let half = text_width_px(&text, AXIS_SIZE_PX, false) / 2.0;
                let x = panel.x(tick).clamp(panel.left + half, panel.left + panel.width - half);
                if x - half < free_from {
                    continue;
                }
                free_from = x + half + 4.0;
                let label = Label::new(Point::new(x, top + 8.0), text, AXIS_SIZE_PX, self.drawing.theme.quiet_ink);
                scene.text(label.align(Align::Middle));
            }
        }
        top + 18.0
    }

    /// Under the rows: what is pointed at, the margin, the ruling between rows.
    fn grounds(&self, scene: &mut Scene, first: f64) {
        let theme = self.drawing.theme;
        let width_px = scene.width_px;
        let across = move |y: f64| (Point::new(EDGE_PX, y), Point::new(width_px - EDGE_PX, y));
        let mut y = first;
        for (&row, &height) in self.band.rows.iter().zip(&self.heights) {
            let attribute = &self.drawing.data.rows[row].attribute;
            if self.drawing.options.highlight_attribute.as_ref() == Some(attribute) {
                let area = Rectangle::new(EDGE_PX - 4.0, y, width_px - 2.0 * EDGE_PX + 8.0, height);
                scene.rectangle(area, theme.highlight);
            }
            self.margins(scene, row, y, height);
            y += height;
            let (from, to) = across(y);
            scene.line(from, to, Stroke::solid(theme.guide, 1.0));
        }
        let (from, to) = across(first);
        scene.line(from, to, Stroke::solid(theme.axis, 1.0));
    }

    /// Margin and zero of one row on every axis: each attribute may have a margin of its own.
    fn margins(&self, scene: &mut Scene, row: usize, y: f64, height: f64) {
        let theme = self.drawing.theme;
        let has_reasons = self.layout.has_reasons(self.drawing.data, &self.band, &self.drawing.data.rows[row]);
        let (top, lane_px) = self.layout.lane(y, height, has_reasons);
        for (panel, &candidate) in self.panels.iter().zip(&self.band.candidates) {
            let Some(difference) = &self.drawing.data.rows[row].differences[candidate] else { continue };
            let ends = [panel.x(-difference.margin.abs()), panel.x(difference.margin.abs())];
            scene.rectangle(Rectangle::new(ends[0], top, ends[1] - ends[0], lane_px), theme.band);
            parts::margin_edges(scene, theme, ends, top, top + lane_px);
            let zero = panel.x(0.0);
            scene.line(Point::new(zero, top), Point::new(zero, top + lane_px), Stroke::solid(theme.ink, 1.2));
        }
    }

    fn axis(&self, scene: &mut Scene, first: f64) {
        for panel in &self.panels {
            for &tick in &panel.ticks {
                let x = panel.x(tick);
                let mark = Stroke::solid(self.drawing.theme.axis, 1.0);
                scene.line(Point::new(x, first - 4.0), Point::new(x, first), mark);
            }
        }
    }
}

impl Panel {
    fn new((left, width): (f64, f64), lower: f64, upper: f64) -> Self {
        let ticks = (2..=12).rev().map(|wanted| Panel::ticks_within(lower, upper, wanted));
        let fits = |ticks: &Vec<f64>| {
            let words = ticks.iter().map(|&tick| text_width_px(&tick_words(tick, ticks), AXIS_SIZE_PX, false));
            let step_px =
                ticks.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min) / (upper - lower) * width;
            step_px >= words.fold(0.0, f64::max) + 12.0
        };
        // The finest ticks whose numbers have room.
        let ticks = ticks.into_iter().find(fits).unwrap_or_else(|| vec![0.0]);
        Panel { left, width, lower, upper, ticks }
    }

    fn ticks_within(lower: f64, upper: f64, wanted: usize) -> Vec<f64> {
        let mut ticks = round_values(lower, upper, wanted);
        ticks.retain(|&value| value >= lower && value <= upper);
        ticks
    }

    /// Where a value stands across the figure.
    pub fn x(&self, value: f64) -> f64 {
        let share = (value - self.lower) / (self.upper - self.lower);
        self.left + share.clamp(0.0, 1.0) * self.width
    }
}

/// A value of an axis with the decimals that the axis needs.
fn tick_words(tick: f64, all: &[f64]) -> String {
    numbers::shown_signed(tick, numbers::axis_decimals(all))
}
