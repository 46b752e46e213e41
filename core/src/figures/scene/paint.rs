//! Scene -> any plotters backend, by primitive calls only: one scale and one rounding, no layout.
//!
//! Nothing is measured here; a backend that cannot draw text by itself is refused at its first text.

use super::primitives::{Align, Dash, Label, Marker, Point, Primitive, Rectangle, Rotation, Scene, Stroke};
use super::theme::Color;
use plotters::backend::DrawingBackend;
use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingErrorKind, FontFamily, FontStyle, FontTransform,
};
use std::fmt;

/// The sans-serif face of the reader's own system.
pub const FONT_FAMILY: &str = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif";

/// How CSS pixels become the backend's pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaintSettings {
    /// Backend pixels a CSS pixel: the device pixel ratio.
    pub scale: f64,
    /// How much lower the text must be asked for, in font sizes, so that its capitals stand centred.
    pub text_drop_em: f64,
    /// Whether lines along an axis are filled rectangles, which stay sharp on whole pixels.
    pub sharp_axis_lines: bool,
    /// Whether the background is filled first.
    pub fill_background: bool,
}

/// Draws a scene on a backend of `scene.width_px * scale` by `scene.height_px * scale` pixels.
///
/// Errors are the backend's own, or that it has no glyphs of its own.
pub fn paint<B: DrawingBackend>(
    scene: &Scene,
    backend: &mut B,
    settings: PaintSettings,
) -> Result<(), DrawingErrorKind<B::ErrorType>> {
    let mut painter = Painter { backend, settings };
    if settings.fill_background {
        let area = Rectangle::new(0.0, 0.0, scene.width_px, scene.height_px);
        painter.rectangle(area, scene.background)?;
    }
    for primitive in &scene.primitives {
        painter.primitive(primitive)?;
    }
    backend.present()
}

impl PaintSettings {
    /// For a canvas whose width and height in pixels are the scene's times the device pixel ratio.
    pub fn canvas(device_pixel_ratio: f64) -> Self {
        // A canvas centres the em box, whose middle lies a little above that of the capitals' box.
        let scale = device_pixel_ratio;
        PaintSettings { scale, text_drop_em: 0.03, sharp_axis_lines: true, fill_background: true }
    }

    /// For SVG, whose text stands on its baseline: capitals are about 0.7 of the font size high.
    pub(in crate::figures) fn svg(scale: f64, fill_background: bool) -> Self {
        PaintSettings { scale, text_drop_em: 0.35, sharp_axis_lines: false, fill_background }
    }
}

/// Why a text cannot be drawn.
#[derive(Debug)]
struct NoGlyphs;

impl fmt::Display for NoGlyphs {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "figures need a backend that draws text by itself, such as a canvas or SVG")
    }
}

impl std::error::Error for NoGlyphs {}

struct Painter<'a, B: DrawingBackend> {
    backend: &'a mut B,
    settings: PaintSettings,
}

type Painted<B> = Result<(), DrawingErrorKind<<B as DrawingBackend>::ErrorType>>;

