//! How often each verdict comes about at a panel's own scatter, when the truth is known: by simulation, in slices.

use super::differences::Differences;
use super::options::VerdictOptions;
use super::outcome::{CalibratedVerdict, MatchRule};
use super::scatter::Scatter;
use super::verdict_run::judge;
use crate::defined::{Defined, NotDefined};
use crate::numeric::random::Random;
use crate::stats::verdict::Verdict;
use serde::Serialize;

/// In simulated studies all patterns are gone through up to so many assessors, and `PATTERNS` drawn beyond.
const EXACT_UP_TO: u32 = 12;
const PATTERNS: u64 = 999;

/// What is true of the candidates simulated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "truth", rename_all = "snake_case")]
pub enum Truth {
    /// The very target under another code.
    Duplicate,
    /// One attribute, drawn by chance, is off by so much.
    OneOff { mm: f64 },
    /// Every attribute is off by so much, up or down by chance.
    AllOff { mm: f64 },
}

impl Truth {
    /// What a panel is told its chances for.
    pub const USUAL: [Truth; 3] = [Truth::Duplicate, Truth::OneOff { mm: 15.0 }, Truth::AllOff { mm: 3.0 }];

    /// What it is called: "one attribute off by 15 mm". Lengths are in `unit`.
    #[must_use]
    pub fn in_words(&self, unit: &str) -> String {
        match self {
            Truth::Duplicate => "a true duplicate".to_owned(),
            Truth::OneOff { mm } => format!("one attribute off by {mm} {unit}"),
            Truth::AllOff { mm } => format!("every attribute off by {mm} {unit}"),
        }
    }
}

/// What is simulated, beside the scatter.
#[derive(Clone, Debug, PartialEq)]
pub struct ChancesOptions {
    /// Assessors in each study.
    pub n_assessors: usize,
    /// One margin an attribute.
    pub margins_mm: Vec<f64>,
    /// Studies for each truth.
    pub studies: u64,
    /// How each of them is judged; its seed starts the simulation.
    pub verdict: VerdictOptions,
}

/// How often each verdict came about for one truth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chances {
    pub truth: Truth,
    pub n_assessors: usize,
    pub studies: u64,
    pub off: u64,
    pub match_each_attribute: u64,
    pub match_profile: u64,
    pub not_shown: u64,
}

/// Studies simulated slice by slice; any slicing gives the same result.
#[derive(Clone, Debug)]
pub struct ChancesRun {
    scatter: Scatter,
    options: ChancesOptions,
    found: Vec<Chances>,
    /// One stream a truth, the same numbers in each: what differs between them is then the truth and not chance.
    random: Vec<Random>,
    done: u64,
}

impl Chances {
    /// Counts to start from.
    #[must_use]
    pub fn none(truth: Truth, n_assessors: usize) -> Self {
        Chances { truth, n_assessors, studies: 0, off: 0, match_each_attribute: 0, match_profile: 0, not_shown: 0 }
    }

    /// Counts one more study.
    pub fn count(&mut self, verdict: &CalibratedVerdict) {
        self.studies += 1;
        *match (verdict.verdict, verdict.rule) {
            (Verdict::Off, _) => &mut self.off,
            (Verdict::Match, Some(MatchRule::Profile)) => &mut self.match_profile,
            (Verdict::Match, _) => &mut self.match_each_attribute,
            (Verdict::NotShown, _) => &mut self.not_shown,
        } += 1;
    }

    /// Share of the studies; 0 where there were none.
    #[must_use]
    pub fn share(&self, count: u64) -> f64 {
        count as f64 / self.studies.max(1) as f64
    }

    /// Standard error of such a share.
    #[must_use]
    pub fn standard_error(&self, count: u64) -> f64 {
        let share = self.share(count);
        (share * (1.0 - share) / self.studies.max(1) as f64).sqrt()
    }
}

impl ChancesRun {
    /// Starts a simulation of every truth.
    ///
    /// # Errors
    /// Margins that don't fit the scatter or are not above zero, fewer than two assessors, no studies, verdict options out
    /// of range.
    pub fn start(scatter: Scatter, truths: &[Truth], options: ChancesOptions) -> Defined<Self> {
        options.verdict.check()?;
        if options.n_assessors < 2 || options.studies == 0 {
            return Err(NotDefined::because("it takes two assessors and one study at least to simulate"));
        }
        if options.margins_mm.len() != scatter.n_attributes() {
            return Err(NotDefined::because("the margins and the scatter are not of the same attributes"));
        }
        Differences::from_rows(&[vec![None; options.margins_mm.len()]], &options.margins_mm)?;
        let stream = Random::seeded_for(options.verdict.seed, "chances");
        Ok(ChancesRun {
            found: truths.iter().map(|truth| Chances::none(*truth, options.n_assessors)).collect(),
            random: vec![stream; truths.len()],
            scatter,
            options,
            done: 0,
        })
    }

    /// Studies simulated so far.
    #[must_use]
    pub fn done(&self) -> u64 {
        self.done
    }

    /// Studies to simulate in all.
    #[must_use]
    pub fn wanted(&self) -> u64 {
        self.options.studies * self.found.len() as u64
    }

    #[must_use]
    pub fn is_done(&self) -> bool {
        self.done >= self.wanted()
    }

    /// Simulates up to `studies` more studies.
    ///
    /// # Errors
    /// Numbers out of range.
    pub fn advance(&mut self, studies: u64) -> Defined<()> {
        for _ in 0..studies.min(self.wanted() - self.done) {
            // The truths take turns, so that a run broken off has seen each of them as often.
            let turn = (self.done % self.found.len() as u64) as usize;
            let verdict = self.one_study(turn)?;
            self.found[turn].count(&verdict);
            self.done += 1;
        }
        Ok(())
    }

    /// Runs to the end: one entry a truth, in their order.
    ///
    /// # Errors
    /// Numbers out of range.
    pub fn finish(mut self) -> Defined<Vec<Chances>> {
        self.advance(u64::MAX)?;
        Ok(self.found)
    }

    fn one_study(&mut self, turn: usize) -> Defined<CalibratedVerdict> {
        let random = &mut self.random[turn];
        let shift = shift(self.found[turn].truth, self.scatter.n_attributes(), random);
        let rows: Vec<Vec<Option<f64>>> = (0..self.options.n_assessors)
            .map(|_| self.scatter.draw(random).iter().zip(&shift).map(|(d, shift)| Some(d + shift)).collect())
            .collect();
        let differences = Differences::from_rows(&rows, &self.options.margins_mm)?;
        let seed = random.bits();
        let faster = VerdictOptions { exact_up_to: EXACT_UP_TO, random_patterns: PATTERNS, ..self.options.verdict };
        judge(&differences, &VerdictOptions { seed, verdicts_alone: true, remembers: false, ..faster })
    }
}

/// True differences of one study in mm. Takes as many draws whatever is true.
fn shift(truth: Truth, attributes: usize, random: &mut Random) -> Vec<f64> {
    let which = random.below(attributes);
    let signs: Vec<f64> = (0..attributes).map(|_| if random.coin() { 1.0 } else { -1.0 }).collect();
    let of = |(at, sign): (usize, &f64)| match truth {
        Truth::Duplicate => 0.0,
        Truth::OneOff { mm } => {
            if at == which {
                sign * mm
            } else {
                0.0
            }
        }
        Truth::AllOff { mm } => sign * mm,
    };
    signs.iter().enumerate().map(of).collect()
}
