//! What was printed, as a list for other programs: each page with its code, and where its lines lie in mm. It knows
//! nothing of how a page looks or of where files go.
//!
//! Form: `{"paper", "width_mm", "height_mm", "pages": [{"file", "code_text", "assessor", "sample_code", "replicate",
//! "position", "rows": [{"row", "attribute", "y_mm", "x0_mm", "x100_mm"}]}]}`; places are from the upper left corner.

use super::geometry::{Paper, RowGeometry};
use super::pages::{BallotPage, BallotRow};
use crate::plan::tasting_plan::TastingPlan;
use serde::Serialize;

/// All pages of one print.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageList {
    pub paper: Paper,
    pub width_mm: f64,
    pub height_mm: f64,
    pub pages: Vec<ListedPage>,
}

/// One page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ListedPage {
    pub file: String,
    pub code_text: String,
    pub assessor: String,
    pub sample_code: String,
    /// From 1.
    pub replicate: u32,
    /// Serving position, from 1.
    pub position: u32,
    pub rows: Vec<ListedRow>,
}

/// One line to be marked.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ListedRow {
    /// The number printed beside the line.
    pub row: u32,
    pub attribute: String,
    pub y_mm: f64,
    pub x0_mm: f64,
    pub x100_mm: f64,
}

impl PageList {
    /// The list of pages of a plan; the page with index `i` lies in the file that `file_of(i)` names.
    pub fn of(plan: &TastingPlan, paper: Paper, pages: &[BallotPage], file_of: impl Fn(usize) -> String) -> Self {
        let listed = |(index, page): (usize, &BallotPage)| {
            let identity = &page.identity;
            let session = plan.sessions.iter().find(|session| session.number == identity.session);
            ListedPage {
                file: file_of(index),
                code_text: identity.to_text(),
                assessor: page.assessor.clone(),
                sample_code: identity.code.clone(),
                replicate: session.map_or(1, |session| session.replicate),
                position: identity.position,
                rows: page.geometry.rows.iter().zip(&page.rows).map(ListedRow::of).collect(),
            }
        };
        let pages = pages.iter().enumerate().map(listed).collect();
        PageList { paper, width_mm: paper.width_mm(), height_mm: paper.height_mm(), pages }
    }
}

impl ListedRow {
    fn of((line, words): (&RowGeometry, &BallotRow)) -> Self {
        ListedRow {
            row: line.number,
            attribute: words.name.clone(),
            y_mm: line.line_left.y_mm,
            x0_mm: line.line_left.x_mm,
            x100_mm: line.line_right.x_mm,
        }
    }
}
