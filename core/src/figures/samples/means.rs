//! Means by attribute: one small axis an attribute, one row a sample, the target as a line with its margin.
//!
//! A mean's interval holds the spread between assessors and is wider than what tells two samples apart; the figure says
//! so. Whether a candidate is off is read in `differences`.

use crate::figures::parts;
use crate::figures::parts::{EDGE_PX, LegendEntry};
use crate::figures::scene::layout::round_values;
use crate::figures::scene::primitives::{Align, Dash, FigureTable, Label, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{shorten, text_width_px};
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::stats::{Analysis, AttributeAnalysis, SampleMean};
use crate::text::{lists, numbers};

/// Order of the attributes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MeansOrder {
    /// From the attribute on which the samples lie farthest apart.
    #[default]
    WidestFirst,
    /// As on the ballot.
    Ballot,
}

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct MeansOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Candidates to draw beside the target; `None` for all.
    pub candidates: Option<Vec<String>>,
    /// Order of the attributes.
    pub order: MeansOrder,
    /// Whether the 95 % interval of each mean is drawn.
    pub intervals: bool,
    /// A sample that is pointed at elsewhere: the others step back.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its axis is underlaid.
    pub highlight_attribute: Option<String>,
    /// Unit to print instead of the analysis' own.
    pub unit: Option<String>,
}

impl Default for MeansOptions {
    fn default() -> Self {
        MeansOptions {
            width_px: 760.0,
            theme: ThemeKind::Light,
            heading: true,
            candidates: None,
            order: MeansOrder::WidestFirst,
            intervals: true,
            highlight_sample: None,
            highlight_attribute: None,
            unit: None,
        }
    }
}

/// Means of all samples, attribute by attribute. Without attributes or samples the figure says so in words.
pub fn means(analysis: &Analysis, options: &MeansOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let target = analysis.target.iter().filter(|name| analysis.samples.contains(name)).cloned();
    let samples: Vec<String> =
        target.chain(parts::chosen_candidates(analysis, options.candidates.as_deref())).collect();
    if samples.is_empty() || analysis.attributes.is_empty() {
        let because = if samples.is_empty() { "no sample counts" } else { "no attribute counts" };
        return parts::empty_figure(width_px, "Means", &theme, because);
    }
    let unit = parts::unit_of(analysis, options.unit.as_ref());
    let mut scene = Scene::new(width_px, "Means of the samples, attribute by attribute", theme.background);
    let drawing = Drawing::new(analysis, options, &theme, samples, unit, width_px);
    scene.summary = drawing.summary();
    scene.table = drawing.table();
    let top = parts::heading(&mut scene, &theme, options.heading, &[drawing.note()]);
    let top = parts::legend(&mut scene, &theme, top, &drawing.legend()) + 10.0;
    scene.height_px = (drawing.draw(&mut scene, top) + EDGE_PX).ceil();
    scene
}

struct Drawing<'a> {
    analysis: &'a Analysis,
    options: &'a MeansOptions,
    theme: &'a Theme,
    samples: Vec<String>,
    unit: String,
    decimals: usize,
    /// In the order in which they are drawn.
    attributes: Vec<&'a AttributeAnalysis>,
    columns: usize,
    column_px: f64,
    /// Round values of the shared axis.
    ticks: Vec<f64>,
}

const COLUMN_GAP_PX: f64 = 26.0;
const SMALLEST_COLUMN_PX: f64 = 190.0;
const NAME_SIZE_PX: f64 = 12.5;
const TICK_SIZE_PX: f64 = 10.0;
const NAME_PX: f64 = 18.0;
const SAMPLE_ROW_PX: f64 = 13.0;
const AXIS_PX: f64 = 15.0;
const PANEL_GAP_PX: f64 = 12.0;

