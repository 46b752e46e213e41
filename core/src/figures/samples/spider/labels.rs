//! Where the names around a spider stand: beside their spokes, one column a side, never on top of each other.
//!
//! Places are relative to the spider's centre. A name stands outside the circle of radius `frame.radius`, as near to
//! its spoke as its neighbours allow; a thin line leads to it where it had to move.

use super::data::SpokeEntry;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::layout::keep_apart;
use crate::figures::scene::primitives::{Align, Label, Point, Rectangle, Scene};
use crate::figures::scene::text::{shorten, text_height_px, text_width_px, wrap};
use crate::figures::scene::theme::Theme;
use std::f64::consts::TAU;

/// The room that names have.
pub struct LabelFrame {
    /// From the centre to the edge of the figure.
    pub half_width_px: f64,
    /// Circle that no name may enter.
    pub radius: f64,
    /// Font size.
    pub size_px: f64,
}

/// A placed name, relative to the centre.
pub struct SpokeLabel {
    /// The name in lines.
    pub lines: Vec<String>,
    /// Font size.
    pub size_px: f64,
    /// The room that it takes.
    pub area: Rectangle,
    /// Where its lines start or end across.
    pub text_x: f64,
    /// Which end of a line stands there.
    pub align: Align,
    /// Where a leading line ends.
    pub anchor: Point,
    /// Whether it stands so far from its spoke that a line must lead to it.
    pub is_away: bool,
}

/// Free room between a name and its neighbours or the circle.
const GAP_PX: f64 = 3.0;
const MAX_LINES: usize = 3;

/// One label a spoke, in the order of the spokes.
pub fn place_labels(frame: &LabelFrame, entries: &[SpokeEntry], numbered: bool) -> Vec<SpokeLabel> {
    let count = entries.len();
    let texts: Vec<SpokeText> = entries.iter().map(|entry| SpokeText::of(entry, numbered, frame.size_px)).collect();
    let top = 0;
    let bottom = (count.is_multiple_of(2)).then_some(count / 2);
    let right: Vec<usize> = (1..count).filter(|&spoke| 2 * spoke < count).collect();
    let left: Vec<usize> = (1..count).rev().filter(|&spoke| 2 * spoke > count).collect();
    let mut placed: Vec<Option<SpokeLabel>> = entries.iter().map(|_| None).collect();
    for (side, spokes) in [(1.0, right), (-1.0, left)] {
        for (spoke, label) in place_side(frame, &texts, &spokes, side) {
            placed[spoke] = Some(label);
        }
    }
    let beside: Vec<Rectangle> = placed.iter().flatten().map(|label| label.area).collect();
    placed[top] = Some(place_pole(frame, &texts[top], &beside, -1.0));
    if let Some(bottom) = bottom {
        placed[bottom] = Some(place_pole(frame, &texts[bottom], &beside, 1.0));
    }
    placed.into_iter().flatten().collect()
}

const KEY_SIZE_PX: f64 = 11.5;
const KEY_LINE_PX: f64 = 16.0;

/// Draws the numbered names below the figure, in columns read downwards. Returns the area of each.
pub fn draw_key(scene: &mut Scene, theme: &Theme, entries: &[SpokeEntry], top: f64) -> Vec<Rectangle> {
    let room = scene.width_px - 2.0 * EDGE_PX;
    let columns = ((room / 150.0) as usize).clamp(1, entries.len().max(1));
    let rows = entries.len().div_ceil(columns);
    let column_px = room / columns as f64;
    let mut areas = Vec::new();
    let mut y = top;
    for (index, entry) in entries.iter().enumerate() {
        if index % rows == 0 {
            y = top;
        }
        let at = Point::new(EDGE_PX + column_px * (index / rows) as f64, y);
        let area = draw_key_entry(scene, theme, entry, at, column_px);
        areas.push(area);
        y += area.height;
    }
    areas
}

