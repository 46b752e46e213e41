//! What several figures share: width, heading, notes, legend, the icon of a verdict, an empty figure.
//!
//! Parts place things in a scene; they know results only through what they are handed.

use super::scene::layout::flow;
use super::scene::primitives::{Label, Marker, Point, Primitive, Scene, Stroke};
use super::scene::text::{shorten, text_width_px, wrap};
use super::scene::theme::{Color, SampleStyle, Theme};
use crate::stats::{Analysis, Interval, Verdict};
use crate::text::numbers;

/// Free room at the edges of every figure.
pub const EDGE_PX: f64 = 10.0;

const TITLE_SIZE_PX: f64 = 14.0;
const NOTE_SIZE_PX: f64 = 11.5;
const LEGEND_SIZE_PX: f64 = 12.0;
const LEGEND_LINE_PX: f64 = 20.0;
/// Length of the piece of line before a name in the legend.
const LEGEND_SAMPLE_PX: f64 = 30.0;

/// Narrowest and widest figure that is drawn; anything else is brought into this range.
const WIDTH_RANGE_PX: (f64, f64) = (280.0, 4000.0);

/// One entry of a legend.
pub struct LegendEntry {
    /// How the sample is drawn.
    pub style: SampleStyle,
    /// How the sample is called.
    pub name: String,
}

/// A width that can be drawn: whole pixels within the range, 720 for what is not a number.
pub fn drawable_width(width_px: f64) -> f64 {
    if width_px.is_finite() { width_px.round().clamp(WIDTH_RANGE_PX.0, WIDTH_RANGE_PX.1) } else { 720.0 }
}

/// Sets the title, if wanted, and the notes below it. Returns where the figure may go on.
pub fn heading(scene: &mut Scene, theme: &Theme, with_title: bool, notes: &[String]) -> f64 {
    let mut top = EDGE_PX;
    if with_title {
        let title = scene.title.clone();
        top = paragraph(scene, &title, top, TITLE_SIZE_PX, true, theme.ink);
        top += 3.0;
    }
    for note in notes {
        top = paragraph(scene, note, top, NOTE_SIZE_PX, false, theme.quiet_ink);
    }
    top + 6.0
}

/// Sets notes below a figure. Returns the figure's height.
pub fn footnotes(scene: &mut Scene, theme: &Theme, top: f64, notes: &[String]) -> f64 {
    let mut bottom = top;
    for note in notes {
        bottom = paragraph(scene, note, bottom, NOTE_SIZE_PX, false, theme.quiet_ink);
    }
    bottom + EDGE_PX
}

/// Wrapped text over the whole width. Returns where the next may stand.
fn paragraph(scene: &mut Scene, text: &str, top: f64, size_px: f64, bold: bool, color: Color) -> f64 {
    let line_px = (size_px * 1.36).ceil();
    let lines = wrap(text, scene.width_px - 2.0 * EDGE_PX, size_px, bold, 8);
    for (index, line) in lines.iter().enumerate() {
        let at = Point::new(EDGE_PX, top + line_px * (index as f64 + 0.5));
        scene.text(Label::new(at, line, size_px, color).bold(bold));
    }
    top + line_px * lines.len() as f64
}

/// Names beside a piece of their line, flowing over the width. Returns where the figure may go on.
pub fn legend(scene: &mut Scene, theme: &Theme, top: f64, entries: &[LegendEntry]) -> f64 {
    let room = scene.width_px - 2.0 * EDGE_PX;
    let before_name = LEGEND_SAMPLE_PX + 7.0;
    let names: Vec<String> =
        entries.iter().map(|entry| shorten(&entry.name, room - before_name, LEGEND_SIZE_PX, false)).collect();
    let widths: Vec<f64> = names.iter().map(|name| before_name + text_width_px(name, LEGEND_SIZE_PX, false)).collect();
    let placed = flow(&widths, room, 22.0);
    for ((entry, name), &(line, left)) in entries.iter().zip(&names).zip(&placed) {
        let y = top + LEGEND_LINE_PX * (line as f64 + 0.5);
        let from = Point::new(EDGE_PX + left, y);
        legend_line(scene, theme, from, entry.style);
        scene.text(Label::new(Point::new(from.x + before_name, y), name, LEGEND_SIZE_PX, theme.ink));
    }
    top + LEGEND_LINE_PX * placed.last().map_or(0.0, |&(line, _)| line as f64 + 1.0)
}

fn legend_line(scene: &mut Scene, theme: &Theme, from: Point, style: SampleStyle) {
    let to = Point::new(from.x + LEGEND_SAMPLE_PX, from.y);
    scene.line(from, to, Stroke::dashed(style.color, style.line_width_px, style.dash));
    let middle = Point::new(from.x + LEGEND_SAMPLE_PX / 2.0, from.y);
    sample_marker(scene, theme, middle, 4.0, style);
}