impl<B: DrawingBackend> Painter<'_, B> {
    fn primitive(&mut self, primitive: &Primitive) -> Painted<B> {
        match primitive {
            Primitive::Line { from, to, stroke } => self.polyline(&[*from, *to], *stroke),
            Primitive::Polyline { points, stroke } => self.polyline(points, *stroke),
            Primitive::Polygon { points, fill } => {
                let corners: Vec<BackendCoord> = points.iter().map(|&point| self.place(point)).collect();
                self.backend.fill_polygon(corners, &backend_color(*fill))
            }
            Primitive::Circle { center, radius, stroke } => {
                let (at, radius) = (self.place(*center), self.length(*radius).max(1) as u32);
                self.backend.draw_circle(at, radius, &self.line_style(*stroke), false)
            }
            Primitive::Marker { center, radius, shape, fill, outline } => {
                self.marker(*center, *radius, *shape, *fill, *outline)
            }
            Primitive::Rectangle { area, fill } => self.rectangle(*area, *fill),
            Primitive::Text(label) => self.text(label),
        }
    }

    fn polyline(&mut self, points: &[Point], stroke: Stroke) -> Painted<B> {
        if stroke.dash == Dash::Solid {
            return self.stretch(points, stroke);
        }
        for dash in cut_into_dashes(points, stroke.dash.lengths_px()) {
            self.stretch(&dash, stroke)?;
        }
        Ok(())
    }

    /// One unbroken line.
    fn stretch(&mut self, points: &[Point], stroke: Stroke) -> Painted<B> {
        let places: Vec<BackendCoord> = points.iter().map(|&point| self.place(point)).collect();
        if let [from, to] = places[..]
            && (from.0 == to.0 || from.1 == to.1)
        {
            return match self.settings.sharp_axis_lines {
                true => self.axis_line(from, to, stroke),
                false => self.backend.draw_line(from, to, &self.line_style(stroke)),
            };
        }
        self.backend.draw_path(places, &self.line_style(stroke))
    }

    fn axis_line(&mut self, from: BackendCoord, to: BackendCoord, stroke: Stroke) -> Painted<B> {
        let width = self.length(stroke.width_px).max(1);
        let before = width / 2;
        let (mut low, mut high) = ((from.0.min(to.0), from.1.min(to.1)), (from.0.max(to.0), from.1.max(to.1)));
        if from.1 == to.1 {
            (low.1, high.1) = (from.1 - before, from.1 - before + width);
        } else {
            (low.0, high.0) = (from.0 - before, from.0 - before + width);
        }
        self.backend.draw_rect(low, high, &backend_color(stroke.color), true)
    }

    fn rectangle(&mut self, area: Rectangle, fill: Color) -> Painted<B> {
        let upper_left = self.place(Point::new(area.left, area.top));
        let lower_right = self.place(Point::new(area.right(), area.bottom()));
        self.backend.draw_rect(upper_left, lower_right, &backend_color(fill), true)
    }

    fn marker(
        &mut self,
        center: Point,
        radius: f64,
        shape: Marker,
        fill: Color,
        outline: Option<Stroke>,
    ) -> Painted<B> {
        if shape == Marker::Circle {
            return self.disc(center, radius, fill, outline);
        }
        let at = self.place(center);
        // Offsets are rounded apart from the centre, so that a marker is as symmetric as its shape.
        let offset = |share: f64| self.length(share * radius);
        let corners = shape.corners().iter().map(|&(x, y)| (at.0 + offset(x), at.1 + offset(y)));
        let mut corners: Vec<BackendCoord> = corners.collect();
        self.backend.fill_polygon(corners.clone(), &backend_color(fill))?;
        let Some(stroke) = outline else { return Ok(()) };
        // Closed past the first corner, so that its joint is drawn like the others.
        corners.extend_from_within(..2);
        self.backend.draw_path(corners, &self.line_style(stroke))
    }

    fn disc(&mut self, center: Point, radius: f64, fill: Color, outline: Option<Stroke>) -> Painted<B> {
        let (at, radius) = (self.place(center), self.length(radius).max(1) as u32);
        self.backend.draw_circle(at, radius, &backend_color(fill), true)?;
        match outline {
            Some(stroke) => self.backend.draw_circle(at, radius, &self.line_style(stroke), false),
            None => Ok(()),
        }
    }

    fn text(&mut self, label: &Label) -> Painted<B> {
        let drop = self.settings.text_drop_em * label.size_px;
        let (dx, dy) = match label.rotation {
            Rotation::None => (0.0, drop),
            Rotation::Clockwise90 => (-drop, 0.0),
            Rotation::CounterClockwise90 => (drop, 0.0),
        };
        let at = self.place(Point::new(label.at.x + dx, label.at.y + dy));
        let size = label.size_px * self.settings.scale;
        self.backend.draw_text(&label.text, &TextStyle { label, size }, at)
    }

    fn place(&self, point: Point) -> BackendCoord {
        (self.length(point.x), self.length(point.y))
    }

    /// The one rounding: CSS pixels to whole pixels of the backend.
    fn length(&self, css_px: f64) -> i32 {
        (css_px * self.settings.scale).round() as i32
    }

    fn line_style(&self, stroke: Stroke) -> LineStyle {
        LineStyle { color: backend_color(stroke.color), width: self.length(stroke.width_px).max(1) as u32 }
    }
}

struct LineStyle {
    color: BackendColor,
    width: u32,
}

impl BackendStyle for LineStyle {
    fn color(&self) -> BackendColor {
        self.color
    }

    fn stroke_width(&self) -> u32 {
        self.width
    }
}

struct TextStyle<'a> {
    label: &'a Label,
    size: f64,
}