/// One number with its name, from the upper left corner `at`.
fn draw_key_entry(scene: &mut Scene, theme: &Theme, entry: &SpokeEntry, at: Point, column_px: f64) -> Rectangle {
    let number_px = text_width_px("44", KEY_SIZE_PX, true);
    let lines = SpokeText::of(entry, false, KEY_SIZE_PX).lines(column_px - number_px - 16.0, MAX_LINES);
    let number_at = Point::new(at.x + number_px, at.y + KEY_LINE_PX / 2.0);
    let number = Label::new(number_at, entry.number.to_string(), KEY_SIZE_PX, theme.quiet_ink);
    scene.text(number.align(Align::End).bold(entry.is_off));
    for (line, words) in lines.iter().enumerate() {
        let words_at = Point::new(at.x + number_px + 7.0, at.y + KEY_LINE_PX * (line as f64 + 0.5));
        scene.text(Label::new(words_at, words, KEY_SIZE_PX, theme.ink).bold(entry.is_off));
    }
    Rectangle::new(at.x, at.y, column_px - 6.0, KEY_LINE_PX * lines.len().max(1) as f64)
}

/// A name that must be broken into lines, with the figure that must not be cut off it.
struct SpokeText {
    name: String,
    suffix: Option<String>,
    bold: bool,
    size_px: f64,
}

impl SpokeText {
    fn of(entry: &SpokeEntry, numbered: bool, size_px: f64) -> Self {
        let name = if numbered { entry.number.to_string() } else { entry.name.clone() };
        let suffix = entry.off_by.clone().filter(|_| !numbered);
        SpokeText { name, suffix, bold: entry.is_off, size_px }
    }

    /// At most `max_lines` lines; the figure is never cut off.
    fn lines(&self, room_px: f64, max_lines: usize) -> Vec<String> {
        if let (Some(suffix), true) = (&self.suffix, max_lines < 2) {
            let suffix = format!(" {suffix}");
            let room_px = room_px - text_width_px(&suffix, self.size_px, self.bold);
            return vec![shorten(&self.name, room_px, self.size_px, self.bold) + &suffix];
        }
        let mut lines = wrap(&self.name, room_px, self.size_px, self.bold, max_lines);
        let Some(suffix) = &self.suffix else { return lines };
        if let Some(last) = lines.last_mut() {
            let joined = format!("{last} {suffix}");
            if text_width_px(&joined, self.size_px, self.bold) <= room_px {
                *last = joined;
                return lines;
            }
        }
        if lines.len() == max_lines {
            lines = wrap(&self.name, room_px, self.size_px, self.bold, max_lines - 1);
        }
        lines.push(suffix.clone());
        lines
    }

    fn line_px(&self) -> f64 {
        text_height_px(self.size_px).ceil()
    }

    fn width_px(&self, lines: &[String]) -> f64 {
        lines.iter().map(|line| text_width_px(line, self.size_px, self.bold)).fold(0.0, f64::max)
    }
}

/// The names of one side from top to bottom; `side` is 1 on the right and -1 on the left.
fn place_side(frame: &LabelFrame, texts: &[SpokeText], spokes: &[usize], side: f64) -> Vec<(usize, SpokeLabel)> {
    let side = Side { frame, texts, spokes, side };
    let (heights, middles) = side.heights_and_middles();
    let place = |index: usize| (spokes[index], side.label(index, heights[index], middles[index]));
    (0..spokes.len()).map(place).collect()
}

/// Spokes of one side, from top to bottom.
struct Side<'a> {
    frame: &'a LabelFrame,
    texts: &'a [SpokeText],
    spokes: &'a [usize],
    /// 1 on the right and -1 on the left.
    side: f64,
}

