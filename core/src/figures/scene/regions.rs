//! What lies under the pointer, and the order in which a keyboard or a screen reader walks through a figure.
//!
//! Regions know places and words only; the page decides how they are shown.

use super::primitives::{Point, Rectangle, Scene};

/// The part of a scene that stands for one value.
#[derive(Clone, Debug, PartialEq)]
pub struct HitRegion {
    /// Where it can be pointed at.
    pub shape: RegionShape,
    /// The sample it belongs to, if to one.
    pub sample: Option<String>,
    /// The attribute it belongs to, if to one.
    pub attribute: Option<String>,
    /// What is read out and shown beside the pointer, line by line; the first names the thing.
    pub lines: Vec<String>,
    /// Place in the reading grid: the up and down keys change the row, left and right the column.
    pub row: usize,
    /// Place in its row of the reading grid.
    pub column: usize,
}

/// Outline of a region in CSS pixels.
#[derive(Clone, Debug, PartialEq)]
pub enum RegionShape {
    Circle { center: Point, radius: f64 },
    Rectangle(Rectangle),
    Polygon(Vec<Point>),
}

/// Where a key leads from the region that is being read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingDirection {
    Next,
    Previous,
    Up,
    Down,
    Left,
    Right,
    First,
    Last,
}

impl Scene {
    /// The region at a point, or the nearest one within `tolerance_px`; where several hold the point, the one whose
    /// centre is nearest.
    ///
    /// Returns its place in `regions`.
    pub fn region_at(&self, x: f64, y: f64, tolerance_px: f64) -> Option<usize> {
        let at = Point::new(x, y);
        let reached = self.regions.iter().enumerate().filter_map(|(index, region)| {
            let away = region.shape.distance_to(at);
            (away <= tolerance_px).then(|| (index, away, region.shape.center().distance_to(at)))
        });
        let nearest = reached.min_by(|a, b| a.1.total_cmp(&b.1).then(a.2.total_cmp(&b.2)));
        nearest.map(|(index, _, _)| index)
    }

    /// Where a key leads. With nothing being read, any key but `Last` leads to the first region; at an edge the
    /// reading stays where it is.
    ///
    /// Returns a place in `regions`; `None` only where there are none.
    pub fn next_region(&self, current: Option<usize>, direction: ReadingDirection) -> Option<usize> {
        let last = self.regions.len().checked_sub(1)?;
        let Some(current) = current.filter(|&index| index <= last) else {
            return Some(if direction == ReadingDirection::Last { last } else { 0 });
        };
        Some(match direction {
            ReadingDirection::First => 0,
            ReadingDirection::Last => last,
            ReadingDirection::Next => (current + 1).min(last),
            ReadingDirection::Previous => current.saturating_sub(1),
            _ => self.step(current, direction).unwrap_or(current),
        })
    }

    /// The nearest region of the same column above or below, or of the same row to either side.
    fn step(&self, current: usize, direction: ReadingDirection) -> Option<usize> {
        let from = &self.regions[current];
        let ahead = |region: &HitRegion| {
            let (before, after, same_lane) = match direction {
                ReadingDirection::Up => (region.row, from.row, region.column == from.column),
                ReadingDirection::Down => (from.row, region.row, region.column == from.column),
                ReadingDirection::Left => (region.column, from.column, region.row == from.row),
                _ => (from.column, region.column, region.row == from.row),
            };
            (same_lane && after > before).then(|| after - before)
        };
        let reachable = self.regions.iter().enumerate().filter_map(|(index, region)| Some((index, ahead(region)?)));
        reachable.min_by_key(|&(_, steps)| steps).map(|(index, _)| index)
    }
}

impl RegionShape {
    /// How far a point is from the shape in CSS pixels; zero inside.
    pub fn distance_to(&self, at: Point) -> f64 {
        match self {
            RegionShape::Circle { center, radius } => (center.distance_to(at) - radius).max(0.0),
            RegionShape::Rectangle(area) => area.distance_to(at),
            RegionShape::Polygon(corners) => distance_to_polygon(corners, at),
        }
    }

