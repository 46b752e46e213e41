//! The pages of a plan made for a reader, one cup a step: square codes take long. It knows nothing of pictures.

use super::known_pages::{KnownCode, KnownPage, KnownPages};
use crate::defined::{Defined, NotDefined};
use crate::plan::PlanError;
use crate::plan::ballot::geometry::Paper;
use crate::plan::ballot::page_code::PageIdentity;
use crate::plan::ballot::pages::{BallotPage, pages_of_cup};
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use crate::run::{Reached, Run};
use std::collections::HashMap;
use std::sync::Arc;

/// Papers on which a plan may have been printed.
const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

/// The pages of a plan while they are made: every cup on each paper, then the test pages.
pub struct KnownPagesRun {
    plan: Arc<TastingPlan>,
    servings: Vec<PlannedServing>,
    place_of: HashMap<String, usize>,
    known: KnownPages,
    done: usize,
    fault: Option<PlanError>,
}

impl KnownPages {
    /// The pages of a plan.
    ///
    /// # Errors
    /// Where a page can't be printed.
    pub fn of(plan: &TastingPlan) -> Result<Self, PlanError> {
        let mut run = KnownPagesRun::new(Arc::new(plan.clone()));
        while !run.is_done() {
            run.step();
        }
        run.fault.map_or(Ok(run.known), Err)
    }
}

impl KnownPagesRun {
    pub fn new(plan: Arc<TastingPlan>) -> Self {
        let known = KnownPages { pages: Vec::new(), tests: Vec::new(), study: plan.study_id(), words: Vec::new() };
        KnownPagesRun { servings: plan.servings(), plan, place_of: HashMap::new(), known, done: 0, fault: None }
    }

    /// Cups on all papers, and the test pages at the end.
    fn wanted(&self) -> usize {
        PAPERS.len() * self.servings.len() + 1
    }

    fn next(&mut self) -> Result<(), PlanError> {
        if self.done + 1 == self.wanted() {
            self.known.words.sort_unstable();
            self.known.words.dedup();
            self.known.tests = PAPERS.into_iter().map(KnownPage::of_test).collect::<Result<_, _>>()?;
            return Ok(());
        }
        let (paper, cup) = (PAPERS[self.done / self.servings.len()], &self.servings[self.done % self.servings.len()]);
        for page in pages_of_cup(&self.plan, paper, &self.known.study, cup)? {
            self.add(page)?;
        }
        Ok(())
    }

    /// Adds a page, or another paper of a page that is there.
    fn add(&mut self, page: BallotPage) -> Result<(), PlanError> {
        let before = PageIdentity { print: None, ..page.identity.clone() };
        let pages = &mut self.known.pages;
        let place = *self.place_of.entry(before.to_text()).or_insert(pages.len());
        if place == pages.len() {
            let is_its_cup = |serving: &PlannedServing| {
                serving.assessor as u32 + 1 == page.identity.assessor && serving.code == page.identity.code
            };
            let serving = self.servings.iter().position(is_its_cup).unwrap_or(usize::MAX);
            pages.push(KnownPage::of(&page, serving, KnownCode::of(&before)?));
        }
        self.known.words.extend(page.identity.print.as_ref().map(|print| print.words.clone()));
        pages[place].add(page);
        Ok(())
    }
}

impl Run for KnownPagesRun {
    type Found = KnownPages;

    fn step(&mut self) {
        if self.is_done() {
            return;
        }
        self.fault = self.next().err();
        // What can't be printed ends the work.
        self.done = if self.fault.is_some() { self.wanted() } else { self.done + 1 };
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.wanted() }
    }

    fn finish(mut self) -> Defined<KnownPages> {
        while !self.is_done() {
            self.step();
        }
        self.fault.map_or(Ok(self.known), |fault| Err(NotDefined::because(fault.to_string())))
    }
}
