//! Simulates what is claimed about the panel and on the map, and prints how often each claim holds or is false:
//! `cargo run --release -p likeness-core --example panel_rates -- [--studies N] [--seed N] [--only TOPIC]`.
//!
//! Topics: map, form-faults, performance, people, together, rounds. A run is kept in RESULT.md.

mod form_faults;
mod map;
mod panels;
mod people;
mod performance;
mod request;
mod rounds;
mod together;

use request::Request;
use std::error::Error;

type Topic = (&'static str, fn(&Request));

const TOPICS: &[Topic] = &[
    ("map", map::print),
    ("form-faults", form_faults::print),
    ("performance", performance::print),
    ("people", people::print),
    ("together", together::print),
    ("rounds", rounds::print),
];

fn main() -> Result<(), Box<dyn Error>> {
    let request = Request::parse(&std::env::args().skip(1).collect::<Vec<_>>())?;
    println!("Seed {}, {} studies a cell.\n", request.seed, request.studies);
    for (name, print) in TOPICS {
        if request.wants(name) {
            print(&request);
        }
    }
    Ok(())
}
