//! `likeness plan test-page` and `likeness plan demo-pages`: a page that measures printer and scanner, and filled pages to
//! try the reading on. It knows nothing of how either is drawn.

use super::Outcome;
use super::plan_ballots::paper_of;
use super::report::write;
use clap::Args;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::test_page::test_page_svg;
use likeness_core::scan::{DemoPage, Picture, demo_pages, demo_plan};
use std::path::PathBuf;

/// A page with strokes printed at known places.
///
/// Print it at 100 %, scan it as you scan ballots, and hand the picture to `likeness scan` with any plan: it tells how far
/// off the strokes were read.
#[derive(Args)]
pub struct TestPageArguments {
    /// a4 or letter.
    #[arg(long, value_parser = paper_of, default_value = "a4")]
    paper: Paper,
    /// The SVG file.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

/// Filled pages of the invented mango study as PNG, with their plan: for `likeness scan`.
#[derive(Args)]
pub struct DemoArguments {
    /// The folder for plan.json and the pages; it is made where it isn't there.
    #[arg(long, value_name = "FOLDER")]
    out: PathBuf,
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
}

pub fn test_page(arguments: &TestPageArguments) -> Outcome {
    let svg = test_page_svg(arguments.paper).map_err(|error| error.to_string())?;
    write(&arguments.out, svg.as_bytes())?;
    Ok(format!("Written: {}. Print it at 100 % and scan it.", arguments.out.display()))
}

pub fn demo_pages_in(arguments: &DemoArguments) -> Outcome {
    let folder = &arguments.out;
    std::fs::create_dir_all(folder)
        .map_err(|error| format!("{}: the folder cannot be made ({error}).", folder.display()))?;
    let plan = demo_plan(arguments.seed).map_err(|error| error.to_string())?;
    write(&folder.join("plan.json"), plan.to_json().as_bytes())?;
    let pages: Vec<DemoPage> = demo_pages(arguments.seed).map_err(|error| error.to_string())?;
    for page in &pages {
        write(&folder.join(&page.name), &as_png(&page.picture)?)?;
    }
    Ok(format!("Written: plan.json and {} filled pages in {}.", pages.len(), folder.display()))
}

fn as_png(picture: &Picture) -> Result<Vec<u8>, String> {
    let failed = |error: png::EncodingError| error.to_string();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, picture.width() as u32, picture.height() as u32);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header().map_err(failed)?;
    writer.write_image_data(picture.levels()).map_err(failed)?;
    writer.finish().map_err(failed)?;
    Ok(bytes)
}
