//! Map: samples as points with their ellipses, attributes as directions, on two axes of the panel's map.
//!
//! Both axes have the same mm a pixel, so distances between samples can be read by eye. Attribute names stand at their
//! correlation with the axes, on a scale of their own; the figure says so.

mod names;
mod words;

use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::{Align, Dash, Label, Marker, Point, Rectangle, Rotation, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::shorten;
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::numeric::tolerance::SMALLEST_LENGTH;
use crate::stats::Analysis;
use crate::stats::map::ellipses::{Ellipse, MapEllipses};
use crate::stats::map::product_map::{MapAttribute, ProductMap};
use std::f64::consts::TAU;

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct SampleMapOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Axes to draw, from 0.
    pub x_axis: usize,
    /// The axis that runs upwards, from 0.
    pub y_axis: usize,
    /// Share of the draws that an ellipse holds.
    pub ellipse_level: f64,
    /// Whether attributes are drawn as directions.
    pub attributes: bool,
    /// Whether each assessor's own position of each sample is drawn.
    pub assessors: bool,
    /// A sample that is pointed at elsewhere: the others step back.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its line is drawn bold.
    pub highlight_attribute: Option<String>,
}

impl Default for SampleMapOptions {
    fn default() -> Self {
        SampleMapOptions {
            width_px: 640.0,
            theme: ThemeKind::Light,
            heading: true,
            x_axis: 0,
            y_axis: 1,
            ellipse_level: 0.95,
            attributes: true,
            assessors: false,
            highlight_sample: None,
            highlight_attribute: None,
        }
    }
}

/// The map of an analysis' samples. A map with one axis is drawn along a line.
pub fn sample_map(
    analysis: &Analysis,
    map: &ProductMap,
    ellipses: Option<&MapEllipses>,
    options: &SampleMapOptions,
) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    if map.samples.is_empty() || map.axes.is_empty() {
        return parts::empty_figure(width_px, "Map", &theme, "the samples span no axis");
    }
    let mut scene = Scene::new(width_px, "Map of the samples", theme.background);
    let mut drawing = Drawing::new(analysis, map, ellipses, options, &theme);
    scene.summary = drawing.summary();
    scene.table = drawing.table();
    let top = parts::heading(&mut scene, &theme, options.heading, &drawing.notes());
    drawing.lay_out(width_px, top);
    let bottom = drawing.draw(&mut scene);
    let notes = drawing.footnotes();
    scene.height_px = parts::footnotes(&mut scene, &theme, bottom + 4.0, &notes).ceil();
    scene
}

struct Drawing<'a> {
    analysis: &'a Analysis,
    map: &'a ProductMap,
    ellipses: Vec<Option<Ellipse>>,
    options: &'a SampleMapOptions,
    theme: &'a Theme,
    plot: Rectangle,
    /// Where the origin of the axes lies.
    origin: Point,
    px_per_unit: f64,
    /// Length of a correlation of 1.
    px_per_correlation: f64,
    /// Names that found no place.
    unnamed: usize,
}

const LABEL_SIZE_PX: f64 = 12.0;
const AXIS_SIZE_PX: f64 = 11.0;
const HEIGHT_RANGE_PX: (f64, f64) = (160.0, 560.0);
/// Room for the y axis' words at the left.
const LEFT_PX: f64 = 22.0;
/// Attributes with less of their variance on the two axes are drawn without a name.
const SMALLEST_NAMED_SHARE: f64 = 0.5;

impl<'a> Drawing<'a> {
    fn new(
        analysis: &'a Analysis,
        map: &'a ProductMap,
        ellipses: Option<&MapEllipses>,
        options: &'a SampleMapOptions,
        theme: &'a Theme,
    ) -> Self {
        let ellipse_of = |sample: &String| {
            let cloud = ellipses?.samples.iter().find(|cloud| cloud.sample == *sample)?;
            cloud.ellipse(options.x_axis, options.y_axis, options.ellipse_level).ok()
        };
        Drawing {
            analysis,
            map,
            ellipses: map.samples.iter().map(|sample| ellipse_of(&sample.sample)).collect(),
            options,
            theme,
            plot: Rectangle::new(0.0, 0.0, 0.0, 0.0),
            origin: Point::new(0.0, 0.0),
            px_per_unit: 1.0,
            px_per_correlation: 1.0,
            unnamed: 0,
        }
    }

    /// A coordinate of a position; zero on an axis that the map does not have.
    fn coordinates(&self, position: &[f64]) -> Point {
        let on = |axis: usize| position.get(axis).copied().filter(|value| value.is_finite()).unwrap_or(0.0);
        Point::new(on(self.options.x_axis), on(self.options.y_axis))
    }

