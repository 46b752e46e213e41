//! `likeness analyse`: a file of scores in, verdicts out.

use super::Outcome;
use super::opening::{OpenArguments, open, sample_must_be_there};
use super::show::json_text;
use clap::Args;
use likeness_core::stats::map::ellipses::EllipseRun;
use likeness_core::stats::map::product_map::{MapOptions, product_map};
use likeness_core::stats::r#match::distance_bootstrap::{DistanceRun, ResamplingOptions};
use likeness_core::stats::r#match::integrated_attributes::integrated_explained;
use likeness_core::stats::r#match::leave_one_out::influence;
use likeness_core::stats::model::anova::{ModelOptions, fit};
use likeness_core::stats::panel::form_faults::suspected_form_faults;
use likeness_core::stats::panel::performance::performance;
use likeness_core::stats::panel::replicate_effect::{ReplicateOptions, replicate_check};
use likeness_core::stats::panel::scale_use::scale_use;
use likeness_core::stats::panel::serving_order::{label_effects, order_effects};
use likeness_core::stats::panel::sessions::{session_performance, sessions_known};
use likeness_core::stats::samples::comparisons::{ComparisonOptions, many_to_one, pairwise};
use likeness_core::stats::samples::multiplicity::adjust_over_attributes;
use likeness_core::stats::{Analysis, analyse};
use likeness_core::study::Study;
use likeness_core::write::json::analysis_json;
use likeness_core::write::plain::plain_json;
use likeness_core::write::report_text::analysis_text;
use serde_json::Value;

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
    /// Sample that is the target again under another code: its distance is the noise floor.
    #[arg(long, value_name = "SAMPLE")]
    blind_duplicate: Option<String>,
    /// How often assessors are drawn again for the intervals of distances and the map.
    #[arg(long, value_name = "N", default_value_t = 2000)]
    draws: usize,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &AnalyseArguments) -> Outcome {
    check_draws(arguments)?;
    let study = open(&arguments.open)?;
    if let Some(duplicate) = &arguments.blind_duplicate {
        sample_must_be_there(&study, duplicate, "blind duplicate")?;
    }
    let analysis = analyse(&study);
    if arguments.json {
        let mut value = analysis_json(&analysis, &study.notices);
        add_methods(&mut value, &study, &analysis, arguments);
        return json_text(&value);
    }
    Ok(analysis_text(&analysis, &study.notices))
}

/// Adds the methods that look at the whole panel: who can be believed, the map, how sure the distances are.
fn add_methods(value: &mut Value, study: &Study, analysis: &Analysis, arguments: &AnalyseArguments) {
    let sample_p = analysis.sample_p();
    for (place, adjusted) in adjust_over_attributes(&sample_p).iter().enumerate() {
        value["attributes"][place]["sample_effect_over_attributes"] = plain_json(adjusted);
    }
    add_comparisons(value, study, analysis);
    value["panel"] = plain_json(&performance(study, &sample_p));
    let map = product_map(study, MapOptions::default());
    let ellipses = map.as_ref().map_err(Clone::clone).and_then(|map| {
        EllipseRun::start(study, map, arguments.draws, study.settings.seed)
            .and_then(|run| run.finish(study.settings.seed))
    });
    value["map"] = plain_json(&map);
    value["map_ellipses"] = plain_json(&ellipses);
    value["suspected_slips"] = plain_json(&suspected_form_faults(study));
    value["sessions"] =
        plain_json(&sessions_known(study).map(|()| {
            (0..study.sessions.len()).map(|session| session_performance(study, session)).collect::<Vec<_>>()
        }));
    value["order"] = plain_json(&order_effects(study));
    value["labels"] = plain_json(&label_effects(study));
    value["integrated"] = plain_json(&integrated_explained(study));
    if let Some(target) = &analysis.target {
        value["influence"] = plain_json(&influence(study));
        let options = ResamplingOptions {
            draws: arguments.draws,
            seed: study.settings.seed,
            level: 1.0 - analysis.alpha,
            blind_duplicate: arguments.blind_duplicate.clone().or_else(|| study.settings.blind_duplicate.clone()),
        };
        value["distance"] = plain_json(&DistanceRun::start(study, target, options).map(DistanceRun::finish));
    }
}

/// Adds to each attribute every pair of samples, and all candidates against the target together.
fn add_comparisons(value: &mut Value, study: &Study, analysis: &Analysis) {
    let options = ComparisonOptions { alpha: analysis.alpha, ..ComparisonOptions::default() };
    for (place, attribute) in study.active_attributes().into_iter().enumerate() {
        let scores = study.attribute_scores(attribute);
        let fit = fit(&scores, &ModelOptions::default());
        value["attributes"][place]["scale_use"] = plain_json(&scale_use(&scores, analysis.alpha));
        value["attributes"][place]["replicates"] = plain_json(&replicate_check(&scores, &ReplicateOptions::default()));
        value["attributes"][place]["pairwise"] = plain_json(&pairwise(&fit, &options));
        if let Some(target) = analysis.target.as_ref().and_then(|name| scores.sample_index(name)) {
            value["attributes"][place]["all_against_target"] = plain_json(&many_to_one(&fit, target, &options));
        }
    }
}

fn check_draws(arguments: &AnalyseArguments) -> Result<(), String> {
    if (100..=1_000_000).contains(&arguments.draws) {
        return Ok(());
    }
    Err("The number of draws must lie between 100 and 1000000; 2000 is common practice.".to_owned())
}
