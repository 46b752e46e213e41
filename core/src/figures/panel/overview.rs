//! Panel overview: assessors across, attributes down; a letter where an assessor fails, a dot where none is found.
//!
//! d, r and a stand for discrimination, repeatability and agreement (ISO 11132:2021). Only attributes on which the
//! panel itself finds differences between samples are judged; the others are named below the grid.

use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::{Align, FigureTable, Label, Marker, Point, Rectangle, Rotation, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{shorten, text_width_px};
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::stats::Defined;
use crate::stats::panel::assessor::AssessorOnAttribute;
use crate::stats::panel::outcomes::{Outcome, OutcomeCounts};
use crate::stats::panel::performance::{PanelAttribute, PanelPerformance, TestCounts};
use crate::text::{lists, numbers};

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelGridOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Unit of the scale, for what is read out.
    pub unit: String,
    /// An assessor that is pointed at elsewhere: the column is underlaid.
    pub highlight_assessor: Option<String>,
    /// An attribute that is pointed at elsewhere: the row is underlaid.
    pub highlight_attribute: Option<String>,
}

impl Default for PanelGridOptions {
    fn default() -> Self {
        PanelGridOptions {
            width_px: 760.0,
            theme: ThemeKind::Light,
            heading: true,
            unit: "mm".to_owned(),
            highlight_assessor: None,
            highlight_attribute: None,
        }
    }
}

/// Who discriminates, repeats and agrees on what. Without assessors or attributes the figure says so in words.
///
/// In a region's `sample` stands nothing; its first line names assessor and attribute.
pub fn panel_grid(performance: &PanelPerformance, options: &PanelGridOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    if performance.assessors.is_empty() || performance.attributes.is_empty() {
        let because = if performance.assessors.is_empty() { "no assessor counts" } else { "no attribute counts" };
        return parts::empty_figure(width_px, "Panel", &theme, because);
    }
    let title = format!(
        "The panel: {} on {}",
        lists::counted(performance.assessors.len(), "assessor", "assessors"),
        lists::counted(performance.attributes.len(), "attribute", "attributes")
    );
    let mut scene = Scene::new(width_px, title, theme.background);
    scene.summary = summary(performance);
    scene.table = table(performance);
    let top = parts::heading(&mut scene, &theme, options.heading, &[legend_words(performance.alpha)]);
    let grid = Grid::lay_out(performance, options, &theme, width_px);
    let bottom = grid.draw(&mut scene, top);
    scene.height_px = parts::footnotes(&mut scene, &theme, bottom + 6.0, &not_judged(performance)).ceil();
    scene
}

/// Letters of what fails, in the order discrimination, repeatability, agreement.
fn failures(one: &AssessorOnAttribute) -> String {
    let found = [('d', one.outcomes.discrimination), ('r', one.outcomes.repeatability), ('a', one.outcomes.agreement)];
    found.iter().filter(|(_, outcome)| *outcome == Some(Outcome::Fails)).map(|(letter, _)| *letter).collect()
}

/// Whether some test had too few cups to tell.
fn is_open(one: &AssessorOnAttribute) -> bool {
    tests(one).contains(&Some(Outcome::TooFewCups))
}

/// Whether nothing at all could be tested.
fn is_untested(one: &AssessorOnAttribute) -> bool {
    tests(one).iter().all(Option::is_none)
}

fn tests(one: &AssessorOnAttribute) -> [Option<Outcome>; 3] {
    [one.outcomes.discrimination, one.outcomes.repeatability, one.outcomes.agreement]
}

fn legend_words(alpha: f64) -> String {
    format!(
        "d: does not tell the samples apart. r: scatters more between replicates than the others. a: does not agree with \
         the others. Dot: all shown; ring: too few cups to tell; bar: not tested. Letters only where a sound assessor \
         would hardly do as badly; tests at alpha {}.",
        numbers::shown_percent(alpha)
    )
}

struct Grid<'a> {
    performance: &'a PanelPerformance,
    options: &'a PanelGridOptions,
    theme: &'a Theme,
    judged: Vec<&'a PanelAttribute>,
    /// Left end of the cells.
    left: f64,
    column_px: f64,
    per_block: usize,
    heads_px: f64,
    heads_are_upright: bool,
}

