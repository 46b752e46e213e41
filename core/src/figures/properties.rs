//! What must hold of every figure, over made-up analyses and widths.

use super::fixtures::{Chance, Flavour, Invented, invented, invented_study};
use super::*;
use crate::stats::analyse;
use crate::stats::map::ellipses::EllipseRun;
use crate::stats::map::product_map::{MapOptions, product_map};
use crate::stats::r#match::calibrated::{Chances, Truth};
use crate::stats::r#match::verdict_chances::{ChancesAt, PlannedVerdict, VerdictChances};
use crate::stats::panel::performance::performance;
use crate::stats::panel::raw_scores::raw_scores;

const FLAVOURS: [Flavour; 5] =
    [Flavour::Usual, Flavour::Constant, Flavour::NothingDefined, Flavour::Ragged, Flavour::NoTarget];

fn figures(wish: Invented, width_px: f64, theme: ThemeKind) -> Vec<Scene> {
    let analysis = invented(wish);
    let one = analysis.samples.get(1).map(|name| vec![name.clone()]);
    let highlight = analysis.attributes.last().map(|entry| entry.attribute.clone());
    let spider_of = |candidates: Option<Vec<String>>, highlight_attribute: Option<String>| {
        spider(&analysis, &SpiderOptions { width_px, theme, candidates, highlight_attribute, ..Default::default() })
    };
    let differences_of = |candidates: Option<Vec<String>>, highlight_attribute: Option<String>| {
        let options = DifferencesOptions { width_px, theme, candidates, highlight_attribute, ..Default::default() };
        differences(&analysis, &options)
    };
    vec![
        spider_of(None, None),
        spider_of(one.clone(), highlight.clone()),
        differences_of(None, None),
        differences_of(one, highlight.clone()),
        means(&analysis, &MeansOptions { width_px, theme, ..Default::default() }),
        difference_grid(
            &analysis,
            &DifferenceGridOptions { width_px, theme, highlight_attribute: highlight.clone(), ..Default::default() },
        ),
        verdict_strip(
            &analysis,
            &VerdictStripOptions { width_px, theme, highlight_attribute: highlight, ..Default::default() },
        ),
    ]
}

#[test]
fn planned_chances_are_drawn_at_every_width_and_number() {
    let counts = |truth, n_assessors, off| Chances {
        off,
        not_shown: 625 - off,
        studies: 625,
        ..Chances::none(truth, n_assessors)
    };
    let at = |assessors: usize| ChancesAt {
        assessors,
        truths: Truth::USUAL.into_iter().zip([31, 625, 0]).map(|(truth, off)| counts(truth, assessors, off)).collect(),
    };
    for numbers in [vec![], vec![12], vec![2, 8, 10, 12, 14, 16, 18, 20, 22, 24], vec![8, 24, 25, 400]] {
        let found =
            VerdictChances { planned: planned_verdict(), at: numbers.iter().map(|number| at(*number)).collect() };
        for theme in [ThemeKind::Light, ThemeKind::Dark, ThemeKind::Print] {
            for width_px in [f64::NAN, 280.0, 390.0, 760.0, 1440.0] {
                let options = VerdictChancesOptions { width_px, theme, assessors: 12, ..Default::default() };
                let scene = verdict_chances(&found, &options);
                check(&scene, &format!("{numbers:?} {theme:?} {width_px}"));
                assert_eq!(scene.table.rows.len(), 3 * numbers.len());
            }
        }
    }
}

fn planned_verdict() -> PlannedVerdict {
    PlannedVerdict {
        margins_mm: vec![10.0; 8],
        sd_of_difference_mm: 12.0,
        correlation: 0.3,
        profile_share: 0.7,
        alpha: 0.05,
        seed: 1,
        studies: 625,
    }
}

fn check(scene: &Scene, about: &str) {
    assert!(scene.height_px.is_finite() && scene.height_px > 0.0, "{about}: height");
    assert!(!scene.title.is_empty() && !scene.summary.is_empty(), "{about}: words");
    for primitive in &scene.primitives {
        check_inside(scene, primitive, about);
    }
    check_labels(scene, about);
    for row in &scene.table.rows {
        assert_eq!(row.len(), scene.table.columns.len(), "{about}: ragged table");
    }
    for region in &scene.regions {
        let center = region.shape.center();
        assert!(!region.lines.is_empty(), "{about}: a region that says nothing");
        assert!(scene.region_at(center.x, center.y, 0.0).is_some(), "{about}: a region that cannot be pointed at");
    }
    let svg = to_svg(scene);
    assert!(svg.starts_with("<svg ") && svg.trim_end().ends_with("</svg>"), "{about}: svg");
    assert!(!scene.table.columns.is_empty() || scene.regions.is_empty(), "{about}: a figure without its numbers");
    assert!(!svg.contains("NaN") && !svg.contains("inf\""), "{about}: svg numbers");
}

