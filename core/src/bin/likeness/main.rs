//! The shell program: the same engine as the page, with files in and text or JSON out.
//!
//! Exit code 0 with a result, 2 with a message where there is none. It knows no statistics of its own.

mod analyse;
mod chances;
mod discriminate;
mod opening;
mod pictures;
mod plan;
mod plan_ballots;
mod plan_demo;
mod plan_draft;
mod power;
mod rank;
mod reading;
mod report;
mod scan;
mod show;

use clap::{Parser, Subcommand};
use std::process::ExitCode;

/// Tells whether a flavour is a match for its target, from the scores of a trained panel.
#[derive(Parser)]
#[command(name = "likeness", version, about, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    Analyse(Box<analyse::AnalyseArguments>),
    Discriminate(discriminate::DiscriminateArguments),
    Rank(rank::RankArguments),
    Power(power::PowerArguments),
    Plan(plan::PlanArguments),
    Report(Box<report::ReportArguments>),
    Scan(scan::ScanArguments),
    Save(Box<report::SaveArguments>),
}

/// What a task prints, or the message that stands in its place.
pub type Outcome = Result<String, String>;

fn main() -> ExitCode {
    let outcome = match Arguments::parse().task {
        Task::Analyse(arguments) => analyse::run(&arguments),
        Task::Discriminate(arguments) => discriminate::run(&arguments),
        Task::Rank(arguments) => rank::run(&arguments),
        Task::Power(arguments) => power::run(&arguments),
        Task::Plan(arguments) => plan::run(&arguments),
        Task::Report(arguments) => report::run(&arguments),
        Task::Scan(arguments) => scan::run(&arguments),
        Task::Save(arguments) => report::save(&arguments),
    };
    match outcome {
        Ok(text) => print_all(&text),
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

/// Prints without panicking when the reader of a pipe has gone away.
fn print_all(text: &str) -> ExitCode {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.write_all(b"\n")).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::from(2),
    }
}