const NAME_SIZE_PX: f64 = 12.0;
const HEAD_SIZE_PX: f64 = 11.0;
const LETTER_SIZE_PX: f64 = 11.5;
const ROW_PX: f64 = 20.0;
const COLUMN_RANGE_PX: (f64, f64) = (29.0, 44.0);

impl<'a> Grid<'a> {
    fn lay_out(
        performance: &'a PanelPerformance,
        options: &'a PanelGridOptions,
        theme: &'a Theme,
        width_px: f64,
    ) -> Self {
        let judged: Vec<&PanelAttribute> =
            performance.attributes.iter().filter(|attribute| attribute.panel_discriminates).collect();
        let row_names =
            judged.iter().map(|attribute| attribute.attribute.as_str()).chain(FAILURE_ROWS.map(|row| row.0));
        let widest = row_names.map(|name| text_width_px(name, NAME_SIZE_PX, false)).fold(0.0, f64::max);
        let left = EDGE_PX + widest.min(width_px * 0.34).ceil() + 10.0;
        let count = performance.assessors.len();
        let room = width_px - EDGE_PX - left;
        let per_block = ((room / COLUMN_RANGE_PX.0).floor().max(1.0) as usize).min(count);
        let per_block = count.div_ceil(count.div_ceil(per_block));
        let column_px = (room / per_block as f64).clamp(COLUMN_RANGE_PX.0, COLUMN_RANGE_PX.1).min(room);
        let heads = performance.assessors.iter().map(|one| text_width_px(&one.assessor, HEAD_SIZE_PX, false));
        let widest_head = heads.fold(0.0, f64::max);
        let heads_are_upright = widest_head + 4.0 <= column_px;
        let heads_px = if heads_are_upright { 18.0 } else { widest_head.min(90.0) + 8.0 };
        Grid { performance, options, theme, judged, left, column_px, per_block, heads_px, heads_are_upright }
    }

