//! Ballots printed by a real browser: every line of the PDF is 100.0 mm on both papers, one page a sheet.

use base64::Engine;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::pages::ballot_pages;
use likeness_core::plan::ballot::print_svg::print_document;
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan};
use likeness_core::study::Scale;
use likeness_tests::browser::{Browser, file_address};
use likeness_tests::pdf_lines::{lines_to_scale, page_sizes_mm, printed_lines};
use serde_json::json;
use std::path::Path;

/// What the issue allows: a tenth of a millimetre on a line of 100.
const TOLERANCE_MM: f64 = 0.1;
/// Chromium rounds a sheet to a third of a point or so.
const SHEET_TOLERANCE_MM: f64 = 0.2;

fn plan() -> TastingPlan {
    make_plan(PlanRequest {
        brief: Brief {
            title: "Mango nectar (invented)".to_owned(),
            samples: ["Target", "A", "B"].map(|name| PlannedSample::named(name, SampleRole::Candidate)).to_vec(),
            ..Brief::default()
        },
        attributes: AttributeList::mango_nectar_example(),
        assessors: vec!["Assessor 1".to_owned()],
        scale: Scale::default(),
        replicates: 1,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 3,
        made_at: "2026-03-02 09:00".to_owned(),
    })
    .expect("a plan")
}

#[test]
fn printed_lines_are_100_mm() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let browser = Browser::start();
    for (name, paper) in [("ballot-a4.html", Paper::A4), ("ballot-letter.html", Paper::Letter)] {
        let pages = ballot_pages(&plan(), paper).expect("pages");
        let path = folder.join(name);
        std::fs::write(&path, print_document("Ballots", paper, &pages)).expect("a file can be written");
        browser.open(&file_address(&path));
        let answer = browser.cdp("Page.printToPDF", &json!({ "preferCSSPageSize": true, "printBackground": true }));
        let data = answer["data"].as_str().expect("a PDF");
        let pdf = base64::engine::general_purpose::STANDARD.decode(data).expect("base64");

        let sheets = page_sizes_mm(&pdf);
        assert_eq!(sheets.len(), pages.len(), "one page a sheet");
        for sheet in sheets {
            assert!((sheet.0 - paper.width_mm()).abs() < SHEET_TOLERANCE_MM, "{sheet:?}");
            assert!((sheet.1 - paper.height_mm()).abs() < SHEET_TOLERANCE_MM, "{sheet:?}");
        }
        let printed = printed_lines(&pdf);
        assert_eq!(printed.len(), pages.len());
        for (lines, page) in printed.iter().zip(&pages) {
            let level = lines_to_scale(lines, TOLERANCE_MM);
            assert_eq!(level.len(), page.rows.len() + 1, "the rows and the check bar");
            // Each line lies where the stored geometry says that a scan will find it.
            for row in &page.geometry.rows {
                let from_bottom = paper.height_mm() - row.line_left.y_mm;
                let there = level.iter().any(|line| {
                    (line.x1_mm - row.line_left.x_mm).abs() < TOLERANCE_MM
                        && (line.y1_mm - from_bottom).abs() < TOLERANCE_MM
                });
                assert!(there, "row {}: {level:?}", row.number);
            }
        }
    }
}
