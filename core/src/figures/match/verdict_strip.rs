//! Verdict strip: one line a candidate, one icon an attribute in ballot order; the whole study at a glance.
//!
//! It says what was found, not how large: that is for `differences`.

use super::differences::DifferencesData;
use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::{Align, FigureTable, Label, Point, Rectangle, Rotation, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{shorten, text_width_px};
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::stats::{Analysis, TargetDifference};

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictStripOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Candidates to draw; `None` for all.
    pub candidates: Option<Vec<String>>,
    /// A candidate that is pointed at elsewhere: its line is underlaid.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its icons are underlaid.
    pub highlight_attribute: Option<String>,
    /// Unit to print instead of the analysis' own.
    pub unit: Option<String>,
}

impl Default for VerdictStripOptions {
    fn default() -> Self {
        VerdictStripOptions {
            width_px: 760.0,
            theme: ThemeKind::Light,
            heading: true,
            candidates: None,
            highlight_sample: None,
            highlight_attribute: None,
            unit: None,
        }
    }
}

/// All verdicts of all candidates. Without a target, candidates or attributes the figure says so.
pub fn verdict_strip(analysis: &Analysis, options: &VerdictStripOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let data = match DifferencesData::gather(analysis, options.candidates.as_deref(), options.unit.as_ref(), true) {
        Ok(data) => data,
        Err(because) => return parts::empty_figure(width_px, "Verdicts", &theme, &because),
    };
    let title = format!("Verdicts against the target {}", data.target);
    let mut scene = Scene::new(width_px, title, theme.background);
    scene.summary = data.summary();
    let strip = Strip::lay_out(analysis, &data, options, &theme, width_px);
    scene.table = strip.table();
    let top = parts::heading(&mut scene, &theme, options.heading, &[]);
    let bottom = strip.draw(&mut scene, top);
    scene.height_px = (parts::verdict_key(&mut scene, &theme, bottom + 4.0) + EDGE_PX).ceil();
    scene
}

struct Strip<'a> {
    analysis: &'a Analysis,
    data: &'a DifferencesData,
    options: &'a VerdictStripOptions,
    theme: &'a Theme,
    /// Left end of the icons and how far they stand apart.
    left: f64,
    pitch_px: f64,
    per_line: usize,
    /// Room that attribute names take above the icons; none where icons break into lines.
    names_px: f64,
}

const NAME_SIZE_PX: f64 = 12.0;
const COUNTS_SIZE_PX: f64 = 11.0;
const ATTRIBUTE_SIZE_PX: f64 = 11.0;
const PITCH_RANGE_PX: (f64, f64) = (14.0, 30.0);
const LINE_PX: f64 = 22.0;

/// Width of the widest name or count of verdicts.
fn words_px(analysis: &Analysis, data: &DifferencesData) -> f64 {
    let names = data.candidates.iter().map(|name| text_width_px(name, NAME_SIZE_PX, true));
    let counts = data.candidates.iter().filter_map(|name| parts::verdict_counts(analysis, name));
    names.chain(counts.map(|words| text_width_px(&words, COUNTS_SIZE_PX, false))).fold(0.0, f64::max)
}

impl<'a> Strip<'a> {
    fn lay_out(
        analysis: &'a Analysis,
        data: &'a DifferencesData,
        options: &'a VerdictStripOptions,
        theme: &'a Theme,
        width_px: f64,
    ) -> Self {
        let count = data.rows.len();
        let room = width_px - 2.0 * EDGE_PX;
        let beside = words_px(analysis, data).min(width_px * 0.34) + 28.0;
        let pitch_px = ((room - beside) / count as f64).min(PITCH_RANGE_PX.1);
        let mut strip =
            Strip { analysis, data, options, theme, left: EDGE_PX + beside, pitch_px, per_line: count, names_px: 0.0 };
        if pitch_px < PITCH_RANGE_PX.0 {
            strip.left = EDGE_PX + 2.0;
            strip.pitch_px = 17.0;
            strip.per_line = ((room - 4.0) / strip.pitch_px).floor().max(1.0) as usize;
        } else {
            let names = data.rows.iter().map(|row| text_width_px(&row.attribute, ATTRIBUTE_SIZE_PX, true));
            strip.names_px = names.fold(0.0, f64::max).min(130.0) + 6.0;
        }
        strip
    }

    fn is_broken(&self) -> bool {
        self.per_line < self.data.rows.len() || self.names_px <= 0.0
    }

    /// Height of one candidate's part.
    fn block_px(&self) -> f64 {
        if self.is_broken() {
            LINE_PX * (1.0 + self.data.rows.len().div_ceil(self.per_line) as f64)
        } else {
            LINE_PX + 14.0
        }
    }

    fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let first = top + self.names_px;
        self.grounds(scene, top, first);
        if !self.is_broken() {
            self.attribute_names(scene, first);
        }
        for place in 0..self.data.candidates.len() {
            let block = first + self.block_px() * place as f64;
            self.candidate(scene, place, block);
            for spoke in 0..self.data.rows.len() {
                self.verdict(scene, place, spoke, block);
            }
        }
        first + self.block_px() * self.data.candidates.len() as f64
    }

    fn grounds(&self, scene: &mut Scene, top: f64, first: f64) {
        let right = scene.width_px - EDGE_PX;
        let bottom = first + self.block_px() * self.data.candidates.len() as f64;
        let pointed_at = self.options.highlight_attribute.as_ref();
        let column = self.data.rows.iter().position(|row| pointed_at == Some(&row.attribute));
        if let (Some(column), false) = (column, self.is_broken()) {
            let left = self.left + self.pitch_px * column as f64;
            scene.rectangle(Rectangle::new(left, top, self.pitch_px, bottom - top), self.theme.highlight);
        }
        for (place, candidate) in self.data.candidates.iter().enumerate() {
            let y = first + self.block_px() * place as f64;
            if self.options.highlight_sample.as_ref() == Some(candidate) {
                let area = Rectangle::new(EDGE_PX - 4.0, y, right - EDGE_PX + 8.0, self.block_px());
                scene.rectangle(area, self.theme.highlight);
            }
            scene.line(Point::new(EDGE_PX, y), Point::new(right, y), Stroke::solid(self.theme.guide, 1.0));
        }
        let rule = Stroke::solid(self.theme.guide, 1.0);
        scene.line(Point::new(EDGE_PX, bottom), Point::new(right, bottom), rule);
    }

    /// Names read upwards above their column.
    fn attribute_names(&self, scene: &mut Scene, bottom: f64) {
        for (column, row) in self.data.rows.iter().enumerate() {
            let bold = row.is_off(&(0..self.data.candidates.len()).collect::<Vec<_>>());
            let name = shorten(&row.attribute, self.names_px - 6.0, ATTRIBUTE_SIZE_PX, bold);
            let at = Point::new(self.left + self.pitch_px * (column as f64 + 0.5), bottom - 4.0);
            let color = if row.deciding { self.theme.ink } else { self.theme.quiet_ink };
            let label = Label::new(at, name, ATTRIBUTE_SIZE_PX, color).bold(bold);
            scene.text(label.rotation(Rotation::CounterClockwise90));
        }
    }

    fn candidate(&self, scene: &mut Scene, place: usize, top: f64) {
        let name = &self.data.candidates[place];
        let style = self.theme.sample_style(self.analysis, name);
        let counts = parts::verdict_counts(self.analysis, name).unwrap_or_default();
        let y = top + 11.0;
        parts::sample_marker(scene, self.theme, Point::new(EDGE_PX + 6.0, y), 4.6, style);
        let start = Point::new(EDGE_PX + 17.0, y);
        if self.is_broken() {
            self.name_and_counts_in_line(scene, name, &counts, start);
        } else {
            self.name_above_counts(scene, name, &counts, start);
        }
    }

    fn name_and_counts_in_line(&self, scene: &mut Scene, name: &str, counts: &str, at: Point) {
        let room = scene.width_px - EDGE_PX - at.x;
        let counts = shorten(counts, room * 0.62, COUNTS_SIZE_PX, false);
        let counts_px = text_width_px(&counts, COUNTS_SIZE_PX, false);
        let shown = shorten(name, room - counts_px - 8.0, NAME_SIZE_PX, true);
        scene.text(Label::new(at, shown, NAME_SIZE_PX, self.theme.ink).bold(true));
        let right = Point::new(scene.width_px - EDGE_PX, at.y);
        scene.text(Label::new(right, counts, COUNTS_SIZE_PX, self.theme.quiet_ink).align(Align::End));
    }

    fn name_above_counts(&self, scene: &mut Scene, name: &str, counts: &str, at: Point) {
        let room = self.left - at.x - 8.0;
        let shown = shorten(name, room, NAME_SIZE_PX, true);
        scene.text(Label::new(at, shown, NAME_SIZE_PX, self.theme.ink).bold(true));
        let counts = shorten(counts, room, COUNTS_SIZE_PX, false);
        scene.text(Label::new(Point::new(at.x, at.y + 15.0), counts, COUNTS_SIZE_PX, self.theme.quiet_ink));
    }

    fn verdict(&self, scene: &mut Scene, place: usize, column: usize, block: f64) {
        let row = &self.data.rows[column];
        let (line, across) = (column / self.per_line, column % self.per_line);
        let x = self.left + self.pitch_px * (across as f64 + 0.5);
        let (y, height) = match self.is_broken() {
            true => (block + LINE_PX * (line as f64 + 1.5) - 2.0, LINE_PX),
            false => (block + self.block_px() / 2.0, self.block_px()),
        };
        if let Some(TargetDifference { verdict, difference, .. }) = &row.differences[place] {
            parts::verdict_icon(scene, self.theme, Point::new(x, y), *verdict, *difference > 0.0);
        }
        let area = Rectangle::new(x - self.pitch_px / 2.0, y - height / 2.0, self.pitch_px, height);
        scene.regions.push(HitRegion {
            shape: RegionShape::Rectangle(area),
            sample: Some(self.data.candidates[place].clone()),
            attribute: Some(row.attribute.clone()),
            lines: self.data.lines_of(place, row),
            row: place,
            column,
        });
    }

    /// One row a candidate, one column an attribute.
    fn table(&self) -> FigureTable {
        let mut columns = vec![("Candidate", false)];
        columns.extend(self.data.rows.iter().map(|row| (row.attribute.as_str(), false)));
        let mut table = FigureTable::with_columns(&columns);
        for (place, candidate) in self.data.candidates.iter().enumerate() {
            let word = |difference: &Option<TargetDifference>| {
                difference.as_ref().map_or("not compared", |entry| entry.verdict.in_words()).to_owned()
            };
            let words = self.data.rows.iter().map(|row| word(&row.differences[place]));
            table.rows.push(std::iter::once(candidate.clone()).chain(words).collect());
        }
        table
    }
}
