//! The pages that a plan prints, as a reader needs them: the code's modules, the lines' places and attributes. It knows
//! nothing of pictures.

use crate::plan::PlanError;
use crate::plan::ballot::geometry::{BallotGeometry, Paper};
use crate::plan::ballot::page_code::PageIdentity;
use crate::plan::ballot::pages::{BallotPage, CodeSquare};
use crate::plan::ballot::test_page::test_page;

/// All pages of a plan, on whatever paper they were printed.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownPages {
    pub pages: Vec<KnownPage>,
    /// The pages with printed strokes that every plan knows; they belong to no cup.
    pub tests: Vec<KnownPage>,
    /// `TastingPlan::study_id`.
    pub study: String,
    /// `words_token` of every page.
    pub words: Vec<String>,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownPage {
    /// What the page says on whatever paper: the text of the first form.
    pub code_text: String,
    /// What the page may say, by paper and form of the text: as it is printed now, first.
    pub codes: Vec<KnownCode>,
    /// Index into `TastingPlan::servings`.
    pub serving: usize,
    /// One attribute of the plan a row, by index.
    pub attributes: Vec<usize>,
    /// Their names.
    pub names: Vec<String>,
    /// Where everything lies, for each paper on which the page is printed.
    pub layouts: Vec<BallotGeometry>,
}

/// One code that a page may bear.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownCode {
    pub text: String,
    /// Its modules.
    pub square: CodeSquare,
    /// The paper it says; nothing where it says none.
    pub paper: Option<Paper>,
}

impl KnownPages {
    /// All pages that can be met: those of the plan, then the test pages.
    pub fn all(&self) -> impl Iterator<Item = &KnownPage> {
        self.pages.iter().chain(&self.tests)
    }

    /// A page by its place in `all`.
    pub fn page(&self, index: usize) -> &KnownPage {
        self.pages.get(index).unwrap_or_else(|| &self.tests[index - self.pages.len()])
    }

    /// Whether a place in `all` is that of a test page.
    pub fn is_test(&self, index: usize) -> bool {
        index >= self.pages.len()
    }
}

impl KnownPage {
    pub(super) fn of_test(paper: Paper) -> Result<Self, PlanError> {
        let page = test_page(paper)?;
        let code = KnownCode::of(&page.identity)?;
        Ok(KnownPage {
            code_text: code.text.clone(),
            codes: vec![code],
            serving: usize::MAX,
            attributes: Vec::new(),
            names: page.rows.into_iter().map(|row| row.name).collect(),
            layouts: vec![page.geometry],
        })
    }

    pub(super) fn of(page: &BallotPage, serving: usize, before: KnownCode) -> Self {
        KnownPage {
            code_text: before.text.clone(),
            codes: vec![before],
            serving,
            attributes: page.rows.iter().map(|row| row.attribute).collect(),
            names: page.rows.iter().map(|row| row.name.clone()).collect(),
            layouts: Vec::new(),
        }
    }

    /// Adds one paper; the text that says none stays the last.
    pub(super) fn add(&mut self, page: BallotPage) {
        let text = page.identity.to_text();
        let code = KnownCode { text, square: page.code().clone(), paper: Some(page.geometry.paper) };
        self.codes.insert(self.codes.len() - 1, code);
        self.layouts.push(page.geometry);
    }

    /// The layouts that a page with this code may have.
    pub fn layouts_of(&self, code: usize) -> impl Iterator<Item = &BallotGeometry> {
        let paper = self.codes[code].paper;
        self.layouts.iter().filter(move |layout| paper.is_none_or(|paper| paper == layout.paper))
    }
}

impl KnownCode {
    pub(super) fn of(identity: &PageIdentity) -> Result<Self, PlanError> {
        let paper = identity.print.as_ref().map(|print| print.paper);
        Ok(KnownCode { text: identity.to_text(), square: CodeSquare::of(identity)?, paper })
    }
}
