//! Differences at a glance: attributes down, samples across, one shaded cell a difference, the largest on top.
//!
//! The sign stands in the number and in the icon of the verdict as well as in the shade, so that nothing is lost in
//! grey. It shows sizes and no intervals: the figure that judges is `differences`.

mod data;

use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::{Align, Label, Marker, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::regions::{HitRegion, RegionShape};
use crate::figures::scene::text::{shorten, text_width_px, wrap};
use crate::figures::scene::theme::{Color, Theme, ThemeKind};
use crate::stats::{Analysis, Verdict};
use crate::text::numbers;
use data::{Grid, GridCell, GridRow};
use std::ops::Range;

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct DifferenceGridOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Samples to show, by name; `None` for all. The target is never among them where one is named.
    pub samples: Option<Vec<String>>,
    /// A sample that is pointed at elsewhere: its column is framed.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its row is framed.
    pub highlight_attribute: Option<String>,
}

impl Default for DifferenceGridOptions {
    fn default() -> Self {
        DifferenceGridOptions {
            width_px: 760.0,
            theme: ThemeKind::Light,
            heading: true,
            samples: None,
            highlight_sample: None,
            highlight_attribute: None,
        }
    }
}

/// Differences to the target, or to the mean of all samples where no target is named.
pub fn difference_grid(analysis: &Analysis, options: &DifferenceGridOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let grid = Grid::gather(analysis, options.samples.as_deref());
    if grid.samples.is_empty() || grid.rows.is_empty() {
        let because = if grid.samples.is_empty() { "no sample counts" } else { "no attribute counts" };
        return parts::empty_figure(width_px, "Differences at a glance", &theme, because);
    }
    let mut scene = Scene::new(width_px, grid.title(), theme.background);
    scene.summary = grid.summary();
    scene.table = grid.table();
    let drawing = Drawing { grid: &grid, options, theme: &theme };
    drawing.draw(&mut scene);
    scene
}

struct Drawing<'a> {
    grid: &'a Grid<'a>,
    options: &'a DifferenceGridOptions,
    theme: &'a Theme,
}

const NAME_SIZE_PX: f64 = 12.5;
const CELL_SIZE_PX: f64 = 12.0;
const HEAD_SIZE_PX: f64 = 11.5;
const HEAD_LINE_PX: f64 = 15.0;
const ROW_PX: f64 = 22.0;
/// Room for the icon and a number of three digits with its sign and a decimal.
const NARROWEST_CELL_PX: f64 = 62.0;
const WIDEST_CELL_PX: f64 = 130.0;
const BAND_GAP_PX: f64 = 14.0;