impl<'a> Drawing<'a> {
    fn new(
        analysis: &'a Analysis,
        options: &'a MeansOptions,
        theme: &'a Theme,
        samples: Vec<String>,
        unit: String,
        width_px: f64,
    ) -> Self {
        let room = width_px - 2.0 * EDGE_PX + COLUMN_GAP_PX;
        let columns = ((room / (SMALLEST_COLUMN_PX + COLUMN_GAP_PX)) as usize).clamp(1, analysis.attributes.len());
        let column_px = (room / columns as f64 - COLUMN_GAP_PX).min(420.0);
        let decimals = numbers::decimals_in_words(analysis.scale_maximum);
        let (attributes, ticks) = (analysis.attributes.iter().collect(), Vec::new());
        let mut drawing =
            Drawing { analysis, options, theme, samples, unit, decimals, attributes, columns, column_px, ticks };
        drawing.attributes = drawing.in_order();
        drawing.ticks = drawing.axis_values();
        drawing
    }

    fn in_order(&self) -> Vec<&'a AttributeAnalysis> {
        let mut attributes = self.attributes.clone();
        if self.options.order == MeansOrder::WidestFirst {
            attributes.sort_by(|a, b| self.spread(b).total_cmp(&self.spread(a)));
        }
        attributes
    }

    fn mean<'b>(&self, entry: &'b AttributeAnalysis, sample: &str) -> Option<&'b SampleMean> {
        entry.means.iter().find(|mean| mean.sample == sample && mean.mean.is_finite())
    }

    /// Distance between the highest and the lowest drawn mean.
    fn spread(&self, entry: &AttributeAnalysis) -> f64 {
        let drawn: Vec<f64> = self.samples.iter().filter_map(|name| Some(self.mean(entry, name)?.mean)).collect();
        let highest = drawn.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let lowest = drawn.iter().copied().fold(f64::INFINITY, f64::min);
        if drawn.is_empty() { f64::NEG_INFINITY } else { highest - lowest }
    }

    fn interval(&self, mean: &SampleMean) -> Option<[f64; 2]> {
        let spread = mean.spread.as_ref().ok().filter(|_| self.options.intervals)?;
        let ends = [spread.lower, spread.upper];
        ends.iter().all(|end| end.is_finite()).then_some(ends)
    }

    /// From zero, or from the lowest value where something lies below it.
    fn axis_values(&self) -> Vec<f64> {
        let drawn = self.attributes.iter().flat_map(|entry| {
            let found = self.samples.iter().filter_map(|name| self.mean(entry, name));
            found.flat_map(|mean| {
                let ends = self.interval(mean).unwrap_or([mean.mean; 2]);
                // An interval may be cut at the ends of the scale, where no score can lie.
                ends.map(|end| end.clamp(0.0_f64.min(mean.mean), self.analysis.scale_maximum.max(mean.mean)))
            })
        });
        let (lower, upper) = drawn.fold((0.0_f64, 0.0_f64), |(lower, upper), end| (lower.min(end), upper.max(end)));
        let upper = if upper > lower { upper } else { self.analysis.scale_maximum.max(lower + 1.0) };
        round_values(lower, upper, ((self.column_px / 46.0) as usize).clamp(2, 6))
    }

    fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let height = NAME_PX + SAMPLE_ROW_PX * self.samples.len() as f64 + AXIS_PX;
        let mut bottom = top;
        for (place, entry) in self.attributes.iter().enumerate() {
            let (line, column) = (place / self.columns, place % self.columns);
            let left = EDGE_PX + (self.column_px + COLUMN_GAP_PX) * column as f64;
            let y = top + (height + PANEL_GAP_PX) * line as f64;
            self.panel(scene, entry, place, Rectangle::new(left, y, self.column_px, height));
            bottom = y + height;
        }
        bottom
    }

    fn panel(&self, scene: &mut Scene, entry: &AttributeAnalysis, place: usize, area: Rectangle) {
        self.underlay(scene, entry, area);
        let name = shorten(&entry.attribute, area.width, NAME_SIZE_PX, true);
        let at = Point::new(area.left, area.top + NAME_PX / 2.0);
        scene.text(Label::new(at, name, NAME_SIZE_PX, self.theme.ink).bold(true));
        let rows = Rectangle::new(area.left, area.top + NAME_PX, area.width, SAMPLE_ROW_PX * self.samples.len() as f64);
        self.axis(scene, rows);
        self.target(scene, entry, rows);
        for (row, sample) in self.samples.iter().enumerate() {
            let Some(mean) = self.mean(entry, sample) else { continue };
            let y = rows.top + SAMPLE_ROW_PX * (row as f64 + 0.5);
            self.point(scene, mean, rows, y);
            scene.regions.push(HitRegion {
                shape: row_shape(rows, y),
                sample: Some(sample.clone()),
                attribute: Some(entry.attribute.clone()),
                lines: self.lines_of(entry, mean),
                row: place * self.samples.len() + row,
                column: 0,
            });
        }
    }

    fn underlay(&self, scene: &mut Scene, entry: &AttributeAnalysis, area: Rectangle) {
        if self.options.highlight_attribute.as_ref() == Some(&entry.attribute) {
            let around = Rectangle::new(area.left - 5.0, area.top, area.width + 10.0, area.height);
            scene.rectangle(around, self.theme.highlight);
        }
    }

    fn x(&self, value: f64, rows: Rectangle) -> f64 {
        let (first, last) = (self.ticks[0], self.ticks[self.ticks.len() - 1]);
        rows.left + ((value - first) / (last - first)).clamp(0.0, 1.0) * rows.width
    }

    fn axis(&self, scene: &mut Scene, rows: Rectangle) {
        let bottom = rows.bottom();
        for &tick in &self.ticks {
            let x = self.x(tick, rows);
            scene.line(Point::new(x, rows.top), Point::new(x, bottom), Stroke::solid(self.theme.guide, 1.0));
        }
        let stroke = Stroke::solid(self.theme.axis, 1.0);
        scene.line(Point::new(rows.left, bottom), Point::new(rows.right(), bottom), stroke);
        self.tick_values(scene, rows);
    }

    fn tick_values(&self, scene: &mut Scene, rows: Rectangle) {
        // From the right, so that the last value with its unit is always there and others give way.
        let mut free_until = f64::INFINITY;
        for (index, &tick) in self.ticks.iter().enumerate().rev() {
            let number = numbers::shown(tick, numbers::axis_decimals(&self.ticks));
            let is_last = index + 1 == self.ticks.len();
            let text = if is_last { format!("{number} {}", self.unit) } else { number };
            let half = text_width_px(&text, TICK_SIZE_PX, false) / 2.0;
            let x = self.x(tick, rows).clamp(rows.left + half, (rows.right() - half).max(rows.left + half));
            if x + half > free_until {
                continue;
            }
            free_until = x - half - 4.0;
            let label = Label::new(Point::new(x, rows.bottom() + 8.0), text, TICK_SIZE_PX, self.theme.quiet_ink);
            scene.text(label.align(Align::Middle));
        }
    }

    /// The target's mean as a line over all rows, its margin shaded.
    fn target(&self, scene: &mut Scene, entry: &AttributeAnalysis, rows: Rectangle) {
        let Some(target) = self.analysis.target.as_ref().and_then(|name| self.mean(entry, name)) else { return };
        let margin =
            entry.versus_target.first().map(|difference| difference.margin).filter(|margin| margin.is_finite());
        if let Some(margin) = margin {
            let ends = [target.mean - margin.abs(), target.mean + margin.abs()].map(|end| self.x(end, rows));
            scene.rectangle(Rectangle::new(ends[0], rows.top, ends[1] - ends[0], rows.height), self.theme.band);
        }
        let x = self.x(target.mean, rows);
        let stroke = Stroke::dashed(self.theme.ink, 1.2, Dash::Solid);
        scene.line(Point::new(x, rows.top), Point::new(x, rows.bottom()), stroke);
    }

    fn point(&self, scene: &mut Scene, mean: &SampleMean, rows: Rectangle, y: f64) {
        let mut style = self.theme.sample_style(self.analysis, &mean.sample);
        if self.options.highlight_sample.as_ref().is_some_and(|name| *name != mean.sample) {
            style.color = style.color.with_alpha(0.3);
        }
        if let Some(ends) = self.interval(mean) {
            let ends = ends.map(|end| Point::new(self.x(end, rows), y));
            scene.line(ends[0], ends[1], Stroke::solid(style.color, 1.6));
        }
        parts::sample_marker(scene, self.theme, Point::new(self.x(mean.mean, rows), y), 4.0, style);
    }

    fn lines_of(&self, entry: &AttributeAnalysis, mean: &SampleMean) -> Vec<String> {
        let is_target = self.analysis.target.as_ref() == Some(&mean.sample);
        let role = if is_target { " (target)" } else { "" };
        let value = format!("mean {} {}", numbers::shown(mean.mean, self.decimals), self.unit);
        let value = match &mean.spread {
            Ok(spread) => {
                let span = numbers::shown_span(spread.lower, spread.upper, self.decimals);
                format!("{value} (95\u{a0}% interval {span})")
            }
            Err(reason) => format!("{value}, interval {reason}"),
        };
        let mut lines = vec![format!("{}{role}, {}", mean.sample, entry.attribute), value];
        if let Some(difference) = entry.versus_target.iter().find(|difference| difference.sample == mean.sample) {
            let by = numbers::shown_signed(difference.difference, self.decimals);
            lines.push(format!("{by} {} against the target: {}", self.unit, difference.verdict.in_words()));
        }
        lines
    }

    fn note(&self) -> String {
        let mut note = format!("Means in {}", self.unit);
        if self.options.intervals {
            note.push_str(
                " with the 95\u{a0}% interval of each mean, which holds the spread between assessors: intervals that \
                 overlap do not mean that two samples are alike",
            );
        }
        note.push('.');
        if self.analysis.target.is_some() {
            note.push_str(" Line: the target; shaded: its margin.");
        }
        note
    }

    fn legend(&self) -> Vec<LegendEntry> {
        let named = |sample: &String| {
            let is_target = self.analysis.target.as_ref() == Some(sample);
            if is_target { format!("{sample} (target)") } else { sample.clone() }
        };
        let entry = |sample: &String| LegendEntry {
            style: self.theme.sample_style(self.analysis, sample),
            name: named(sample),
        };
        self.samples.iter().map(entry).collect()
    }

    fn summary(&self) -> String {
        let widest = self.attributes.iter().max_by(|a, b| self.spread(a).total_cmp(&self.spread(b)));
        let widest = widest.filter(|entry| self.spread(entry).is_finite()).map(|entry| {
            let spread = numbers::shown(self.spread(entry), self.decimals);
            format!("; the samples lie farthest apart on {}, by {spread} {}", entry.attribute, self.unit)
        });
        format!(
            "Means of {} on {}{}.",
            lists::counted(self.samples.len(), "sample", "samples"),
            lists::counted(self.attributes.len(), "attribute", "attributes"),
            widest.unwrap_or_default()
        )
    }

    fn table(&self) -> FigureTable {
        let headings: Vec<String> = self.samples.iter().map(|sample| format!("{sample}, {}", self.unit)).collect();
        let mut columns = vec![("Attribute", false)];
        columns.extend(headings.iter().map(|heading| (heading.as_str(), true)));
        let mut table = FigureTable::with_columns(&columns);
        for entry in &self.attributes {
            let cell = |sample: &String| {
                let mean = self.mean(entry, sample);
                mean.map_or("–".to_owned(), |mean| numbers::shown(mean.mean, self.decimals + 1))
            };
            let cells = self.samples.iter().map(cell);
            table.rows.push(std::iter::once(entry.attribute.clone()).chain(cells).collect());
        }
        table
    }
}

/// The row of one sample around its middle.
fn row_shape(rows: Rectangle, y: f64) -> RegionShape {
    RegionShape::Rectangle(Rectangle::new(rows.left, y - SAMPLE_ROW_PX / 2.0, rows.width, SAMPLE_ROW_PX))
}
