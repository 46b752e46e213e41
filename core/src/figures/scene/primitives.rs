//! A figure as a value: its size, everything in its place, what lies under the pointer, and its numbers as a table.
//!
//! A scene knows no backend, no pixel ratio and no study. Coordinates are CSS pixels from the upper left corner.

use super::regions::HitRegion;
use super::text::{text_height_px, text_width_px};
use super::theme::Color;

/// A finished figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// In CSS pixels.
    pub width_px: f64,
    /// In CSS pixels; settled when everything is placed.
    pub height_px: f64,
    /// What the figure is called; also its accessible name.
    pub title: String,
    /// What the figure shows, in one sentence for people who cannot see it.
    pub summary: String,
    /// What lies under everything.
    pub background: Color,
    /// In drawing order: later ones lie on top.
    pub primitives: Vec<Primitive>,
    /// What can be pointed at, in reading order.
    pub regions: Vec<HitRegion>,
    /// The numbers that the figure is drawn from.
    pub table: FigureTable,
}

/// The numbers behind a figure.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FigureTable {
    /// In reading order.
    pub columns: Vec<FigureColumn>,
    /// Each row has one cell a column.
    pub rows: Vec<Vec<String>>,
}

/// One column of the table behind a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureColumn {
    /// Heading, with the unit where there is one.
    pub heading: String,
    /// Whether cells are numbers, to be set right-aligned in tabular figures.
    pub is_number: bool,
}

/// A place in a scene, in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left, growing to the right.
    pub x: f64,
    /// From the top, growing downwards.
    pub y: f64,
}

/// A rectangle with its sides along the axes, in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectangle {
    /// Its left side.
    pub left: f64,
    /// Its upper side.
    pub top: f64,
    /// Zero or more.
    pub width: f64,
    /// Zero or more.
    pub height: f64,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Colour with its opacity.
    pub color: Color,
    /// In CSS pixels.
    pub width_px: f64,
    /// Whole or broken.
    pub dash: Dash,
}

/// Dash patterns that stay apart in a photocopy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    Solid,
    Long,
    Short,
    Dots,
    LongShort,
    LongDot,
    /// For guides, never for a sample.
    Fine,
}

/// Marker shapes. Each has about the same visual weight at the same radius.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marker {
    Circle,
    Square,
    Diamond,
    TriangleUp,
    TriangleDown,
    Plus,
    Hourglass,
    TriangleLeft,
    TriangleRight,
}

/// Where a text stands relative to its point, along the line of writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Start,
    Middle,
    End,
}

/// Direction of writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rotation {
    None,
    /// Reads downwards.
    Clockwise90,
    /// Reads upwards.
    CounterClockwise90,
}

/// One line of text; `at` is the middle of its height and its start, middle or end along the writing.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Where it stands.
    pub at: Point,
    /// One line.
    pub text: String,
    /// Font size in CSS pixels.
    pub size_px: f64,
    /// Whether it is set in bold.
    pub bold: bool,
    /// Which end of the line stands at the point.
    pub align: Align,
    /// Direction of writing.
    pub rotation: Rotation,
    /// Colour with its opacity.
    pub color: Color,
}

/// One thing that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Primitive {
    Line { from: Point, to: Point, stroke: Stroke },
    Polyline { points: Vec<Point>, stroke: Stroke },
    Polygon { points: Vec<Point>, fill: Color },
    Circle { center: Point, radius: f64, stroke: Stroke },
    Marker { center: Point, radius: f64, shape: Marker, fill: Color, outline: Option<Stroke> },
    Rectangle { area: Rectangle, fill: Color },
    Text(Label),
}

impl Scene {
    /// A blank figure; its height is settled when everything is placed.
    pub fn new(width_px: f64, title: impl Into<String>, background: Color) -> Self {
        Scene {
            width_px,
            height_px: 0.0,
            title: title.into(),
            summary: String::new(),
            background,
            primitives: Vec::new(),
            regions: Vec::new(),
            table: FigureTable::default(),
        }
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        self.primitives.push(Primitive::Line { from, to, stroke });
    }