fn check_inside(scene: &Scene, primitive: &Primitive, about: &str) {
    let mut corners = Vec::new();
    let mut around = |at: &Point, reach: f64| {
        corners.push(Point::new(at.x - reach, at.y - reach));
        corners.push(Point::new(at.x + reach, at.y + reach));
    };
    match primitive {
        Primitive::Line { from, to, .. } => [from, to].into_iter().for_each(|at| around(at, 0.0)),
        Primitive::Polyline { points, .. } | Primitive::Polygon { points, .. } => {
            points.iter().for_each(|at| around(at, 0.0));
        }
        Primitive::Circle { center, radius, .. } | Primitive::Marker { center, radius, .. } => around(center, *radius),
        Primitive::Rectangle { area, .. } => {
            assert!(area.width >= 0.0 && area.height >= 0.0, "{about}: {primitive:?} is inside out");
            corners.extend([Point::new(area.left, area.top), Point::new(area.right(), area.bottom())]);
        }
        Primitive::Text(label) => {
            let area = label.bounds();
            corners.extend([Point::new(area.left, area.top), Point::new(area.right(), area.bottom())]);
        }
    }
    for corner in corners {
        let inside = corner.x >= -0.01
            && corner.x <= scene.width_px + 0.01
            && corner.y >= -0.01
            && corner.y <= scene.height_px + 0.01;
        assert!(inside, "{about}: {primitive:?} leaves {} by {}", scene.width_px, scene.height_px);
    }
}

fn check_labels(scene: &Scene, about: &str) {
    let labels: Vec<(&Label, Rectangle)> = scene.labels().map(|label| (label, label.bounds())).collect();
    for (index, (label, area)) in labels.iter().enumerate() {
        for (other, other_area) in &labels[index + 1..] {
            let collide = area.overlaps(other_area, 0.5);
            assert!(!collide, "{about}: \"{}\" and \"{}\" overlap: {area:?} {other_area:?}", label.text, other.text);
        }
    }
}

#[test]
fn every_figure_keeps_its_marks_inside_and_its_labels_apart() {
    let mut chance = Chance(20_240_611);
    for round in 0..100 {
        let flavour = FLAVOURS[round % FLAVOURS.len()];
        let wish =
            Invented { seed: round as u64, attributes: 1 + chance.below(40), samples: 2 + chance.below(11), flavour };
        let width_px = chance.between(320.0, 1400.0);
        for (which, scene) in figures(wish, width_px, ThemeKind::Light).iter().enumerate() {
            check(scene, &format!("{wish:?} at {width_px:.1}, figure {which}"));
        }
    }
}

#[test]
fn the_edges_of_what_is_asked_are_drawn_too() {
    for attributes in [0, 1, 2, 3, 40] {
        for samples in [0, 1, 3] {
            for flavour in FLAVOURS {
                for width_px in [320.0, f64::NAN, -5.0] {
                    let wish = Invented { seed: 7, attributes, samples, flavour };
                    for scene in figures(wish, width_px, ThemeKind::Print) {
                        check(&scene, &format!("{wish:?} at {width_px}"));
                    }
                }
            }
        }
    }
}

#[test]
fn panel_and_map_keep_their_marks_inside_and_their_labels_apart() {
    let mut chance = Chance(20_240_612);
    for round in 0..24 {
        let (attributes, samples) = (1 + chance.below(40), 2 + chance.below(7));
        let assessors = 1 + chance.below(16);
        let study = invented_study(round, attributes, samples, assessors, round % 3 == 2);
        let analysis = analyse(&study);
        let width_px = chance.between(320.0, 1400.0);
        let about = format!("{attributes} x {samples} x {assessors} of seed {round} at {width_px:.1}");
        let sample_p: Vec<_> =
            analysis.attributes.iter().map(|entry| entry.anova.as_ref().map(|a| a.p).map_err(Clone::clone)).collect();
        let panel = performance(&study, &sample_p);
        let highlight_assessor = Some(panel.assessors[0].assessor.clone());
        let grid = panel_grid(&panel, &PanelGridOptions { width_px, highlight_assessor, ..Default::default() });
        check(&grid, &format!("panel, {about}"));
        let Ok(map) = product_map(&study, MapOptions::default()) else { continue };
        let clouds = EllipseRun::start(&study, &map, 30, 1).and_then(|run| run.finish()).ok();
        for assessors in [false, true] {
            let options = SampleMapOptions { width_px, assessors, ..Default::default() };
            check(&sample_map(&analysis, &map, clouds.as_ref(), &options), &format!("map, {about}"));
        }
    }
}

#[test]
fn raw_marks_lie_inside_with_their_labels_apart_and_can_each_be_pointed_at() {
    let mut chance = Chance(20_240_613);
    for round in 0..24 {
        let (samples, assessors) = (1 + chance.below(9), 1 + chance.below(14));
        let mut study = invented_study(round, 2, samples, assessors, round % 3 == 2);
        study.correct_score(0, 1, Some(chance.between(0.0, 120.0).round()), "test", "");
        let width_px = chance.between(280.0, 1400.0);
        let found = raw_scores(&study, chance.below(assessors), 1).expect("both are in the study");
        let scene = raw_score_plot(&found, &RawScoresOptions { width_px, ..Default::default() });
        check(&scene, &format!("marks, {samples} x {assessors} of seed {round} at {width_px:.1}"));
        let drawn = found.samples.iter().flat_map(|sample| &sample.own).filter(|mark| mark.score.is_some()).count();
        let bars = found.samples.iter().filter(|sample| sample.others_mean.is_some()).count();
        assert_eq!(scene.regions.len(), if drawn > 0 { drawn + bars } else { 0 });
    }
}
