//! How often clean panels raise a suspicion, and how often a fault that is there is found.

use crate::panels::{Panel, USUAL};
use crate::request::{Held, Request};
use likeness_core::stats::panel::form_faults::{FormFaultKind, suspected_form_faults};
use likeness_core::study::Study;

type Spoil = fn(&mut Study);
type IsKind = fn(FormFaultKind) -> bool;
type Fault = (&'static str, Spoil, IsKind);

/// The faults, always on the second assessor's forms.
const FAULTS: [Fault; 4] = [
    ("shifted", shift_down, |kind| matches!(kind, FormFaultKind::ShiftedDown | FormFaultKind::ShiftedUp)),
    ("swapped", swap_forms, |kind| kind == FormFaultKind::SwappedForms),
    ("one scale turned", turn_one, |kind| kind == FormFaultKind::MirroredAttribute),
    ("all scales turned", turn_all, |kind| kind == FormFaultKind::MirroredAssessor),
];

pub fn print(request: &Request) {
    println!("## Form faults: studies without a fault that raise a suspicion, by kind, and faults found\n");
    let heads = FAULTS.map(|fault| format!(" {} |", fault.0)).concat();
    println!("| panel | any false alarm |{heads}{} |", FAULTS.map(|fault| format!(" {} found", fault.0)).join(" |"));
    println!("| --- |{}", " --- |".repeat(9));
    for (name, panel) in shapes() {
        let (any, of_kind) = false_alarms(&panel, request);
        let found = FAULTS.map(|(_, spoil, is)| found(&panel, request, spoil, is).shown()).join(" | ");
        println!("| {name} | {} | {} | {found} |", any.shown(), of_kind.map(Held::shown).join(" | "));
    }
    println!();
}

/// Clean studies with any suspicion, and with one of each kind.
pub fn false_alarms(panel: &Panel, request: &Request) -> (Held, [Held; 4]) {
    let (mut any, mut of_kind) = (Held::default(), [Held::default(); 4]);
    for study in 0..request.studies {
        let report = suspected_form_faults(&panel.draw(request.seed + study).study);
        any.count(!report.suspicions.is_empty());
        for (held, (_, _, is)) in of_kind.iter_mut().zip(FAULTS) {
            held.count(report.suspicions.iter().any(|one| is(one.kind)));
        }
    }
    (any, of_kind)
}

/// A fifth of the studies, each spoilt.
fn found(panel: &Panel, request: &Request, spoil: Spoil, is: IsKind) -> Held {
    let mut found = Held::default();
    for study in 0..(request.studies / 5).max(1) {
        let mut made = panel.draw(request.seed + 1_000_000 + study).study;
        spoil(&mut made);
        let report = suspected_form_faults(&made);
        found.count(report.suspicions.iter().any(|one| one.assessor == "J2" && is(one.kind)));
    }
    found
}

/// Panels of many shapes.
pub fn shapes() -> Vec<(&'static str, Panel)> {
    let weak = Panel { weak_share: 0.5, ..USUAL };
    vec![
        ("usual: 10 assessors, 5 samples, 12 attributes, 2 replicates", USUAL),
        ("marks far from the ends", Panel { on_the_line: false, ..USUAL }),
        ("half of the attributes piled up at 0", weak),
        ("one assessor scatters three times as widely", Panel { first_scatters: 3.0, ..USUAL }),
        ("the same on three lines only", Panel { first_scatters: 3.0, first_scatters_on: 3, ..USUAL }),
        ("one wide assessor, half piled up at 0", Panel { first_scatters: 3.0, ..weak }),
        ("scatter uneven between assessors, half to half as much again", Panel { uneven: 0.5, ..USUAL }),
        ("3 samples", Panel { samples: 3, ..USUAL }),
        ("3 samples, one wide assessor", Panel { samples: 3, first_scatters: 3.0, ..USUAL }),
        ("4 samples, no replicates, piled up", Panel { samples: 4, replicates: 1, ..weak }),
        ("8 samples, one wide assessor", Panel { samples: 8, first_scatters: 3.0, ..USUAL }),
        ("5 assessors", Panel { assessors: 5, ..USUAL }),
        ("5 assessors, one wide", Panel { assessors: 5, first_scatters: 3.0, ..USUAL }),
        ("30 attributes, one wide assessor, piled up", Panel { attributes: 30, first_scatters: 3.0, ..weak }),
        ("6 attributes", Panel { attributes: 6, ..USUAL }),
        ("samples hardly differ, one wide assessor", Panel { sd_sample: 3.0, first_scatters: 3.0, ..USUAL }),
        ("samples differ widely", Panel { sd_sample: 20.0, ..USUAL }),
        ("samples differ widely, one wide assessor", Panel { sd_sample: 20.0, first_scatters: 3.0, ..USUAL }),
    ]
}

/// The first page of J2: from the third line on each mark one line lower.
fn shift_down(study: &mut Study) {
    let page = pages_of_second(study)[0];
    for line in (3..study.attributes.len()).rev() {
        let above = study.score(page, line - 1);
        study.set_score(page, line, above);
    }
    study.set_score(page, 2, None);
}

fn swap_forms(study: &mut Study) {
    let pages = pages_of_second(study);
    let (one, replicate) = (pages[0], study.servings[pages[0]].replicate);
    let sample = study.servings[one].sample;
    let other = pages
        .iter()
        .find(|page| study.servings[**page].sample != sample && study.servings[**page].replicate == replicate);
    let two = *other.expect("there are several samples");
    for line in 0..study.attributes.len() {
        let (a, b) = (study.score(one, line), study.score(two, line));
        study.set_score(one, line, b);
        study.set_score(two, line, a);
    }
}

/// The attribute on which the panel's means differ most.
fn turn_one(study: &mut Study) {
    let spread = |line: &usize| -> f64 {
        let mean = |sample: usize| {
            let marks: Vec<f64> = (0..study.servings.len())
                .filter(|page| study.servings[*page].sample as usize == sample)
                .filter_map(|page| study.score(page, *line))
                .collect();
            marks.iter().sum::<f64>() / marks.len() as f64
        };
        let means: Vec<f64> = (0..study.samples.len()).map(mean).collect();
        means.iter().copied().fold(f64::MIN, f64::max) - means.iter().copied().fold(f64::MAX, f64::min)
    };
    let widest = (0..study.attributes.len()).max_by(|a, b| spread(a).total_cmp(&spread(b))).expect("attributes");
    turn(study, widest..widest + 1);
}

fn turn_all(study: &mut Study) {
    turn(study, 0..study.attributes.len());
}

fn turn(study: &mut Study, lines: std::ops::Range<usize>) {
    for page in pages_of_second(study) {
        for line in lines.clone() {
            let turned = study.score(page, line).map(|mark| 100.0 - mark);
            study.set_score(page, line, turned);
        }
    }
}

fn pages_of_second(study: &Study) -> Vec<usize> {
    (0..study.servings.len()).filter(|page| study.servings[*page].assessor == 1).collect()
}
