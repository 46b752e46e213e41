//! `likeness scan`: filled ballot pages from pictures, as text or JSON, and the study they make. It knows nothing of
//! how a page is read.

use super::Outcome;
use super::pictures::each_picture_in;
use super::plan_ballots::plan_in;
use super::report::write;
use super::show::json_text;
use clap::Args;
use likeness_core::run::to_the_end;
use likeness_core::scan::{Answer, AnsweredPage, KnownPages, PictureRun};
use likeness_core::write::study_file::study_file_text;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Reads filled ballot pages from pictures: PNG, JPEG and PDFs of scanners, scanned or photographed.
///
/// A row is read, asked about, or empty. Only rows that are read become scores of the study; a person looks at the others.
/// Accuracy was measured on generated pages: check your own scanner and pens on a page with known marks before you trust it.
#[derive(Args)]
pub struct ScanArguments {
    /// The plan that the pages were printed from.
    plan: PathBuf,
    #[arg(required = true)]
    pictures: Vec<PathBuf>,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
    /// Writes the study with the scores that were read.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

pub fn run(arguments: &ScanArguments) -> Outcome {
    let plan = plan_in(&arguments.plan)?;
    let known = Arc::new(KnownPages::of(&plan).map_err(|error| error.to_string())?);
    let mut answer = Answer::default();
    for path in &arguments.pictures {
        let file = name_of(path);
        each_picture_in(path, |page, picture| {
            let file = page.map_or_else(|| file.clone(), |page| format!("{file}, page {page}"));
            match picture {
                Err(why) => answer.add_unopened(&file, &why),
                Ok(picture) => match to_the_end(Ok(PictureRun::new(Arc::clone(&known), picture))) {
                    Ok(found) => answer.add(&file, &known, found),
                    Err(reason) => answer.add_unopened(&file, &reason.to_string()),
                },
            }
        });
    }
    if let Some(path) = &arguments.out {
        write(path, study_file_text(&answer.study(&plan, &known, "")).as_bytes())?;
    }
    if arguments.json {
        return json_text(&serde_json::to_value(&answer).map_err(|error| error.to_string())?);
    }
    Ok(in_words(&answer))
}

/// As in the page, the record holds the names of files and not where they lay.
fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

fn in_words(answer: &Answer) -> String {
    let [pages, read, asked, empty, failed] = answer.counts();
    let mut lines = vec![format!(
        "{pages} pages read, {failed} not; {read} scores read, {asked} rows to be looked at, {empty} without a mark."
    )];
    answer.pages.iter().for_each(|page| lines.extend(page_in_words(page)));
    lines.join("\n")
}

fn page_in_words(page: &AnsweredPage) -> Vec<String> {
    let code = page.code_text.as_deref().unwrap_or("no page known");
    let mut lines = vec![String::new(), format!("{}  {code}  {}", page.file, page.status)];
    if !page.why.is_empty() {
        lines.push(format!("  {}", page.why));
    }
    for row in &page.rows {
        let score = row.score_mm.map_or_else(|| "-".to_owned(), |score| format!("{score:.1}"));
        let line = format!("{:>4}  {:>5}  {:<5}  {}  {}", row.row, score, row.state, row.attribute, row.why);
        lines.push(line.trim_end().to_owned());
    }
    lines
}
