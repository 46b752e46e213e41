//! How often the whole verdict would come out which way, before anybody tastes: made-up studies at the planned scatter,
//! judged by the calibrated rule itself, for several numbers of assessors. It must not know how that is shown.
//!
//! Beside the specification's table for 12 assessors and eight attributes (sd of a difference 9 to 16 mm, marks clamped,
//! 30 % of attributes weak): duplicate 5 % off and 76 % match, one attribute off by 15 mm found in 90 %. The test below
//! holds this room to the same studies drawn by a second, plain loop.

use super::calibrated::{Chances, ChancesOptions, ChancesRun, Scatter, Truth, VerdictOptions};
use crate::run::{Reached, Run};
use crate::stats::results::{Defined, NotDefined};
use serde::Serialize;

/// Made-up studies for each truth and number of assessors: a share then has a standard error of at most
/// sqrt(.5 * .5 / 625) = .02.
pub const STUDIES: u64 = 625;
/// Largest standard error of a share from so many studies.
pub const STANDARD_ERROR: f64 = 0.02;
/// Numbers of assessors that the curve is worked out for, beside the planned one.
pub const CURVE: [usize; 9] = [8, 10, 12, 14, 16, 18, 20, 22, 24];
/// Correlation between the differences on two attributes that is assumed where none is stated.
pub const ASSUMED_CORRELATION: f64 = 0.3;

/// What is planned, as the verdict will see it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlannedVerdict {
    /// One margin a deciding attribute, in mm.
    pub margins_mm: Vec<f64>,
    /// Standard deviation of one assessor's difference, the same on every attribute, in mm.
    pub sd_of_difference_mm: f64,
    /// Between the differences on any two attributes, 0 to 1.
    pub correlation: f64,
    /// Profile margin as a share of the margins.
    pub profile_share: f64,
    pub alpha: f64,
    pub seed: u64,
    /// Made-up studies for each truth and number of assessors.
    pub studies: u64,
}

/// The chances with one number of assessors.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChancesAt {
    pub assessors: usize,
    /// One entry a truth, in the order of [`Truth::USUAL`].
    pub truths: Vec<Chances>,
}

/// The chances over numbers of assessors.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VerdictChances {
    pub planned: PlannedVerdict,
    /// By rising number of assessors.
    pub at: Vec<ChancesAt>,
}

/// Made-up studies, one a step; the first number of assessors asked for comes first.
pub struct VerdictChancesRun {
    planned: PlannedVerdict,
    /// Numbers of assessors still to be begun, the next one last.
    waiting: Vec<usize>,
    at: Vec<ChancesAt>,
    under_way: Option<(usize, ChancesRun)>,
    failed: Option<NotDefined>,
    done: u64,
    wanted: u64,
}

impl Chances {
    /// Share of the studies that end in a match of either kind.
    #[must_use]
    pub fn matched(&self) -> f64 {
        self.share(self.match_each_attribute + self.match_profile)
    }
}

impl VerdictChances {
    /// The chances with so many assessors.
    #[must_use]
    pub fn with(&self, assessors: usize) -> Option<&ChancesAt> {
        self.at.iter().find(|at| at.assessors == assessors)
    }
}

impl VerdictChancesRun {
    /// Begins with the first number of assessors; a number that stands there twice is worked out once.
    ///
    /// # Errors
    /// No numbers of assessors, or what [`ChancesRun::start`] refuses of any of them.
    pub fn start(planned: PlannedVerdict, assessors: &[usize]) -> Defined<Self> {
        let mut waiting: Vec<usize> = Vec::new();
        for number in assessors {
            if !waiting.contains(number) {
                waiting.push(*number);
            }
        }
        if waiting.is_empty() {
            return Err(NotDefined::because("no number of assessors is named"));
        }
        waiting.iter().try_for_each(|number| chances_run(&planned, *number).map(drop))?;
        let wanted = waiting.len() as u64 * planned.studies * Truth::USUAL.len() as u64;
        waiting.reverse();
        Ok(VerdictChancesRun { planned, waiting, at: Vec::new(), under_way: None, failed: None, done: 0, wanted })
    }

    fn next_study(&mut self) -> Defined<()> {
        let (assessors, mut run) = match (self.under_way.take(), self.waiting.pop()) {
            (Some(under_way), next) => {
                self.waiting.extend(next);
                under_way
            }
            (None, Some(next)) => (next, chances_run(&self.planned, next)?),
            (None, None) => return Ok(()),
        };
        run.advance(1)?;
        self.done += 1;
        if run.is_done() {
            self.at.push(ChancesAt { assessors, truths: run.finish()? });
        } else {
            self.under_way = Some((assessors, run));
        }
        Ok(())
    }
}

impl Run for VerdictChancesRun {
    type Found = VerdictChances;

    fn step(&mut self) {
        if self.failed.is_none() {
            self.failed = self.next_study().err();
        }
    }

    fn reached(&self) -> Reached {
        // A run that failed has nothing left to do; it says why when it is finished.
        let done = if self.failed.is_some() { self.wanted } else { self.done };
        Reached { done: done as usize, wanted: self.wanted as usize }
    }

