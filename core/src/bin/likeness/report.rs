//! `likeness report`: a study file or a file of scores in, the report out as one HTML document.

use super::Outcome;
use super::opening::{OpenArguments, open};
use clap::Args;
use likeness_core::write::report_html::report_html;
use likeness_core::write::study_file::study_file_text;
use std::path::{Path, PathBuf};

/// Writes the report of a study: the same bytes that the page saves for the same study.
///
/// From a study file everything comes out as it was decided in the page. From a file of scores the options say what is
/// decided; what nobody stated is printed as not stated.
#[derive(Args)]
pub struct ReportArguments {
    #[command(flatten)]
    open: OpenArguments,
    /// Where the report goes.
    #[arg(long, value_name = "FILE", default_value = "report.html")]
    out: PathBuf,
    /// Writes the study file too: raw scores, settings, exclusions and log, to be opened in the page.
    #[arg(long, value_name = "FILE")]
    study_out: Option<PathBuf>,
}

/// Writes the study file alone.
#[derive(Args)]
pub struct SaveArguments {
    #[command(flatten)]
    open: OpenArguments,
    /// Where the study file goes.
    #[arg(long, value_name = "FILE", default_value = "study.likeness.json")]
    out: PathBuf,
}

pub fn run(arguments: &ReportArguments) -> Outcome {
    let study = open(&arguments.open)?;
    let mut said = vec![write(&arguments.out, report_html(&study).as_bytes())?];
    if let Some(path) = &arguments.study_out {
        said.push(write(path, study_file_text(&study).as_bytes())?);
    }
    Ok(said.join("\n"))
}

pub fn save(arguments: &SaveArguments) -> Outcome {
    let study = open(&arguments.open)?;
    write(&arguments.out, study_file_text(&study).as_bytes())
}

/// Writes a file and says so.
pub fn write(path: &Path, bytes: &[u8]) -> Outcome {
    let name = path.display();
    std::fs::write(path, bytes)
        .map_err(|error| format!("{name}: the file cannot be written ({error}). Check the folder and its rights."))?;
    Ok(format!("Written: {name}, {} bytes.", bytes.len()))
}
