//! `cargo xtask fuzz`: opens many inputs that are wrong on purpose, and keeps each that doesn't hold as a file.

use likeness_tests::fuzz::Input;
use likeness_tests::fuzz::campaign::{Campaign, Failure};
use peak_alloc::PeakAlloc;
use std::fs;
use std::path::PathBuf;
use std::process::ExitCode;

#[global_allocator]
static ALLOCATOR: PeakAlloc = PeakAlloc;

const USAGE: &str = "fuzz FOLDER CASES SEED [KIND]: CASES inputs of each kind (or of those whose name contains KIND)";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, cases, seed, kind @ ..] = arguments.as_slice() else {
        eprintln!("{USAGE}");
        return ExitCode::FAILURE;
    };
    let (Ok(cases), Ok(seed)) = (cases.parse(), seed.parse()) else {
        eprintln!("{USAGE}");
        return ExitCode::FAILURE;
    };
    // Panics are counted; where they arose is told in one line each.
    std::panic::set_hook(Box::new(|panic| {
        if let Some(place) = panic.location() {
            eprintln!("panic at {}:{}", place.file(), place.line());
        }
    }));
    let folder = PathBuf::from(folder);
    let wanted = |input: &Input| kind.first().is_none_or(|kind| format!("{input:?}").contains(kind.as_str()));
    let campaign = Campaign { seed, cases, deep_every: 40 };
    let failures: Vec<Failure> =
        Input::ALL.into_iter().filter(wanted).flat_map(|input| run(&campaign, input)).collect();
    for failure in &failures {
        keep(&folder, failure);
    }
    if failures.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn run(campaign: &Campaign, input: Input) -> Vec<Failure> {
    let tally = campaign.run(input, &ALLOCATOR);
    println!(
        "{input:?}: {} cases, {} opened, {} refused, {} don't hold; at most {:.0} % of the memory allowed",
        campaign.cases,
        tally.accepted,
        tally.refused,
        campaign.cases - tally.accepted - tally.refused,
        100.0 * tally.most_memory
    );
    tally.failures
}

fn keep(folder: &PathBuf, failure: &Failure) {
    let name = format!("{}-{}-{}", failure.seed, failure.number, failure.input.file_name());
    println!("\n{name}\n{failure}");
    if let Err(error) = fs::create_dir_all(folder).and_then(|()| fs::write(folder.join(&name), &failure.bytes)) {
        println!("it could not be kept: {error}");
    }
}
