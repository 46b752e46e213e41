//! Files to a study, as every command that takes scores reads them: the options, and what is asked back.

use clap::{Args, ValueEnum};
use likeness_core::notice::{Notice, Severity};
use likeness_core::read::{
    Answer, DuplicateChoice, GivenFile, PartsMean, Question, ReadOptions, Reading, SheetUse, read_files,
};
use likeness_core::study::Study;
use std::path::PathBuf;
use std::sync::Arc;

/// What can be said of the files beforehand.
#[derive(Args)]
pub struct ReadingArguments {
    /// Upper end of the scale [default: guessed from the scores, and said].
    #[arg(long, value_name = "X")]
    scale_max: Option<f64>,
    /// What to do where two different scores stand for one cell: stop, first or last.
    #[arg(long, value_name = "CHOICE", value_parser = ["stop", "first", "last"], default_value = "stop")]
    duplicates: String,
    /// Number unnumbered replicates in the order of the file.
    #[arg(long)]
    replicates_in_file_order: bool,
    /// Numbers that stand for a missing score, such as 99,-1.
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', allow_hyphen_values = true)]
    missing: Vec<f64>,
    /// Sheets to read scores from, by name, separated by commas [default: those that hold scores, and said].
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    sheets: Vec<String>,
    /// What each sheet stands for where several hold scores.
    #[arg(long, value_name = "WHAT")]
    sheets_are: Option<Parts>,
    /// What each file stands for where several hold scores [default: a session].
    #[arg(long, value_name = "WHAT")]
    files_are: Option<Parts>,
    /// What the upper of two header rows names.
    #[arg(long, value_name = "WHAT")]
    upper_header_is: Option<Parts>,
    /// Join a key without sessions to several sessions that share codes.
    #[arg(long)]
    codes_hold_in_every_session: bool,
    /// No column names the assessor because the numbers are means over a panel: no verdict, profile and map only.
    #[arg(long)]
    means_of_panel: bool,
    /// Put lost zeros back in front of codes: 12 becomes 012.
    #[arg(long)]
    pad_codes: bool,
    /// Where a name is blank, take the one above it.
    #[arg(long)]
    fill_names_down: bool,
}

/// What tells sheets, files or groups of columns apart.
#[derive(Clone, Copy, ValueEnum)]
enum Parts {
    Samples,
    Assessors,
    Sessions,
    Replicates,
    OneTable,
}

/// Reads the files, or says everything that stands in the way.
pub fn study_of(files: &[PathBuf], arguments: &ReadingArguments) -> Result<Study, String> {
    if arguments.scale_max.is_some_and(|maximum| !(maximum > 0.0 && maximum.is_finite())) {
        return Err("The upper end of the scale must be a number above zero.".to_owned());
    }
    let given = files.iter().map(given_file).collect::<Result<Vec<GivenFile>, String>>()?;
    let mut options = read_options(arguments);
    if !arguments.sheets.is_empty() {
        choose_sheets(&given, &arguments.sheets, &mut options)?;
    }
    study_or_message(read_files(&given, &options))
}

fn given_file(path: &PathBuf) -> Result<GivenFile, String> {
    let name = path.display().to_string();
    match std::fs::read(path) {
        Ok(bytes) => Ok(GivenFile { name, bytes: Arc::new(bytes) }),
        Err(error) => Err(format!("{name}: the file cannot be opened ({error}). Check the name and the folder.")),
    }
}

/// Turns names of sheets into what each sheet is used for; keys stay keys.
fn choose_sheets(files: &[GivenFile], wanted: &[String], options: &mut ReadOptions) -> Result<(), String> {
    let found = read_files(files, options).preview.sheets;
    let name_of = |index: usize| found[index].sheet.clone().unwrap_or_else(|| found[index].file.clone());
    if let Some(unknown) = wanted.iter().find(|name| !(0..found.len()).any(|index| name_of(index) == **name)) {
        let names: Vec<String> = (0..found.len()).map(name_of).collect();
        return Err(format!("There is no sheet called “{unknown}”. Choose from: {}.", names.join(", ")));
    }
    for (index, sheet) in found.iter().enumerate() {
        let is_wanted = wanted.contains(&name_of(index));
        match (is_wanted, sheet.sheet_use) {
            (true, _) => options.sheet_uses.insert(index, SheetUse::Scores),
            (false, SheetUse::Scores) => options.sheet_uses.insert(index, SheetUse::LeftOut),
            (false, _) => None,
        };
    }
    Ok(())
}

fn read_options(arguments: &ReadingArguments) -> ReadOptions {
    let meaning = |parts: Option<Parts>| {
        parts.map(|parts| match parts {
            Parts::Samples => PartsMean::Samples,
            Parts::Assessors => PartsMean::Assessors,
            Parts::Sessions => PartsMean::Sessions,
            Parts::Replicates => PartsMean::Replicates,
            Parts::OneTable => PartsMean::Nothing,
        })
    };
    ReadOptions {
        scale_maximum: arguments.scale_max,
        missing_codes: arguments.missing.clone(),
        number_replicates_in_file_order: arguments.replicates_in_file_order,
        duplicates: match arguments.duplicates.as_str() {
            "first" => DuplicateChoice::KeepFirst,
            "last" => DuplicateChoice::KeepLast,
            _ => DuplicateChoice::Stop,
        },
        sheets_mean: meaning(arguments.sheets_are),
        files_mean: meaning(arguments.files_are),
        groups_mean: meaning(arguments.upper_header_is),
        codes_hold_in_every_session: arguments.codes_hold_in_every_session,
        means_of_panel: arguments.means_of_panel,
        pad_codes: arguments.pad_codes,
        fill_names_down: arguments.fill_names_down,
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
        "sheets_mean" => " Answer with --sheets-are, or name the sheets to read with --sheets.",
        "files_mean" => " Answer with --files-are.",
        "groups_mean" => " Answer with --upper-header-is.",
        "codes_hold_in_every_session" => " Answer with --codes-hold-in-every-session.",
        "pad_codes" => " Answer with --pad-codes.",
        "fill_names_down" => " Answer with --fill-names-down.",
        "roles" if question.choices.iter().any(|choice| choice.answer == Answer::MeansOfPanel) => {
            " Answer with --means-of-panel if nobody's scores but means are in it, or open the file in the page."
        }
        _ => " Open the file in the page to answer.",
    };
    let at = if places.is_empty() { String::new() } else { format!(" ({})", places.join("; ")) };
    format!("{}{at}{answer}", question.what)
}
