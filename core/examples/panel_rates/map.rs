//! Do ellipses of the map hold the sample's true place, and intervals of an axis its true share?

use crate::panels::{MadeUp, Panel, USUAL};
use crate::request::{Held, Request};
use likeness_core::numeric::eigen;
use likeness_core::stats::map::ellipses::{Ellipse, EllipseRun};
use likeness_core::stats::map::product_map::{MapOptions, ProductMap, product_map};

/// Fewer than a study takes, so that thousands of studies can be made.
const DRAWS: usize = 200;

pub fn print(request: &Request) {
    println!(
        "## Map: share of true places inside the 95 % ellipse on axes 1 and 2, and of true shares inside their interval\n"
    );
    println!("| assessors | samples | marks | ellipse | share of axis 1 | share of axis 2 |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for assessors in [5, 8, 12, 16, 20] {
        for samples in [4, 6, 8] {
            for (name, panel) in laws() {
                let panel = Panel { assessors, samples, ..panel };
                let held = cell(panel, request);
                let words = held.map(Held::shown).join(" | ");
                println!("| {assessors} | {samples} | {name} | {words} |");
            }
        }
    }
    println!();
}

fn laws() -> [(&'static str, Panel); 3] {
    [
        ("normal", Panel { on_the_line: false, ..USUAL }),
        ("normal, samples hardly differ", Panel { on_the_line: false, sd_sample: 4.0, ..USUAL }),
        ("piled up at 0", Panel { weak_share: 0.3, ..USUAL }),
    ]
}

/// Places inside their ellipse; shares of axes 1 and 2 inside their interval.
pub fn cell(panel: Panel, request: &Request) -> [Held; 3] {
    let mut held = [Held::default(); 3];
    for study in 0..request.studies {
        let made = panel.draw(request.seed + study);
        let Ok(map) = product_map(&made.study, MapOptions::default()) else { continue };
        let run = EllipseRun::start(&made.study, &map, DRAWS, request.seed);
        let clouds = run.expect("five assessors").finish().expect("complete data");
        let (places, shares) = (true_places(&made, &map), true_shares(&made));
        for (cloud, place) in clouds.samples.iter().zip(&places) {
            let ellipse = cloud.ellipse(0, 1, 0.95).expect("two axes");
            held[0].count(is_inside(&ellipse, place[0], place[1]));
        }
        for (axis, held) in held[1..].iter_mut().enumerate() {
            if let Ok(interval) = &clouds.share_intervals[axis] {
                held.count(interval.lower <= shares[axis] && shares[axis] <= interval.upper);
            }
        }
    }
    held
}

/// The true means on the axes that were found, level taken off.
fn true_places(made: &MadeUp, map: &ProductMap) -> Vec<Vec<f64>> {
    let row = |attribute: &str| {
        let at: usize = attribute.trim_start_matches("line ").parse().expect("attributes are numbered");
        centred(&made.true_means[at - 1])
    };
    let rows: Vec<Vec<f64>> =
        map.attributes.iter().map(|one| row(&one.attribute).iter().map(|value| value + one.centre).collect()).collect();
    (0..map.samples.len()).map(|sample| map.place(&rows.iter().map(|row| row[sample]).collect::<Vec<_>>())).collect()
}

fn true_shares(made: &MadeUp) -> Vec<f64> {
    let rows: Vec<Vec<f64>> = made.true_means.iter().map(|row| centred(row)).collect();
    let samples = rows[0].len();
    let product = |a: usize, b: usize| rows.iter().map(|row| row[a] * row[b]).sum();
    let cross: Vec<Vec<f64>> = (0..samples).map(|a| (0..samples).map(|b| product(a, b)).collect()).collect();
    let values = eigen::symmetric(&cross).expect("a cross product is symmetric").values;
    let total: f64 = values.iter().sum();
    values.iter().map(|value| value / total).collect()
}

fn centred(row: &[f64]) -> Vec<f64> {
    let mean = row.iter().sum::<f64>() / row.len() as f64;
    row.iter().map(|value| value - mean).collect()
}

fn is_inside(ellipse: &Ellipse, x: f64, y: f64) -> bool {
    let (dx, dy) = (x - ellipse.centre_x, y - ellipse.centre_y);
    let (sine, cosine) = ellipse.angle_radians.sin_cos();
    let (along, across) = (dx * cosine + dy * sine, dy * cosine - dx * sine);
    (along / ellipse.half_length).powi(2) + (across / ellipse.half_width).powi(2) <= 1.0
}
