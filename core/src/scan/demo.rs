//! The invented mango study as filled pages, drawn from a seed, so that a reader of ballots can be tried without paper. It
//! knows nothing of reading. No words are drawn: a page knows its attributes by the plan.

use super::drawn::{Drawn, Exposure, View};
use super::known_pages::KnownPages;
use super::picture::Picture;
use crate::defined::{Defined, NotDefined};
use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::brief::attributes::AttributeList;
use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::{PlannedSample, SampleRole};
use crate::plan::tasting_plan::TastingPlan;
use crate::run::{Reached, Run, to_the_end};
use std::sync::Arc;

/// How one page differs from the next, as scanners and hands do.
const MOST_DEGREES: f64 = 3.0;
const PX_PER_MM: std::ops::Range<f64> = 5.9..7.9;
/// Of a hundred rows so many have no mark, and so many a mark that was struck out for another.
const EMPTY_IN_100: usize = 2;
const STRUCK_IN_100: usize = 3;

/// Lines of a picture that one step takes.
const LINES_A_STEP: usize = 8;

/// What was drawn on one page.
#[derive(Clone, Debug, PartialEq)]
pub struct DemoPage {
    /// Name of its picture.
    pub name: String,
    pub picture: Picture,
    /// Index into `KnownPages::pages`.
    pub page: usize,
    /// Where each row was marked, in mm from the left end; nothing where it wasn't.
    pub marks_mm: Vec<Option<f64>>,
    /// Rows whose first mark was struck out.
    pub struck: Vec<usize>,
}

/// The plan of the invented study: four assessors, a target and two candidates.
///
/// # Errors
/// None that is known: the plan is fixed but for its seed.
pub fn demo_plan(seed: u64) -> Result<TastingPlan, PlanError> {
    let names = ["Ada", "Ben", "Cleo", "Dora"];
    let mut draft = PlanDraft {
        attributes: AttributeList::mango_nectar_example(),
        assessors_typed: names.join("\n"),
        replicates: 1,
        seed,
        ..PlanDraft::default()
    };
    draft.brief.title = "Mango nectar, filled pages to try (invented)".to_owned();
    let candidate = |name| PlannedSample::named(name, SampleRole::Candidate);
    draft.brief.samples =
        vec![PlannedSample::named("Fresh", SampleRole::Target), candidate("Stored warm"), candidate("Stored cold")];
    draft.make("2026-03-02 09:00")
}

/// The filled pages of `demo_plan(seed)`, one picture each.
///
/// # Errors
/// As `demo_plan`.
pub fn demo_pages(seed: u64) -> Result<Vec<DemoPage>, PlanError> {
    let plan = demo_plan(seed)?;
    let known = Arc::new(KnownPages::of(&plan)?);
    Ok(DemoPages::of(plan, known, seed).filter_map(|page| to_the_end(Ok(page)).ok()).collect())
}

/// Fills the pages of a plan one after the other; each is seen only when its run is stepped.
pub struct DemoPages {
    chance: Random,
    plan: TastingPlan,
    known: Arc<KnownPages>,
    next: usize,
}

/// A page that is filled in, while its picture is taken: some lines a step.
pub struct DemoPageRun {
    name: String,
    page: usize,
    marks_mm: Vec<Option<f64>>,
    struck: Vec<usize>,
    sheet: Drawn,
    exposure: Exposure,
}

impl DemoPageRun {
    /// Name of the picture.
    pub fn name(&self) -> &str {
        &self.name
    }
}

impl Run for DemoPageRun {
    type Found = DemoPage;

    fn step(&mut self) {
        for _ in 0..LINES_A_STEP {
            if !self.exposure.is_done() {
                self.exposure.add_line(&[&self.sheet]);
            }
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.exposure.lines, wanted: self.exposure.height() }
    }

    fn finish(mut self) -> Defined<DemoPage> {
        while !self.is_done() {
            self.step();
        }
        let picture = self.exposure.picture().map_err(|fault| NotDefined::because(fault.to_string()))?;
        let DemoPageRun { name, page, marks_mm, struck, .. } = self;
        Ok(DemoPage { name, picture, page, marks_mm, struck })
    }
}

