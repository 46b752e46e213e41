//! `likeness analyse`: a file of scores in, verdicts out.

use super::Outcome;
use super::show::json_text;
use clap::Args;
use likeness_core::notice::{Notice, Severity};
use likeness_core::read::{DuplicateChoice, Question, ReadOptions, Reading, read_text};
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

/// Reads a table of panel scores and judges every sample against the target.
///
/// Tables are text (comma, semicolon, tab or bar between cells), long (one score a line: assessor, sample, replicate,
/// attribute, score) or wide (one column an attribute). Every sample but the target is a candidate.
#[derive(Args)]
pub struct AnalyseArguments {
    /// The file of scores.
    file: PathBuf,
    /// Name of the sample that the others are meant to match.
    #[arg(long, value_name = "SAMPLE")]
    target: Option<String>,
    /// How far from the target is still a match, in units of the scale [default: a tenth of the scale].
    #[arg(long, value_name = "MM")]
    margin: Option<f64>,
    /// Upper end of the scale [default: guessed from the scores, and said].
    #[arg(long, value_name = "X")]
    scale_max: Option<f64>,
    /// Chance of a wrong claim, per test.
    #[arg(long, value_name = "P", default_value_t = 0.05)]
    alpha: f64,
    /// Attributes that decide the verdict on a sample, separated by commas [default: all].
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    deciding: Vec<String>,
    /// Attributes that sum up the whole ("authentic", "balance"), separated by commas: they stay out of distances and map.
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    integrated: Vec<String>,
    /// What to do where two different scores stand for one cell: stop, first or last.
    #[arg(long, value_name = "CHOICE", value_parser = ["stop", "first", "last"], default_value = "stop")]
    duplicates: String,
    /// Number unnumbered replicates in the order of the file.
    #[arg(long)]
    replicates_in_file_order: bool,
    /// Numbers that stand for a missing score, such as 99,-1.
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', allow_hyphen_values = true)]
    missing: Vec<f64>,
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
    let name = arguments.file.display().to_string();
    let bytes = std::fs::read(&arguments.file)
        .map_err(|error| format!("{name}: the file cannot be opened ({error}). Check the name and the folder."))?;
    let reading = read_text(&name, &bytes, &read_options(arguments));
    let mut study = study_or_message(reading)?;
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
    if arguments.scale_max.is_some_and(|maximum| !(maximum > 0.0 && maximum.is_finite())) {
        return Err("The upper end of the scale must be a number above zero.".to_owned());
    }
    if !(100..=1_000_000).contains(&arguments.draws) {
        return Err("The number of draws must lie between 100 and 1000000; 2000 is common practice.".to_owned());
    }
    if !(arguments.alpha > 0.0 && arguments.alpha < 0.5) {
        return Err("Alpha must lie between 0 and 0.5; 0.05 is common practice.".to_owned());
    }
    Ok(())
}

fn read_options(arguments: &AnalyseArguments) -> ReadOptions {
    ReadOptions {
        scale_maximum: arguments.scale_max,
        missing_codes: arguments.missing.clone(),
        number_replicates_in_file_order: arguments.replicates_in_file_order,
        duplicates: match arguments.duplicates.as_str() {
            "first" => DuplicateChoice::KeepFirst,
            "last" => DuplicateChoice::KeepLast,
            _ => DuplicateChoice::Stop,
        },
        ..ReadOptions::default()
    }
}

/// The study, or everything that stands in its way as one message.
fn study_or_message(reading: Reading) -> Result<Study, String> {
    if let Some(study) = reading.study {
        return Ok(study);
    }
    let mut message: Vec<String> = reading.questions.iter().filter(|asked| asked.stops).map(question_text).collect();
    let refusals = |notice: &&Notice| notice.severity == Severity::Refused;
    message.extend(reading.notices.iter().filter(refusals).map(ToString::to_string));
    if message.is_empty() {
        message.extend(reading.notices.iter().map(ToString::to_string));
    }
    Err(message.join("\n"))
}

/// A question with its places and the option of this program that answers it.
fn question_text(question: &Question) -> String {
    let places: Vec<String> = question.places.iter().map(ToString::to_string).collect();
    let answer = match question.field {
        "duplicates" => " Answer with --duplicates first or --duplicates last.",
        "number_replicates_in_file_order" => " Answer with --replicates-in-file-order.",
        "missing_codes" => " Answer with --missing.",
        "scale_maximum" => " Answer with --scale-max.",
        _ => " Open the file in the page to answer.",
    };
    let at = if places.is_empty() { String::new() } else { format!(" ({})", places.join("; ")) };
    format!("{}{at}{answer}", question.what)
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