    fn finish(mut self) -> Defined<VerdictChances> {
        while !self.is_done() {
            self.step();
        }
        if let Some(reason) = self.failed {
            return Err(reason);
        }
        self.at.sort_by_key(|at| at.assessors);
        Ok(VerdictChances { planned: self.planned, at: self.at })
    }
}

fn chances_run(planned: &PlannedVerdict, assessors: usize) -> Defined<ChancesRun> {
    let sd = vec![planned.sd_of_difference_mm; planned.margins_mm.len()];
    let scatter = Scatter::from_sd(&sd, planned.correlation)?;
    let verdict = VerdictOptions {
        alpha: planned.alpha,
        profile_share: planned.profile_share,
        seed: planned.seed,
        ..VerdictOptions::default()
    };
    let margins_mm = planned.margins_mm.clone();
    let options = ChancesOptions { n_assessors: assessors, margins_mm, studies: planned.studies, verdict };
    ChancesRun::start(scatter, &Truth::USUAL, options)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;
    use crate::run::to_the_end;
    use crate::stats::Verdict;
    use crate::stats::r#match::calibrated::{Differences, judge};

    fn planned(studies: u64) -> PlannedVerdict {
        PlannedVerdict {
            margins_mm: vec![10.0; 8],
            sd_of_difference_mm: 12.0,
            correlation: 0.3,
            profile_share: 0.7,
            alpha: 0.05,
            seed: 4,
            studies,
        }
    }

    #[test]
    fn any_order_of_numbers_gives_the_same_chances() {
        let run = |numbers: &[usize]| to_the_end(VerdictChancesRun::start(planned(12), numbers)).expect("a sound plan");
        let (one, other) = (run(&[10, 8, 10]), run(&[8, 10]));
        assert_eq!(one, other);
        assert_eq!(one.at.iter().map(|at| at.assessors).collect::<Vec<_>>(), [8, 10]);
        for truth in one.at.iter().flat_map(|at| &at.truths) {
            assert_eq!(truth.off + truth.match_each_attribute + truth.match_profile + truth.not_shown, 12);
        }
    }

    /// The chance of being called off, and of a match, in so many studies drawn here: a factor common to all attributes
    /// and one of each attribute's own, with the chance of error of four standard errors.
    fn drawn_plainly(one_off_mm: f64, studies: u64) -> (f64, f64) {
        let mut random = Random::seeded_for(77, "plain studies");
        let (mut off, mut matched) = (0, 0);
        for _ in 0..studies {
            let rows: Vec<Vec<Option<f64>>> = (0..12)
                .map(|_| {
                    let common = random.normal();
                    let own = |at: usize, own: f64| {
                        let truth = if at == 0 { one_off_mm } else { 0.0 };
                        Some(truth + 12.0 * (0.3_f64.sqrt() * common + 0.7_f64.sqrt() * own))
                    };
                    (0..8).map(|at| own(at, random.normal())).collect()
                })
                .collect();
            let differences = Differences::from_rows(&rows, &[10.0; 8]).expect("a full table");
            let verdict = judge(&differences, &VerdictOptions { exact_up_to: 12, ..VerdictOptions::default() });
            match verdict.expect("a full table is judged").verdict {
                Verdict::Off => off += 1,
                Verdict::Match => matched += 1,
                Verdict::NotShown => {}
            }
        }
        (f64::from(off) / studies as f64, f64::from(matched) / studies as f64)
    }

    #[test]
    fn the_chances_are_those_of_studies_drawn_by_a_second_loop() {
        let found = to_the_end(VerdictChancesRun::start(planned(300), &[12])).expect("a sound plan");
        let truths = &found.with(12).expect("it was asked for").truths;
        for (truth, one_off_mm) in truths.iter().zip([0.0, 15.0]) {
            let (off, matched) = drawn_plainly(one_off_mm, 300);
            // Two shares of 300 studies each: four standard errors of their difference, .041 at most, are .163.
            let apart = |one: f64, other: f64| (one - other).abs() < 4.0 * (0.5_f64 / 300.0).sqrt();
            assert!(apart(truth.share(truth.off), off), "{truth:?} {off}");
            assert!(apart(truth.matched(), matched), "{truth:?} {matched}");
        }
        // Error of "off" on a duplicate is .05 by the rule; .05 + 4 sqrt(.05 * .95 / 300) = .10.
        assert!(truths[0].share(truths[0].off) <= 0.10, "{truths:?}");
    }

    #[test]
    fn what_can_t_be_simulated_is_refused_in_words() {
        let because = |planned, numbers: &[usize]| VerdictChancesRun::start(planned, numbers).map(drop).unwrap_err();
        assert!(because(planned(5), &[]).because.contains("no number of assessors"));
        assert!(because(planned(5), &[12, 1]).because.contains("two assessors"));
        assert!(because(PlannedVerdict { profile_share: 0.0, ..planned(5) }, &[8]).because.contains("profile margin"));
        assert!(because(PlannedVerdict { correlation: 2.0, ..planned(5) }, &[8]).because.contains("correlation"));
        assert!(because(PlannedVerdict { margins_mm: Vec::new(), ..planned(5) }, &[8]).because.contains("scatter"));
    }
}