impl Side<'_> {
    fn text(&self, index: usize) -> &SpokeText {
        &self.texts[self.spokes[index]]
    }

    fn angle(&self, index: usize) -> f64 {
        TAU * self.spokes[index] as f64 / self.texts.len() as f64
    }

    /// How far from the middle of the figure a name may start that lies at this height.
    fn inner(&self, index: usize, y: f64, height: f64) -> f64 {
        let rim_x = (self.frame.radius * libm::sin(self.angle(index))).abs();
        self.frame.circle_at(y, height).max(rim_x) + GAP_PX
    }

    /// A name touches its spoke's end with the near edge when above or below, and is centred on it at the sides.
    fn wanted(&self, heights: &[f64]) -> Vec<f64> {
        let reach = heights.iter().map(|height| self.frame.radius + height / 2.0);
        reach.enumerate().map(|(index, reach)| -reach * libm::cos(self.angle(index))).collect()
    }

    /// Lines depend on the room, the room on the place, the place on the lines: three rounds settle it in practice, and
    /// whoever draws may only use the lines that were counted in the last.
    fn heights_and_middles(&self) -> (Vec<f64>, Vec<f64>) {
        let mut heights: Vec<f64> = (0..self.spokes.len()).map(|index| self.text(index).line_px()).collect();
        let mut middles = self.wanted(&heights);
        for _ in 0..3 {
            for index in 0..heights.len() {
                let text = self.text(index);
                let room = self.frame.half_width_px - self.inner(index, middles[index], heights[index]);
                heights[index] = text.line_px() * text.lines(room, MAX_LINES).len().max(1) as f64;
            }
            middles = keep_apart(&self.wanted(&heights), &heights, GAP_PX - 1.0);
        }
        (heights, middles)
    }

    fn label(&self, index: usize, height: f64, middle: f64) -> SpokeLabel {
        let text = self.text(index);
        let start = self.inner(index, middle, height);
        let room = self.frame.half_width_px - start;
        let allowed = (height / text.line_px()).round() as usize;
        let mut lines = text.lines(room, allowed);
        lines.truncate(allowed);
        let height = text.line_px() * lines.len() as f64;
        let width = text.width_px(&lines).min(room);
        let left = if self.side > 0.0 { start } else { -start - width };
        let anchor = Point::new(self.side * (start - GAP_PX + 1.0), middle);
        let rim = Point::new(0.0, 0.0).polar(self.frame.radius, self.angle(index));
        let align = if self.side > 0.0 { Align::Start } else { Align::End };
        let (is_away, text_x) = (anchor.distance_to(rim) > 16.0, self.side * start);
        let area = Rectangle::new(left, middle - height / 2.0, width, height);
        SpokeLabel { lines, size_px: text.size_px, area, text_x, align, anchor, is_away }
    }
}

/// The name of the spoke that points straight up (`side` -1) or down (1): centred, beyond what stands in its way.
fn place_pole(frame: &LabelFrame, text: &SpokeText, beside: &[Rectangle], side: f64) -> SpokeLabel {
    let lines = text.lines((frame.half_width_px * 1.1).min(240.0), MAX_LINES);
    let width = text.width_px(&lines);
    let height = text.line_px() * lines.len() as f64;
    let in_the_way = beside.iter().filter(|area| {
        let reaches = area.left < width / 2.0 + GAP_PX && area.right() > -width / 2.0 - GAP_PX;
        reaches && (area.top + area.height / 2.0) * side > 0.0
    });
    let farthest = in_the_way.map(|area| (area.top * side).max(area.bottom() * side));
    let edge = farthest.fold(frame.radius, f64::max) + GAP_PX;
    let top = if side > 0.0 { edge } else { -edge - height };
    SpokeLabel {
        lines,
        size_px: text.size_px,
        area: Rectangle::new(-width / 2.0, top, width, height),
        text_x: 0.0,
        align: Align::Middle,
        anchor: Point::new(0.0, side * (edge - GAP_PX + 1.0)),
        is_away: edge - frame.radius > 10.0,
    }
}

impl LabelFrame {
    /// How far the circle reaches to the side over the height of a box around `y`.
    fn circle_at(&self, y: f64, height: f64) -> f64 {
        let nearest = (y.abs() - height / 2.0).max(0.0);
        (self.radius * self.radius - nearest * nearest).max(0.0).sqrt()
    }
}
