//! How often positions and rounds are said to matter where they do not, and pots are found where they differ.

use crate::panels::{Panel, USUAL};
use crate::request::{Held, Request};
use likeness_core::stats::panel::round_shift::difference_between_rounds;
use likeness_core::stats::panel::serving_order::{OrderEffects, order_effects};

pub fn print(request: &Request) {
    println!("## Order: clean studies with any attribute below .05, raw and all attributes together\n");
    println!(
        "| panel | position | together | sample before | together | drift | together |\n| --- |{}",
        " --- |".repeat(6)
    );
    for (name, panel) in shapes() {
        println!("| {name} | {} |", order_alarms(&panel, request).map(Held::shown).join(" | "));
    }
    println!("\n## Rounds: a candidate whose difference from the target is said to shift on any attribute\n");
    println!("| panel | no pot differs | pots differ by 10 mm (standard deviation) |\n| --- | --- | --- |");
    for (name, panel) in shapes() {
        let found = round_alarms(&Panel { sd_pot: 10.0, ..panel }, request);
        println!("| {name} | {} | {} |", round_alarms(&panel, request).shown(), found.shown());
    }
    println!();
}

fn shapes() -> [(&'static str, Panel); 4] {
    let usual = Panel { samples: 6, ..USUAL };
    [
        ("10 assessors, 6 samples, 2 rounds", usual),
        ("half piled up at 0", Panel { weak_share: 0.5, ..usual }),
        ("6 assessors", Panel { assessors: 6, ..usual }),
        (
            "3 rounds, one assessor scatters three times as widely",
            Panel { replicates: 3, first_scatters: 3.0, ..usual },
        ),
    ]
}

/// By position, sample before and drift: raw, then adjusted.
pub fn order_alarms(panel: &Panel, request: &Request) -> [Held; 6] {
    let mut counts = [Held::default(); 6];
    for seed in 0..request.studies {
        let Ok(found) = order_effects(&panel.draw(request.seed + seed).study) else { continue };
        let p: [fn(&OrderEffects) -> Option<f64>; 6] = [
            |one| one.position.as_ref().ok().map(|group| group.p_any),
            |one| one.position_p_adjusted,
            |one| one.carry_over.as_ref().ok().map(|group| group.p_any),
            |one| one.carry_over_p_adjusted,
            |one| one.drift.as_ref().ok().map(|effect| effect.p),
            |one| one.drift_p_adjusted,
        ];
        for (count, p) in counts.iter_mut().zip(p) {
            count.count(found.iter().filter_map(p).any(|p| p < 0.05));
        }
    }
    counts
}

pub fn round_alarms(panel: &Panel, request: &Request) -> Held {
    let mut count = Held::default();
    for seed in 0..request.studies {
        let study = panel.draw(request.seed + seed).study;
        let shifts = difference_between_rounds(&study, "S2", "S1");
        count.count(shifts.iter().any(|one| one.found.as_ref().is_ok_and(|found| found.is_shown)));
    }
    count
}
