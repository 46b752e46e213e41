//! Marks piled up at 0: how often one attribute that differs by exactly its margin is shown to match.

use super::cells::{MARGIN_MM, options};
use super::marks::{Attributes, NORMAL};
use super::{Request, percent};
use likeness_core::numeric::random::Random;
use likeness_core::stats::Verdict;
use likeness_core::stats::r#match::calibrated::{Differences, judge};
use std::error::Error;

const ASSESSORS: [usize; 3] = [8, 12, 20];
const LEVELS_MM: [f64; 6] = [40.0, 15.0, 10.0, 5.0, 2.0, 0.0];
const SCATTER_MM: [f64; 2] = [9.0, 14.0];

/// Simulates and prints: the target lies at a level, the candidate one margin above it.
pub fn print(request: &Request) -> Result<(), Box<dyn Error>> {
    println!("## Marks piled up at 0: an attribute exactly on its margin shown to match\n");
    println!(
        "Level: where the target's marks would lie on a line without an end. Scatter: of a difference, before marks are cut off.\n"
    );
    println!("| level, mm | scatter, mm | marks of the target at 0, % | 8 assessors | 12 assessors | 20 assessors |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for (level, scatter) in LEVELS_MM.map(|level| SCATTER_MM.map(|scatter| (level, scatter))).concat() {
        let name = format!("piled, level {level}, scatter {scatter}");
        if request.wants(&name) {
            let mut random = Random::seeded_for(request.seed, &name);
            let attribute = Attributes::single(NORMAL, level, scatter, &mut random);
            let cells: Result<Vec<String>, Box<dyn Error>> =
                ASSESSORS.iter().map(|n| claimed(&attribute, *n, 4 * request.studies, &mut random)).collect();
            let at_zero = 100.0 * attribute.share_at_zero(&mut random);
            println!("| {level} | {scatter} | {at_zero:.0} | {} |", cells?.join(" | "));
        }
    }
    println!();
    Ok(())
}

fn claimed(attribute: &Attributes, n: usize, studies: u64, random: &mut Random) -> Result<String, Box<dyn Error>> {
    let moved = attribute.moved_for(&[MARGIN_MM]);
    let mut matches = 0;
    for _ in 0..studies {
        let rows = attribute.differences(n, &moved, random);
        let table = Differences::from_rows(&rows, &[MARGIN_MM]).map_err(|reason| reason.because)?;
        let verdict = judge(&table, &options(random.bits())).map_err(|reason| reason.because)?;
        matches += u64::from(verdict.attributes[0].verdict == Verdict::Match);
    }
    Ok(percent(matches, studies))
}
