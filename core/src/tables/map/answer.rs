//! What the map shows, in one sentence: whose ellipses touch that of the target. A picture, and never a verdict.

use crate::stats::Analysis;
use crate::stats::map::apart::overlap;
use crate::stats::map::ellipses::{Ellipse, MapEllipses};
use crate::stats::map::product_map::ProductMap;
use crate::text::lists::{listed, plural};
use crate::text::numbers::whole_percent;

/// Level of the ellipses that the figure draws.
const LEVEL: f64 = 0.95;
const NO_VERDICT: &str = "That is a picture and no verdict.";

/// "Candidate A lies with Fresh mango: their ellipses touch. Candidate B and Candidate C lie apart. ..." on the first two axes;
/// how much these show where there is no target or no ellipse.
pub fn answer(analysis: &Analysis, map: &ProductMap, ellipses: Option<&MapEllipses>) -> String {
    let by_ellipses = analysis.target.as_ref().zip(ellipses).and_then(|(target, found)| beside(target, found));
    by_ellipses.unwrap_or_else(|| shown(map))
}

fn beside(target: &str, found: &MapEllipses) -> Option<String> {
    let ellipse = |name: &str| -> Option<Ellipse> {
        let cloud = found.samples.iter().find(|cloud| cloud.sample == name)?;
        cloud.ellipse(0, 1, LEVEL).ok()
    };
    let own = ellipse(target)?;
    let others = found.samples.iter().filter(|cloud| cloud.sample != target);
    let (mut with, mut apart) = (Vec::new(), Vec::new());
    for name in others.map(|cloud| cloud.sample.clone()) {
        let place = if overlap(&own, &ellipse(&name)?) { &mut with } else { &mut apart };
        place.push(name);
    }
    let with = match with.as_slice() {
        [] => format!("On this map nothing lies with {target}: no ellipse touches its own."),
        names => {
            let lie = plural(names.len(), "lies", "lie");
            format!("On this map {} {lie} with {target}: the ellipses touch.", listed(names))
        }
    };
    let apart = match apart.as_slice() {
        [] => String::new(),
        names => format!(" {} {} apart.", listed(names), plural(names.len(), "lies", "lie")),
    };
    Some(format!("{with}{apart} {NO_VERDICT}"))
}

fn shown(map: &ProductMap) -> String {
    match map.axes.as_slice() {
        [_, second, ..] => {
            format!(
                "Axes 1 and 2 show {} of all differences between the samples.",
                whole_percent(second.cumulative_share)
            )
        }
        _ => "All differences between the samples lie on one axis.".to_owned(),
    }
}
