//! Ballots are right in millimetres, and their square codes are read by a reader that knows nothing of this project.

use likeness_core::figures::Primitive;
use likeness_core::plan::ballot::geometry::{BallotGeometry, LOWEST_PITCH_MM, Paper};
use likeness_core::plan::ballot::page_code::PageIdentity;
use likeness_core::plan::ballot::pages::{BallotPage, PX_PER_MM, ballot_pages, ballot_scene};
use likeness_core::plan::ballot::print_svg::{ballot_svg, print_document};
use likeness_core::plan::brief::attributes::{AttributeList, ListedAttribute};
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan};
use likeness_core::study::Scale;

fn plan(attributes: usize) -> TastingPlan {
    let attribute = |number| ListedAttribute {
        name: format!("attribute with a rather long name, number {number}"),
        low_end: "none".to_owned(),
        high_end: "strong".to_owned(),
        ..ListedAttribute::default()
    };
    make_plan(PlanRequest {
        brief: Brief {
            title: "Mango <nectar> & \"co\"".to_owned(),
            samples: ["Target", "A", "B"].map(|name| PlannedSample::named(name, SampleRole::Candidate)).to_vec(),
            ..Brief::default()
        },
        attributes: AttributeList { attributes: (1..=attributes).map(attribute).collect(), ..AttributeList::default() },
        assessors: (1..=4).map(|number| format!("Assessor {number}")).collect(),
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

fn pages(attributes: usize, paper: Paper) -> Vec<BallotPage> {
    ballot_pages(&plan(attributes), paper).expect("pages")
}

#[test]
fn every_line_is_100_mm_and_everything_keeps_its_distance() {
    for paper in [Paper::A4, Paper::Letter] {
        for rows in 1..=paper.most_rows() {
            let geometry = BallotGeometry::of_page(paper, 1, rows);
            assert_eq!(geometry.rows.len(), rows);
            for row in &geometry.rows {
                assert!((row.line_right.x_mm - row.line_left.x_mm - 100.0).abs() < 1e-9);
                assert!((row.dots[1].x_mm - row.line_left.x_mm - 50.0).abs() < 1e-9);
                assert!(row.dots.iter().all(|dot| dot.y_mm < row.line_left.y_mm));
                assert!((row.score_mm(row.line_left.x_mm + 47.0) - 47.0).abs() < 1e-9);
            }
            let pitches = geometry.rows.windows(2).map(|pair| pair[1].line_left.y_mm - pair[0].line_left.y_mm);
            pitches.for_each(|pitch| assert!(pitch >= LOWEST_PITCH_MM - 1e-9 && LOWEST_PITCH_MM >= 7.0));
            for target in geometry.targets {
                let edges = [target.x_mm, paper.width_mm() - target.x_mm, target.y_mm, paper.height_mm() - target.y_mm];
                let nearest = edges.iter().fold(f64::INFINITY, |least, edge| least.min(*edge));
                assert!(nearest - geometry.target_radius_mm >= 12.0);
            }
            let last = geometry.rows.last().expect("a row").line_left.y_mm;
            assert!(last + 6.0 < geometry.check_bar_left.y_mm);
            assert!((geometry.check_bar_right.x_mm - geometry.check_bar_left.x_mm - 100.0).abs() < 1e-9);
            // Four modules of quiet zone round the square: away from the target at its right and the rows below.
            let square_right = geometry.code_corner.x_mm + geometry.code_side_mm;
            assert!(geometry.targets[1].x_mm - geometry.target_radius_mm - square_right >= 3.1);
        }
    }
}

#[test]
fn long_lists_go_over_several_pages_with_numbers_that_go_on() {
    let pages = pages(50, Paper::A4);
    assert_eq!(pages.len(), 4 * 3 * 3);
    let of_first_cup = &pages[..3];
    let numbers: Vec<u32> =
        of_first_cup.iter().flat_map(|page| page.geometry.rows.iter().map(|row| row.number)).collect();
    assert_eq!(numbers, (1..=50).collect::<Vec<_>>());
    assert!(of_first_cup.iter().all(|page| page.identity.pages == 3 && page.rows.len() == page.geometry.rows.len()));
}

#[test]
fn the_printed_page_has_its_lines_where_the_geometry_says() {
    for paper in [Paper::A4, Paper::Letter] {
        let page = &pages(20, paper)[0];
        let svg = ballot_svg(page);
        let (width, height) = (paper.width_mm(), paper.height_mm());
        let opening = format!("width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\"");
        assert!(svg.contains(&opening), "{}", &svg[..200]);
        for row in &page.geometry.rows {
            let found = svg.lines().filter_map(horizontal_line).any(|(left, right, y)| {
                (left - row.line_left.x_mm).abs() < 1e-4
                    && (right - left - 100.0).abs() < 2e-4
                    && (y - row.line_left.y_mm).abs() < 1e-4
            });
            assert!(found, "row {}", row.number);
        }
        let lines =
            svg.lines().filter_map(horizontal_line).filter(|(left, right, _)| (right - left - 100.0).abs() < 2e-4);
        assert_eq!(lines.count(), 21, "20 rows and the check bar");
    }
}

/// Left, right and height of a horizontal line of the SVG.
fn horizontal_line(text: &str) -> Option<(f64, f64, f64)> {
    let value = |name: &str| -> Option<f64> {
        let (_, rest) = text.split_once(&format!(" {name}=\""))?;
        rest.split('"').next()?.parse().ok()
    };
    let (y1, y2) = (value("y1")?, value("y2")?);
    (text.starts_with("<line") && (y1 - y2).abs() < 1e-9).then_some((value("x1")?, value("x2")?, y1))
}

#[test]
fn no_text_leaves_the_sheet_or_lies_on_a_line() {
    for paper in [Paper::A4, Paper::Letter] {
        let page = &pages(22, paper)[0];
        let scene = ballot_scene(page);
        for label in scene.labels() {
            let bounds = label.bounds();
            assert!(
                bounds.left >= 12.0 * PX_PER_MM && bounds.right() <= scene.width_px - 12.0 * PX_PER_MM,
                "{}",
                label.text
            );
            for row in &page.geometry.rows {
                let y = row.line_left.y_mm * PX_PER_MM;
                let crosses = bounds.right() > row.line_left.x_mm * PX_PER_MM
                    && bounds.left < row.line_right.x_mm * PX_PER_MM
                    && bounds.top < y
                    && bounds.bottom() > y;
                assert!(!crosses, "“{}” lies on line {}", label.text, row.number);
            }
        }
    }
}

#[test]
fn an_independent_reader_reads_the_square_code() {
    // rqrr 0.11 knows nothing of how the square was made; the page is drawn at 10 dots a millimetre, dark squares only.
    for page in pages(14, Paper::A4).iter().chain(&pages(30, Paper::Letter)) {
        const DOTS_PER_MM: f64 = 10.0;
        let corner = page.geometry.code_corner;
        let side = ((page.geometry.code_side_mm + 8.0) * DOTS_PER_MM) as usize;
        let mut dark = vec![false; side * side];
        for primitive in &ballot_scene(page).primitives {
            let Primitive::Rectangle { area, .. } = primitive else { continue };
            let to_dot = |px: f64, from_mm: f64| (((px / PX_PER_MM) - from_mm + 4.0) * DOTS_PER_MM).round() as usize;
            for y in to_dot(area.top, corner.y_mm)..to_dot(area.bottom(), corner.y_mm) {
                for x in to_dot(area.left, corner.x_mm)..to_dot(area.right(), corner.x_mm) {
                    dark[y * side + x] = true;
                }
            }
        }
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| if dark[y * side + x] { 0 } else { 255 });
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1);
        let (_, text) = grids[0].decode().expect("readable");
        assert_eq!(PageIdentity::parse(&text), Ok(page.identity.clone()));
    }
}

#[test]
fn every_page_says_who_it_is_in_readable_text_too() {
    for page in pages(5, Paper::A4) {
        let texts: Vec<String> = ballot_scene(&page).labels().map(|label| label.text.clone()).collect();
        for expected in [page.assessor.clone(), format!("Sample {}", page.identity.code), page.identity.to_text()] {
            assert!(texts.contains(&expected), "{expected}: {texts:?}");
        }
        // Neither the sample nor a number on the line is shown to the assessor.
        assert!(!texts.iter().any(|text| text == "A" || text == "B" || text == "Target"));
    }
}

#[test]
fn the_document_to_print_is_whole_and_harmless() {
    let pages = pages(5, Paper::Letter);
    let html = print_document("Ballots <script>", Paper::Letter, &pages);
    assert_eq!(html.matches("<svg ").count(), 12);
    assert!(html.contains("@page{size:letter;margin:0}"));
    assert!(html.contains("Mango &lt;nectar&gt; &amp; &quot;co&quot;"));
    assert!(!html.contains("<script") && !html.contains("href") && !html.contains("src="));
}
