//! The raw marks of one assessor on one attribute, a line a sample, over those of the other assessors.

use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::layout::round_values;
use crate::figures::scene::primitives::{Align, FigureTable, Label, Marker, Point, Primitive, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{shorten, text_width_px};
use crate::figures::scene::theme::{Theme, ThemeKind};
use crate::stats::panel::raw_scores::{Mark, RawScores, SampleRawScores};
use crate::text::{lists, numbers};

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct RawScoresOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
}

impl Default for RawScoresOptions {
    fn default() -> Self {
        RawScoresOptions { width_px: 640.0, theme: ThemeKind::Light, heading: true }
    }
}

/// One assessor's marks against the others'. Without a mark the figure says so in words.
///
/// A region's `sample` is the sample; its first line names assessor and sample.
pub fn raw_score_plot(found: &RawScores, options: &RawScoresOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let title = format!("{} on {}: every mark", found.assessor, found.attribute);
    if found.samples.iter().all(|sample| sample.own.iter().all(|mark| mark.score.is_none())) {
        return parts::empty_figure(width_px, &title, &theme, "there is no mark");
    }
    let mut scene = Scene::new(width_px, title, theme.background);
    scene.summary = summary(found);
    scene.table = table(found);
    let drawing = Drawing::new(found, &theme, width_px);
    let top = parts::heading(&mut scene, &theme, options.heading, &[note(found)]);
    scene.height_px = (drawing.draw(&mut scene, top) + EDGE_PX).ceil();
    scene
}

const NAME_SIZE_PX: f64 = 12.5;
const TICK_SIZE_PX: f64 = 10.5;
const ROW_PX: f64 = 34.0;
const AXIS_PX: f64 = 20.0;
/// Own marks lie above the middle of the line, the others' below.
const OWN_LIFT_PX: f64 = 6.0;
const OTHERS_DROP_PX: f64 = 8.0;
/// Shapes of replicates in turn, told in the note.
const SHAPES: [(Marker, &str); 4] = [
    (Marker::Circle, "disc"),
    (Marker::Square, "square"),
    (Marker::TriangleUp, "triangle"),
    (Marker::Diamond, "diamond"),
];

struct Drawing<'a> {
    found: &'a RawScores,
    theme: &'a Theme,
    left: f64,
    right: f64,
    ticks: Vec<f64>,
    decimals: usize,
}

impl<'a> Drawing<'a> {
    fn new(found: &'a RawScores, theme: &'a Theme, width_px: f64) -> Self {
        let names = found.samples.iter().map(|sample| text_width_px(&sample.sample, NAME_SIZE_PX, false));
        let left = EDGE_PX + names.fold(0.0, f64::max).min(width_px * 0.34).ceil() + 14.0;
        let right = width_px - EDGE_PX - 14.0;
        let all = found.samples.iter().flat_map(|sample| {
            let own = sample.own.iter().filter_map(|mark| mark.score);
            own.chain(sample.others.iter().map(|other| other.mean))
        });
        let ends = (found.scale_minimum, found.scale_maximum);
        let (lower, upper) = all.fold(ends, |(lower, upper), mark| (lower.min(mark), upper.max(mark)));
        let ticks = round_values(lower, upper, (((right - left) / 70.0) as usize).clamp(2, 10));
        Drawing { found, theme, left, right, ticks, decimals: numbers::decimals_in_words(found.scale_maximum) }
    }

    fn x(&self, score: f64) -> f64 {
        let (first, last) = (self.ticks[0], self.ticks[self.ticks.len() - 1]);
        self.left + (self.right - self.left) * (score - first) / (last - first)
    }

    fn draw(&self, scene: &mut Scene, top: f64) -> f64 {
        let bottom = top + ROW_PX * self.found.samples.len() as f64;
        for tick in &self.ticks {
            let x = self.x(*tick);
            scene.line(Point::new(x, top), Point::new(x, bottom), Stroke::solid(self.theme.guide, 1.0));
            let text = numbers::shown(*tick, numbers::axis_decimals(&self.ticks));
            let label = Label::new(Point::new(x, bottom + 10.0), text, TICK_SIZE_PX, self.theme.quiet_ink);
            scene.text(label.align(Align::Middle));
        }
        for (row, sample) in self.found.samples.iter().enumerate() {
            let y = top + ROW_PX * (row as f64 + 0.5);
            let line = Stroke::solid(self.theme.axis, 1.0);
            scene.line(Point::new(self.left, y), Point::new(self.right, y), line);
            let name = shorten(&sample.sample, self.left - EDGE_PX - 10.0, NAME_SIZE_PX, false);
            scene.text(Label::new(Point::new(EDGE_PX, y), name, NAME_SIZE_PX, self.theme.ink));
            self.others(scene, row, sample, y);
            self.own(scene, row, sample, y);
        }
        bottom + AXIS_PX
    }

    fn others(&self, scene: &mut Scene, row: usize, sample: &SampleRawScores, y: f64) {
        for other in &sample.others {
            let center = Point::new(self.x(other.mean), y + OTHERS_DROP_PX);
            let stroke = Stroke::solid(self.theme.quiet_ink, 1.0);
            scene.primitives.push(Primitive::Circle { center, radius: 3.0, stroke });
        }
        if let Some(mean) = sample.others_mean {
            self.others_mean(scene, row, sample, Point::new(self.x(mean), y), mean);
        }
    }

