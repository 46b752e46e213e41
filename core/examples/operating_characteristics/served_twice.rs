//! The target served twice: its false alarms, and how much oftener one attribute that is off is found with it.

use super::cells::{ATTRIBUTES, MARGIN_MM, STUDIES_A_LIST, options};
use super::marks::{Attributes, LAWS, Law};
use super::truths::Truth;
use super::{Request, percent};
use likeness_core::numeric::random::Random;
use likeness_core::stats::Verdict;
use likeness_core::stats::r#match::calibrated::{ServedTwice, VerdictRun, judge, target_alarm};
use std::error::Error;

/// Panels: with more assessors there is little left to gain.
const ASSESSORS: [usize; 3] = [6, 8, 10];

/// Counts of one cell.
#[derive(Clone, Copy, Debug, Default)]
struct Found {
    studies: u64,
    alarms: u64,
    off_by_one_cup: u64,
    off_by_both: u64,
}

impl Found {
    fn count(&mut self, served: &ServedTwice, seed: u64) -> Result<(), Box<dyn Error>> {
        let options = options(seed);
        let of_one = judge(served.against_first_cup(), &options).map_err(|reason| reason.because)?;
        let run = VerdictRun::start_served_twice(std::slice::from_ref(served), &options);
        let of_both = run.map_err(|reason| reason.because)?.finish();
        let alarm = target_alarm(served, &options).map_err(|reason| reason.because)?;
        self.studies += 1;
        self.alarms += u64::from(alarm.raised);
        self.off_by_one_cup += u64::from(of_one.verdict == Verdict::Off);
        self.off_by_both += u64::from(of_both.iter().any(|verdict| verdict.verdict == Verdict::Off));
        Ok(())
    }
}

/// Simulates and prints the cells asked for.
pub fn print(request: &Request) -> Result<(), Box<dyn Error>> {
    println!("## The target served twice\n");
    println!(
        "Off by one cup: candidate against the first cup, signs flipped. Off by both: against the mean of both, which of \
              the three servings is the candidate permuted.\n"
    );
    println!("| marks | truth | attributes | assessors | alarm | off by one cup | off by both |");
    println!("| --- | --- | --- | --- | --- | --- | --- |");
    for law in LAWS {
        for (truth, attributes) in [Truth::Duplicate, Truth::OneOffBy15].map(|t| ATTRIBUTES.map(|k| (t, k))).concat() {
            for assessors in ASSESSORS {
                let name =
                    format!("twice, {}, {}, {attributes} attributes, {assessors} assessors", law.name, truth.name());
                if request.wants(&name) {
                    let found = simulate(law, truth, (assessors, attributes), request, &name)?;
                    let shares = [found.alarms, found.off_by_one_cup, found.off_by_both];
                    let shares = shares.map(|count| percent(count, found.studies)).join(" | ");
                    println!("| {} | {} | {attributes} | {assessors} | {shares} |", law.name, truth.name());
                }
            }
        }
    }
    println!();
    Ok(())
}

fn simulate(
    law: Law,
    truth: Truth,
    (assessors, count): (usize, usize),
    request: &Request,
    name: &str,
) -> Result<Found, Box<dyn Error>> {
    let mut random = Random::seeded_for(request.seed, name);
    let mut found = Found::default();
    while found.studies < request.studies {
        let attributes = Attributes::draw(law, count, &mut random);
        for _ in 0..STUDIES_A_LIST.min(request.studies - found.studies) {
            let moved = attributes.moved_for(&truth.differences_mm(&attributes, &mut random));
            let served = serve(&attributes, assessors, &moved, &mut random)?;
            found.count(&served, random.bits())?;
        }
    }
    Ok(found)
}

fn serve(
    attributes: &Attributes,
    assessors: usize,
    moved_mm: &[f64],
    random: &mut Random,
) -> Result<ServedTwice, Box<dyn Error>> {
    let still = vec![0.0; attributes.count()];
    let mut cups: [Vec<Vec<Option<f64>>>; 3] = Default::default();
    for _ in 0..assessors {
        let servings = attributes.assessor(&[moved_mm, &still, &still], random);
        for (cup, serving) in cups.iter_mut().zip(servings) {
            cup.push(serving.into_iter().map(|mark| (!attributes.is_lost(random)).then_some(mark)).collect());
        }
    }
    let margins = vec![MARGIN_MM; attributes.count()];
    Ok(ServedTwice::new(&cups[0], &cups[1], &cups[2], &margins).map_err(|reason| reason.because)?)
}