impl Drawing<'_> {
    fn draw(&self, scene: &mut Scene) {
        let top = parts::heading(scene, self.theme, self.options.heading, &self.grid.notes());
        let widths = self.grid.rows.iter().map(|row| text_width_px(&row.attribute.attribute, NAME_SIZE_PX, false));
        let names_px = widths.fold(0.0, f64::max).min(scene.width_px * 0.32).ceil() + 10.0;
        let room = scene.width_px - 2.0 * EDGE_PX - names_px;
        let abreast = ((room / NARROWEST_CELL_PX) as usize).clamp(1, self.grid.samples.len());
        let bands = self.grid.samples.len().div_ceil(abreast);
        let abreast = self.grid.samples.len().div_ceil(bands);
        let cell_px = (room / abreast as f64).clamp(1.0, WIDEST_CELL_PX);
        let mut bottom = top;
        for start in (0..self.grid.samples.len()).step_by(abreast) {
            let end = (start + abreast).min(self.grid.samples.len());
            bottom = self.band(scene, start..end, bottom, names_px, cell_px) + BAND_GAP_PX;
        }
        if self.grid.analysis.target.is_some() {
            bottom = parts::verdict_key(scene, self.theme, bottom);
        }
        scene.height_px = (bottom + EDGE_PX).ceil();
    }

    /// Some of the samples with all attributes. Returns where the next may stand.
    fn band(&self, scene: &mut Scene, samples: Range<usize>, top: f64, names_px: f64, cell_px: f64) -> f64 {
        let left = EDGE_PX + names_px;
        let rows_top = self.heads(scene, samples.clone(), Point::new(left, top), cell_px);
        for (place, row) in self.grid.rows.iter().enumerate() {
            let y = rows_top + ROW_PX * place as f64;
            self.name(scene, row, y, names_px);
            for (column, sample) in samples.clone().enumerate() {
                let area = Rectangle::new(left + cell_px * column as f64, y, cell_px, ROW_PX);
                self.cell(scene, row, sample, area, place);
            }
        }
        let bottom = rows_top + ROW_PX * self.grid.rows.len() as f64;
        self.frames(scene, samples, Rectangle::new(left, rows_top, cell_px, bottom - rows_top));
        bottom
    }

    /// Names of samples over their columns, from the upper left corner `at`. Returns where the cells may start.
    fn heads(&self, scene: &mut Scene, samples: Range<usize>, at: Point, cell_px: f64) -> f64 {
        let wrapped = samples.map(|sample| wrap(&self.grid.samples[sample], cell_px - 6.0, HEAD_SIZE_PX, true, 2));
        let heads: Vec<Vec<String>> = wrapped.collect();
        let lines = heads.iter().map(Vec::len).max().unwrap_or(1).max(1);
        let bottom = at.y + HEAD_LINE_PX * lines as f64 + 3.0;
        for (column, head) in heads.iter().enumerate() {
            let x = at.x + cell_px * (column as f64 + 0.5);
            for (line, text) in head.iter().rev().enumerate() {
                let place = Point::new(x, bottom - 3.0 - HEAD_LINE_PX * (line as f64 + 0.5));
                scene.text(Label::new(place, text, HEAD_SIZE_PX, self.theme.ink).bold(true).align(Align::Middle));
            }
        }
        bottom
    }

    fn name(&self, scene: &mut Scene, row: &GridRow, top: f64, names_px: f64) {
        let name = shorten(&row.attribute.attribute, names_px - 10.0, NAME_SIZE_PX, false);
        let ink = if row.attribute.deciding { self.theme.ink } else { self.theme.quiet_ink };
        scene.text(Label::new(Point::new(EDGE_PX, top + ROW_PX / 2.0), name, NAME_SIZE_PX, ink));
    }

    fn cell(&self, scene: &mut Scene, row: &GridRow, sample: usize, area: Rectangle, place: usize) {
        let inner = Rectangle::new(area.left + 1.0, area.top + 1.0, area.width - 2.0, area.height - 2.0);
        let cell = row.cells[sample];
        if let Some(cell) = cell {
            scene.rectangle(inner, shade(self.theme.kind, cell.difference, self.grid.largest));
            let middle = area.top + area.height / 2.0;
            self.icon(scene, cell, Point::new(area.left + 12.0, middle));
            let text = numbers::shown_signed(cell.difference, self.grid.decimals);
            let at = Point::new(area.right() - 8.0, middle);
            let is_off = cell.verdict == Some(Verdict::Off);
            scene.text(Label::new(at, text, CELL_SIZE_PX, self.theme.ink).align(Align::End).bold(is_off));
        }
        let name = &self.grid.samples[sample];
        scene.regions.push(HitRegion {
            shape: RegionShape::Rectangle(inner),
            sample: Some(name.clone()),
            attribute: Some(row.attribute.attribute.clone()),
            lines: self.grid.lines(row.attribute, name, cell),
            row: place,
            column: sample,
        });
    }

    /// The verdict where there is one, else which way it differs.
    fn icon(&self, scene: &mut Scene, cell: GridCell, center: Point) {
        let is_more = cell.difference > 0.0;
        match cell.verdict {
            Some(verdict) => parts::verdict_icon(scene, self.theme, center, verdict, is_more),
            None => {
                let shape = if is_more { Marker::TriangleUp } else { Marker::TriangleDown };
                scene.marker(center, 3.6, shape, self.theme.ink, None);
            }
        }
    }

    /// Lines around the column and the row that are pointed at elsewhere. `column` is the first column's place.
    fn frames(&self, scene: &mut Scene, samples: Range<usize>, column: Rectangle) {
        let is_pointed_at =
            |sample: &usize| self.options.highlight_sample.as_ref() == Some(&self.grid.samples[*sample]);
        if let Some(place) = samples.clone().position(|sample| is_pointed_at(&sample)) {
            self.frame(
                scene,
                Rectangle::new(column.left + column.width * place as f64, column.top, column.width, column.height),
            );
        }
        let pointed_at = self.options.highlight_attribute.as_ref();
        if let Some(place) = self.grid.rows.iter().position(|row| pointed_at == Some(&row.attribute.attribute)) {
            let top = column.top + ROW_PX * place as f64;
            self.frame(scene, Rectangle::new(column.left, top, column.width * samples.len() as f64, ROW_PX));
        }
    }

    fn frame(&self, scene: &mut Scene, area: Rectangle) {
        let (left, right, top, bottom) = (area.left, area.right(), area.top, area.bottom());
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        let corners = corners.map(|(x, y)| Point::new(x, y));
        scene.polyline(corners.to_vec(), Stroke::solid(self.theme.ink, 2.0));
    }
}

