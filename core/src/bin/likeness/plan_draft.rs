//! `likeness plan draft`: a whole plan from numbers and a list of attributes. It knows nothing of how orders are found.

use super::Outcome;
use super::plan_ballots::paper_of;
use super::report::write;
use clap::Args;
use likeness_core::notice::{Notice, Severity};
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};
use std::path::{Path, PathBuf};

/// A whole plan with numbered assessors and samples.
///
/// Sample 1 is the target. Names, margin and brief are changed in the page, which opens the file. The same options give
/// the same bytes.
#[derive(Args)]
pub struct DraftArguments {
    #[arg(long, value_name = "I")]
    assessors: usize,
    #[arg(long, value_name = "J")]
    samples: usize,
    /// List of attributes as CSV with a header line; only the column of names has to be there.
    #[arg(long, value_name = "FILE")]
    attributes: PathBuf,
    #[arg(long, value_name = "R", default_value_t = 1)]
    replicates: usize,
    /// The sheet that ballots are printed on: a4 or letter.
    #[arg(long, default_value = "a4", value_parser = paper_of)]
    paper: Paper,
    #[arg(long, default_value = "Study drafted in the shell")]
    title: String,
    /// Date and time to stand in the plan; this program has no clock.
    #[arg(long, value_name = "TEXT", default_value = "")]
    made_at: String,
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Where the plan goes.
    #[arg(long, value_name = "FILE", default_value = "plan.json")]
    out: PathBuf,
}

pub fn run(arguments: &DraftArguments) -> Outcome {
    let attributes = attributes_in(&arguments.attributes)?;
    let mut draft = PlanDraft {
        attributes,
        assessors_typed: numbered("Assessor", arguments.assessors).join("\n"),
        replicates: arguments.replicates,
        seed: arguments.seed,
        ..PlanDraft::default()
    };
    draft.brief.title.clone_from(&arguments.title);
    let role = |index: usize| if index == 0 { SampleRole::Target } else { SampleRole::Candidate };
    let samples = numbered("Sample", arguments.samples);
    draft.brief.samples =
        samples.iter().enumerate().map(|(index, name)| PlannedSample::named(name, role(index))).collect();
    let mut plan = draft.make(&arguments.made_at).map_err(|error| error.to_string())?;
    plan.paper = Some(arguments.paper);
    write(&arguments.out, plan.to_json().as_bytes())
}

fn numbered(what: &str, count: usize) -> Vec<String> {
    (1..=count).map(|number| format!("{what} {number}")).collect()
}

/// The list, or everything in its file that can't be used as one message: a plan with a word less would not be noticed.
fn attributes_in(path: &Path) -> Result<AttributeList, String> {
    let name = path.display().to_string();
    let text = std::fs::read_to_string(path)
        .map_err(|error| format!("{name}: the list cannot be read ({error}). Give a CSV file in UTF-8."))?;
    let reading = AttributeList::read_csv(&text, &name);
    let refused: Vec<&Notice> = reading.notices.iter().filter(|notice| notice.severity == Severity::Refused).collect();
    if refused.is_empty() {
        return Ok(reading.list);
    }
    Err(refused.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
}
