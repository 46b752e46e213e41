//! Opening a study file or a file of scores for any task: the options that say how scores are read and what is decided.

use super::reading::{ReadingArguments, study_of};
use clap::Args;
use likeness_core::read::study_file::{looks_like_study_file, study_in};
use likeness_core::study::{AttributeKind, LogEntry, LogKind, Study};
use std::path::{Path, PathBuf};

/// What to open, how to read it, and what is decided.
#[derive(Args)]
pub struct OpenArguments {
    /// The study file; or the files of scores, and of the key to their codes where it stands in a file of its own.
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
    /// Profile margin: how large the typical difference over the deciding attributes may be in a match as a whole, as a share
    /// of the margins [default: 0.7].
    #[arg(long, value_name = "SHARE")]
    profile_share: Option<f64>,
    /// Hold the chance of calling any candidate wrongly off over all candidates together, and not for each of them.
    #[arg(long)]
    together: bool,
    /// Hold candidates against the mean of both cups of a target that was served twice (see --blind-duplicate).
    #[arg(long)]
    both_cups: bool,
    /// Chance of a wrong claim: of calling a sample off that does not differ, of showing a match that is none [default: 0.05].
    #[arg(long, value_name = "P")]
    alpha: Option<f64>,
    /// Attributes that decide the verdict on a sample, separated by commas [default: all].
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    deciding: Vec<String>,
    /// Attributes that sum up the whole ("true to fruit", "balance"), separated by commas: they stay out of distances and map.
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    integrated: Vec<String>,
    /// Seed of every draw: the same seed gives the same figures [default: 20260101].
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
}

/// The study with its settings, or everything that stands in its way as one message.
pub fn open(arguments: &OpenArguments) -> Result<Study, String> {
    check_numbers(arguments)?;
    if let [file] = arguments.files.as_slice()
        && let Some(mut study) = saved_study(file)?
    {
        let before = study.settings.clone();
        apply_settings(&mut study, arguments)?;
        if study.settings.target.is_some() {
            study.decided_at.get_or_insert_default();
        }
        if study.settings != before {
            let what = "Settings changed after the scores were loaded, by options of the shell program.";
            // Whoever saved the study may have seen anything of it.
            study.log.push(LogEntry { late: true, ..LogEntry::new("", LogKind::Decided, what) });
        }
        return Ok(study);
    }
    let mut study = study_of(&arguments.files, &arguments.reading)?;
    // As in the page, the record holds the names of files and not where they lay.
    for file in &mut study.files {
        file.name =
            Path::new(&file.name).file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    }
    apply_settings(&mut study, arguments)?;
    if study.settings.target.is_some() {
        // Settled by the options, before anything was computed; this program has no clock.
        study.decided_at = Some(String::new());
        study.note_in_log(
            "",
            LogKind::Settled,
            "Target, margin and deciding attributes settled by options of the shell program.",
        );
    }
    Ok(study)
}

/// The study in a study file; nothing where the file is none.
fn saved_study(file: &Path) -> Result<Option<Study>, String> {
    let path = file.display();
    let bytes = std::fs::read(file)
        .map_err(|error| format!("{path}: the file cannot be opened ({error}). Check the name and the folder."))?;
    if !looks_like_study_file(&bytes) {
        return Ok(None);
    }
    let study = study_in(&String::from_utf8_lossy(&bytes)).map_err(|why| format!("{path} was not opened. {why}"))?;
    Ok(Some(study))
}

fn check_numbers(arguments: &OpenArguments) -> Result<(), String> {
    if arguments.margin.is_some_and(|margin| !(margin > 0.0 && margin.is_finite())) {
        return Err("The margin must be a number above zero, in units of the scale.".to_owned());
    }
    if arguments.profile_share.is_some_and(|share| !(share > 0.0 && share.is_finite())) {
        return Err(
            "The profile margin must be a number above zero, as a share of the margins; 0.7 is usual.".to_owned()
        );
    }
    if arguments.alpha.is_some_and(|alpha| !(alpha > 0.0 && alpha < 0.5)) {
        return Err("Alpha must lie between 0 and 0.5; 0.05 is common practice.".to_owned());
    }
    Ok(())
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
    settings.profile_share = arguments.profile_share.unwrap_or(settings.profile_share);
    settings.candidates_together |= arguments.together;
    settings.both_cups |= arguments.both_cups;
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
