//! `likeness analyse`: a file of scores in, verdicts out.

use super::Outcome;
use super::reading::{ReadingArguments, study_of};
use super::show::json_text;
use clap::Args;
use likeness_core::stats::anova::{ModelOptions, fit};
use likeness_core::stats::comparisons::{ComparisonOptions, many_to_one, pairwise};
use likeness_core::stats::influence::influence;
use likeness_core::stats::integrated::integrated_explained;
use likeness_core::stats::map::{MapOptions, product_map};
use likeness_core::stats::map_ellipses::EllipseRun;
use likeness_core::stats::multiplicity::adjust_over_attributes;
use likeness_core::stats::order::{label_effects, order_effects};
use likeness_core::stats::panel::performance;
use likeness_core::stats::replicates::{ReplicateOptions, replicate_check};
use likeness_core::stats::resampling::{DistanceRun, ResamplingOptions};
use likeness_core::stats::scale_use::scale_use;
use likeness_core::stats::slips::suspected_slips;
use likeness_core::stats::{Analysis, Defined, analyse};
use likeness_core::study::{AttributeKind, Study};
use likeness_core::write::{json::analysis_json, plain::plain_json, report_text::analysis_text};
use serde_json::Value;
use std::path::PathBuf;

/// Reads panel scores and judges every sample against the target.
///
/// Files are workbooks (.xlsx, .ods) or text tables (comma, semicolon, tab or bar between cells), long (one score a
/// line: assessor, sample, replicate, attribute, score) or wide (one column an attribute). Several files are read
/// together, each as one session; a table of codes and samples among them is taken for the key. Every sample but the
/// target is a candidate.
#[derive(Args)]
pub struct AnalyseArguments {
    /// The files of scores, and of the key to their codes where it stands in a file of its own.
    #[arg(required = true)]
    files: Vec<PathBuf>,
    #[command(flatten)]
    reading: ReadingArguments,
    /// Name of the sample that the others are meant to match.
    #[arg(long, value_name = "SAMPLE")]
    target: Option<String>,
    /// How far from the target is still a match, in units of the scale [default: a tenth of the scale].
    #[arg(long, value_name = "MM")]
    margin: Option<f64>,
    /// Chance of a wrong claim, per test.
    #[arg(long, value_name = "P", default_value_t = 0.05)]
    alpha: f64,
    /// Attributes that decide the verdict on a sample, separated by commas [default: all].
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    deciding: Vec<String>,
    /// Attributes that sum up the whole ("authentic", "balance"), separated by commas: they stay out of distances and map.
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    integrated: Vec<String>,
    /// Sample that is the target again under another code: its distance is the noise floor.
    #[arg(long, value_name = "SAMPLE")]
    blind_duplicate: Option<String>,
    /// How often assessors are drawn again for the intervals of distances and the map.
    #[arg(long, value_name = "N", default_value_t = 2000)]
    draws: usize,
    /// Seed of every draw: the same seed gives the same figures.
    #[arg(long, value_name = "N", default_value_t = 20_260_101)]
    seed: u64,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &AnalyseArguments) -> Outcome {
    check_numbers(arguments)?;
    let mut study = study_of(&arguments.files, &arguments.reading)?;
    apply_settings(&mut study, arguments)?;
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
    let sample_p: Vec<Defined<f64>> = analysis
        .attributes
        .iter()
        .map(|attribute| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone))
        .collect();
    for (place, adjusted) in adjust_over_attributes(&sample_p).iter().enumerate() {
        value["attributes"][place]["sample_effect_over_attributes"] = plain_json(adjusted);
    }
    add_comparisons(value, study, analysis);
    value["panel"] = plain_json(&performance(study, &sample_p));
    let map = product_map(study, MapOptions::default());
    let ellipses = map.as_ref().map_err(Clone::clone).and_then(|map| {
        EllipseRun::start(study, map, arguments.draws, arguments.seed).and_then(|run| run.finish(arguments.seed))
    });
    value["map"] = plain_json(&map);
    value["map_ellipses"] = plain_json(&ellipses);
    value["suspected_slips"] = plain_json(&suspected_slips(study));
    value["order"] = plain_json(&order_effects(study));
    value["labels"] = plain_json(&label_effects(study));
    value["integrated"] = plain_json(&integrated_explained(study));
    if let Some(target) = &analysis.target {
        value["influence"] = plain_json(&influence(study));
        let options = ResamplingOptions {
            draws: arguments.draws,
            seed: arguments.seed,
            level: 1.0 - analysis.alpha,
            blind_duplicate: arguments.blind_duplicate.clone(),
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

fn check_numbers(arguments: &AnalyseArguments) -> Result<(), String> {
    if arguments.margin.is_some_and(|margin| !(margin > 0.0 && margin.is_finite())) {
        return Err("The margin must be a number above zero, in units of the scale.".to_owned());
    }
    if !(100..=1_000_000).contains(&arguments.draws) {
        return Err("The number of draws must lie between 100 and 1000000; 2000 is common practice.".to_owned());
    }
    if !(arguments.alpha > 0.0 && arguments.alpha < 0.5) {
        return Err("Alpha must lie between 0 and 0.5; 0.05 is common practice.".to_owned());
    }
    Ok(())
}

fn apply_settings(study: &mut Study, arguments: &AnalyseArguments) -> Result<(), String> {
    let names = || study.samples.iter().map(|sample| sample.name.as_str()).collect::<Vec<_>>().join(", ");
    if let Some(target) = &arguments.target
        && study.sample_index(target).is_none()
    {
        return Err(format!("There is no sample called “{target}” to be the target. Choose one of: {}.", names()));
    }
    if let Some(duplicate) = &arguments.blind_duplicate
        && study.sample_index(duplicate).is_none()
    {
        return Err(format!(
            "There is no sample called “{duplicate}” to be the blind duplicate. Choose one of: {}.",
            names()
        ));
    }
    for attribute in &arguments.deciding {
        if study.attribute_index(attribute).is_none() {
            return Err(format!("There is no attribute called “{attribute}”, so it cannot decide."));
        }
    }
    for name in &arguments.integrated {
        match study.attribute_index(name) {
            Some(index) => study.attributes[index].kind = AttributeKind::Integrated,
            None => {
                return Err(format!("There is no attribute called “{name}”, so it cannot be a word for the whole."));
            }
        }
    }
    study.settings.target = arguments.target.clone();
    study.settings.alpha = arguments.alpha;
    study.settings.deciding = arguments.deciding.clone();
    if let Some(margin) = arguments.margin {
        study.settings.margin.width_mm = margin;
    }
    Ok(())
}
