//! Spider plot: target and candidates on one spoke an attribute, in ballot order from the top, clockwise.
//!
//! It shows shape at a glance and lets a hand point at a spoke. It does not judge: neighbouring spokes have nothing to
//! do with each other, so the area inside a line depends on the order of the ballot and is never used for anything,
//! here or elsewhere. The figure that judges is `differences`.

mod data;
mod labels;
mod options;

use crate::figures::parts;
use crate::figures::parts::{EDGE_PX, LegendEntry};
use crate::figures::scene::primitives::{Align, Label, Point, Primitive, Rectangle, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::text_width_px;
use crate::figures::scene::theme::Theme;
use crate::stats::{Analysis, Verdict};
use crate::text::numbers;
use data::{Series, SpiderData};
use labels::{LabelFrame, SpokeLabel, place_labels};
pub use options::SpiderOptions;
use std::f64::consts::TAU;

/// The spider plot of an analysis. Without attributes or samples the figure says so in words.
pub fn spider(analysis: &Analysis, options: &SpiderOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let data = SpiderData::gather(analysis, options);
    if data.attributes.is_empty() || data.series.is_empty() {
        let because = if data.attributes.is_empty() { "no attribute counts" } else { "no sample counts" };
        return parts::empty_figure(width_px, "Profiles", &theme, because);
    }
    let mut scene = Scene::new(width_px, data.title(), theme.background);
    scene.summary = data.summary();
    scene.table = data.table();
    let top = parts::heading(&mut scene, &theme, options.heading, &data.notes(options));
    let top = parts::legend(&mut scene, &theme, top, &legend_entries(&data, &theme, analysis)) + 8.0;
    let drawing = Drawing::lay_out(&data, options, &theme, analysis, width_px, top);
    drawing.draw(&mut scene);
    scene
}

fn legend_entries(data: &SpiderData, theme: &Theme, analysis: &Analysis) -> Vec<LegendEntry> {
    let named = |series: &Series| {
        if series.is_target { format!("{} (target)", series.sample) } else { series.sample.clone() }
    };
    let entry =
        |series: &Series| LegendEntry { style: theme.sample_style(analysis, &series.sample), name: named(series) };
    data.series.iter().map(entry).collect()
}

/// Everything in its place, ready to be drawn.
struct Drawing<'a> {
    data: &'a SpiderData,
    options: &'a SpiderOptions,
    theme: &'a Theme,
    analysis: &'a Analysis,
    center: Point,
    radius: f64,
    /// Distance between the outer ring and the names, with room for the marks of what is off.
    rim_px: f64,
    rings: Vec<f64>,
    labels: Vec<SpokeLabel>,
    /// Whether names stand in a numbered key below, because there is no room beside the spokes.
    numbered: bool,
    bottom: f64,
}

/// Distance between marks of several candidates on one spoke's rim.
const RIM_MARK_STEP_PX: f64 = 9.5;
/// Below this radius names move to a key, so that the figure keeps its size.
const SMALLEST_RADIUS_WITH_NAMES_PX: f64 = 105.0;
const LARGEST_RADIUS_PX: f64 = 290.0;

impl<'a> Drawing<'a> {
    fn lay_out(
        data: &'a SpiderData,
        options: &'a SpiderOptions,
        theme: &'a Theme,
        analysis: &'a Analysis,
        width_px: f64,
        top: f64,
    ) -> Self {
        let size_px = if width_px < 560.0 { 11.0 } else { 12.0 };
        let rim_px = rim_px(data);
        let half = width_px / 2.0 - EDGE_PX;
        let widest = data.attributes.iter().map(|entry| text_width_px(&entry.label_text(), size_px, entry.is_off));
        let beside = widest.fold(0.0, f64::max).min(width_px * 0.25) + 8.0;
        let numbered = half - rim_px - beside < SMALLEST_RADIUS_WITH_NAMES_PX;
        let beside = if numbered { text_width_px("44", size_px, true) + 8.0 } else { beside };
        let radius = (half - rim_px - beside).min(LARGEST_RADIUS_PX);
        let frame = LabelFrame { half_width_px: half, radius: radius + rim_px, size_px };
        let labels = place_labels(&frame, &data.attributes, numbered);
        let highest = labels.iter().map(|label| label.area.top).fold(-radius - rim_px, f64::min);
        let lowest = labels.iter().map(|label| label.area.bottom()).fold(radius + rim_px, f64::max);
        let center = Point::new(width_px / 2.0, (top - highest).ceil());
        let rings = data.rings(options, radius);
        let bottom = center.y + lowest;
        Drawing { data, options, theme, analysis, center, radius, rim_px, rings, labels, numbered, bottom }
    }

