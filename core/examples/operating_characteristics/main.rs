//! Simulates the calibrated verdict and prints its chances of every outcome, with standard errors, in Markdown:
//! `cargo run --release -p likeness-core --example operating_characteristics -- [--studies N] [--seed N] [--only WORDS]`.
//!
//! `--studies`: studies a cell (default 1000; duplicates and the profile table take four times as many). `--only`: only the
//! cells whose name has all of these words, as in `--only "duplicate 12 assessors"`. A run is kept in RESULT.md.

mod cells;
mod marks;
mod piled;
mod profile;
mod served_twice;
mod told;
mod truths;

use std::error::Error;

/// What was asked for.
#[derive(Clone, Debug)]
pub struct Request {
    pub studies: u64,
    pub seed: u64,
    only: Vec<String>,
}

impl Request {
    /// Whether a cell of this name was asked for.
    pub fn wants(&self, name: &str) -> bool {
        self.only.iter().all(|word| name.split([' ', ',']).any(|part| part == word))
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let request = parse(&std::env::args().skip(1).collect::<Vec<_>>())?;
    println!("Seed {}, {} studies a cell. Shares in %, ± one standard error.", request.seed, request.studies);
    println!("All patterns of signs up to 16 assessors, 999 drawn and the one seen beyond.\n");
    cells::print(&request)?;
    profile::print(&request)?;
    piled::print(&request)?;
    served_twice::print(&request)?;
    told::print(&request)
}

fn parse(arguments: &[String]) -> Result<Request, Box<dyn Error>> {
    let mut request = Request { studies: 1000, seed: 20_261_128, only: Vec::new() };
    for pair in arguments.chunks(2) {
        match pair {
            [name, value] if name == "--studies" => request.studies = value.parse::<u64>()?.max(1),
            [name, value] if name == "--seed" => request.seed = value.parse()?,
            [name, value] if name == "--only" => request.only = value.split(' ').map(str::to_owned).collect(),
            _ => return Err("usage: operating_characteristics [--studies N] [--seed N] [--only WORDS]".into()),
        }
    }
    Ok(request)
}

/// A share of studies in %, with its standard error.
pub fn percent(count: u64, studies: u64) -> String {
    let share = count as f64 / studies as f64;
    let error = (share * (1.0 - share) / studies as f64).sqrt();
    format!("{:.1} ±{:.1}", 100.0 * share, 100.0 * error)
}