/// A sample's marker with a rim in the background's colour, so that it stands clear of lines.
pub fn sample_marker(scene: &mut Scene, theme: &Theme, center: Point, radius: f64, style: SampleStyle) {
    let rim = Stroke::solid(theme.background, 1.0);
    scene.marker(center, radius, style.marker, style.color, Some(rim));
}

/// The icon of a verdict, told apart by shape: a ring around a dot for a match, an arrowhead towards more or less for
/// off, a bar with open ends for not shown. Takes 12 px in width.
pub fn verdict_icon(scene: &mut Scene, theme: &Theme, center: Point, verdict: Verdict, is_more: bool) {
    match verdict {
        Verdict::Match => {
            let stroke = Stroke::solid(theme.ink, 1.3);
            scene.primitives.push(Primitive::Circle { center, radius: 4.2, stroke });
            scene.marker(center, 1.5, Marker::Circle, theme.ink, None);
        }
        Verdict::Off => {
            let shape = if is_more { Marker::TriangleRight } else { Marker::TriangleLeft };
            scene.marker(center, 4.8, shape, theme.ink, None);
        }
        Verdict::NotShown => {
            let bar = |from: f64, to: f64| (Point::new(center.x + from, center.y), Point::new(center.x + to, center.y));
            let stroke = Stroke::solid(theme.quiet_ink, 1.5);
            for (from, to) in [bar(-5.0, -1.5), bar(1.5, 5.0)] {
                scene.line(from, to, stroke);
            }
        }
    }
}

/// The icons of the three verdicts with their words. Returns where the figure may go on.
pub fn verdict_key(scene: &mut Scene, theme: &Theme, top: f64) -> f64 {
    let entries = [(Verdict::Off, "off: less or more"), (Verdict::Match, "match"), (Verdict::NotShown, "not shown")];
    let before_words = |verdict: Verdict| if verdict == Verdict::Off { 30.0 } else { 16.0 };
    let widths = entries.map(|(verdict, words)| before_words(verdict) + text_width_px(words, NOTE_SIZE_PX, false));
    let placed = flow(&widths, scene.width_px - 2.0 * EDGE_PX, 18.0);
    for ((verdict, words), &(line, left)) in entries.into_iter().zip(&placed) {
        let (x, y) = (EDGE_PX + left, top + LEGEND_LINE_PX * (line as f64 + 0.5));
        let words_x = x + before_words(verdict);
        if verdict == Verdict::Off {
            verdict_icon(scene, theme, Point::new(x + 6.0, y), verdict, false);
        }
        verdict_icon(scene, theme, Point::new(words_x - 10.0, y), verdict, true);
        scene.text(Label::new(Point::new(words_x, y), words, NOTE_SIZE_PX, theme.quiet_ink));
    }
    top + LEGEND_LINE_PX * placed.last().map_or(0.0, |&(line, _)| line as f64 + 1.0)
}

/// A figure that only says why there is nothing to draw.
pub fn empty_figure(width_px: f64, title: &str, theme: &Theme, because: &str) -> Scene {
    let mut scene = Scene::new(width_px, title, theme.background);
    scene.summary = format!("Nothing to draw: {because}.");
    let notes = [scene.summary.clone()];
    let bottom = heading(&mut scene, theme, true, &notes);
    scene.height_px = bottom.ceil() + EDGE_PX;
    scene
}

/// Lines along the two edges of a margin, from `top` to `bottom`.
pub fn margin_edges(scene: &mut Scene, theme: &Theme, x_at: [f64; 2], top: f64, bottom: f64) {
    for x in x_at {
        let stroke = Stroke::solid(theme.band_edge, 1.0);
        scene.line(Point::new(x, top), Point::new(x, bottom), stroke);
    }
}

/// The candidates to draw: those asked for that the analysis has, in the order of the study, or all of them.
pub fn chosen_candidates(analysis: &Analysis, asked: Option<&[String]>) -> Vec<String> {
    let is_target = |name: &String| analysis.target.as_ref() == Some(name);
    let is_asked = |name: &String| asked.is_none_or(|asked| asked.contains(name));
    analysis.samples.iter().filter(|name| !is_target(name) && is_asked(name)).cloned().collect()
}

/// An interval in words: "9 to 19".
pub fn span(interval: Interval, decimals: usize) -> String {
    numbers::shown_span(interval.lower, interval.upper, decimals)
}

/// The unit to print: the one asked for, or the analysis' own.
pub fn unit_of(analysis: &Analysis, asked: Option<&String>) -> String {
    asked.unwrap_or(&analysis.unit).clone()
}

/// "3 off, 9 match, 2 not shown", leaving out what there is none of.
pub fn verdict_counts(analysis: &Analysis, candidate: &str) -> Option<String> {
    let found = analysis.candidates.iter().find(|entry| entry.sample == candidate)?;
    let counts = [(found.n_off, "off"), (found.n_match, "match"), (found.n_not_shown, "not shown")];
    let written: Vec<String> =
        counts.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
    (!written.is_empty()).then(|| written.join(", "))
}
