//! Reading and analysing whole studies natively: 12 thousand, 120 thousand and 1.2 million scores, and an unbalanced study.
//!
//! The tables are written to `target/bench/`, so that `peer/peer.py` does the same work on the same files. Run all of it by
//! `cargo xtask bench`, which prints both in one table; figures are measured, never tested.

use criterion::{Criterion, criterion_group, criterion_main};
use likeness_core::numeric::random::Random;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::analyse;
use likeness_core::study::Study;
use std::fmt::Write;
use std::path::PathBuf;
use std::time::Duration;

/// Name, assessors, samples, attributes, replicates.
const SIZES: [(&str, usize, usize, usize, usize); 3] =
    [("12k", 10, 10, 40, 3), ("120k", 20, 20, 100, 3), ("1200k", 30, 40, 250, 4)];

/// An invented wide table: level of the assessor, effect of the sample, their interaction, error; 0 to 100, one decimal.
fn invented_table(assessors: usize, samples: usize, attributes: usize, replicates: usize) -> String {
    let mut random = Random::seeded(20_260_101);
    let mut text = "assessor,sample,replicate".to_owned();
    for attribute in 0..attributes {
        let _ = write!(text, ",a{attribute}");
    }
    let deviates =
        |random: &mut Random, count: usize, sd: f64| -> Vec<f64> { (0..count).map(|_| sd * random.normal()).collect() };
    let sample_effects = deviates(&mut random, samples * attributes, 10.0);
    for assessor in 0..assessors {
        let levels = deviates(&mut random, attributes, 6.0);
        for sample in 0..samples {
            let own = deviates(&mut random, attributes, 5.0);
            for replicate in 1..=replicates {
                let _ = write!(text, "\n{},{},{replicate}", assessor + 1, sample + 1);
                for attribute in 0..attributes {
                    let effect = sample_effects[sample * attributes + attribute];
                    let score = 50.0 + levels[attribute] + effect + own[attribute] + 9.0 * random.normal();
                    let _ = write!(text, ",{:.1}", score.clamp(0.0, 100.0));
                }
            }
        }
    }
    text.push('\n');
    text
}

fn study_of(text: &str) -> Study {
    let mut study =
        read_text("invented.csv", text.as_bytes(), &ReadOptions::default()).study.expect("the table is sound");
    study.settings.target = Some("1".to_owned());
    study
}

/// The folder beside the build's own output.
fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target/bench");
    std::fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

fn whole_studies(criterion: &mut Criterion) {
    for (name, assessors, samples, attributes, replicates) in SIZES {
        let text = invented_table(assessors, samples, attributes, replicates);
        std::fs::write(folder().join(format!("{name}.csv")), &text).expect("the table can be written");
        let mut group = criterion.benchmark_group(name);
        group.sample_size(10).measurement_time(Duration::from_secs(5));
        group.bench_function("read", |bencher| {
            bencher.iter(|| read_text("invented.csv", text.as_bytes(), &ReadOptions::default()));
        });
        let study = study_of(&text);
        group.bench_function("analyse", |bencher| bencher.iter(|| analyse(&study)));
        group.finish();
    }
}

/// The small study with one row in twenty lost: restricted maximum likelihood by Newton steps on every attribute.
fn unbalanced_study(criterion: &mut Criterion) {
    let text = invented_table(10, 10, 40, 3);
    let kept: Vec<&str> = text.lines().enumerate().filter(|(row, _)| row % 20 != 7).map(|(_, line)| line).collect();
    let study = study_of(&(kept.join("\n") + "\n"));
    let mut group = criterion.benchmark_group("unbalanced-12k");
    group.sample_size(10).measurement_time(Duration::from_secs(5));
    group.bench_function("analyse", |bencher| bencher.iter(|| analyse(&study)));
    group.finish();
}

criterion_group!(benches, whole_studies, unbalanced_study);
criterion_main!(benches);
