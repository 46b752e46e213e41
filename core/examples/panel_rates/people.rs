//! How often a panel of equal people has somebody named as unlike the others, and how often a poor one is found.

use crate::panels::{Panel, USUAL};
use crate::performance::{deal_out, judged};
use crate::request::{Held, Request};
use likeness_core::stats::panel::people::{Person, Standing};
use likeness_core::study::Study;

/// What came out over the panels of one shape.
#[derive(Clone, Copy, Debug, Default)]
pub struct Found {
    /// Panels that name anybody, or anybody but the poor one.
    pub others_named: Held,
    /// Panels that name the poor one; where all are equal, their first.
    pub poor_named: Held,
    /// Panels that say *like the others* of the poor one.
    pub poor_called_alike: Held,
    /// People of whom there are too few cups to tell, of all.
    pub too_few: Held,
}

pub fn print(request: &Request) {
    println!("## People: panels that name anybody as unlike the others, and what is said of one poor person\n");
    println!(
        "Equal: share of panels that name anybody; share of people with too few cups. Then the first scatters two"
    );
    println!(
        "or three times as widely, or the second sees nothing (forms dealt out at random): named / called alike /"
    );
    println!("panels that name anybody else.\n");
    println!("| panel | equal | too few cups | scatters twice | scatters three times | sees nothing |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for (name, panel) in shapes() {
        let equal = found(&panel, request, |_, _| {}, "");
        let scatters = |times: f64| found(&Panel { first_scatters: times, ..panel }, request, |_, _| {}, "J1");
        let poor = [scatters(2.0), scatters(3.0), found(&panel, request, deal_out, "J2")].map(shown).join(" | ");
        println!("| {name} | {} | {} | {poor} |", equal.others_named.shown(), equal.too_few.shown());
    }
    println!();
}

/// Panels of 6 to 12 people, 3 to 6 samples, 1 to 2 replicates, 8 to 34 attributes; marks piled up and not.
pub fn shapes() -> Vec<(String, Panel)> {
    let mut all = Vec::new();
    for assessors in [6, 8, 12] {
        for (samples, replicates) in [(3, 1), (3, 2), (4, 2), (5, 2), (6, 1), (6, 2)] {
            for attributes in [8, 34] {
                let usual = Panel { assessors, samples, replicates, attributes, ..USUAL };
                let name = format!("{assessors} people, {samples} samples x {replicates}, {attributes} attributes");
                all.push((format!("{name}, half piled up at 0"), Panel { weak_share: 0.5, ..usual }));
                all.push((name, usual));
            }
        }
        let usual = Panel { assessors, ..USUAL };
        all.push((format!("{assessors} people, samples hardly differ"), Panel { sd_sample: 4.0, ..usual }));
        all.push((format!("{assessors} people, all piled up at 0"), Panel { weak_share: 1.0, ..usual }));
        all.push((format!("{assessors} people, moody pages"), Panel { sd_mood: 10.0, ..usual }));
    }
    all
}

/// Counts over the panels of one shape, spoilt or not; `poor` is who is poor there.
pub fn found(panel: &Panel, request: &Request, spoil: fn(&mut Study, u64), poor: &str) -> Found {
    let mut all = Found::default();
    for seed in 0..request.studies {
        let mut study = panel.draw(request.seed + seed).study;
        spoil(&mut study, seed);
        let people = judged(&study).people;
        let named = |one: &Person| one.standing == Standing::UnlikeTheOthers;
        all.others_named.count(people.iter().any(|one| one.assessor != poor && named(one)));
        for one in &people {
            all.too_few.count(one.standing == Standing::TooFewCups);
        }
        if let Some(one) = people.iter().find(|one| one.assessor == poor) {
            all.poor_named.count(named(one));
            all.poor_called_alike.count(one.standing == Standing::LikeTheOthers);
        }
    }
    all
}

fn shown(found: Found) -> String {
    [found.poor_named, found.poor_called_alike, found.others_named].map(Held::shown).join(" / ")
}