    fn others_mean(&self, scene: &mut Scene, row: usize, sample: &SampleRawScores, at: Point, mean: f64) {
        let (x, y) = (at.x, at.y);
        let stroke = Stroke::solid(self.theme.ink, 2.0);
        scene.line(Point::new(x, y - 3.0), Point::new(x, y + OTHERS_DROP_PX + 5.0), stroke);
        scene.regions.push(HitRegion {
            shape: RegionShape::Circle { center: Point::new(x, y + OTHERS_DROP_PX), radius: 6.0 },
            sample: Some(sample.sample.clone()),
            attribute: Some(self.found.attribute.clone()),
            lines: vec![
                format!("the others, {}", sample.sample),
                format!("mean {}", self.with_unit(mean)),
                lists::counted(sample.others.len(), "assessor", "assessors"),
            ],
            row,
            column: 0,
        });
    }

    fn own(&self, scene: &mut Scene, row: usize, sample: &SampleRawScores, y: f64) {
        for (place, mark) in sample.own.iter().enumerate() {
            let Some(score) = mark.score else { continue };
            let center = Point::new(self.x(score), y - OWN_LIFT_PX);
            let rim = Stroke::solid(self.theme.ink, 1.2);
            let fill = if mark.is_left_out { self.theme.background } else { self.theme.candidate_style(0).color };
            scene.marker(center, 4.5, shape_of(mark).0, fill, Some(rim));
            if mark.is_corrected {
                scene.primitives.push(Primitive::Circle { center, radius: 8.0, stroke: rim });
            }
            scene.regions.push(HitRegion {
                shape: RegionShape::Circle { center, radius: 7.0 },
                sample: Some(sample.sample.clone()),
                attribute: Some(self.found.attribute.clone()),
                lines: self.lines(sample, mark, score),
                row,
                column: place + 1,
            });
        }
    }

    fn lines(&self, sample: &SampleRawScores, mark: &Mark, score: f64) -> Vec<String> {
        let mut lines = vec![
            format!("{}, {}", self.found.assessor, sample.sample),
            format!("replicate {}: {}", mark.replicate, self.with_unit(score)),
        ];
        lines.extend(sample.others_mean.map(|mean| format!("the others: {}", self.with_unit(mean))));
        lines.extend(remarks(mark, self.decimals));
        if mark.origin.row > 0 {
            lines.push(format!("{}, row {}, column {}", mark.file, mark.origin.row, mark.origin.column));
        }
        lines
    }

    fn with_unit(&self, score: f64) -> String {
        let decimals = numbers::axis_decimals(&[score]).min(self.decimals + 1);
        format!("{} {}", numbers::shown(score, decimals), self.found.unit)
    }
}

fn shape_of(mark: &Mark) -> (Marker, &'static str) {
    SHAPES[(mark.replicate.max(1) - 1) as usize % SHAPES.len()]
}

/// "left out", "corrected from 34".
fn remarks(mark: &Mark, decimals: usize) -> Vec<String> {
    let mut remarks = Vec::new();
    if mark.is_corrected {
        let before = mark.as_it_came.map_or("no mark".to_owned(), |score| numbers::shown(score, decimals));
        remarks.push(format!("corrected from {before}"));
    }
    if mark.is_left_out {
        remarks.push("left out".to_owned());
    }
    remarks
}

fn note(found: &RawScores) -> String {
    let replicates: u32 =
        found.samples.iter().flat_map(|sample| &sample.own).map(|mark| mark.replicate).max().unwrap_or(1);
    let shapes: Vec<String> = (1..=replicates.min(SHAPES.len() as u32))
        .map(|replicate| format!("{} replicate {replicate}", SHAPES[replicate as usize - 1].1))
        .collect();
    let shapes = if replicates > 1 { format!(" ({})", shapes.join(", ")) } else { String::new() };
    format!(
        "Above the line the marks of {}{shapes}, in {}; below it a ring for the mean of each other assessor and a bar \
         for the mean of all of them. An empty mark is left out, a ring around a mark says that it was corrected.",
        found.assessor, found.unit
    )
}

fn summary(found: &RawScores) -> String {
    let decimals = numbers::decimals_in_words(found.scale_maximum);
    let gaps = found.samples.iter().filter_map(|sample| Some((sample, sample.own_mean? - sample.others_mean?)));
    match gaps.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())) {
        Some((sample, gap)) => format!(
            "Farthest from the others is {} on {}: {} {} against their mean.",
            found.assessor,
            sample.sample,
            numbers::shown_signed(gap, decimals),
            found.unit
        ),
        None => "There is nobody to compare with.".to_owned(),
    }
}

fn table(found: &RawScores) -> FigureTable {
    let decimals = numbers::decimals_in_words(found.scale_maximum);
    let mut table = FigureTable::with_columns(&[
        ("Sample", false),
        ("Session", false),
        ("Replicate", true),
        (&format!("Mark ({})", found.unit), true),
        ("Mean of the others", true),
        ("File", false),
        ("Row", true),
        ("Column", true),
        ("Remark", false),
    ]);
    for sample in &found.samples {
        table.rows.extend(sample.own.iter().map(|score| table_row(sample, score, decimals)));
    }
    table
}

fn table_row(sample: &SampleRawScores, own: &Mark, decimals: usize) -> Vec<String> {
    let number = |score: Option<f64>| {
        let shown = |score: f64| numbers::shown(score, numbers::axis_decimals(&[score]).min(decimals + 1));
        score.map_or("–".to_owned(), shown)
    };
    let place = |number: u32| if number > 0 { number.to_string() } else { "typed".to_owned() };
    vec![
        sample.sample.clone(),
        own.session.clone().unwrap_or_default(),
        own.replicate.to_string(),
        number(own.score),
        number(sample.others_mean),
        own.file.clone(),
        place(own.origin.row),
        place(u32::from(own.origin.column)),
        remarks(own, decimals).join(", "),
    ]
}
