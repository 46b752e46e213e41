//! `likeness plan ballots`: the ballot pages of a plan as files at true size. It knows nothing of how a page looks.

use super::Outcome;
use super::report::write;
use super::show::json_text;
use clap::Args;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::page_list::PageList;
use likeness_core::plan::ballot::pages::ballot_pages;
use likeness_core::plan::ballot::print_svg::ballot_svg;
use likeness_core::plan::tasting_plan::TastingPlan;
use std::path::{Path, PathBuf};

/// The ballot pages, each as SVG at true size, and pages.json with what is on them.
#[derive(Args)]
pub struct BallotsArguments {
    /// The plan.
    plan: PathBuf,
    /// The folder for the pages; it is made where it isn't there.
    #[arg(long, value_name = "FOLDER")]
    out: PathBuf,
    /// a4 or letter [default: what the plan says, or a4].
    #[arg(long, value_parser = paper_of)]
    paper: Option<Paper>,
}

pub fn run(arguments: &BallotsArguments) -> Outcome {
    let plan = plan_in(&arguments.plan)?;
    let paper = arguments.paper.or(plan.paper).unwrap_or_default();
    let pages = ballot_pages(&plan, paper).map_err(|error| error.to_string())?;
    let folder = &arguments.out;
    std::fs::create_dir_all(folder)
        .map_err(|error| format!("{}: the folder cannot be made ({error}).", folder.display()))?;
    for (index, page) in pages.iter().enumerate() {
        write(&folder.join(file_of(index)), ballot_svg(page).as_bytes())?;
    }
    let list = PageList::of(&plan, paper, &pages, file_of);
    let list = serde_json::to_value(&list).map_err(|error| error.to_string())?;
    write(&folder.join("pages.json"), json_text(&list)?.as_bytes())?;
    Ok(format!("Written: {} pages and pages.json in {}.", pages.len(), folder.display()))
}

/// The plan in a file, or why there is none.
pub fn plan_in(path: &Path) -> Result<TastingPlan, String> {
    let name = path.display();
    let text = std::fs::read_to_string(path)
        .map_err(|error| format!("{name}: the plan cannot be read ({error}). Check the name and the folder."))?;
    TastingPlan::from_json(&text).map_err(|error| format!("{name}: {error}"))
}

/// The sheet of a name.
pub fn paper_of(name: &str) -> Result<Paper, String> {
    match name.to_ascii_lowercase().as_str() {
        "a4" => Ok(Paper::A4),
        "letter" => Ok(Paper::Letter),
        _ => Err("the paper is a4 or letter".to_owned()),
    }
}

fn file_of(index: usize) -> String {
    format!("page-{:03}.svg", index + 1)
}
