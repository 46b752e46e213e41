//! The calibrated verdict on every candidate of a study: paired means in, verdicts out. It knows no files and no words.
//!
//! Deciding attributes are one family: whatever is called off among them is so with one chance of error over all of them.
//! Attributes that do not decide are a family of their own and never touch the whole.

use super::calibrated::{
    AttributeVerdict, CalibratedVerdict, Differences, ServedTwice, VerdictOptions, VerdictRun, judge,
};
use super::paired::{OwnMeans, PairedAttribute, Pairing};
use super::target_cups::TargetCups;
use crate::defined::{Defined, NotDefined};
use crate::study::Settings;

/// Verdict on one candidate.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// On the deciding attributes together; places are those in the list of deciding attributes.
    pub whole: Defined<CalibratedVerdict>,
    /// One an attribute, in the order of the attributes handed in.
    pub attributes: Vec<Defined<AttributeVerdict>>,
}

impl VerdictOptions {
    /// By the study's own settings.
    pub fn of(settings: &Settings) -> Self {
        VerdictOptions {
            alpha: settings.alpha,
            profile_share: settings.profile_share,
            seed: settings.seed,
            together: settings.candidates_together,
            remembers: true,
            ..VerdictOptions::default()
        }
    }
}

/// Judges every candidate, one entry a candidate; `without` sets one assessor aside.
pub fn judge_all(
    pairing: &Pairing,
    attributes: &[PairedAttribute],
    options: &VerdictOptions,
    without: Option<usize>,
) -> Vec<Judged> {
    let places = |deciding: bool| -> Vec<usize> {
        (0..attributes.len()).filter(|index| attributes[*index].deciding == deciding).collect()
    };
    let (deciding, others) = (places(true), places(false));
    let family = |places: &[usize]| Family { pairing, attributes, places, without }.judge(options);
    let (whole, aside) = (family(&deciding), family(&others));
    let judged = |(whole, aside): (Defined<CalibratedVerdict>, Defined<CalibratedVerdict>)| {
        let mut each: Vec<Option<Defined<AttributeVerdict>>> = vec![None; attributes.len()];
        for (places, verdict) in [(&deciding, &whole), (&others, &aside)] {
            for (at, place) in places.iter().enumerate() {
                let own = verdict.as_ref().map(|verdict| verdict.attributes[at].clone());
                each[*place] = Some(own.map_err(Clone::clone));
            }
        }
        Judged { whole, attributes: each.into_iter().flatten().collect() }
    };
    whole.into_iter().zip(aside).map(judged).collect()
}

/// The differences of one candidate on its deciding attributes.
///
/// # Errors
/// No attribute decides, or nobody counts.
pub fn deciding_differences(
    pairing: &Pairing,
    attributes: &[PairedAttribute],
    candidate: usize,
) -> Defined<Differences> {
    let places: Vec<usize> = (0..attributes.len()).filter(|index| attributes[*index].deciding).collect();
    Family { pairing, attributes, places: &places, without: None }.differences(candidate)
}

/// Attributes that are judged together.
struct Family<'a> {
    pairing: &'a Pairing,
    attributes: &'a [PairedAttribute],
    places: &'a [usize],
    without: Option<usize>,
}

impl Family<'_> {
    fn judge(&self, options: &VerdictOptions) -> Vec<Defined<CalibratedVerdict>> {
        let is_again = |candidate: &usize| self.pairing.candidates[*candidate].is_target_again;
        let (again, candidates): (Vec<usize>, Vec<usize>) =
            (0..self.pairing.candidates.len()).partition(|candidate| is_again(candidate));
        let mut found = vec![Err(NotDefined::because("nothing was judged")); self.pairing.candidates.len()];
        for candidate in again {
            found[candidate] = self.differences(candidate).and_then(|table| judge(&table, options));
        }
        match self.run(&candidates, options) {
            Ok(run) => candidates.iter().zip(run.finish()).for_each(|(at, verdict)| found[*at] = Ok(verdict)),
            Err(reason) => candidates.iter().for_each(|at| found[*at] = Err(reason.clone())),
        }
        found
    }

    fn run(&self, candidates: &[usize], options: &VerdictOptions) -> Defined<VerdictRun> {
        if self.pairing.cups == TargetCups::Both {
            let tables: Defined<Vec<ServedTwice>> = candidates.iter().map(|at| self.served_twice(*at)).collect();
            return VerdictRun::start_served_twice(&tables?, options);
        }
        let tables: Defined<Vec<Differences>> = candidates.iter().map(|at| self.differences(*at)).collect();
        VerdictRun::start(&tables?, options)
    }

    fn differences(&self, candidate: usize) -> Defined<Differences> {
        let cups = self.pairing.cups_for(candidate);
        Differences::from_rows(&self.table(candidate, |own| own.difference(cups)), &self.margins())
    }

    fn served_twice(&self, candidate: usize) -> Defined<ServedTwice> {
        ServedTwice::new(
            &self.table(candidate, |own| own.candidate),
            &self.table(candidate, |own| own.first_cup),
            &self.table(candidate, |own| own.second_cup),
            &self.margins(),
        )
    }

    /// `[assessor][attribute]`.
    fn table(&self, candidate: usize, pick: impl Fn(&OwnMeans) -> Option<f64>) -> Vec<Vec<Option<f64>>> {
        let kept = (0..self.pairing.assessors.len()).filter(|assessor| Some(*assessor) != self.without);
        let row = |assessor: usize| {
            self.places.iter().map(|place| pick(&self.attributes[*place].means[candidate][assessor])).collect()
        };
        kept.map(row).collect()
    }

    fn margins(&self) -> Vec<f64> {
        self.places.iter().map(|place| self.attributes[*place].margin).collect()
    }
}
