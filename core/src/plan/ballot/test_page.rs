//! A page with strokes printed at known places, so that a house can measure its own printer and scanner: what is read is
//! compared with what was printed. It knows nothing of reading.

use super::geometry::{BallotGeometry, Paper, PointMm};
use super::page_code::{PageIdentity, Print};
use super::pages::{BallotPage, BallotRow, PX_PER_MM, ballot_scene};
use crate::figures::{Color, Point, Scene, Stroke, to_svg_at_true_size};
use crate::plan::PlanError;

/// What stands in the code where a plan's name stands: no plan's name is as long.
pub const TEST_STUDY: &str = "TESTPAGE";
/// The printed strokes, row by row: mm from the left end, and how far each moves along the line a mm below it. Both ends,
/// the middle, and places between that no ruler's mark falls on.
pub const TEST_MARKS: [(f64, f64); 15] = [
    (50.0, 0.0),
    (0.0, 0.0),
    (100.0, 0.0),
    (12.3, 0.0),
    (87.7, 0.0),
    (31.4, 0.25),
    (68.6, -0.25),
    (6.2, 0.0),
    (93.8, 0.0),
    (43.9, -0.4),
    (56.1, 0.4),
    (25.0, 0.0),
    (75.0, 0.0),
    (18.7, -0.15),
    (81.3, 0.15),
];
/// How far a stroke goes each way, and how wide it is.
const REACH_MM: f64 = 2.3;
const WIDTH_MM: f64 = 0.5;

/// The page without its strokes.
///
/// # Errors
/// None that is known: the text of its code is short.
pub fn test_page(paper: Paper) -> Result<BallotPage, PlanError> {
    let identity = PageIdentity {
        study: TEST_STUDY.to_owned(),
        session: 0,
        assessor: 0,
        code: "0".to_owned(),
        position: 0,
        page: 1,
        pages: 1,
        print: Some(Print { paper, rows: TEST_MARKS.len() as u32, words: "0".to_owned() }),
    };
    let row = |(index, (along, _)): (usize, &(f64, f64))| BallotRow {
        attribute: index,
        name: format!("printed at {along:.1} mm"),
        low_end: String::new(),
        high_end: String::new(),
    };
    let rows = TEST_MARKS.iter().enumerate().map(row).collect();
    let geometry = BallotGeometry::of_page(paper, 1, TEST_MARKS.len());
    BallotPage::new(
        identity,
        "Test of printer and scanner: mark nothing".to_owned(),
        "No ballot".to_owned(),
        rows,
        geometry,
    )
}

/// The page with its strokes, as a figure at true size.
///
/// # Errors
/// As `test_page`.
pub fn test_page_scene(paper: Paper) -> Result<Scene, PlanError> {
    let page = test_page(paper)?;
    let mut scene = ballot_scene(&page);
    let stroke = Stroke::solid(Color::rgb(0x00_0000), WIDTH_MM * PX_PER_MM);
    for (row, (along, slant)) in page.geometry.rows.iter().zip(TEST_MARKS) {
        let at = |below: f64| {
            let place = PointMm { x_mm: row.line_left.x_mm + along + slant * below, y_mm: row.line_left.y_mm + below };
            Point::new(place.x_mm * PX_PER_MM, place.y_mm * PX_PER_MM)
        };
        scene.line(at(-REACH_MM), at(REACH_MM), stroke);
    }
    Ok(scene)
}

/// The page with its strokes as SVG whose unit is one millimetre.
///
/// # Errors
/// As `test_page`.
pub fn test_page_svg(paper: Paper) -> Result<String, PlanError> {
    test_page_scene(paper).map(|scene| to_svg_at_true_size(&scene))
}