    /// Draws a line through points.
    pub fn polyline(&mut self, points: Vec<Point>, stroke: Stroke) {
        self.primitives.push(Primitive::Polyline { points, stroke });
    }

    /// Fills a rectangle.
    pub fn rectangle(&mut self, area: Rectangle, fill: Color) {
        self.primitives.push(Primitive::Rectangle { area, fill });
    }

    /// Draws a marker.
    pub fn marker(&mut self, center: Point, radius: f64, shape: Marker, fill: Color, outline: Option<Stroke>) {
        self.primitives.push(Primitive::Marker { center, radius, shape, fill, outline });
    }

    /// One line.
    pub fn text(&mut self, label: Label) {
        if !label.text.is_empty() {
            self.primitives.push(Primitive::Text(label));
        }
    }

    /// Writes every text anew: title, summary, labels, what is read under the pointer, the cells of the table. Places
    /// stay, so the new text must be about as long as the old one.
    pub fn rewrite(&mut self, write: impl Fn(&str) -> String) {
        let labels = self.primitives.iter_mut().filter_map(|primitive| match primitive {
            Primitive::Text(label) => Some(&mut label.text),
            _ => None,
        });
        let regions = self.regions.iter_mut().flat_map(|region| region.lines.iter_mut());
        let cells = self.table.rows.iter_mut().flatten();
        let single = [&mut self.title, &mut self.summary];
        labels.chain(regions).chain(cells).chain(single).for_each(|text| *text = write(text));
    }

    /// All lines of text, in drawing order.
    pub fn labels(&self) -> impl Iterator<Item = &Label> {
        self.primitives.iter().filter_map(|primitive| match primitive {
            Primitive::Text(label) => Some(label),
            _ => None,
        })
    }
}

impl FigureTable {
    /// A table without rows; `true` says that a column holds numbers.
    pub fn with_columns(columns: &[(&str, bool)]) -> Self {
        let columns = columns
            .iter()
            .map(|&(heading, is_number)| FigureColumn { heading: heading.to_owned(), is_number })
            .collect();
        FigureTable { columns, rows: Vec::new() }
    }
}

impl Point {
    /// By its coordinates.
    pub fn new(x: f64, y: f64) -> Self {
        Point { x, y }
    }

    /// The point at a distance from this one, at an angle clockwise from straight up.
    ///
    /// By libm, so that a figure has the same bytes natively and in wasm.
    pub fn polar(self, radius: f64, angle: f64) -> Self {
        Point { x: self.x + radius * libm::sin(angle), y: self.y - radius * libm::cos(angle) }
    }

    /// Straight-line distance.
    pub fn distance_to(self, other: Point) -> f64 {
        libm::hypot(self.x - other.x, self.y - other.y)
    }
}

impl Rectangle {
    /// By its upper left corner and its sides.
    pub fn new(left: f64, top: f64, width: f64, height: f64) -> Self {
        Rectangle { left, top, width, height }
    }

    /// Its right side.
    pub fn right(&self) -> f64 {
        self.left + self.width
    }

    /// Its lower side.
    pub fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// Whether a point lies in it or on its sides.
    pub fn contains(&self, at: Point) -> bool {
        at.x >= self.left && at.x <= self.right() && at.y >= self.top && at.y <= self.bottom()
    }

    /// How far a point is from the rectangle; zero inside.
    pub fn distance_to(&self, at: Point) -> f64 {
        let dx = (self.left - at.x).max(at.x - self.right()).max(0.0);
        let dy = (self.top - at.y).max(at.y - self.bottom()).max(0.0);
        libm::hypot(dx, dy)
    }

    /// Whether two rectangles share more than `tolerance_px` in both directions.
    pub fn overlaps(&self, other: &Rectangle, tolerance_px: f64) -> bool {
        let across = self.right().min(other.right()) - self.left.max(other.left);
        let down = self.bottom().min(other.bottom()) - self.top.max(other.top);
        across > tolerance_px && down > tolerance_px
    }
}

