//! `likeness power`: what a panel can show before it tastes.

use super::Outcome;
use super::chances::{ChancesArguments, chances, chances_text};
use super::show::{because, defined_line, json_text};
use clap::Args;
use likeness_core::planning::panel_of_difference::{DifferenceScatter, panel_of_difference};
use likeness_core::stats::r#match::power::{PanelPlan, PanelReach, PlannedTest, VerdictPower, reach, verdict_power};
use likeness_core::text::numbers::fixed;
use likeness_core::text::plain_json::plain_json;
use serde_json::json;

/// Chance that a panel shows a match, and what would raise it.
///
/// The standard deviations describe the panel: how much assessors disagree about the samples, and how much one
/// assessor varies from replicate to replicate. The first may be given in either of two ways: --sd-interaction is that of
/// one sample (the square root of var_interaction in the "model" of a study that was analysed), --sd-difference that of an
/// assessor's difference between two samples ("scatter of a difference" in the table of power). One is not the other:
/// sd-difference^2 = 2 (sd-interaction^2 + sd-error^2 / replicates).
#[derive(Args)]
pub struct PowerArguments {
    #[arg(long, default_value_t = 10)]
    assessors: usize,
    #[arg(long, default_value_t = 2)]
    replicates: usize,
    /// Standard deviation of assessor x sample on one sample, in units of the scale; no difference's, and without the
    /// replicates' error.
    #[arg(long, value_name = "MM", default_value_t = 5.0, conflicts_with = "sd_difference")]
    sd_interaction: f64,
    /// Standard deviation between assessors of each one's own difference candidate minus target, each a mean over
    /// --difference-replicates cups: takes the place of --sd-interaction.
    #[arg(long, value_name = "MM")]
    sd_difference: Option<f64>,
    /// Replicates behind the differences of --sd-difference [default: as --replicates].
    #[arg(long, value_name = "R", requires = "sd_difference")]
    difference_replicates: Option<usize>,
    /// Standard deviation between replicates of one assessor, in units of the scale.
    #[arg(long, value_name = "MM", default_value_t = 9.0)]
    sd_error: f64,
    #[arg(long, value_name = "MM", default_value_t = 10.0)]
    margin: f64,
    #[arg(long, default_value_t = 0.05)]
    alpha: f64,
    /// Difference that the candidate truly has.
    #[arg(long, value_name = "MM", default_value_t = 0.0, allow_hyphen_values = true)]
    true_difference: f64,
    /// Chance that is asked for in "needed" and "smallest".
    #[arg(long, value_name = "CHANCE", default_value_t = 0.8)]
    power: f64,
    #[command(flatten)]
    chances: ChancesArguments,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &PowerArguments) -> Outcome {
    let plan = panel(arguments)?;
    let test = PlannedTest { margin: arguments.margin, alpha: arguments.alpha };
    let verdict = verdict_power(plan, test, arguments.true_difference).map_err(|reason| because(&reason))?;
    let reached = reach(plan, test, arguments.power).map_err(|reason| because(&reason))?;
    let chances = chances(&arguments.chances, &plan, test)?;
    if arguments.json {
        let mut all = json!({ "plan": plan, "verdict": plain_json(&verdict), "reach": plain_json(&reached) });
        if let Some(found) = &chances {
            all["chances"] = plain_json(found);
        }
        return json_text(&all);
    }
    let mut lines = one_attribute_text(arguments, plan, &verdict, &reached);
    lines.extend(chances.iter().flat_map(|found| chances_text(found, plan.assessors)));
    Ok(lines.join("\n"))
}

/// What is said of one attribute.
fn one_attribute_text(
    arguments: &PowerArguments,
    plan: PanelPlan,
    verdict: &VerdictPower,
    reached: &PanelReach,
) -> Vec<String> {
    let in_100 = |chance: f64| fixed(100.0 * chance, 0);
    vec![
        format!(
            "With {} assessors and {} replicates a candidate that truly differs by {} is shown a match {} times in 100, \
             shown off {} times, and neither is shown {} times (margin {}, alpha {}).",
            plan.assessors,
            plan.replicates,
            arguments.true_difference,
            in_100(verdict.p_match),
            in_100(verdict.p_off),
            in_100(verdict.p_not_shown),
            arguments.margin,
            arguments.alpha
        ),
        defined_line("Smallest margin a true match would be shown at", &reached.smallest_margin, |margin| {
            fixed(*margin, 1)
        }),
        defined_line("Smallest difference that would be shown", &reached.smallest_difference, |size| fixed(*size, 1)),
        defined_line("Assessors needed at this margin", &reached.assessors_needed, ToString::to_string),
        format!("(the last three with a chance of {}) {}", arguments.power, verdict.model),
    ]
}

/// The panel, its scatter given in either of the two ways.
fn panel(arguments: &PowerArguments) -> Result<PanelPlan, String> {
    let &PowerArguments { assessors, replicates, sd_interaction, sd_error, .. } = arguments;
    let Some(sd_difference) = arguments.sd_difference else {
        return Ok(PanelPlan { assessors, replicates, sd_interaction, sd_error });
    };
    let replicates_behind = arguments.difference_replicates.unwrap_or(replicates);
    let scatter = DifferenceScatter { sd_difference, replicates_behind, sd_error };
    panel_of_difference(scatter, assessors, replicates).map_err(|reason| because(&reason))
}
