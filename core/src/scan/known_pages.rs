//! The pages that a plan prints, as a reader needs them: the code's modules, the lines' places and attributes. It knows
//! nothing of pictures.

use crate::plan::PlanError;
use crate::plan::ballot::geometry::{BallotGeometry, Paper};
use crate::plan::ballot::pages::{BallotPage, ballot_pages};
use crate::plan::tasting_plan::TastingPlan;

/// All pages of a plan, on whatever paper they were printed.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownPages {
    pub pages: Vec<KnownPage>,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownPage {
    pub code_text: String,
    /// Modules a side of the code.
    pub side: usize,
    /// Modules row by row; true is dark.
    pub dark: Vec<bool>,
    /// Index into `TastingPlan::servings`.
    pub serving: usize,
    /// One attribute of the plan a row, by index.
    pub attributes: Vec<usize>,
    /// Their names.
    pub names: Vec<String>,
    /// Where everything lies, for each paper on which a page says this code.
    pub layouts: Vec<BallotGeometry>,
}

impl KnownPages {
    /// The pages of a plan.
    ///
    /// # Errors
    /// Where a page can't be printed.
    pub fn of(plan: &TastingPlan) -> Result<Self, PlanError> {
        let servings = plan.servings();
        let mut pages: Vec<KnownPage> = Vec::new();
        for paper in [Paper::A4, Paper::Letter] {
            for page in ballot_pages(plan, paper)? {
                let code_text = page.identity.to_text();
                let known = pages.iter_mut().find(|known| known.code_text == code_text);
                match known {
                    Some(known) => known.layouts.push(page.geometry),
                    None => {
                        let is_its_cup = |serving: &crate::plan::tasting_plan::PlannedServing| {
                            serving.assessor as u32 + 1 == page.identity.assessor && serving.code == page.identity.code
                        };
                        let serving = servings.iter().position(is_its_cup).unwrap_or(usize::MAX);
                        pages.push(KnownPage::of(code_text, serving, page));
                    }
                }
            }
        }
        Ok(KnownPages { pages })
    }
}

impl KnownPage {
    fn of(code_text: String, serving: usize, page: BallotPage) -> Self {
        let (side, dark) = page.code_modules();
        KnownPage {
            code_text,
            side,
            dark: dark.to_vec(),
            serving,
            attributes: page.rows.iter().map(|row| row.attribute).collect(),
            names: page.rows.iter().map(|row| row.name.clone()).collect(),
            layouts: vec![page.geometry],
        }
    }
}