    /// Blocks of assessors below each other where they don't fit side by side.
    fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let mut y = top;
        for start in (0..self.performance.assessors.len()).step_by(self.per_block) {
            let end = (start + self.per_block).min(self.performance.assessors.len());
            let assessors: Vec<usize> = (start..end).collect();
            self.highlight(scene, &assessors, y);
            let first = y + self.heads_px;
            self.heads(scene, &assessors, first);
            for row in 0..self.judged.len() {
                self.row(scene, row, &assessors, first + ROW_PX * row as f64);
            }
            let below = first + ROW_PX * self.judged.len() as f64;
            y = self.counts(scene, &assessors, below) + 12.0;
        }
        y - 12.0
    }

    fn x(&self, column: usize) -> f64 {
        self.left + self.column_px * (column as f64 + 0.5)
    }

    fn right(&self, assessors: &[usize]) -> f64 {
        self.left + self.column_px * assessors.len() as f64
    }

    fn highlight(&self, scene: &mut Scene, assessors: &[usize], top: f64) {
        let names = assessors.iter().map(|&assessor| &self.performance.assessors[assessor].assessor);
        let pointed_at = self.options.highlight_assessor.as_ref();
        if let Some(column) = names.into_iter().position(|name| pointed_at == Some(name)) {
            let height = self.heads_px + ROW_PX * (self.judged.len() + FAILURE_ROWS.len()) as f64;
            let left = self.x(column) - self.column_px / 2.0;
            scene.rectangle(Rectangle::new(left, top, self.column_px, height), self.theme.highlight);
        }
    }

    fn heads(&self, scene: &mut Scene, assessors: &[usize], bottom: f64) {
        for (column, &assessor) in assessors.iter().enumerate() {
            let name = &self.performance.assessors[assessor].assessor;
            let x = self.x(column);
            if self.heads_are_upright {
                let label = Label::new(Point::new(x, bottom - 9.0), name, HEAD_SIZE_PX, self.theme.ink);
                scene.text(label.align(Align::Middle));
            } else {
                let name = shorten(name, self.heads_px - 8.0, HEAD_SIZE_PX, false);
                let label = Label::new(Point::new(x, bottom - 4.0), name, HEAD_SIZE_PX, self.theme.ink);
                scene.text(label.rotation(Rotation::CounterClockwise90));
            }
        }
        let stroke = Stroke::solid(self.theme.axis, 1.0);
        scene.line(Point::new(EDGE_PX, bottom), Point::new(self.right(assessors), bottom), stroke);
    }

    fn row(&self, scene: &mut Scene, row: usize, assessors: &[usize], top: f64) {
        let attribute = self.judged[row];
        let y = top + ROW_PX / 2.0;
        if self.options.highlight_attribute.as_ref() == Some(&attribute.attribute) {
            let area = Rectangle::new(EDGE_PX - 4.0, top, self.right(assessors) - EDGE_PX + 4.0, ROW_PX);
            scene.rectangle(area, self.theme.highlight);
        }
        let name = shorten(&attribute.attribute, self.left - EDGE_PX - 8.0, NAME_SIZE_PX, false);
        scene.text(Label::new(Point::new(EDGE_PX, y), name, NAME_SIZE_PX, self.theme.ink));
        for (column, &assessor) in assessors.iter().enumerate() {
            if let Some(one) = attribute.assessors.get(assessor) {
                self.cell(scene, one, Point::new(self.x(column), y));
                scene.regions.push(self.region(attribute, one, (row, assessor), Point::new(self.x(column), y)));
            }
        }
        let bottom = top + ROW_PX;
        let stroke = Stroke::solid(self.theme.guide, 1.0);
        scene.line(Point::new(EDGE_PX, bottom), Point::new(self.right(assessors), bottom), stroke);
    }

    /// Letters stand on a pale ground, so that a weak row or column shows as a pattern.
    fn cell(&self, scene: &mut Scene, one: &AssessorOnAttribute, center: Point) {
        let letters = failures(one);
        if !letters.is_empty() {
            let width = self.column_px - 3.0;
            let area = Rectangle::new(center.x - width / 2.0, center.y - ROW_PX / 2.0 + 2.0, width, ROW_PX - 3.0);
            scene.rectangle(area, self.theme.target_pale.with_alpha(0.45));
            let label = Label::new(center, letters, LETTER_SIZE_PX, self.theme.ink);
            scene.text(label.bold(true).align(Align::Middle));
        } else if is_untested(one) {
            let ends = [-4.0, 4.0].map(|offset| Point::new(center.x + offset, center.y));
            scene.line(ends[0], ends[1], Stroke::solid(self.theme.axis, 1.2));
        } else if is_open(one) {
            let outline = Some(Stroke::solid(self.theme.quiet_ink, 1.0));
            scene.marker(center, 2.8, Marker::Circle, self.theme.background, outline);
        } else {
            scene.marker(center, 1.8, Marker::Circle, self.theme.quiet_ink, None);
        }
    }

    fn region(
        &self,
        attribute: &PanelAttribute,
        one: &AssessorOnAttribute,
        (row, column): (usize, usize),
        center: Point,
    ) -> HitRegion {
        let area = Rectangle::new(center.x - self.column_px / 2.0, center.y - ROW_PX / 2.0, self.column_px, ROW_PX);
        HitRegion {
            shape: RegionShape::Rectangle(area),
            sample: None,
            attribute: Some(attribute.attribute.clone()),
            lines: lines_of(one, &attribute.attribute, &self.options.unit),
            row,
            column,
        }
    }

    /// How often each assessor fails, below the grid.
    fn counts(&self, scene: &mut Scene, assessors: &[usize], top: f64) -> f64 {
        for (row, (words, count_of)) in FAILURE_ROWS.iter().enumerate() {
            let y = top + ROW_PX * (row as f64 + 0.5) + 2.0;
            let words = shorten(words, self.left - EDGE_PX - 8.0, NAME_SIZE_PX, false);
            scene.text(Label::new(Point::new(EDGE_PX, y), words, NAME_SIZE_PX, self.theme.quiet_ink));
            for (column, &assessor) in assessors.iter().enumerate() {
                let counts = count_of(&self.performance.assessors[assessor].counts);
                let text = if counts.tested() > 0 { counts.fails.to_string() } else { "–".to_owned() };
                let label = Label::new(Point::new(self.x(column), y), text, HEAD_SIZE_PX, self.theme.quiet_ink);
                scene.text(label.align(Align::Middle));
            }
        }
        top + ROW_PX * FAILURE_ROWS.len() as f64 + 2.0
    }
}

type CountOf = fn(&TestCounts) -> &OutcomeCounts;

/// Rows of counts below the grid.
const FAILURE_ROWS: [(&str, CountOf); 3] = [
    ("times d", |counts| &counts.discrimination),
    ("times r", |counts| &counts.repeatability),
    ("times a", |counts| &counts.agreement),
];

