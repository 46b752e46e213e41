//! Where everything that a scan has to find lies on a ballot page, in mm from the upper left corner of the sheet. It
//! knows nothing of words or of drawing.
//!
//! Lines are 100.0 mm. Each row carries reference dots above both ends and the middle of its line, so that a mark is
//! measured between dots of its own row: in a geometric simulation with lens distortion and 15 mm of page curl that was
//! right within .16 mm, where the four corners alone erred by up to 3.3 mm.

use serde::{Deserialize, Serialize};

/// The length of every line and of the check bar.
pub const LINE_LENGTH_MM: f64 = 100.0;
/// How thick a line is printed.
pub const LINE_WIDTH_MM: f64 = 0.35;
/// Half the height of the tick that ends a line.
pub const TICK_HALF_MM: f64 = 1.6;
/// Radius of a reference dot.
pub const DOT_RADIUS_MM: f64 = 0.55;
/// How far above their line the reference dots are.
pub const DOT_RISE_MM: f64 = 2.7;
/// Radius of a ring in a corner of the page.
pub const TARGET_RADIUS_MM: f64 = 3.5;
/// Side of the square code.
pub const CODE_SIDE_MM: f64 = 22.0;
/// Rows never come closer than this.
pub const LOWEST_PITCH_MM: f64 = 8.5;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    #[default]
    A4,
    Letter,
}

/// A place on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PointMm {
    pub x_mm: f64,
    pub y_mm: f64,
}

/// One row of the ballot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RowGeometry {
    /// Number printed at both ends; the attribute's number in the list, from 1.
    pub number: u32,
    pub line_left: PointMm,
    pub line_right: PointMm,
    /// Centres of the dots above the left end, the middle and the right end.
    pub dots: [PointMm; 3],
}

/// One page of the ballot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BallotGeometry {
    pub paper: Paper,
    /// Centres of the corner targets: upper left, upper right, lower left, lower right.
    pub targets: [PointMm; 4],
    pub target_radius_mm: f64,
    /// Upper left corner of the square code, without its quiet zone.
    pub code_corner: PointMm,
    pub code_side_mm: f64,
    pub check_bar_left: PointMm,
    pub check_bar_right: PointMm,
    pub dot_radius_mm: f64,
    pub rows: Vec<RowGeometry>,
}

impl Paper {
    /// The shorter side.
    pub fn width_mm(self) -> f64 {
        match self {
            Paper::A4 => 210.0,
            Paper::Letter => 215.9,
        }
    }

    /// The longer side.
    pub fn height_mm(self) -> f64 {
        match self {
            Paper::A4 => 297.0,
            Paper::Letter => 279.4,
        }
    }

    /// What style sheets call the sheet.
    pub fn css_name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "letter",
        }
    }

    /// How many rows fit on a page.
    pub fn most_rows(self) -> usize {
        (self.room_for_rows_mm() / LOWEST_PITCH_MM) as usize + 1
    }

    fn room_for_rows_mm(self) -> f64 {
        self.height_mm() - BELOW_ROWS_MM - FIRST_ROW_MM
    }
}

const TARGET_CENTRE_MM: f64 = 16.0;
const FIRST_ROW_MM: f64 = 60.0;
const BELOW_ROWS_MM: f64 = 38.0;
const CHECK_BAR_ABOVE_EDGE_MM: f64 = 25.0;
const LINE_FROM_RIGHT_EDGE_MM: f64 = 34.0;
const WIDEST_PITCH_MM: f64 = 12.0;
const CODE_TOP_MM: f64 = 13.0;
const CODE_FROM_RIGHT_EDGE_MM: f64 = 26.0;

impl BallotGeometry {
    /// The page for rows numbered from `first_number` on; `rows` must not be above `most_rows`.
    pub fn of_page(paper: Paper, first_number: u32, rows: usize) -> Self {
        let (width, height) = (paper.width_mm(), paper.height_mm());
        let (near, far_x, far_y) = (TARGET_CENTRE_MM, width - TARGET_CENTRE_MM, height - TARGET_CENTRE_MM);
        let gaps = rows.saturating_sub(1).max(1) as f64;
        let pitch = (paper.room_for_rows_mm() / gaps).min(WIDEST_PITCH_MM);
        let bar_left = (width - LINE_LENGTH_MM) / 2.0;
        let bar_y = height - CHECK_BAR_ABOVE_EDGE_MM;
        let row = |index: usize| row_at(width, FIRST_ROW_MM + pitch * index as f64, first_number + index as u32);
        BallotGeometry {
            paper,
            targets: [point(near, near), point(far_x, near), point(near, far_y), point(far_x, far_y)],
            target_radius_mm: TARGET_RADIUS_MM,
            code_corner: point(width - CODE_FROM_RIGHT_EDGE_MM - CODE_SIDE_MM, CODE_TOP_MM),
            code_side_mm: CODE_SIDE_MM,
            check_bar_left: point(bar_left, bar_y),
            check_bar_right: point(bar_left + LINE_LENGTH_MM, bar_y),
            dot_radius_mm: DOT_RADIUS_MM,
            rows: (0..rows).map(row).collect(),
        }
    }
}

impl RowGeometry {
    /// The score in mm of a mark that crosses the line at this distance along it, from 0 at the left end.
    pub fn score_mm(&self, mark_x_mm: f64) -> f64 {
        (mark_x_mm - self.line_left.x_mm) / (self.line_right.x_mm - self.line_left.x_mm) * LINE_LENGTH_MM
    }
}

fn row_at(width_mm: f64, y_mm: f64, number: u32) -> RowGeometry {
    let right = width_mm - LINE_FROM_RIGHT_EDGE_MM;
    let left = right - LINE_LENGTH_MM;
    let dot = |x_mm: f64| point(x_mm, y_mm - DOT_RISE_MM);
    RowGeometry {
        number,
        line_left: point(left, y_mm),
        line_right: point(right, y_mm),
        dots: [dot(left), dot(left + LINE_LENGTH_MM / 2.0), dot(right)],
    }
}

fn point(x_mm: f64, y_mm: f64) -> PointMm {
    PointMm { x_mm, y_mm }
}