    /// Everything that is drawn in units of the map, with the origin.
    fn extent(&self) -> Rectangle {
        let mut points = vec![Point::new(0.0, 0.0)];
        points.extend(self.map.samples.iter().map(|sample| self.coordinates(&sample.position)));
        points.extend(self.ellipses.iter().flatten().flat_map(outline));
        if self.options.assessors {
            let own = self.map.assessors.iter().flat_map(|assessor| assessor.samples.iter().flatten());
            points.extend(own.map(|sample| self.coordinates(&sample.position)));
        }
        let fold = |pick: fn(&Point) -> f64, choose: fn(f64, f64) -> f64| {
            points.iter().map(pick).reduce(choose).unwrap_or(0.0)
        };
        let (left, right) = (fold(|p| p.x, f64::min), fold(|p| p.x, f64::max));
        let (low, high) = (fold(|p| p.y, f64::min), fold(|p| p.y, f64::max));
        Rectangle::new(left, low, (right - left).max(SMALLEST_LENGTH), (high - low).max(0.0))
    }

    fn lay_out(&mut self, width_px: f64, top: f64) {
        let extent = self.extent();
        let room = 46.0;
        let width = width_px - 2.0 * EDGE_PX - LEFT_PX;
        let by_width = (width - 2.0 * room) / extent.width;
        let by_height = (HEIGHT_RANGE_PX.1 - 2.0 * room) / extent.height.max(SMALLEST_LENGTH);
        self.px_per_unit = by_width.min(by_height);
        let height = (extent.height * self.px_per_unit + 2.0 * room).clamp(HEIGHT_RANGE_PX.0, HEIGHT_RANGE_PX.1);
        self.plot = Rectangle::new(EDGE_PX + LEFT_PX, top, width, height);
        let middle = Point::new(extent.left + extent.width / 2.0, extent.top + extent.height / 2.0);
        self.origin = Point::new(
            self.plot.left + width / 2.0 - middle.x * self.px_per_unit,
            self.plot.top + height / 2.0 + middle.y * self.px_per_unit,
        );
        self.px_per_correlation = self.longest_correlation();
    }

    /// The longest unit at which every attribute's end stays in the plot with room for a name.
    fn longest_correlation(&self) -> f64 {
        let room = 16.0;
        let limits = self.map.attributes.iter().flat_map(|attribute| {
            let at = self.coordinates(&attribute.correlations);
            let across = if at.x > 0.0 { self.plot.right() - self.origin.x } else { self.origin.x - self.plot.left };
            let down = if at.y > 0.0 { self.origin.y - self.plot.top } else { self.plot.bottom() - self.origin.y };
            [(across - room) / at.x.abs().max(SMALLEST_LENGTH), (down - room) / at.y.abs().max(SMALLEST_LENGTH)]
        });
        limits.fold(f64::INFINITY, f64::min).clamp(1.0, 2000.0)
    }

    fn place(&self, coordinates: Point) -> Point {
        let at = Point::new(
            self.origin.x + coordinates.x * self.px_per_unit,
            self.origin.y - coordinates.y * self.px_per_unit,
        );
        Point::new(at.x.clamp(self.plot.left, self.plot.right()), at.y.clamp(self.plot.top, self.plot.bottom()))
    }

    fn draw(&mut self, scene: &mut Scene) -> f64 {
        self.frame(scene);
        if self.options.attributes && self.map.axes.len() > 1 {
            self.directions(scene);
        }
        if self.options.assessors {
            self.assessors(scene);
        }
        self.samples(scene);
        let taken = self.axis_words(scene);
        self.names(scene, &taken);
        self.plot.bottom() + 20.0
    }

    fn frame(&self, scene: &mut Scene) {
        let thin = Stroke::solid(self.theme.guide, 1.0);
        let (left, right, top, bottom) = (self.plot.left, self.plot.right(), self.plot.top, self.plot.bottom());
        for y in [top, bottom] {
            scene.line(Point::new(left, y), Point::new(right, y), thin);
        }
        for x in [left, right] {
            scene.line(Point::new(x, top), Point::new(x, bottom), thin);
        }
        let zero = self.place(Point::new(0.0, 0.0));
        let stroke = Stroke::dashed(self.theme.axis, 1.0, Dash::Fine);
        scene.line(Point::new(left, zero.y), Point::new(right, zero.y), stroke);
        scene.line(Point::new(zero.x, top), Point::new(zero.x, bottom), stroke);
    }

    fn end_of(&self, attribute: &MapAttribute) -> Point {
        let at = self.coordinates(&attribute.correlations);
        let end =
            Point::new(self.origin.x + at.x * self.px_per_correlation, self.origin.y - at.y * self.px_per_correlation);
        Point::new(end.x.clamp(self.plot.left, self.plot.right()), end.y.clamp(self.plot.top, self.plot.bottom()))
    }

    fn offset_from_origin(&self, at: Point) -> Point {
        let zero = self.place(Point::new(0.0, 0.0));
        Point::new(at.x - zero.x, at.y - zero.y)
    }

    fn is_named(&self, attribute: &MapAttribute) -> bool {
        if self.options.highlight_attribute.as_ref() == Some(&attribute.attribute) {
            return true;
        }
        let at = self.coordinates(&attribute.correlations);
        at.x * at.x + at.y * at.y >= SMALLEST_NAMED_SHARE
    }

