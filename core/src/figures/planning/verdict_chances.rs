//! Chances of the whole verdict over the number of assessors: one small axis a truth, one line a way in which the verdict
//! can end, told apart by marker and dash as well as by colour. It draws what was simulated and simulates nothing.

use crate::figures::parts;
use crate::figures::parts::{EDGE_PX, LegendEntry};
use crate::figures::scene::primitives::{Align, Dash, FigureTable, Label, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::text_width_px;
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::stats::r#match::calibrated::Chances;
use crate::stats::r#match::verdict_chances::{ChancesAt, VerdictChances};
use crate::text::numbers::fixed;

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictChancesOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// The number of assessors that is marked.
    pub assessors: usize,
}

impl Default for VerdictChancesOptions {
    fn default() -> Self {
        VerdictChancesOptions { width_px: 760.0, theme: ThemeKind::Light, heading: true, assessors: 10 }
    }
}

/// A way in which a verdict can end: what it is called, and how many studies ended so.
type End = (&'static str, fn(&Chances) -> u64);

/// The ways in which a verdict can end, in the order of the legend.
const ENDS: [End; 4] = [
    ("off", |chances| chances.off),
    ("match on each attribute", |chances| chances.match_each_attribute),
    ("match as a profile", |chances| chances.match_profile),
    ("not shown", |chances| chances.not_shown),
];
/// A plan is made for the line of 100 mm.
const MM: &str = "mm";
const TITLE: &str = "Chances of the verdict by number of assessors";
const GAP_PX: f64 = 26.0;
const SMALLEST_PANEL_PX: f64 = 210.0;
const PLOT_PX: f64 = 150.0;
const NAME_PX: f64 = 34.0;
const AXIS_PX: f64 = 38.0;
/// Room for the numbers left of a panel.
const VALUES_PX: f64 = 26.0;
const TICK_SIZE_PX: f64 = 10.0;
const NAME_SIZE_PX: f64 = 12.5;
const MARKER_PX: f64 = 3.8;

/// The chances drawn. Without any the figure says so.
pub fn verdict_chances(found: &VerdictChances, options: &VerdictChancesOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let truths = found.at.first().map_or(0, |at| at.truths.len());
    if truths == 0 {
        return parts::empty_figure(width_px, TITLE, &theme, "nothing was simulated");
    }
    let drawing = Drawing { found, options, theme: &theme, truths, width_px };
    let mut scene = Scene::new(width_px, TITLE, theme.background);
    scene.summary = drawing.summary();
    scene.table = drawing.table();
    let note = format!("Times in 100, from {} made-up studies each.", found.planned.studies);
    let top = parts::heading(&mut scene, &theme, options.heading, &[note]);
    let top = parts::legend(&mut scene, &theme, top, &drawing.legend()) + 8.0;
    scene.height_px = (drawing.draw(&mut scene, top) + EDGE_PX).ceil();
    scene
}

struct Drawing<'a> {
    found: &'a VerdictChances,
    options: &'a VerdictChancesOptions,
    theme: &'a Theme,
    truths: usize,
    width_px: f64,
}

