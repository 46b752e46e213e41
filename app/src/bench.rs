//! Measuring in the browser: `#bench` in the address reads and analyses an invented study of 12,000 scores and writes
//! how long that took. Nothing here is shown to a user.

use crate::browser::clock::milliseconds;
use leptos::prelude::*;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::analyse;

const ASSESSORS: usize = 10;
const SAMPLES: usize = 10;
const ATTRIBUTES: usize = 40;
const REPLICATES: usize = 3;
const SEED: u64 = 12_000;
const ROUNDS: usize = 9;

/// Milliseconds of one round.
struct Round {
    read_ms: f64,
    analyse_ms: f64,
}

#[component]
pub fn Bench() -> impl IntoView {
    let text = invented_wide_table();
    let rounds: Vec<Round> = (0..ROUNDS).filter_map(|_| one_round(&text)).collect();
    let read: Vec<f64> = rounds.iter().map(|round| round.read_ms).collect();
    let analyse: Vec<f64> = rounds.iter().map(|round| round.analyse_ms).collect();
    let result = serde_json::json!({
        "scores": ASSESSORS * SAMPLES * ATTRIBUTES * REPLICATES,
        "rounds": rounds.len(),
        "read_ms_median": median(read.clone()),
        "analyse_ms_median": median(analyse.clone()),
        "read_ms": read,
        "analyse_ms": analyse,
    });
    view! { <pre data-test="bench">{result.to_string()}</pre> }
}

fn one_round(text: &str) -> Option<Round> {
    let start = milliseconds();
    let reading = read_text("bench.csv", text.as_bytes(), &ReadOptions::default());
    let mut study = reading.study?;
    let read = milliseconds();
    study.settings.target = Some("S1".to_owned());
    let analysis = analyse(&study);
    let end = milliseconds();
    (analysis.attributes.len() == ATTRIBUTES).then_some(Round { read_ms: read - start, analyse_ms: end - read })
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

/// Uniform marks are enough to measure with: nothing is concluded from them.
fn invented_wide_table() -> String {
    let mut state = SEED;
    let mut text = "assessor,sample,replicate".to_owned();
    (1..=ATTRIBUTES).for_each(|attribute| text.push_str(&format!(",attribute {attribute}")));
    text.push('\n');
    for assessor in 1..=ASSESSORS {
        for sample in 1..=SAMPLES {
            for replicate in 1..=REPLICATES {
                text.push_str(&format!("A{assessor},S{sample},{replicate}"));
                for _ in 0..ATTRIBUTES {
                    // Knuth's MMIX generator; its high bits are good enough.
                    state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                    text.push_str(&format!(",{}", (state >> 33) % 101));
                }
                text.push('\n');
            }
        }
    }
    text
}