    /// Mean of the corners, or the centre.
    pub fn center(&self) -> Point {
        match self {
            RegionShape::Circle { center, .. } => *center,
            RegionShape::Rectangle(area) => Point::new(area.left + area.width / 2.0, area.top + area.height / 2.0),
            RegionShape::Polygon(corners) => {
                let count = corners.len().max(1) as f64;
                let (x, y) = corners.iter().fold((0.0, 0.0), |(x, y), corner| (x + corner.x, y + corner.y));
                Point::new(x / count, y / count)
            }
        }
    }
}

/// Zero inside by the even-odd rule, else the distance to the nearest edge.
fn distance_to_polygon(corners: &[Point], at: Point) -> f64 {
    let mut inside = false;
    let mut nearest = f64::INFINITY;
    for (index, &from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        let crosses = (from.y > at.y) != (to.y > at.y);
        if crosses && at.x < from.x + (at.y - from.y) / (to.y - from.y) * (to.x - from.x) {
            inside = !inside;
        }
        nearest = nearest.min(distance_to_segment(from, to, at));
    }
    if inside { 0.0 } else { nearest }
}

fn distance_to_segment(from: Point, to: Point, at: Point) -> f64 {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let squared = dx * dx + dy * dy;
    let along = if squared > 0.0 { ((at.x - from.x) * dx + (at.y - from.y) * dy) / squared } else { 0.0 };
    let share = along.clamp(0.0, 1.0);
    Point::new(from.x + share * dx, from.y + share * dy).distance_to(at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::scene::theme::Theme;

    fn region(row: usize, column: usize) -> HitRegion {
        let center = Point::new(20.0 + 40.0 * column as f64, 20.0 + 40.0 * row as f64);
        HitRegion {
            shape: RegionShape::Circle { center, radius: 5.0 },
            sample: None,
            attribute: None,
            lines: vec![format!("{row}/{column}")],
            row,
            column,
        }
    }

    /// Rows 0 to 2, columns 0 to 2, the middle one left out.
    fn scene() -> Scene {
        let mut scene = Scene::new(200.0, "test", Theme::light().background);
        for row in 0..3 {
            scene.regions.extend((0..3).filter(|&column| (row, column) != (1, 1)).map(|column| region(row, column)));
        }
        scene
    }

    fn leads(from: Option<usize>, direction: ReadingDirection, expected: &str) {
        let scene = scene();
        let reached = scene.next_region(from, direction).expect("there are regions");
        assert_eq!(scene.regions[reached].lines, [expected], "{direction:?} from {from:?}");
    }

    #[test]
    fn keys_walk_the_reading_grid() {
        leads(None, ReadingDirection::Down, "0/0");
        leads(None, ReadingDirection::Last, "2/2");
        leads(Some(0), ReadingDirection::Next, "0/1");
        leads(Some(0), ReadingDirection::Previous, "0/0");
        leads(Some(0), ReadingDirection::Down, "1/0");
        leads(Some(1), ReadingDirection::Down, "2/1");
        leads(Some(3), ReadingDirection::Right, "1/2");
        leads(Some(7), ReadingDirection::Right, "2/2");
        leads(Some(7), ReadingDirection::Up, "1/2");
        leads(Some(99), ReadingDirection::Left, "0/0");
    }

    #[test]
    fn nothing_to_read_leads_nowhere() {
        let empty = Scene::new(10.0, "empty", Theme::light().background);
        assert_eq!(empty.next_region(None, ReadingDirection::Next), None);
    }

    #[test]
    fn the_pointer_finds_the_nearest_region_within_reach() {
        let scene = scene();
        assert_eq!(scene.region_at(21.0, 19.0, 0.0), Some(0));
        assert_eq!(scene.region_at(35.0, 20.0, 12.0), Some(0));
        assert_eq!(scene.region_at(45.0, 20.0, 12.0), Some(1));
        assert_eq!(scene.region_at(190.0, 190.0, 12.0), None);
    }

    #[test]
    fn a_point_inside_a_polygon_is_at_no_distance() {
        let corners = vec![Point::new(0.0, 0.0), Point::new(10.0, 0.0), Point::new(10.0, 10.0), Point::new(0.0, 10.0)];
        let shape = RegionShape::Polygon(corners);
        assert!(shape.distance_to(Point::new(5.0, 5.0)) < 1e-12);
        assert!((shape.distance_to(Point::new(13.0, 14.0)) - 5.0).abs() < 1e-12);
    }
}