    fn draw(&self, scene: &mut Scene) {
        self.highlight(scene);
        self.guides(scene);
        if self.options.intervals {
            self.intervals(scene);
        }
        self.profiles(scene);
        self.ring_values(scene);
        self.rim_marks(scene);
        self.names(scene);
        scene.height_px = (self.bottom + EDGE_PX).ceil();
        if self.numbered {
            let key_top = self.bottom + 12.0;
            let areas = labels::draw_key(scene, self.theme, &self.data.attributes, key_top);
            let lowest = areas.iter().map(Rectangle::bottom).fold(self.bottom, f64::max);
            scene.height_px = (lowest + EDGE_PX).ceil();
            self.regions(scene, &areas);
        } else {
            let areas: Vec<Rectangle> = self.labels.iter().map(|label| self.moved(label.area)).collect();
            self.regions(scene, &areas);
        }
    }

    fn highlight(&self, scene: &mut Scene) {
        let is_pointed_at = |name: &String| self.options.highlight_attribute.as_ref() == Some(name);
        let Some(spoke) = self.data.attributes.iter().position(|entry| is_pointed_at(&entry.name)) else { return };
        let half = (TAU / self.data.attributes.len() as f64 / 2.0).min(0.35);
        let angle = self.angle(spoke);
        let arc = (0..=8).map(|step| angle - half + half * f64::from(step) / 4.0);
        let mut points: Vec<Point> = arc.map(|angle| self.center.polar(self.radius, angle)).collect();
        points.push(self.center);
        scene.primitives.push(Primitive::Polygon { points, fill: self.theme.highlight });
        scene.rectangle(self.moved(self.labels[spoke].area), self.theme.highlight);
    }

    fn guides(&self, scene: &mut Scene) {
        let thin = Stroke::solid(self.theme.guide, 1.0);
        for (index, &value) in self.rings.iter().enumerate().skip(1) {
            let is_rim = index + 1 == self.rings.len();
            let stroke = if is_rim { Stroke::solid(self.theme.axis, 1.0) } else { thin };
            let radius = self.radius_of(value);
            scene.primitives.push(Primitive::Circle { center: self.center, radius, stroke });
        }
        for spoke in 0..self.data.attributes.len() {
            scene.line(self.center, self.center.polar(self.radius, self.angle(spoke)), thin);
        }
    }

    /// Ring values stand between the first two spokes, just inside their ring, the unit with the outermost.
    fn ring_values(&self, scene: &mut Scene) {
        let angle = (TAU / self.data.attributes.len() as f64 / 2.0).min(0.3);
        for (index, &value) in self.rings.iter().enumerate().skip(1) {
            let is_rim = index + 1 == self.rings.len();
            let number = numbers::shown(value, numbers::axis_decimals(&self.rings));
            let text = if is_rim { format!("{number} {}", self.data.unit) } else { number };
            let at = self.center.polar(self.radius_of(value) - 8.0, angle);
            let label = Label::new(at, text, 10.0, self.theme.quiet_ink).align(Align::Middle);
            scene.rectangle(label.bounds(), self.theme.background.with_alpha(0.85));
            scene.text(label);
        }
    }

    /// The target's intervals are broad and pale, the candidates' thin, side by side on their spoke.
    fn intervals(&self, scene: &mut Scene) {
        let arc_px = self.radius * TAU / self.data.attributes.len() as f64;
        let candidates = self.data.series.iter().filter(|series| !series.is_target).count();
        let mut place = 0;
        for series in &self.data.series {
            let style = self.theme.sample_style(self.analysis, &series.sample);
            let aside = if series.is_target { 0.0 } else { (place as f64 - (candidates as f64 - 1.0) / 2.0) * 2.4 };
            place += usize::from(!series.is_target);
            let stroke = if series.is_target {
                Stroke::solid(self.theme.target_pale, (arc_px / 7.0).clamp(3.5, 6.0))
            } else {
                Stroke::solid(style.color.with_alpha(self.alpha(series)), 1.4)
            };
            for (spoke, value) in series.values.iter().enumerate() {
                if let Some(interval) = value.as_ref().and_then(|value| value.interval) {
                    let ends = [interval.lower, interval.upper].map(|end| self.place(spoke, end, aside));
                    scene.line(ends[0], ends[1], stroke);
                }
            }
        }
    }