fn lines_of(one: &AssessorOnAttribute, attribute: &str, unit: &str) -> Vec<String> {
    let verdict = |outcome: Option<Outcome>, yes: &str, no: &str| match outcome {
        Some(Outcome::Shown) => yes.to_owned(),
        Some(Outcome::Fails) => no.to_owned(),
        Some(Outcome::TooFewCups) => "too few cups to tell".to_owned(),
        None => "not tested".to_owned(),
    };
    let f = said(&one.discrimination, |test| format!("F {:.2}, p {}", test.f, p_words(test.p)));
    let scatter = said(&one.repeatability, |found| format!("{} {unit}", numbers::shown(found.sd, 1)));
    let agreement = said(&one.agreement, |found| {
        format!("correlation {}, p {}", numbers::shown(found.correlation, 2), p_words(found.p))
    });
    let told = verdict(one.outcomes.discrimination, "shown", "fails");
    let repeats =
        verdict(one.outcomes.repeatability, "hardly more scatter than the others", "scatters more than the others");
    let agrees = verdict(one.outcomes.agreement, "shown", "fails");
    vec![
        format!("{}, {attribute}", one.assessor),
        format!("discrimination {told}: {f}"),
        format!("repeatability {scatter}: {repeats}"),
        format!("agreement {agrees}: {agreement}"),
    ]
}

/// A quantity in words, or why it is not defined.
fn said<T>(quantity: &Defined<T>, words: impl Fn(&T) -> String) -> String {
    quantity.as_ref().map_or_else(ToString::to_string, words)
}

/// A p-value to three decimals.
fn p_words(p: f64) -> String {
    if p < 0.001 { "below 0.001".to_owned() } else { format!("{p:.3}") }
}

/// Assessors who fail on more than half of the attributes on which they were tested.
fn mostly_failing(performance: &PanelPerformance, count_of: CountOf) -> Vec<String> {
    let failing = performance.assessors.iter().filter(|one| {
        let counts = count_of(&one.counts);
        2 * counts.fails > counts.tested()
    });
    failing.map(|one| one.assessor.clone()).collect()
}

fn summary(performance: &PanelPerformance) -> String {
    let judged = performance.attributes.iter().filter(|attribute| attribute.panel_discriminates).count();
    let kinds: [(&str, CountOf); 3] = [
        ("discrimination", |counts| &counts.discrimination),
        ("repeatability", |counts| &counts.repeatability),
        ("agreement", |counts| &counts.agreement),
    ];
    let found = kinds.map(|(word, count_of)| {
        let names = mostly_failing(performance, count_of);
        let names = if names.is_empty() { "nobody".to_owned() } else { lists::listed(&names) };
        format!("{word}: {names}")
    });
    let open = kinds.map(|(_, count_of)| count_of(&performance.all).too_few_cups).iter().sum::<usize>();
    format!(
        "The panel finds differences between samples on {judged} of {} attributes. Failing on more than half of \
         these: {}. Too few cups to tell in {open} tests.",
        performance.attributes.len(),
        found.join("; ")
    )
}

fn table(performance: &PanelPerformance) -> FigureTable {
    let mut columns = vec![("Attribute", false)];
    columns.extend(performance.assessors.iter().map(|one| (one.assessor.as_str(), false)));
    let mut table = FigureTable::with_columns(&columns);
    for attribute in performance.attributes.iter().filter(|attribute| attribute.panel_discriminates) {
        let cell = |place: usize| {
            let Some(one) = attribute.assessors.get(place) else { return "–".to_owned() };
            let letters = failures(one);
            match letters.is_empty() {
                false => letters,
                true if is_untested(one) => "not tested".to_owned(),
                true if is_open(one) => "too few cups".to_owned(),
                true => "none".to_owned(),
            }
        };
        let cells = (0..performance.assessors.len()).map(cell);
        table.rows.push(std::iter::once(attribute.attribute.clone()).chain(cells).collect());
    }
    table
}

fn not_judged(performance: &PanelPerformance) -> Vec<String> {
    let names: Vec<String> = performance
        .attributes
        .iter()
        .filter(|attribute| !attribute.panel_discriminates)
        .map(|attribute| attribute.attribute.clone())
        .collect();
    if names.is_empty() {
        return Vec::new();
    }
    vec![format!("Not judged, because the panel as a whole finds no difference: {}.", lists::listed(&names))]
}
