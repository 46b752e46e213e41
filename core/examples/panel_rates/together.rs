//! How often a word for the whole that is unrelated to every attribute has any of them called steady.

use crate::panels::{Panel, USUAL};
use crate::request::{Held, Request};
use likeness_core::stats::r#match::integrated_attributes::integrated_explained;
use likeness_core::study::AttributeKind;

pub fn print(request: &Request) {
    println!("## What goes with a word for the whole: unrelated words with any attribute of the list called steady\n");
    println!(
        "| samples | usual | half piled up at 0 | by drawing assessors again, as it was |\n| --- | --- | --- | --- |"
    );
    for samples in [5, 6, 8, 12] {
        let panel = Panel { samples, attributes: 13, sd_mood: 0.0, ..USUAL };
        let [steady, drawn] = falsely_steady(&panel, request);
        let [piled, _] = falsely_steady(&Panel { weak_share: 0.5, ..panel }, request);
        println!("| {samples} | {} | {} | {} |", steady.shown(), piled.shown(), drawn.shown());
    }
    println!();
}

/// Studies whose last attribute, nothing to the others, has any of them called steady; and any whose interval over drawn
/// assessors leaves out zero.
pub fn falsely_steady(panel: &Panel, request: &Request) -> [Held; 2] {
    let mut counts = [Held::default(); 2];
    for seed in 0..request.studies {
        let mut study = panel.draw(request.seed + seed).study;
        // The last of the attributes when all have marks; any would do.
        let last = study.attributes.len() - 1;
        study.attributes[last].kind = AttributeKind::Integrated;
        let Ok(found) = integrated_explained(&study) else { continue };
        let any = |is: fn(&likeness_core::stats::r#match::integrated_attributes::Association) -> bool| {
            found[0].associations.iter().any(is)
        };
        counts[0].count(any(|one| one.is_steady));
        counts[1].count(any(|one| one.interval95.excludes_zero()));
    }
    counts
}
