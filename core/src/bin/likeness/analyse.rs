//! `likeness analyse`: a file of scores in, verdicts out.

use super::Outcome;
use super::opening::{OpenArguments, open, sample_must_be_there};
use super::show::json_text;
use clap::Args;
use likeness_core::catalogue::{Given, Results};
use likeness_core::write::json::results_json;
use likeness_core::write::report_text::{analysis_text, results_text};

/// Reads panel scores and judges every sample against the target.
///
/// Files are workbooks (.xlsx, .ods) or text tables (comma, semicolon, tab or bar between cells), long (one score a
/// line: assessor, sample, replicate, attribute, score) or wide (one column an attribute). Several files are read
/// together, each as one session; a table of codes and samples among them is taken for the key. Every sample but the
/// target is a candidate. A study file that the page saved opens too.
#[derive(Args)]
pub struct AnalyseArguments {
    #[command(flatten)]
    open: OpenArguments,
    /// Sample that is the target again under another code: no candidate, but what this panel makes of no difference.
    #[arg(long, value_name = "SAMPLE")]
    blind_duplicate: Option<String>,
    /// How often assessors are drawn again for the intervals of distances and the map.
    #[arg(long, value_name = "N", default_value_t = 2000)]
    draws: usize,
    /// Print everything: every method of the catalogue with its tables, which takes longer.
    #[arg(long, conflicts_with = "json")]
    full: bool,
    /// Print JSON instead of text: every method, all digits.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &AnalyseArguments) -> Outcome {
    check_draws(arguments)?;
    let mut study = open(&arguments.open)?;
    if let Some(duplicate) = &arguments.blind_duplicate {
        sample_must_be_there(&study, duplicate, "blind duplicate")?;
        study.settings.blind_duplicate = Some(duplicate.clone());
    }
    let notices = study.notices.clone();
    let given = Given::taking(study).with_draws(arguments.draws);
    if arguments.json {
        return json_text(&results_json(&Results::of_given(given), &notices));
    }
    if arguments.full {
        return Ok(results_text(&Results::of_given(given), &notices));
    }
    Ok(analysis_text(&given.analysis, &notices))
}

fn check_draws(arguments: &AnalyseArguments) -> Result<(), String> {
    if (100..=1_000_000).contains(&arguments.draws) {
        return Ok(());
    }
    Err("The number of draws must lie between 100 and 1000000; 2000 is common practice.".to_owned())
}