/// Warm for more, cool for less, grey on paper; the deeper the larger. Text keeps 4.5:1 on the deepest.
fn shade(kind: ThemeKind, difference: f64, largest: f64) -> Color {
    let share = if largest > 0.0 { (difference.abs() / largest).clamp(0.0, 1.0) } else { 0.0 };
    deepest(kind, difference > 0.0).with_alpha(0.06 + 0.94 * share)
}

fn deepest(kind: ThemeKind, is_more: bool) -> Color {
    Color::rgb(match (kind, is_more) {
        (ThemeKind::Light, true) => 0xe39a5c,
        (ThemeKind::Light, false) => 0x78a9de,
        (ThemeKind::Dark, true) => 0x7d4218,
        (ThemeKind::Dark, false) => 0x1f4a85,
        (ThemeKind::Print, _) => 0xb4b4b4,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::fixtures::{Flavour, Invented, invented};

    fn grid_of(flavour: Flavour, options: &DifferenceGridOptions) -> Scene {
        difference_grid(&invented(Invented { seed: 5, attributes: 9, samples: 4, flavour }), options)
    }

    #[test]
    fn text_can_be_read_on_the_deepest_shade_and_on_the_palest() {
        // WCAG 2.2, success criterion 1.4.3: 4.5:1.
        for kind in [ThemeKind::Light, ThemeKind::Dark, ThemeKind::Print] {
            let theme = Theme::of(kind);
            for is_more in [true, false] {
                let contrast = theme.ink.contrast(deepest(kind, is_more));
                assert!(contrast >= 4.5, "{kind:?} {is_more}: {contrast:.2}");
            }
            assert!(theme.ink.contrast(theme.background) >= 4.5);
        }
    }

    #[test]
    fn the_largest_difference_stands_on_top_and_signs_are_written() {
        let analysis = invented(Invented { seed: 5, attributes: 9, samples: 4, flavour: Flavour::Usual });
        let scene = grid_of(Flavour::Usual, &DifferenceGridOptions::default());
        let size = |row: &Vec<String>| {
            let cells = row.iter().skip(1).step_by(2);
            cells.map(|cell| cell.replace('\u{2212}', "-").parse::<f64>().expect("a number").abs()).fold(0.0, f64::max)
        };
        let sizes: Vec<f64> = scene.table.rows.iter().map(size).collect();
        assert!(sizes.windows(2).all(|two| two[0] >= two[1]), "{sizes:?}");
        let differences = analysis.attributes.iter().flat_map(|attribute| &attribute.versus_target);
        for difference in differences.filter(|difference| difference.difference.abs() >= 0.5) {
            let written = numbers::shown_signed(difference.difference, 0);
            assert!(scene.labels().any(|label| label.text == written), "{written}");
        }
    }

    #[test]
    fn without_a_target_differences_are_to_the_mean_and_add_up_to_nothing() {
        let scene = grid_of(Flavour::NoTarget, &DifferenceGridOptions::default());
        assert!(scene.title.contains("mean of all samples"));
        for row in &scene.table.rows {
            let sum: f64 =
                row.iter().skip(1).map(|cell| cell.replace('\u{2212}', "-").parse::<f64>().expect("a number")).sum();
            // Identity: deviations from a mean add up to zero; four numbers rounded to a tenth.
            assert!(sum.abs() <= 0.2 + 1e-9, "{row:?}");
        }
    }

    #[test]
    fn what_is_pointed_at_elsewhere_is_framed() {
        let plain = grid_of(Flavour::Usual, &DifferenceGridOptions::default());
        let marked = DifferenceGridOptions {
            highlight_sample: Some("Candidate B".to_owned()),
            highlight_attribute: Some("green".to_owned()),
            ..DifferenceGridOptions::default()
        };
        let framed = grid_of(Flavour::Usual, &marked);
        assert_eq!(framed.primitives.len(), plain.primitives.len() + 2);
    }
}