    fn directions(&self, scene: &mut Scene) {
        for (column, attribute) in self.map.attributes.iter().enumerate() {
            let end = self.end_of(attribute);
            let is_highlighted = self.options.highlight_attribute.as_ref() == Some(&attribute.attribute);
            let stroke = match (is_highlighted, self.is_named(attribute)) {
                (true, _) => Stroke::solid(self.theme.ink, 2.0),
                (false, true) => Stroke::solid(self.theme.axis, 1.0),
                (false, false) => Stroke::solid(self.theme.guide, 1.0),
            };
            scene.line(self.place(Point::new(0.0, 0.0)), end, stroke);
            scene.marker(end, 1.8, Marker::Circle, stroke.color, None);
            scene.regions.push(HitRegion {
                shape: RegionShape::Circle { center: end, radius: 4.0 },
                sample: None,
                attribute: Some(attribute.attribute.clone()),
                lines: self.lines_of_attribute(attribute),
                row: 1,
                column,
            });
        }
    }

    fn assessors(&self, scene: &mut Scene) {
        for assessor in &self.map.assessors {
            for (own, sample) in assessor.samples.iter().zip(&self.map.samples) {
                let Ok(own) = own else { continue };
                let style = self.theme.sample_style(self.analysis, &sample.sample);
                let (from, to) = (self.coordinates(&sample.position), self.coordinates(&own.position));
                let is_other = self.options.highlight_sample.as_ref().is_some_and(|name| *name != sample.sample);
                let color = style.color.with_alpha(if is_other { 0.15 } else { 0.45 });
                scene.line(self.place(from), self.place(to), Stroke::solid(color, 0.8));
                scene.marker(self.place(to), 2.2, style.marker, color, None);
            }
        }
    }

    fn samples(&self, scene: &mut Scene) {
        // The target last, so that no candidate covers it.
        let is_target = |place: &usize| self.analysis.target.as_ref() == Some(&self.map.samples[*place].sample);
        let mut order: Vec<usize> = (0..self.map.samples.len()).collect();
        order.sort_by_key(is_target);
        order.into_iter().for_each(|place| self.sample(scene, place));
    }

    fn sample(&self, scene: &mut Scene, place: usize) {
        let (sample, ellipse) = (&self.map.samples[place], &self.ellipses[place]);
        let mut style = self.theme.sample_style(self.analysis, &sample.sample);
        if self.options.highlight_sample.as_ref().is_some_and(|name| *name != sample.sample) {
            style.color = style.color.with_alpha(0.35);
        }
        if let Some(ellipse) = ellipse {
            let points = outline(ellipse).into_iter().map(|point| self.place(point)).collect();
            scene.polyline(points, Stroke::dashed(style.color, 1.2, style.dash));
        }
        let center = self.place(self.coordinates(&sample.position));
        parts::sample_marker(scene, self.theme, center, 5.0, style);
        scene.regions.push(HitRegion {
            shape: RegionShape::Circle { center, radius: 7.0 },
            sample: Some(sample.sample.clone()),
            attribute: None,
            lines: self.lines_of_sample(&sample.sample, &sample.position),
            row: 0,
            column: place,
        });
    }

    /// Names of the axes at their ends, with what they show of all differences. Returns the room that they take.
    fn axis_words(&self, scene: &mut Scene) -> Vec<Rectangle> {
        let words = |axis: usize| match self.map.axes.get(axis) {
            Some(found) => format!("axis {}: {:.1} % of the variance", axis + 1, 100.0 * found.share),
            None => "no second axis".to_owned(),
        };
        let color = self.theme.quiet_ink;
        let at = Point::new(self.plot.right(), self.plot.bottom() + 11.0);
        let across = Label::new(at, words(self.options.x_axis), AXIS_SIZE_PX, color).align(Align::End);
        let at = Point::new(self.plot.left - 11.0, self.plot.top);
        let upwards = shorten(&words(self.options.y_axis), self.plot.height, AXIS_SIZE_PX, false);
        let upwards = Label::new(at, upwards, AXIS_SIZE_PX, color).align(Align::End);
        let upwards = upwards.rotation(Rotation::CounterClockwise90);
        let taken = vec![across.bounds(), upwards.bounds()];
        scene.text(across);
        scene.text(upwards);
        taken
    }
}

/// Points around an ellipse, closed.
fn outline(ellipse: &Ellipse) -> Vec<Point> {
    let (sine, cosine) = (libm::sin(ellipse.angle_radians), libm::cos(ellipse.angle_radians));
    let point = |step: i32| {
        let turn = TAU * f64::from(step) / 48.0;
        let (along, across) = (ellipse.half_length * libm::cos(turn), ellipse.half_width * libm::sin(turn));
        Point::new(ellipse.centre_x + along * cosine - across * sine, ellipse.centre_y + along * sine + across * cosine)
    };
    (0..=48).map(point).collect()
}
