//! The rows of the figure of differences: name, interval and point on the axis, verdict, value.
//!
//! In a wide figure all stands in one line; in a narrow one the words stand above the axis.

use super::data::{Band, DifferenceRow, DifferencesData, verdict_words};
use super::drawing::{AXIS_SIZE_PX, Drawing, NAME_SIZE_PX, PANEL_GAP_PX};
use super::frame::{BandFrame, Panel};
use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::{Align, Label, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{text_width_px, wrap};
use crate::stats::{TargetDifference, Verdict};

/// Where the parts of a row stand across the figure, and how high rows are.
pub struct RowLayout {
    width_px: f64,
    names_px: f64,
    panels: usize,
    is_stacked: bool,
    /// Icon and word of the verdict.
    verdict_px: f64,
    /// "+14 (9 to 19)"; zero where candidates stand side by side.
    value_px: f64,
    /// Whether the verdict's word stands beside its icon.
    has_words: bool,
}

const NAME_LINE_PX: f64 = 15.0;
const REASON_SIZE_PX: f64 = 10.5;
const REASON_LINE_PX: f64 = 13.0;
const ROW_PX: f64 = 22.0;
const STACKED_LANE_PX: f64 = 17.0;
const ICON_PX: f64 = 16.0;
const INTERVAL_WIDTH_PX: f64 = 3.0;
/// Room for brackets around an icon that has no word.
const BRACKETS_PX: f64 = 12.0;

impl RowLayout {
    /// Widths that hold every word of the figure, for so many panels beside each other.
    pub fn new(width_px: f64, names_px: f64, panels: usize, is_stacked: bool, data: &DifferencesData) -> Self {
        let all = || data.rows.iter().flat_map(|row| row.differences.iter().flatten());
        let widest_value = all().map(|entry| text_width_px(&data.value_words(entry), NAME_SIZE_PX, false));
        let heading = value_heading_words(&data.unit);
        let heading = if is_stacked { 0.0 } else { text_width_px(&heading, AXIS_SIZE_PX, false) };
        let value_px = if panels == 1 { widest_value.fold(heading, f64::max).ceil() + 10.0 } else { 0.0 };
        let panel_px = (width_px - 2.0 * EDGE_PX - names_px) / panels as f64 - PANEL_GAP_PX;
        let has_words = panels == 1 || panel_px > 300.0;
        let any_bracketed = data.rows.iter().any(|row| !row.deciding);
        let widest_word = if any_bracketed { "(not shown)" } else { "not shown" };
        // Off is set in bold; its word is the shortest, so the width of "not shown" holds for all.
        let word_px = if has_words { text_width_px(widest_word, NAME_SIZE_PX, false) + 4.0 } else { 2.0 };
        let word_px = if any_bracketed && !has_words { BRACKETS_PX } else { word_px };
        RowLayout { width_px, names_px, panels, is_stacked, verdict_px: ICON_PX + word_px, value_px, has_words }
    }

    /// Left end and width of all that belongs to one candidate.
    pub fn panel_span(&self, place: usize) -> (f64, f64) {
        let room = self.width_px - 2.0 * EDGE_PX - self.names_px + PANEL_GAP_PX;
        let step = room / self.panels as f64;
        (EDGE_PX + self.names_px + step * place as f64, step - PANEL_GAP_PX)
    }

    /// Left end and width of a candidate's axis.
    pub fn axis_span(&self, place: usize) -> (f64, f64) {
        let (left, width) = self.panel_span(place);
        if self.is_stacked {
            return (left, width);
        }
        (left, (width - self.verdict_px - self.value_px - 8.0).max(40.0))
    }

    /// Right end and heading of the column of values; none where there is no such column.
    pub fn value_heading(&self, unit: &str) -> Option<(f64, String)> {
        let has_column = self.panels == 1 && !self.is_stacked;
        has_column.then(|| (self.width_px - EDGE_PX, value_heading_words(unit)))
    }

    /// Top and height of the axis' part of a row; reasons stand below it, clear of its lines.
    pub fn lane(&self, top: f64, height: f64, has_reasons: bool) -> (f64, f64) {
        match (self.is_stacked, has_reasons) {
            (true, _) => (top + height - STACKED_LANE_PX - 1.0, STACKED_LANE_PX),
            (false, true) => (top, ROW_PX),
            (false, false) => (top, height),
        }
    }

    /// Whether a row says why something has no interval.
    pub fn has_reasons(&self, data: &DifferencesData, band: &Band, row: &DifferenceRow) -> bool {
        self.reason_lines(data, band, row).iter().any(|lines| !lines.is_empty())
    }

    /// Height of each row of a band, in its order.
    pub fn row_heights(&self, data: &DifferencesData, band: &Band) -> Vec<f64> {
        let height = |&row: &usize| {
            let row = &data.rows[row];
            let names = self.name_lines(band, row).len().max(1) as f64;
            let reasons = self.reason_lines(data, band, row).iter().map(Vec::len).max().unwrap_or(0) as f64;
            let none_compared = band.candidates.iter().all(|&place| row.differences[place].is_none());
            if self.is_stacked {
                let lane_px = if none_compared { 2.0 } else { STACKED_LANE_PX };
                return NAME_LINE_PX * names + 3.0 + lane_px + REASON_LINE_PX * reasons + 2.0;
            }
            if none_compared {
                return ROW_PX.max(NAME_LINE_PX * names + 6.0).max(REASON_LINE_PX * reasons + 6.0);
            }
            let words = if reasons > 0.0 { ROW_PX + REASON_LINE_PX * reasons + 3.0 } else { ROW_PX };
            words.max(NAME_LINE_PX * names + 6.0)
        };
        band.rows.iter().map(height).collect()
    }

    fn name_lines(&self, band: &Band, row: &DifferenceRow) -> Vec<String> {
        let words_px = self.verdict_px + self.value_px + 8.0;
        let room = if self.is_stacked { self.width_px - 2.0 * EDGE_PX - words_px } else { self.names_px - 10.0 };
        wrap(&row.attribute, room, NAME_SIZE_PX, row.is_off(&band.candidates), 3)
    }

    /// For each candidate, why its difference has no interval, in lines; empty where it has one.
    fn reason_lines(&self, data: &DifferencesData, band: &Band, row: &DifferenceRow) -> Vec<Vec<String>> {
        let lines = |(place, &candidate): (usize, &usize)| {
            let words = match &row.differences[candidate] {
                None => "not compared: not scored on both".to_owned(),
                Some(TargetDifference { test: Err(reason), .. }) if data.shared_reason.is_none() => {
                    format!("interval {reason}")
                }
                Some(_) => return Vec::new(),
            };
            wrap(&words, self.panel_span(place).1, REASON_SIZE_PX, false, 3)
        };
        band.candidates.iter().enumerate().map(lines).collect()
    }
}

/// Draws all rows of a band and makes them readable by pointer and keyboard.
pub(in crate::figures) fn draw_rows(frame: &BandFrame, scene: &mut Scene, first: f64) {
    let mut top = first;
    let rows_before = scene.regions.iter().map(|region| region.row + 1).max().unwrap_or(0);
    for (number, (&row, &height)) in frame.band.rows.iter().zip(&frame.heights).enumerate() {
        let pen = RowPen::new(frame, row, top, height);
        pen.name(scene);
        for (place, panel) in frame.panels.iter().enumerate() {
            pen.candidate(scene, place, panel);
            scene.regions.push(pen.region(place, rows_before + number));
        }
        top += height;
    }
}

struct RowPen<'a> {
    drawing: &'a Drawing<'a>,
    band: &'a Band,
    layout: &'a RowLayout,
    row: &'a DifferenceRow,
    top: f64,
    height: f64,
    name_lines: Vec<String>,
    /// One a candidate.
    reason_lines: Vec<Vec<String>>,
}

