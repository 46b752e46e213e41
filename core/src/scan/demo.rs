//! The invented mango study as filled pages, drawn from a seed, so that a reader of ballots can be tried without paper. It
//! knows nothing of reading. No words are drawn: a page knows its attributes by the plan.

use super::drawn::{Drawn, View, seen};
use super::known_pages::KnownPages;
use super::picture::Picture;
use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::brief::attributes::AttributeList;
use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::{PlannedSample, SampleRole};
use crate::plan::tasting_plan::TastingPlan;

/// How one page differs from the next, as scanners and hands do.
const MOST_DEGREES: f64 = 3.0;
const PX_PER_MM: std::ops::Range<f64> = 5.9..7.9;
/// Of a hundred rows so many have no mark, and so many a mark that was struck out for another.
const EMPTY_IN_100: usize = 2;
const STRUCK_IN_100: usize = 3;

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
    let known = KnownPages::of(&plan)?;
    let mut hand = Hand { chance: Random::seeded_for(seed, "filled pages"), plan: &plan, known: &known };
    let first_paper = known.pages[0].layouts[0].paper;
    let pages = (0..known.pages.len()).filter(|page| known.pages[*page].layouts[0].paper == first_paper);
    Ok(pages.filter_map(|page| hand.filled(page)).collect())
}

struct Hand<'a> {
    chance: Random,
    plan: &'a TastingPlan,
    known: &'a KnownPages,
}

impl Hand<'_> {
    fn filled(&mut self, page: usize) -> Option<DemoPage> {
        let known = &self.known.pages[page];
        let mut sheet = Drawn::blank(known);
        let sample = self.plan.servings().get(known.serving)?.sample;
        let grey = 20 + self.chance.below(70) as u8;
        let (mut marks_mm, mut struck) = (Vec::new(), Vec::new());
        for (row, attribute) in known.attributes.iter().enumerate() {
            let mark = self.score(*attribute, sample);
            match self.chance.below(100) {
                empty if empty < EMPTY_IN_100 => marks_mm.push(None),
                chance => {
                    if chance < EMPTY_IN_100 + STRUCK_IN_100 {
                        self.strike_out(&mut sheet, row, mark, grey);
                        struck.push(row);
                    }
                    let reach = (1.6 + 1.4 * self.chance.unit(), 1.6 + 1.4 * self.chance.unit());
                    sheet.stroke(row, mark, reach, 0.5 * (self.chance.unit() - 0.5), grey);
                    marks_mm.push(Some(mark));
                }
            }
        }
        let view = self.view();
        let name = format!("page-{:03}.png", page + 1);
        seen(&[&sheet], view).ok().map(|picture| DemoPage { name, picture, page, marks_mm, struck })
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