impl Stroke {
    /// An unbroken line.
    pub fn solid(color: Color, width_px: f64) -> Self {
        Stroke { color, width_px, dash: Dash::Solid }
    }

    /// A line with a pattern of dashes.
    pub fn dashed(color: Color, width_px: f64, dash: Dash) -> Self {
        Stroke { color, width_px, dash }
    }
}

impl Dash {
    /// Lengths drawn and left out in turn, in CSS pixels; empty for a solid line.
    pub fn lengths_px(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Long => &[9.0, 4.0],
            Dash::Short => &[4.5, 3.0],
            Dash::Dots => &[1.8, 2.8],
            Dash::LongShort => &[10.0, 3.0, 3.5, 3.0],
            Dash::LongDot => &[8.0, 3.0, 1.8, 3.0],
            Dash::Fine => &[2.0, 3.0],
        }
    }
}

impl Marker {
    /// Corners around the centre for a marker of radius 1; empty for the circle.
    pub fn corners(self) -> &'static [(f64, f64)] {
        match self {
            Marker::Circle => &[],
            Marker::Square => &[(-0.88, -0.88), (0.88, -0.88), (0.88, 0.88), (-0.88, 0.88)],
            Marker::Diamond => &[(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)],
            Marker::TriangleUp => &[(0.0, -1.2), (1.15, 0.85), (-1.15, 0.85)],
            Marker::TriangleDown => &[(0.0, 1.2), (-1.15, -0.85), (1.15, -0.85)],
            Marker::TriangleLeft => &[(-1.2, 0.0), (0.85, -1.15), (0.85, 1.15)],
            Marker::TriangleRight => &[(1.2, 0.0), (-0.85, 1.15), (-0.85, -1.15)],
            Marker::Plus => &[
                (-0.4, -1.2),
                (0.4, -1.2),
                (0.4, -0.4),
                (1.2, -0.4),
                (1.2, 0.4),
                (0.4, 0.4),
                (0.4, 1.2),
                (-0.4, 1.2),
                (-0.4, 0.4),
                (-1.2, 0.4),
                (-1.2, -0.4),
                (-0.4, -0.4),
            ],
            Marker::Hourglass => &[(-1.0, -1.1), (1.0, -1.1), (0.25, 0.0), (1.0, 1.1), (-1.0, 1.1), (-0.25, 0.0)],
        }
    }
}

impl Label {
    /// Regular text that starts at a point.
    pub fn new(at: Point, text: impl Into<String>, size_px: f64, color: Color) -> Self {
        Label { at, text: text.into(), size_px, bold: false, align: Align::Start, rotation: Rotation::None, color }
    }

    /// Whether it is set in bold.
    pub fn bold(mut self, bold: bool) -> Self {
        self.bold = bold;
        self
    }

    /// Which end of the line stands at the point.
    pub fn align(mut self, align: Align) -> Self {
        self.align = align;
        self
    }

    /// Direction of writing.
    pub fn rotation(mut self, rotation: Rotation) -> Self {
        self.rotation = rotation;
        self
    }

    /// The room that the text takes by the width estimate, which errs on the wide side.
    pub fn bounds(&self) -> Rectangle {
        let along = text_width_px(&self.text, self.size_px, self.bold);
        let across = text_height_px(self.size_px);
        let start = match self.align {
            Align::Start => 0.0,
            Align::Middle => -along / 2.0,
            Align::End => -along,
        };
        let Point { x, y } = self.at;
        match self.rotation {
            Rotation::None => Rectangle::new(x + start, y - across / 2.0, along, across),
            Rotation::Clockwise90 => Rectangle::new(x - across / 2.0, y + start, across, along),
            Rotation::CounterClockwise90 => Rectangle::new(x - across / 2.0, y - start - along, across, along),
        }
    }
}
