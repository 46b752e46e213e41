//! Whether the chances that a panel is told from its own scatter are near those that it has.

use super::cells::{ATTRIBUTES, MARGIN_MM, STUDIES_A_LIST, options};
use super::marks::{Attributes, LAWS, Law};
use super::{Request, percent};
use likeness_core::numeric::describe::{mean, standard_deviation};
use likeness_core::numeric::random::Random;
use likeness_core::stats::r#match::calibrated::{
    Chances, ChancesOptions, ChancesRun, Differences, Scatter, Truth, judge,
};
use std::error::Error;

const ASSESSORS: [usize; 2] = [8, 12];
/// Panels that are told their chances, and studies simulated for each.
const PANELS: u64 = 200;
const STUDIES_TOLD: u64 = 100;

/// Simulates and prints: what panels are told of duplicates beside what is true of them.
pub fn print(request: &Request) -> Result<(), Box<dyn Error>> {
    println!("## Chances of a match told by a panel's own scatter, for a duplicate\n");
    println!("Mean over {PANELS} panels, each told from its one study of a duplicate. A match by either rule.\n");
    println!("| marks | attributes | assessors | told | middle half of the panels is told | true |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for law in [LAWS[0], LAWS[1], LAWS[2]] {
        for (attributes, assessors) in ATTRIBUTES.map(|k| ASSESSORS.map(|n| (k, n))).concat() {
            let name = format!("told, {}, {attributes} attributes, {assessors} assessors", law.name);
            if request.wants(&name) {
                let row = simulate(law, attributes, assessors, Random::seeded_for(request.seed, &name))?;
                println!("| {} | {attributes} | {assessors} | {row} |", law.name);
            }
        }
    }
    Ok(())
}

fn simulate(law: Law, count: usize, assessors: usize, mut random: Random) -> Result<String, Box<dyn Error>> {
    let mut told = Vec::new();
    let mut truly = Chances::none(Truth::Duplicate, assessors);
    for _ in 0..PANELS {
        let attributes = Attributes::draw(law, count, &mut random);
        let table = duplicate(&attributes, assessors, &mut random)?;
        told.push(100.0 * share_told(&table, random.bits())?);
        for _ in 0..STUDIES_A_LIST {
            let table = duplicate(&attributes, assessors, &mut random)?;
            truly.count(&judge(&table, &options(random.bits())).map_err(|reason| reason.because)?);
        }
    }
    told.sort_by(f64::total_cmp);
    let quarter = told.len() / 4;
    let error = standard_deviation(&told).unwrap_or_default() / (told.len() as f64).sqrt();
    Ok(format!(
        "{:.1} ±{error:.1} | {:.0} to {:.0} | {}",
        mean(&told).unwrap_or_default(),
        told[quarter],
        told[told.len() - 1 - quarter],
        percent(truly.match_profile + truly.match_each_attribute, truly.studies)
    ))
}

fn duplicate(attributes: &Attributes, assessors: usize, random: &mut Random) -> Result<Differences, Box<dyn Error>> {
    let still = vec![0.0; attributes.count()];
    let rows = attributes.differences(assessors, &still, random);
    Ok(Differences::from_rows(&rows, &vec![MARGIN_MM; attributes.count()]).map_err(|reason| reason.because)?)
}

/// Share of simulated duplicates that match, by the scatter of one study.
fn share_told(table: &Differences, seed: u64) -> Result<f64, Box<dyn Error>> {
    let wanted = ChancesOptions {
        n_assessors: table.n_rows(),
        margins_mm: table.margins_mm().to_vec(),
        studies: STUDIES_TOLD,
        verdict: options(seed),
    };
    let scatter = Scatter::of(table).map_err(|reason| reason.because)?;
    let run = ChancesRun::start(scatter, &[Truth::Duplicate], wanted).map_err(|reason| reason.because)?;
    let chances = run.finish().map_err(|reason| reason.because)?[0];
    Ok(chances.share(chances.match_profile + chances.match_each_attribute))
}
