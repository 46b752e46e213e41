//! What a page with printed strokes says of a printer and a scanner. It knows nothing of pictures.

use super::judge::{RowReading, RowState};
use crate::plan::ballot::test_page::TEST_MARKS;
use serde::Serialize;
use std::fmt;

/// Errors of one test page, in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TestFinding {
    /// Strokes on the page.
    pub strokes: usize,
    /// Strokes that were read without asking.
    pub read: usize,
    /// Mean and largest distance of those from where they were printed.
    pub mean_error_mm: f64,
    pub largest_error_mm: f64,
}

impl TestFinding {
    /// From the rows as they were read.
    pub fn of(rows: &[RowReading]) -> Self {
        let taken = rows.iter().zip(TEST_MARKS).filter(|(row, _)| row.state == RowState::Read);
        let errors: Vec<f64> = taken.filter_map(|(row, mark)| Some((row.score_mm? - mark.0).abs())).collect();
        TestFinding {
            strokes: TEST_MARKS.len(),
            read: errors.len(),
            mean_error_mm: errors.iter().sum::<f64>() / errors.len().max(1) as f64,
            largest_error_mm: errors.iter().copied().fold(0.0, f64::max),
        }
    }
}

impl fmt::Display for TestFinding {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.read == 0 {
            return out.write_str("This is the test page, and none of its strokes was read: print and scan it again.");
        }
        write!(
            out,
            "This is the test page: {} of {} printed strokes were read without asking, off by {:.2} mm on average and {:.2} mm \
             at most. It tells of printer and scanner, not of pens and hands.",
            self.read, self.strokes, self.mean_error_mm, self.largest_error_mm
        )
    }
}