impl<'a> RowPen<'a> {
    fn new(frame: &'a BandFrame<'a>, row: usize, top: f64, height: f64) -> Self {
        let (drawing, band, layout) = (frame.drawing, &frame.band, &frame.layout);
        let row = &drawing.data.rows[row];
        let name_lines = layout.name_lines(band, row);
        let reason_lines = layout.reason_lines(drawing.data, band, row);
        RowPen { drawing, band, layout, row, top, height, name_lines, reason_lines }
    }

    fn name(&self, scene: &mut Scene) {
        let lines = &self.name_lines;
        let theme = self.drawing.theme;
        let color = if self.row.deciding { theme.ink } else { theme.quiet_ink };
        let bold = self.row.is_off(&self.band.candidates);
        let block = NAME_LINE_PX * lines.len() as f64;
        let start = if self.layout.is_stacked {
            self.top + 3.0
        } else {
            self.middle().min(self.top + self.height / 2.0) - block / 2.0
        };
        let start = start.max(self.top + 1.0);
        for (index, line) in lines.iter().enumerate() {
            let at = Point::new(EDGE_PX, start + NAME_LINE_PX * (index as f64 + 0.5));
            scene.text(Label::new(at, line, NAME_SIZE_PX, color).bold(bold));
        }
    }

    /// Height at which the point stands.
    fn middle(&self) -> f64 {
        if self.layout.is_stacked {
            let (top, height) = self.layout.lane(self.top, self.height, false);
            return top + height / 2.0;
        }
        if self.none_compared() {
            return self.top + self.height / 2.0;
        }
        let has_reasons = self.reason_lines.iter().any(|lines| !lines.is_empty());
        if has_reasons { self.top + ROW_PX / 2.0 } else { self.top + self.height / 2.0 }
    }

    fn none_compared(&self) -> bool {
        self.band.candidates.iter().all(|&place| self.row.differences[place].is_none())
    }