impl Iterator for DemoPages {
    type Item = DemoPageRun;

    /// The next page on the first paper that is known.
    fn next(&mut self) -> Option<DemoPageRun> {
        let first_paper = self.known.pages.first()?.layouts.first()?.paper;
        loop {
            let page = self.next;
            let known = self.known.pages.get(page)?;
            self.next += 1;
            if known.layouts[0].paper == first_paper {
                return self.filled(page);
            }
        }
    }
}

impl DemoPages {
    /// `known` holds the pages of `plan`.
    pub fn of(plan: TastingPlan, known: Arc<KnownPages>, seed: u64) -> Self {
        DemoPages { chance: Random::seeded_for(seed, "filled pages"), plan, known, next: 0 }
    }

    fn filled(&mut self, page: usize) -> Option<DemoPageRun> {
        let known = Arc::clone(&self.known);
        let known = &known.pages[page];
        let mut sheet = Drawn::blank(known);
        let sample = self.plan.servings().get(known.serving)?.sample;
        let grey = 20 + self.chance.below(70) as u8;
        let (mut marks_mm, mut struck) = (Vec::new(), Vec::new());
        for (row, attribute) in known.attributes.iter().enumerate() {
            let (mark, is_struck) = self.fill_row(&mut sheet, row, (*attribute, sample), grey);
            marks_mm.push(mark);
            struck.extend(is_struck.then_some(row));
        }
        let exposure = Exposure::new(&[&sheet], self.view());
        Some(DemoPageRun { name: format!("page-{:03}.png", page + 1), page, marks_mm, struck, sheet, exposure })
    }

    /// Where a row was marked, and whether another mark was struck out for that.
    fn fill_row(
        &mut self,
        sheet: &mut Drawn,
        row: usize,
        (attribute, sample): (usize, usize),
        grey: u8,
    ) -> (Option<f64>, bool) {
        let mark = self.score(attribute, sample);
        let chance = self.chance.below(100);
        if chance < EMPTY_IN_100 {
            return (None, false);
        }
        let is_struck = chance < EMPTY_IN_100 + STRUCK_IN_100;
        if is_struck {
            self.strike_out(sheet, row, mark, grey);
        }
        let reach = (1.6 + 1.4 * self.chance.unit(), 1.6 + 1.4 * self.chance.unit());
        sheet.stroke(row, mark, reach, 0.5 * (self.chance.unit() - 0.5), grey);
        (Some(mark), is_struck)
    }

    /// A score that the sample and the attribute have in common, and what this assessor makes of it.
    fn score(&mut self, attribute: usize, sample: usize) -> f64 {
        let mut common = Random::seeded_for((attribute * 31 + 1) as u64, "attribute");
        let mean = 15.0 + 70.0 * common.unit();
        let shift = (0..=sample).map(|_| common.normal()).last().unwrap_or(0.0) * if sample == 0 { 0.0 } else { 9.0 };
        (mean + shift + 6.0 * self.chance.normal()).clamp(1.0, 99.0)
    }

    /// A mark elsewhere on the line, with a cross over it.
    fn strike_out(&mut self, sheet: &mut Drawn, row: usize, mark: f64, grey: u8) {
        let old = if mark > 50.0 { mark - 30.0 } else { mark + 30.0 };
        sheet.stroke(row, old, (2.0, 2.0), 0.0, grey);
        sheet.pen(row, (old - 2.0, -1.8), (old + 2.0, 1.8), grey);
        sheet.pen(row, (old - 2.0, 1.8), (old + 2.0, -1.8), grey);
    }

    fn view(&mut self) -> View {
        View {
            px_per_mm: PX_PER_MM.start + (PX_PER_MM.end - PX_PER_MM.start) * self.chance.unit(),
            degrees: MOST_DEGREES * (2.0 * self.chance.unit() - 1.0)
                + if self.chance.below(8) == 0 { 180.0 } else { 0.0 },
            paper: 225.0 + 25.0 * self.chance.unit(),
            noise: 1.0 + 3.0 * self.chance.unit(),
            seed: self.chance.bits(),
        }
    }
}
