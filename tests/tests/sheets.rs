//! Reading of text tables: real panels load whole, and every kind of bad sheet gets its exact notice.

use likeness_core::read::{Answer, ReadOptions, Reading, TableShape, read_text};
use likeness_core::stats::map::product_map::{MapBasis, MapOptions, product_map};
use likeness_core::stats::{Verdict, analyse};
use likeness_core::study::Study;
use std::path::Path;

fn reference(name: &str) -> Reading {
    reference_by(name, &ReadOptions::default())
}

fn reference_by(name: &str, options: &ReadOptions) -> Reading {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/data").join(name);
    let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    read_text(name, &bytes, options)
}

fn study(name: &str) -> Study {
    let reading = reference(name);
    reading.study.unwrap_or_else(|| panic!("{name}: {:#?}", reading.notices))
}

#[test]
fn the_real_panel_loads_whole_from_wide_and_from_long_form() {
    let wide = study("tvbo8_wide.csv");
    let counts = reference("tvbo8_wide.csv").preview.counts;
    // 8 assessors x 12 samples x 2 replicates on 8 attributes: lmerTest 3.1-3, data set TVbo.
    assert_eq!((counts.assessors, counts.samples, counts.attributes, counts.replicates), (8, 12, 8, 2));
    assert_eq!((counts.servings, counts.scores, counts.missing), (192, 1536, 0));
    let long = study("tvbo8_long.csv");
    assert_eq!(reference("tvbo8_long.csv").preview.shape, Some(TableShape::Long));
    assert_eq!(wide.assessors, long.assessors);
    assert_eq!(wide.samples, long.samples);
    assert_eq!(wide.attributes, long.attributes);
    assert_eq!(wide.scale, long.scale);
    let in_long = |serving: usize| long.servings.iter().position(|other| *other == wide.servings[serving]).unwrap();
    for serving in 0..wide.servings.len() {
        for attribute in 0..wide.attributes.len() {
            assert_eq!(wide.score(serving, attribute), long.score(in_long(serving), attribute));
        }
    }
    assert_eq!(wide.samples[0].name, "TV1:1");
    assert_eq!(wide.assessors[0].name, "1");
    assert!((wide.scale.maximum - 15.0).abs() < 1e-12, "TVbo is scored on a line of 15 (lmerTest manual)");
}

#[test]
fn every_reference_file_with_assessors_loads() {
    let sizes = [
        ("boundary_wide.csv", 9, 6, 5, 162),
        ("boundary_unbal_wide.csv", 9, 6, 5, 156),
        ("machines_long.csv", 6, 3, 1, 54),
        ("machines_unbal_long.csv", 6, 3, 1, 44),
        ("ergostool_long.csv", 9, 4, 1, 36),
        ("unbal_A_tvbo8_wide.csv", 8, 12, 8, 185),
    ];
    for (name, assessors, samples, attributes, servings) in sizes {
        let study = study(name);
        let found = (study.assessors.len(), study.samples.len(), study.attributes.len(), study.servings.len());
        assert_eq!(found, (assessors, samples, attributes, servings), "{name}");
    }
}

#[test]
fn tables_without_assessors_say_what_is_missing() {
    for name in ["oliveoil_wide.csv", "oliveoil_sensory_long.csv", "usarrests_wide.csv", "plantgrowth.csv"] {
        let reading = reference(name);
        assert!(reading.study.is_none(), "{name}");
        assert!(
            reading.notices[0].what.starts_with("No column was found for the assessor"),
            "{name}: {:?}",
            reading.notices
        );
        assert!(!reading.preview.header.is_empty());
    }
}

#[test]
fn means_over_a_panel_can_be_opened_for_profile_and_map_and_give_no_verdict() {
    let asked = &reference("oliveoil_sensory_long.csv").questions[0];
    let answer = asked.choices.iter().find(|choice| choice.answer == Answer::MeansOfPanel).expect("it is offered");
    assert_eq!(answer.label, "Nobody: these are means over a panel, for profile and map only");
    let means = ReadOptions::default().answered(&answer.answer);
    let reading = reference_by("oliveoil_sensory_long.csv", &means);
    let told = |notice: &&likeness_core::notice::Notice| notice.what.contains("were read as means over a panel");
    assert_eq!(reading.notices.iter().filter(told).count(), 1, "{:?}", reading.notices);
    let mut study = reading.study.expect("16 oils, 6 attributes");
    // 16 oils x 6 attributes: R package pls 2.8-1, data set oliveoil (Massart et al. 1998).
    assert_eq!((study.assessors.len(), study.samples.len(), study.attributes.len()), (1, 16, 6));
    assert_eq!(study.assessors[0].name, "mean of the panel");
    study.settings.target = Some("G1".to_owned());
    let analysis = analyse(&study);
    assert_eq!(analysis.attributes[0].mean_of("G1"), Some(21.4));
    assert!(analysis.candidates.iter().all(|one| one.verdict == Verdict::NotShown), "no verdict without assessors");
    let states = ReadOptions { scale_maximum: Some(400.0), ..means };
    let study = reference_by("usarrests_wide.csv", &states).study.expect("50 states, 4 figures");
    let map = product_map(&study, MapOptions { basis: MapBasis::Correlation, ..MapOptions::default() }).unwrap();
    // R 4.2.2: prcomp(USArrests, scale. = TRUE).
    for (axis, sd) in map.axes.iter().zip([1.5749, 0.9949, 0.5971, 0.4164]) {
        assert!((axis.variance.sqrt() - sd).abs() < 5e-5, "{axis:?}");
    }
}
