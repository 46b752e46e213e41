//! How often a profile match is claimed when the true typical difference equals the profile margin, and in which
//! direction that happens most.

use super::cells::{ATTRIBUTES, ERROR_ALLOWED, MARGIN_MM, STUDIES_A_LIST, options};
use super::marks::{Attributes, LAWS, Law, NORMAL};
use super::truths::{ALIGNMENTS, Alignment};
use super::{Request, percent};
use likeness_core::numeric::random::Random;
use likeness_core::stats::r#match::calibrated::{Differences, MatchRule, judge};
use std::error::Error;

/// More halo than in the table of chances: the noise lies in one direction then.
const STRONG_HALO: Law = Law { name: "strong halo", halo: 0.6, ..NORMAL };
/// Panels: fewer columns than in the table of chances, for time.
const ASSESSORS: [usize; 3] = [8, 12, 20];
/// Directions drawn on one list of attributes: finding the first direction of the noise takes its time.
const LISTS_A_CELL: u64 = 20;

/// Counts of one cell.
#[derive(Clone, Copy, Debug, Default)]
struct Claims {
    studies: u64,
    /// Profile matches claimed.
    claimed: u64,
    /// Bounds of the typical difference below its true value, whatever the verdict.
    too_low: u64,
}

struct Cell {
    law: Law,
    alignment: Alignment,
    attributes: usize,
    assessors: usize,
}

impl Cell {
    fn name(&self) -> String {
        let Cell { law, alignment, attributes, assessors } = self;
        format!("profile, {}, {}, {attributes} attributes, {assessors} assessors", law.name, alignment.name())
    }

    fn simulate(&self, studies: u64, seed: u64) -> Result<Claims, Box<dyn Error>> {
        let mut random = Random::seeded_for(seed, &self.name());
        let mut claims = Claims::default();
        let a_list = STUDIES_A_LIST.max(studies.div_ceil(LISTS_A_CELL));
        while claims.studies < studies {
            let attributes = Attributes::draw(self.law, self.attributes, &mut random);
            let size_mm = options(0).profile_share * MARGIN_MM;
            let moved = attributes.moved_for(&self.alignment.differences_mm(size_mm, &attributes, &mut random));
            for _ in 0..a_list.min(studies - claims.studies) {
                let rows = attributes.differences(self.assessors, &moved, &mut random);
                claims.count(&rows, random.bits())?;
            }
        }
        Ok(claims)
    }
}

impl Claims {
    fn count(&mut self, rows: &[Vec<Option<f64>>], seed: u64) -> Result<(), Box<dyn Error>> {
        let margins = vec![MARGIN_MM; rows[0].len()];
        let table = Differences::from_rows(rows, &margins).map_err(|reason| reason.because)?;
        let verdict = judge(&table, &options(seed)).map_err(|reason| reason.because)?;
        let bound = verdict.typical_of_margins.map_err(|reason| reason.because)?.bound;
        self.studies += 1;
        self.claimed += u64::from(verdict.rule == Some(MatchRule::Profile));
        self.too_low += u64::from(bound < options(0).profile_share);
        Ok(())
    }

    fn share_claimed(&self) -> f64 {
        self.claimed as f64 / self.studies.max(1) as f64
    }
}

/// Simulates and prints the cells asked for, then the worst of them.
pub fn print(request: &Request) -> Result<(), Box<dyn Error>> {
    println!("## Profile match claimed at a typical difference equal to the profile margin (7 mm beside 10 mm)\n");
    println!("In brackets: the bound of the typical difference lies below the truth, whatever the verdict.\n");
    println!("| marks | attributes | direction | {} |", ASSESSORS.map(|n| format!("{n} assessors")).join(" | "));
    println!("| --- | --- | --- | --- | --- | --- |");
    let mut worst: Option<(String, Claims)> = None;
    let (mut cells, mut above) = (0, 0);
    for (law, attributes, alignment) in rows() {
        let mut columns = Vec::new();
        for assessors in ASSESSORS {
            let cell = Cell { law, alignment, attributes, assessors };
            if !request.wants(&cell.name()) {
                continue;
            }
            let claims = cell.simulate(alignment.studies(request.studies), request.seed)?;
            columns.push(format!(
                "{} ({})",
                percent(claims.claimed, claims.studies),
                percent(claims.too_low, claims.studies)
            ));
            cells += 1;
            above += u64::from(claims.share_claimed() > ERROR_ALLOWED);
            if worst.as_ref().is_none_or(|(_, worst)| claims.share_claimed() > worst.share_claimed()) {
                worst = Some((cell.name(), claims));
            }
        }
        if !columns.is_empty() {
            println!("| {} | {attributes} | {} | {} |", law.name, alignment.name(), columns.join(" | "));
        }
    }
    if let Some((name, claims)) = worst {
        println!("\n{cells} cells, {above} of them above {:.1} %.", 100.0 * ERROR_ALLOWED);
        println!("Worst: {} ({name}).\n", percent(claims.claimed, claims.studies));
    }
    Ok(())
}

fn rows() -> Vec<(Law, usize, Alignment)> {
    let laws = LAWS.into_iter().chain([STRONG_HALO]);
    laws.flat_map(|law| ATTRIBUTES.map(|attributes| ALIGNMENTS.map(|alignment| (law, attributes, alignment))))
        .flatten()
        .collect()
}
