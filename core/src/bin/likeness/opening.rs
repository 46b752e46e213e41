//! Opening a study file or a file of scores for any task: the options that say how scores are read and what is decided.

use clap::Args;
use likeness_core::notice::{Notice, Severity};
use likeness_core::read::study_file::{looks_like_study_file, study_in};
use likeness_core::read::{DuplicateChoice, Question, ReadOptions, Reading, read_text};
use likeness_core::study::{AttributeKind, Study};
use std::path::PathBuf;

/// What to open, how to read it, and what is decided.
#[derive(Args)]
pub struct OpenArguments {
    /// The study file, or the file of scores.
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
    /// Chance of a wrong claim, per test [default: 0.05].
    #[arg(long, value_name = "P")]
    alpha: Option<f64>,
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
    /// Seed of every draw: the same seed gives the same figures [default: 20260101].
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
}

/// The study with its settings, or everything that stands in its way as one message.
pub fn open(arguments: &OpenArguments) -> Result<Study, String> {
    check_numbers(arguments)?;
    let path = arguments.file.display();
    let bytes = std::fs::read(&arguments.file)
        .map_err(|error| format!("{path}: the file cannot be opened ({error}). Check the name and the folder."))?;
    // As in the page, the record holds the name of the file and not where it lay.
    let name = arguments.file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    if looks_like_study_file(&bytes) {
        let mut study =
            study_in(&String::from_utf8_lossy(&bytes)).map_err(|why| format!("{path} was not opened. {why}"))?;
        let before = study.settings.clone();
        apply_settings(&mut study, arguments)?;
        if study.settings.target.is_some() {
            study.decided_at.get_or_insert_default();
        }
        if study.settings != before {
            study.note_in_log("", "Settings changed after the scores were loaded, by options of the shell program.");
        }
        return Ok(study);
    }
    let mut study = study_or_message(read_text(&name, &bytes, &read_options(arguments)))?;
    apply_settings(&mut study, arguments)?;
    if study.settings.target.is_some() {
        // Settled by the options, before anything was computed; this program has no clock.
        study.decided_at = Some(String::new());
        study.note_in_log("", "Target, margin and deciding attributes settled by options of the shell program.");
    }
    Ok(study)
}

fn check_numbers(arguments: &OpenArguments) -> Result<(), String> {
    if arguments.margin.is_some_and(|margin| !(margin > 0.0 && margin.is_finite())) {
        return Err("The margin must be a number above zero, in units of the scale.".to_owned());
    }
    if arguments.scale_max.is_some_and(|maximum| !(maximum > 0.0 && maximum.is_finite())) {
        return Err("The upper end of the scale must be a number above zero.".to_owned());
    }
    if arguments.alpha.is_some_and(|alpha| !(alpha > 0.0 && alpha < 0.5)) {
        return Err("Alpha must lie between 0 and 0.5; 0.05 is common practice.".to_owned());
    }
    Ok(())
}

fn read_options(arguments: &OpenArguments) -> ReadOptions {
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

fn apply_settings(study: &mut Study, arguments: &OpenArguments) -> Result<(), String> {
    if let Some(target) = &arguments.target {
        sample_must_be_there(study, target, "target")?;
        study.settings.target = Some(target.clone());
    }
    for attribute in &arguments.deciding {
        if study.attribute_index(attribute).is_none() {
            return Err(format!("There is no attribute called “{attribute}”, so it cannot decide."));
        }
    }
    if !arguments.deciding.is_empty() {
        study.settings.deciding = arguments.deciding.clone();
    }
    for name in &arguments.integrated {
        match study.attribute_index(name) {
            Some(index) => study.attributes[index].kind = AttributeKind::Integrated,
            None => {
                return Err(format!("There is no attribute called “{name}”, so it cannot be a word for the whole."));
            }
        }
    }
    let settings = &mut study.settings;
    settings.alpha = arguments.alpha.unwrap_or(settings.alpha);
    settings.seed = arguments.seed.unwrap_or(settings.seed);
    settings.margin.width_mm = arguments.margin.unwrap_or(settings.margin.width_mm);
    Ok(())
}

/// A message with the names to choose from, where no sample is called so.
pub fn sample_must_be_there(study: &Study, name: &str, role: &str) -> Result<(), String> {
    if study.sample_index(name).is_some() {
        return Ok(());
    }
    let names: Vec<&str> = study.samples.iter().map(|sample| sample.name.as_str()).collect();
    Err(format!("There is no sample called “{name}” to be the {role}. Choose one of: {}.", names.join(", ")))
}
