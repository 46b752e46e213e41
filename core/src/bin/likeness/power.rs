//! `likeness power`: what a panel can show before it tastes.

use super::Outcome;
use super::show::{because, defined_line, json_text};
use clap::Args;
use likeness_core::stats::r#match::power::{PanelPlan, PlannedTest, reach, verdict_power};
use likeness_core::text::numbers::fixed;
use likeness_core::text::plain_json::plain_json;
use serde_json::json;

/// Chance that a panel shows a match, and what would raise it.
///
/// The two standard deviations describe the panel: how much assessors disagree about the samples, and how much one
/// assessor varies from replicate to replicate. A study that was analysed gives both as square roots of its "model".
#[derive(Args)]
pub struct PowerArguments {
    #[arg(long, default_value_t = 10)]
    assessors: usize,
    #[arg(long, default_value_t = 2)]
    replicates: usize,
    /// Standard deviation of assessor x sample, in units of the scale.
    #[arg(long, value_name = "MM", default_value_t = 5.0)]
    sd_interaction: f64,
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
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &PowerArguments) -> Outcome {
    let plan = PanelPlan {
        assessors: arguments.assessors,
        replicates: arguments.replicates,
        sd_interaction: arguments.sd_interaction,
        sd_error: arguments.sd_error,
    };
    let test = PlannedTest { margin: arguments.margin, alpha: arguments.alpha };
    let verdict = verdict_power(plan, test, arguments.true_difference).map_err(|reason| because(&reason))?;
    let reached = reach(plan, test, arguments.power).map_err(|reason| because(&reason))?;
    if arguments.json {
        return json_text(&json!({ "plan": plan, "verdict": plain_json(&verdict), "reach": plain_json(&reached) }));
    }
    let in_100 = |chance: f64| fixed(100.0 * chance, 0);
    let lines = [
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
    ];
    Ok(lines.join("\n"))
}