    fn candidate(&self, scene: &mut Scene, place: usize, panel: &Panel) {
        let candidate = self.band.candidates[place];
        if let Some(difference) = &self.row.differences[candidate] {
            self.interval_and_point(scene, panel, difference);
            self.verdict(scene, place, difference);
        }
        self.reason(scene, place);
    }

    fn interval_and_point(&self, scene: &mut Scene, panel: &Panel, difference: &TargetDifference) {
        let theme = self.drawing.theme;
        let mut style = theme.sample_style(self.drawing.analysis, &difference.sample);
        let highlighted = &self.drawing.options.highlight_sample;
        if highlighted.as_ref().is_some_and(|name| *name != difference.sample) {
            style.color = style.color.with_alpha(0.35);
        }
        let y = self.middle();
        if let (Ok(test), true) = (&difference.test, self.drawing.options.intervals) {
            let interval = test.match_interval;
            let [from, to] = [interval.lower, interval.upper].map(|end| Point::new(panel.x(end), y));
            scene.line(from, to, Stroke::solid(style.color, INTERVAL_WIDTH_PX));
        }
        let at = Point::new(panel.x(difference.difference), y);
        if difference.test.is_ok() {
            parts::sample_marker(scene, theme, at, 4.6, style);
        } else {
            // Hollow: a difference about which nothing can be said.
            let rim = Stroke::solid(style.color, 1.4);
            scene.marker(at, 4.2, style.marker, theme.background, Some(rim));
        }
    }

    /// Icon, word and value of the verdict: beside the axis, or above it in a narrow figure.
    fn verdict(&self, scene: &mut Scene, place: usize, difference: &TargetDifference) {
        let theme = self.drawing.theme;
        let (left, width) = self.layout.panel_span(place);
        let right = left + width;
        let y = if self.layout.is_stacked { self.top + 3.0 + NAME_LINE_PX / 2.0 } else { self.middle() };
        let start = right - self.layout.value_px - self.layout.verdict_px;
        let is_more = difference.difference > 0.0;
        parts::verdict_icon(scene, theme, Point::new(start + 7.0, y), difference.verdict, is_more);
        if self.layout.has_words {
            self.verdict_word(scene, difference.verdict, Point::new(start + ICON_PX + 1.0, y));
        } else if !self.row.deciding {
            self.brackets(scene, Point::new(start, y));
        }
        if self.layout.panels == 1 {
            let value = self.drawing.data.value_words(difference);
            let label = Label::new(Point::new(right, y), value, NAME_SIZE_PX, theme.ink);
            scene.text(label.align(Align::End));
        }
    }

    fn verdict_word(&self, scene: &mut Scene, verdict: Verdict, at: Point) {
        let theme = self.drawing.theme;
        let color = if verdict == Verdict::NotShown { theme.quiet_ink } else { theme.ink };
        let label = Label::new(at, verdict_words(verdict, self.row.deciding), NAME_SIZE_PX, color);
        scene.text(label.bold(verdict == Verdict::Off));
    }

    /// Around an icon without a word, where the attribute does not decide.
    fn brackets(&self, scene: &mut Scene, start: Point) {
        for (aside, bracket) in [(-2.0, "("), (16.0, ")")] {
            let at = Point::new(start.x + aside, start.y);
            let label = Label::new(at, bracket, NAME_SIZE_PX, self.drawing.theme.ink);
            scene.text(label.align(Align::Middle));
        }
    }

    fn reason(&self, scene: &mut Scene, place: usize) {
        let lines = &self.reason_lines[place];
        let (left, _) = self.layout.panel_span(place);
        let names = self.name_lines.len().max(1) as f64;
        let start = match (self.layout.is_stacked, self.none_compared()) {
            (true, _) => self.top + 3.0 + NAME_LINE_PX * names,
            (false, true) => self.middle() - REASON_LINE_PX * lines.len() as f64 / 2.0,
            (false, false) => self.top + ROW_PX - 1.0,
        };
        for (index, line) in lines.iter().enumerate() {
            let at = Point::new(left, start + REASON_LINE_PX * (index as f64 + 0.5));
            scene.text(Label::new(at, line, REASON_SIZE_PX, self.drawing.theme.quiet_ink));
        }
    }

    fn region(&self, place: usize, number: usize) -> HitRegion {
        let candidate = self.band.candidates[place];
        let (left, width) = self.layout.panel_span(place);
        let left = if place == 0 { EDGE_PX } else { left - PANEL_GAP_PX / 2.0 };
        let right = self.layout.panel_span(place).0 + width;
        HitRegion {
            shape: RegionShape::Rectangle(Rectangle::new(left, self.top, right - left, self.height)),
            sample: Some(self.drawing.data.candidates[candidate].clone()),
            attribute: Some(self.row.attribute.clone()),
            lines: self.drawing.data.lines_of(candidate, self.row),
            row: number,
            column: place,
        }
    }
}

fn value_heading_words(unit: &str) -> String {
    format!("difference (interval), {unit}")
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_heading_names_the_unit() {
        assert_eq!(super::value_heading_words("mm"), "difference (interval), mm");
    }
}
