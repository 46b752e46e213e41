//! How often a sound assessor fails a test, and how often one who sees nothing does.

use crate::panels::{Panel, USUAL};
use crate::request::{Held, Request};
use likeness_core::numeric::random::Random;
use likeness_core::stats::analyse;
use likeness_core::stats::panel::outcomes::{Outcome, OutcomeCounts, Outcomes};
use likeness_core::stats::panel::performance::{PanelPerformance, performance};
use likeness_core::study::Study;

type Pick = fn(&Outcomes) -> Option<Outcome>;

/// The tests, in the order of the figures.
const TESTS: [(&str, Pick); 3] =
    [("tells apart", |one| one.discrimination), ("repeats", |one| one.repeatability), ("agrees", |one| one.agreement)];

pub fn print(request: &Request) {
    println!("## Panel: share of tests on attributes with differences that say shown / fails / too few cups\n");
    println!("Sound: all assessors of a clean panel. Blind: the second assessor's forms are dealt out at random.\n");
    let heads = TESTS.map(|test| format!(" sound {} |", test.0)).concat()
        + &TESTS.map(|test| format!(" blind {} |", test.0)).concat();
    println!("| panel |{heads}\n| --- |{}", " --- |".repeat(6));
    for (name, panel) in shapes() {
        let sound = counts(&panel, request, |_, _| {}, None).map(shown).join(" | ");
        let blind = counts(&panel, request, deal_out, Some("J2")).map(shown).join(" | ");
        println!("| {name} | {sound} | {blind} |");
    }
    println!();
}

/// Panels of many shapes.
pub fn shapes() -> Vec<(String, Panel)> {
    let mut all = Vec::new();
    for samples in [4, 5, 8] {
        let usual = Panel { samples, ..USUAL };
        all.push((format!("{samples} samples"), usual));
        all.push((format!("{samples} samples, half piled up at 0"), Panel { weak_share: 0.5, ..usual }));
        all.push((format!("{samples} samples, scatter uneven by half"), Panel { uneven: 0.5, ..usual }));
        all.push((format!("{samples} samples, 6 assessors"), Panel { assessors: 6, ..usual }));
        all.push((format!("{samples} samples that differ widely"), Panel { sd_sample: 20.0, ..usual }));
    }
    all
}

/// Each test over all assessors, or over one, on attributes on which the panel finds differences.
pub fn counts(panel: &Panel, request: &Request, spoil: fn(&mut Study, u64), who: Option<&str>) -> [OutcomeCounts; 3] {
    let mut sums = [OutcomeCounts::default(); 3];
    for seed in 0..request.studies {
        let mut study = panel.draw(request.seed + seed).study;
        spoil(&mut study, seed);
        let found = judged(&study);
        let all = found.attributes.iter().flat_map(|attribute| &attribute.assessors);
        let asked: Vec<Outcomes> =
            all.filter(|one| who.is_none_or(|who| who == one.assessor)).map(|one| one.outcomes).collect();
        for (sum, (_, pick)) in sums.iter_mut().zip(TESTS) {
            *sum = sum.and(OutcomeCounts::of(asked.iter().map(pick)));
        }
    }
    sums
}

/// The second assessor's marks of each attribute under the samples at random.
pub fn deal_out(study: &mut Study, seed: u64) {
    let mut random = Random::seeded_for(seed, "dealt out");
    let pages: Vec<usize> = (0..study.servings.len()).filter(|page| study.servings[*page].assessor == 1).collect();
    for line in 0..study.attributes.len() {
        let mut marks: Vec<Option<f64>> = pages.iter().map(|page| study.score(*page, line)).collect();
        random.shuffle(&mut marks);
        pages.iter().zip(marks).for_each(|(page, mark)| study.set_score(*page, line, mark));
    }
}

/// Shown, fails, too few cups: shares of all tests.
fn shown(counts: OutcomeCounts) -> String {
    let all = counts.tested() as u64;
    let of = |held: usize| Held { held: held as u64, of: all }.shown();
    format!("{} / {} / {}", of(counts.shown), of(counts.fails), of(counts.too_few_cups))
}

/// As the page judges: by the mixed model's own p.
pub fn judged(study: &Study) -> PanelPerformance {
    performance(study, &analyse(study).sample_p())
}