    /// The target first and thickest, so that candidates stay visible on top of it.
    fn profiles(&self, scene: &mut Scene) {
        let marker_px = (self.radius / 42.0).clamp(2.6, 4.2);
        for series in &self.data.series {
            let mut style = self.theme.sample_style(self.analysis, &series.sample);
            style.color = style.color.with_alpha(self.alpha(series));
            let stroke = Stroke::dashed(style.color, style.line_width_px, style.dash);
            for stretch in series.unbroken_stretches() {
                let places = stretch.iter().map(|&(spoke, mean)| self.place(spoke, mean, 0.0)).collect();
                scene.polyline(places, stroke);
            }
            for (spoke, value) in series.values.iter().enumerate() {
                if let Some(value) = value {
                    let at = self.place(spoke, value.mean, 0.0);
                    parts::sample_marker(scene, self.theme, at, marker_px, style);
                }
            }
        }
    }

    /// Where a candidate is off, its marker stands outside the rim of that spoke.
    fn rim_marks(&self, scene: &mut Scene) {
        for spoke in 0..self.data.attributes.len() {
            let off = self.data.series.iter().filter(|series| series.verdict(spoke) == Some(Verdict::Off));
            let off: Vec<&Series> = off.collect();
            let step = RIM_MARK_STEP_PX.min(30.0 / off.len().max(1) as f64);
            for (place, series) in off.iter().enumerate() {
                let at = self.center.polar(self.radius + 7.5 + step * place as f64, self.angle(spoke));
                let style = self.theme.sample_style(self.analysis, &series.sample);
                parts::sample_marker(scene, self.theme, at, 4.2, style);
            }
        }
    }

    fn names(&self, scene: &mut Scene) {
        for (spoke, label) in self.labels.iter().enumerate() {
            let area = self.moved(label.area);
            if label.is_away {
                let from = self.center.polar(self.radius + self.rim_px - 2.0, self.angle(spoke));
                let to = Point::new(self.center.x + label.anchor.x, self.center.y + label.anchor.y);
                scene.line(from, to, Stroke::solid(self.theme.axis, 0.8));
            }
            let line_px = area.height / label.lines.len().max(1) as f64;
            for (index, line) in label.lines.iter().enumerate() {
                let at = Point::new(self.center.x + label.text_x, area.top + line_px * (index as f64 + 0.5));
                let bold = self.data.attributes[spoke].is_off;
                scene.text(Label::new(at, line, label.size_px, self.theme.ink).bold(bold).align(label.align));
            }
        }
    }

    /// Row 0 of the reading grid is the attribute's name with everybody's value; then one row a sample.
    fn regions(&self, scene: &mut Scene, name_areas: &[Rectangle]) {
        for (spoke, area) in name_areas.iter().enumerate() {
            let attribute = Some(self.data.attributes[spoke].name.clone());
            scene.regions.push(HitRegion {
                shape: RegionShape::Rectangle(*area),
                sample: None,
                attribute: attribute.clone(),
                lines: self.data.lines_of_attribute(spoke),
                row: 0,
                column: spoke,
            });
            for (row, series) in self.data.series.iter().enumerate() {
                let Some(value) = &series.values[spoke] else { continue };
                let center = self.place(spoke, value.mean, 0.0);
                scene.regions.push(HitRegion {
                    shape: RegionShape::Circle { center, radius: 5.0 },
                    sample: Some(series.sample.clone()),
                    attribute: attribute.clone(),
                    lines: self.data.lines_of_value(series, spoke),
                    row: row + 1,
                    column: spoke,
                });
            }
        }
    }

    fn alpha(&self, series: &Series) -> f64 {
        match &self.options.highlight_sample {
            Some(sample) if *sample != series.sample && !series.is_target => 0.25,
            _ => 1.0,
        }
    }

    fn angle(&self, spoke: usize) -> f64 {
        TAU * spoke as f64 / self.data.attributes.len() as f64
    }

    fn radius_of(&self, value: f64) -> f64 {
        let outermost = self.rings.last().copied().unwrap_or(1.0);
        (value / outermost).clamp(0.0, 1.0) * self.radius
    }

    /// A value's place on its spoke, moved sideways by some pixels.
    fn place(&self, spoke: usize, value: f64, aside_px: f64) -> Point {
        let angle = self.angle(spoke);
        let on_spoke = self.center.polar(self.radius_of(value), angle);
        Point::new(on_spoke.x + aside_px * libm::cos(angle), on_spoke.y + aside_px * libm::sin(angle))
    }

    fn moved(&self, area: Rectangle) -> Rectangle {
        Rectangle { left: area.left + self.center.x, top: area.top + self.center.y, ..area }
    }
}

fn rim_px(data: &SpiderData) -> f64 {
    let most_off = (0..data.attributes.len())
        .map(|spoke| data.series.iter().filter(|series| series.verdict(spoke) == Some(Verdict::Off)).count())
        .max()
        .unwrap_or(0);
    match most_off {
        0 => 6.0,
        count => 14.0 + (RIM_MARK_STEP_PX * (count as f64 - 1.0)).min(30.0),
    }
}
