//! Draws every figure of a file of scores at several widths and in all themes, to look at.
//!
//! `cargo run -p likeness-core --example gallery -- FILE TARGET FOLDER`

use likeness_core::figures::*;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::map::ellipses::EllipseRun;
use likeness_core::stats::map::product_map::{MapOptions, product_map};
use likeness_core::stats::panel::performance::performance;
use likeness_core::stats::{Analysis, analyse};
use likeness_core::study::Study;
use std::error::Error;
use std::path::Path;

const WIDTHS_PX: [f64; 3] = [1100.0, 760.0, 350.0];
const THEMES: [(&str, ThemeKind); 3] =
    [("light", ThemeKind::Light), ("dark", ThemeKind::Dark), ("print", ThemeKind::Print)];

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [file, target, folder] = &arguments[..] else {
        return Err("usage: gallery FILE TARGET FOLDER".into());
    };
    let reading = read_text(file, &std::fs::read(file)?, &ReadOptions::default());
    let mut study = reading.study.ok_or("no study in this file")?;
    study.settings.target = Some(target.clone());
    let analysis = analyse(&study);
    std::fs::create_dir_all(folder)?;
    for (theme_name, theme) in THEMES {
        for width_px in WIDTHS_PX {
            for (name, scene) in figures(&study, &analysis, theme, width_px) {
                let path = Path::new(folder).join(format!("{name}-{theme_name}-{width_px}.svg"));
                std::fs::write(path, to_svg(&scene))?;
            }
        }
    }
    Ok(())
}

fn figures(study: &Study, analysis: &Analysis, theme: ThemeKind, width_px: f64) -> Vec<(&'static str, Scene)> {
    let one = analysis.candidates.first().map(|candidate| vec![candidate.sample.clone()]);
    let few = Some(analysis.candidates.iter().take(3).map(|candidate| candidate.sample.clone()).collect());
    let spider_of = |candidates| spider(analysis, &SpiderOptions { width_px, theme, candidates, ..Default::default() });
    let differences_of =
        |candidates| differences(analysis, &DifferencesOptions { width_px, theme, candidates, ..Default::default() });
    let sample_p: Vec<_> =
        analysis.attributes.iter().map(|entry| entry.anova.as_ref().map(|a| a.p).map_err(Clone::clone)).collect();
    let panel = performance(study, &sample_p);
    let mut figures = vec![
        ("spider-one", spider_of(one.clone())),
        ("spider-few", spider_of(few)),
        ("differences-one", differences_of(one)),
        ("differences-all", differences_of(None)),
        ("verdicts", verdict_strip(analysis, &VerdictStripOptions { width_px, theme, ..Default::default() })),
        ("means", means(analysis, &MeansOptions { width_px, theme, ..Default::default() })),
        ("panel", panel_grid(&panel, &PanelGridOptions { width_px, theme, ..Default::default() })),
    ];
    if let Ok(map) = product_map(study, MapOptions::default()) {
        let clouds = EllipseRun::start(study, &map, 500, 1).and_then(|run| run.finish()).ok();
        let options = SampleMapOptions { width_px, theme, ..Default::default() };
        figures.push(("map", sample_map(analysis, &map, clouds.as_ref(), &options)));
        let options = SampleMapOptions { assessors: true, attributes: false, ..options };
        figures.push(("map-assessors", sample_map(analysis, &map, clouds.as_ref(), &options)));
    }
    figures
}