impl Drawing<'_> {
    fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let room = self.width_px - 2.0 * EDGE_PX + GAP_PX;
        let columns = ((room / (SMALLEST_PANEL_PX + GAP_PX)) as usize).clamp(1, self.truths);
        let panel_px = room / columns as f64 - GAP_PX;
        let height = NAME_PX + PLOT_PX + AXIS_PX;
        for place in 0..self.truths {
            let left = EDGE_PX + (panel_px + GAP_PX) * (place % columns) as f64;
            let y = top + height * (place / columns) as f64;
            let plot = Rectangle::new(left + VALUES_PX, y + NAME_PX, panel_px - VALUES_PX - 4.0, PLOT_PX);
            self.panel(scene, place, Point::new(left, y + 8.0), plot);
        }
        top + height * self.truths.div_ceil(columns) as f64
    }

    fn panel(&self, scene: &mut Scene, place: usize, name_at: Point, plot: Rectangle) {
        let name = self.found.at[0].truths[place].truth.in_words(MM);
        scene.text(Label::new(name_at, name, NAME_SIZE_PX, self.theme.ink).bold(true));
        self.axes(scene, plot);
        self.planned(scene, plot);
        for (end, (_, count)) in ENDS.iter().enumerate() {
            self.line(scene, plot, place, end, *count);
        }
        for (column, at) in self.found.at.iter().enumerate() {
            scene.regions.push(self.region(plot, place, column, at));
        }
    }

    /// Where a number of assessors stands. One number alone stands in the middle.
    fn x(&self, assessors: usize, plot: Rectangle) -> f64 {
        let ends = (self.found.at.first(), self.found.at.last());
        let (Some(first), Some(last)) = ends else { return plot.left };
        let (low, high) = (first.assessors as f64, last.assessors as f64);
        let share = if high > low { (assessors as f64 - low) / (high - low) } else { 0.5 };
        plot.left + 8.0 + share * (plot.width - 16.0)
    }

    fn y(share: f64, plot: Rectangle) -> f64 {
        plot.bottom() - share * plot.height
    }

    fn axes(&self, scene: &mut Scene, plot: Rectangle) {
        for hundredths in [0, 25, 50, 75, 100] {
            let y = Self::y(f64::from(hundredths) / 100.0, plot);
            let color = if hundredths == 0 { self.theme.axis } else { self.theme.guide };
            scene.line(Point::new(plot.left, y), Point::new(plot.right(), y), Stroke::solid(color, 1.0));
            let at = Point::new(plot.left - 5.0, y);
            let label = Label::new(at, hundredths.to_string(), TICK_SIZE_PX, self.theme.quiet_ink);
            scene.text(label.align(Align::End));
        }
        let mut free_from = f64::NEG_INFINITY;
        for at in &self.found.at {
            let text = at.assessors.to_string();
            let half = text_width_px(&text, TICK_SIZE_PX, false) / 2.0;
            let x = self.x(at.assessors, plot);
            if x - half >= free_from {
                free_from = x + half + 4.0;
                let label = Label::new(Point::new(x, plot.bottom() + 9.0), text, TICK_SIZE_PX, self.theme.quiet_ink);
                scene.text(label.align(Align::Middle));
            }
        }
        let at = Point::new(plot.left + plot.width / 2.0, plot.bottom() + 23.0);
        scene.text(Label::new(at, "assessors", TICK_SIZE_PX, self.theme.quiet_ink).align(Align::Middle));
    }

    /// The planned number of assessors, where it was simulated.
    fn planned(&self, scene: &mut Scene, plot: Rectangle) {
        if self.found.with(self.options.assessors).is_none() {
            return;
        }
        let x = self.x(self.options.assessors, plot);
        let stroke = Stroke::dashed(self.theme.ink, 1.2, Dash::Fine);
        scene.line(Point::new(x, plot.top), Point::new(x, plot.bottom()), stroke);
        let word = "planned";
        let is_left = x + text_width_px(word, TICK_SIZE_PX, false) + 6.0 <= plot.right();
        let (align, beside) = if is_left { (Align::Start, 4.0) } else { (Align::End, -4.0) };
        let label = Label::new(Point::new(x + beside, plot.top - 4.0), word, TICK_SIZE_PX, self.theme.ink);
        scene.text(label.align(align));
    }

    fn line(&self, scene: &mut Scene, plot: Rectangle, place: usize, end: usize, count: fn(&Chances) -> u64) {
        let style = self.theme.candidate_style(end);
        let point = |at: &ChancesAt| {
            let chances = &at.truths[place];
            Point::new(self.x(at.assessors, plot), Self::y(chances.share(count(chances)), plot))
        };
        let points: Vec<Point> = self.found.at.iter().map(point).collect();
        if points.len() > 1 {
            scene.polyline(points.clone(), Stroke::dashed(style.color, style.line_width_px, style.dash));
        }
        for point in points {
            parts::sample_marker(scene, self.theme, point, MARKER_PX, style);
        }
    }

    fn region(&self, plot: Rectangle, place: usize, column: usize, at: &ChancesAt) -> HitRegion {
        let chances = &at.truths[place];
        let half = (plot.width - 16.0) / (2.0 * self.found.at.len().max(2) as f64);
        let x = self.x(at.assessors, plot);
        let said = ENDS.iter().map(|(name, count)| format!("{name}: {} in 100", in_100(chances, *count)));
        let first = format!("{} assessors, {}", at.assessors, chances.truth.in_words(MM));
        HitRegion {
            shape: RegionShape::Rectangle(Rectangle::new(x - half, plot.top, 2.0 * half, plot.height)),
            sample: None,
            attribute: None,
            lines: std::iter::once(first).chain(said).collect(),
            row: place,
            column,
        }
    }

    fn legend(&self) -> Vec<LegendEntry> {
        let entry = |(end, (name, _)): (usize, &End)| LegendEntry {
            style: self.theme.candidate_style(end),
            name: (*name).to_owned(),
        };
        ENDS.iter().enumerate().map(entry).collect()
    }

    fn summary(&self) -> String {
        let Some(at) = self.found.with(self.options.assessors).or(self.found.at.last()) else { return String::new() };
        let said = at.truths.iter().map(|chances| {
            let matched = fixed(100.0 * chances.matched(), 0);
            let off = in_100(chances, ENDS[0].1);
            format!("{} is called a match {matched} and off {off} times in 100", chances.truth.in_words(MM))
        });
        format!("With {} assessors: {}.", at.assessors, said.collect::<Vec<_>>().join("; "))
    }

    fn table(&self) -> FigureTable {
        let mut columns = vec![("Assessors", true), ("Truth", false)];
        columns.extend(ENDS.iter().map(|(name, _)| (*name, true)));
        let mut table = FigureTable::with_columns(&columns);
        for at in &self.found.at {
            for chances in &at.truths {
                let fixed = [at.assessors.to_string(), chances.truth.in_words(MM)];
                let counts = ENDS.iter().map(|(_, count)| in_100(chances, *count));
                table.rows.push(fixed.into_iter().chain(counts).collect());
            }
        }
        table
    }
}

/// A count as times in 100.
fn in_100(chances: &Chances, count: fn(&Chances) -> u64) -> String {
    fixed(100.0 * chances.share(count(chances)), 0)
}