impl BackendTextStyle for TextStyle<'_> {
    type FontError = NoGlyphs;

    fn color(&self) -> BackendColor {
        backend_color(self.label.color)
    }

    fn size(&self) -> f64 {
        self.size
    }

    fn transform(&self) -> FontTransform {
        match self.label.rotation {
            Rotation::None => FontTransform::None,
            Rotation::Clockwise90 => FontTransform::Rotate90,
            Rotation::CounterClockwise90 => FontTransform::Rotate270,
        }
    }

    fn style(&self) -> FontStyle {
        if self.label.bold { FontStyle::Bold } else { FontStyle::Normal }
    }

    fn anchor(&self) -> Pos {
        let across = match self.label.align {
            Align::Start => HPos::Left,
            Align::Middle => HPos::Center,
            Align::End => HPos::Right,
        };
        Pos::new(across, VPos::Center)
    }

    fn family(&self) -> FontFamily<'_> {
        FontFamily::Name(FONT_FAMILY)
    }

    fn layout_box(&self, _text: &str) -> Result<((i32, i32), (i32, i32)), NoGlyphs> {
        Err(NoGlyphs)
    }

    fn draw<E, DrawFunc: FnMut(i32, i32, BackendColor) -> Result<(), E>>(
        &self,
        _text: &str,
        _pos: BackendCoord,
        _draw: DrawFunc,
    ) -> Result<Result<(), E>, NoGlyphs> {
        Err(NoGlyphs)
    }
}

fn backend_color(color: Color) -> BackendColor {
    BackendColor { alpha: color.alpha, rgb: (color.red, color.green, color.blue) }
}

/// The dashes of a line; the pattern runs on around corners.
fn cut_into_dashes(points: &[Point], lengths_px: &[f64]) -> Vec<Vec<Point>> {
    let Some(first) = points.first() else { return Vec::new() };
    let mut pen = DashPen { lengths_px, step: 0, left: lengths_px[0], dash: vec![*first], dashes: Vec::new() };
    for pair in points.windows(2) {
        pen.draw(pair[0], pair[1]);
    }
    pen.dashes.push(pen.dash);
    pen.dashes.retain(|dash| dash.len() > 1);
    pen.dashes
}

/// A pen that is lowered and lifted in turn along a line.
struct DashPen<'a> {
    /// Lengths of dashes and gaps in turn.
    lengths_px: &'a [f64],
    /// Place in these lengths; it is lowered at even ones.
    step: usize,
    /// What is left of the current length.
    left: f64,
    /// The dash under way.
    dash: Vec<Point>,
    dashes: Vec<Vec<Point>>,
}

impl DashPen<'_> {
    fn draw(&mut self, mut from: Point, to: Point) {
        let mut remaining = from.distance_to(to);
        while remaining > self.left {
            let share = self.left / remaining;
            from = Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y));
            remaining -= self.left;
            self.turn_over(from);
        }
        self.left -= remaining;
        if self.step.is_multiple_of(2) {
            self.dash.push(to);
        }
    }

    /// Lifts the pen at the end of a dash, lowers it at the end of a gap.
    fn turn_over(&mut self, at: Point) {
        if self.step.is_multiple_of(2) {
            self.dash.push(at);
            self.dashes.push(std::mem::take(&mut self.dash));
        } else {
            self.dash = vec![at];
        }
        self.step = (self.step + 1) % self.lengths_px.len();
        self.left = self.lengths_px[self.step];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dashes(points: &[(f64, f64)], lengths_px: &[f64]) -> Vec<Vec<(f64, f64)>> {
        let points: Vec<Point> = points.iter().map(|&(x, y)| Point::new(x, y)).collect();
        let pieces = cut_into_dashes(&points, lengths_px);
        pieces.iter().map(|piece| piece.iter().map(|point| (point.x, point.y)).collect()).collect()
    }

    #[test]
    fn a_line_is_cut_into_dashes() {
        let expected = vec![vec![(0.0, 0.0), (4.0, 0.0)], vec![(6.0, 0.0), (10.0, 0.0)]];
        assert_eq!(dashes(&[(0.0, 0.0), (10.0, 0.0)], &[4.0, 2.0]), expected);
    }

    #[test]
    fn a_dash_runs_around_a_corner() {
        let expected = vec![vec![(0.0, 0.0), (3.0, 0.0), (3.0, 1.0)]];
        assert_eq!(dashes(&[(0.0, 0.0), (3.0, 0.0), (3.0, 2.0)], &[4.0, 2.0]), expected);
    }

    #[test]
    fn lines_without_length_have_no_dashes() {
        assert!(dashes(&[(1.0, 1.0), (1.0, 1.0)], &[4.0, 2.0]).iter().all(|piece| piece.len() > 1));
        assert!(dashes(&[], &[4.0, 2.0]).is_empty());
    }
}
