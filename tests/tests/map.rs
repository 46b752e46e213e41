//! The map against outside figures, and what must hold for any map.

use likeness_core::stats::map::ellipses::EllipseRun;
use likeness_core::stats::map::product_map::{MapBasis, MapOptions, ProductMap, product_map};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use likeness_tests::studies::{RandomStudy, close, expected, wide};
use serde_json::Value;

/// Squared radius in standard deviations, see `an_ellipse_holds_its_share`.
const HOTELLING_12: f64 = 9.026_206_233_286_88;

fn options(basis: MapBasis) -> MapOptions {
    MapOptions { basis, with_integrated: false }
}

/// Compares a map with R's prcomp; the sign of an axis is arbitrary there, so one sign an axis is taken from it.
fn compare(got: &ProductMap, wanted: &Value, tolerance: f64) {
    let list = |value: &Value| value.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect::<Vec<f64>>();
    let (variances, shares) = (list(&wanted["eigenvalues"]), list(&wanted["explained"]));
    assert_eq!(got.axes.len(), variances.len());
    close(got.total_variance, wanted["total_variance"].as_f64().unwrap(), tolerance, "total variance");
    for (axis, found) in got.axes.iter().enumerate() {
        close(found.variance, variances[axis], tolerance, "variance");
        close(found.share, shares[axis], tolerance, "share");
        let loadings: Vec<f64> = got.attributes.iter().map(|a| list(&wanted["loadings"][&a.attribute])[axis]).collect();
        let sign = loadings.iter().zip(&got.attributes).map(|(w, a)| w * a.loadings[axis]).sum::<f64>().signum();
        for (wanted, attribute) in loadings.iter().zip(&got.attributes) {
            close(sign * attribute.loadings[axis], *wanted, tolerance, "loading");
        }
        for sample in &got.samples {
            let score = list(&wanted["scores"][&sample.sample])[axis];
            close(sign * sample.position[axis], score, 100.0 * tolerance, "position");
        }
        let largest = got.attributes.iter().map(|a| a.loadings[axis]).max_by(|a, b| a.abs().total_cmp(&b.abs()));
        assert!(largest.unwrap() > 0.0, "the largest weight points to the positive side");
    }
}

#[test]
fn a_real_panel_by_covariance_and_by_correlation() {
    // R 4.2.2 on lmerTest::TVbo 3.1-3: prcomp(M, center = TRUE, scale. = FALSE | TRUE), in tvbo8.json under "pca".
    let study = wide("tvbo8_wide.csv");
    let expected = expected("tvbo8.json");
    let covariance = product_map(&study, options(MapBasis::Covariance)).unwrap();
    compare(&covariance, &expected["pca"]["covariance"], 1e-10);
    let correlation = product_map(&study, options(MapBasis::Correlation)).unwrap();
    compare(&correlation, &expected["pca"]["correlation"], 1e-10);
    for (got, printed) in covariance.axes.iter().zip([0.414, 0.330, 0.176]) {
        assert!((got.share - printed).abs() <= 0.0005);
    }
    for (got, printed) in correlation.axes.iter().zip([0.451, 0.275, 0.178]) {
        assert!((got.share - printed).abs() <= 0.0005);
    }
}

#[test]
fn arrests_in_fifty_states() {
    // R 4.2.2: prcomp(USArrests, scale. = TRUE); standard deviations also printed in James et al., An Introduction to
    // Statistical Learning, chapter 12.
    let study = wide("usarrests_wide.csv");
    let expected = expected("published.json");
    let correlation = product_map(&study, options(MapBasis::Correlation)).unwrap();
    for (axis, sd) in correlation.axes.iter().zip([1.5749, 0.9949, 0.5971, 0.4164]) {
        assert!((axis.variance.sqrt() - sd).abs() < 5e-5, "{axis:?}");
    }
    compare(&correlation, &expected["USArrests"]["pca"]["correlation"], 1e-10);
    let covariance = product_map(&study, options(MapBasis::Covariance)).unwrap();
    compare(&covariance, &expected["USArrests"]["pca"]["covariance"], 1e-10);
}

#[test]
fn identities_of_any_map() {
    for seed in 0..12 {
        let shape = RandomStudy {
            samples: 2 + seed as usize % 6,
            attributes: 1 + (seed as usize * 5) % 9,
            missing: if seed % 3 == 0 { 0.1 } else { 0.0 },
            replicates: 3,
            ..RandomStudy::default()
        };
        let study = shape.draw(seed);
        for basis in [MapBasis::Covariance, MapBasis::Correlation] {
            let map = product_map(&study, options(basis)).unwrap();
            assert!(map.axes.len() <= (shape.samples - 1).min(shape.attributes));
            let sum: f64 = map.axes.iter().map(|axis| axis.variance).sum();
            close(sum / map.total_variance, 1.0, 1e-10, "variances add up to the total");
            if basis == MapBasis::Correlation {
                close(map.total_variance, shape.attributes as f64, 1e-10, "the trace of a correlation matrix");
            }
            for axis in 0..map.axes.len() {
                let positions: Vec<f64> = map.samples.iter().map(|sample| sample.position[axis]).collect();
                close(positions.iter().sum::<f64>(), 0.0, 1e-9, "positions are centred");
                let variance = positions.iter().map(|x| x * x).sum::<f64>() / (shape.samples - 1) as f64;
                close(variance / map.axes[axis].variance, 1.0, 1e-9, "positions have the variance of their axis");
                let unit: f64 = map.attributes.iter().map(|a| a.loadings[axis] * a.loadings[axis]).sum();
                close(unit, 1.0, 1e-10, "weights have unit length");
            }
            // Distances between samples are those of their profiles: nothing is lost on all axes together.
            let profile = |s: usize| -> Vec<f64> {
                map.attributes
                    .iter()
                    .map(|a| a.loadings.iter().zip(&map.samples[s].position).map(|(l, p)| l * p).sum())
                    .collect()
            };
            let apart: f64 = profile(0).iter().zip(&profile(1)).map(|(x, y)| (x - y).powi(2)).sum();
            let on_map: f64 =
                map.samples[0].position.iter().zip(&map.samples[1].position).map(|(x, y)| (x - y).powi(2)).sum();
            close(on_map, apart, 1e-9, "distance");
        }
    }
}

#[test]
fn assessors_average_to_the_panel_on_its_own_axes() {
    for basis in [MapBasis::Covariance, MapBasis::Correlation] {
        let map = product_map(&RandomStudy::default().draw(5), options(basis)).unwrap();
        for (index, sample) in map.samples.iter().enumerate() {
            for axis in 0..map.axes.len() {
                let own = map.assessors.iter().map(|one| one.samples[index].as_ref().unwrap().position[axis]);
                close(own.sum::<f64>() / 8.0, sample.position[axis], 1e-10, "mean of assessors");
            }
        }
    }
}

#[test]
fn ellipses_are_the_same_for_any_slicing_and_shrink_with_the_panel() {
    let shape = RandomStudy { assessors: 6, ..RandomStudy::default() };
    let study = shape.draw(1);
    let map = product_map(&study, options(MapBasis::Covariance)).unwrap();
    let whole = EllipseRun::start(&study, &map, 300, 9).unwrap().finish().unwrap();
    let mut sliced = EllipseRun::start(&study, &map, 300, 9).unwrap();
    while !sliced.is_done() {
        sliced.advance(7);
    }
    assert_eq!(whole, sliced.finish().unwrap());
    assert_eq!((whole.draws, whole.redrawn), (300, 0));

    // The spread of a mean of resampled assessors is known: variance between assessors (divisor n) / n. On a map of one
    // attribute and level taken off, that is the variance of each assessor's deviation from their own mean.
    let single = RandomStudy { attributes: 1, replicates: 1, ..RandomStudy::default() }.draw(3);
    let map = product_map(&single, options(MapBasis::Covariance)).unwrap();
    let clouds = EllipseRun::start(&single, &map, 20_000, 4).unwrap().finish().unwrap();
    for (index, cloud) in clouds.samples.iter().enumerate() {
        let own: Vec<f64> = map.assessors.iter().map(|one| one.samples[index].as_ref().unwrap().position[0]).collect();
        let mean = own.iter().sum::<f64>() / 8.0;
        let variance = own.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / 64.0;
        // The variance of 20,000 draws has a standard error near 1 %.
        close(cloud.covariance[0][0] / variance, 1.0, 0.05, "variance of the cloud");
    }
}

#[test]
fn an_ellipse_holds_its_share() {
    let study = RandomStudy { assessors: 12, ..RandomStudy::default() }.draw(8);
    let map = product_map(&study, options(MapBasis::Covariance)).unwrap();
    let clouds = EllipseRun::start(&study, &map, 2000, 1).unwrap().finish().unwrap();
    let ellipse = clouds.samples[0].ellipse(0, 1, 0.95).unwrap();
    // Hotelling for 12 assessors: 2 * 11 / 10 * scipy.stats.f.ppf(.95, 2, 10) = 9.02620623328688 (scipy 1.17.1): axes squared add
    // up to so many times the two variances.
    let cloud = &clouds.samples[0].widened;
    let together = ellipse.half_length.powi(2) + ellipse.half_width.powi(2);
    close(together / (HOTELLING_12 * (cloud[0][0] + cloud[1][1])), 1.0, 1e-9, "axes");
    // With twelve assessors the draws alone are too narrow: by 12 / 11 for their divisor, and by axes that move.
    let drawn = &clouds.samples[0].covariance;
    for (wide, narrow) in [(cloud[0][0], drawn[0][0]), (cloud[1][1], drawn[1][1])] {
        assert!(wide > narrow * 12.0 / 11.0, "{clouds:?}");
    }
    assert!(ellipse.half_length >= ellipse.half_width);
    assert!(clouds.samples[0].ellipse(0, 9, 0.95).is_err());
    assert!(clouds.samples[0].ellipse(0, 1, 1.0).is_err());
    let few = RandomStudy { assessors: 4, ..RandomStudy::default() }.draw(8);
    let map = product_map(&few, options(MapBasis::Covariance)).unwrap();
    let clouds = EllipseRun::start(&few, &map, 50, 1).unwrap().finish().unwrap();
    assert!(clouds.samples[0].ellipse(0, 1, 0.95).unwrap_err().because.contains("fewer than five"));
}

#[test]
fn shares_of_axes_have_intervals_about_them() {
    let study = RandomStudy { assessors: 12, ..RandomStudy::default() }.draw(8);
    let map = product_map(&study, options(MapBasis::Correlation)).unwrap();
    let clouds = EllipseRun::start(&study, &map, 300, 1).unwrap().finish().unwrap();
    assert_eq!(clouds.share_intervals.len(), map.axes.len().min(4));
    for (axis, interval) in map.axes.iter().zip(&clouds.share_intervals) {
        let interval = interval.as_ref().unwrap();
        assert!(0.0 < interval.lower && interval.lower < axis.share && axis.share < interval.upper);
        assert!(interval.upper < 1.0);
    }
    // Two samples differ along one line: all of it lies on that axis whatever the panel.
    let two = RandomStudy { samples: 2, ..RandomStudy::default() }.draw(8);
    let map = product_map(&two, options(MapBasis::Covariance)).unwrap();
    let clouds = EllipseRun::start(&two, &map, 50, 1).unwrap().finish().unwrap();
    assert!(clouds.share_intervals[0].as_ref().unwrap_err().because.contains("whatever the panel"));
}

fn small(samples: &[&str], scores: impl Fn(usize, usize, usize) -> f64) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for (a, assessor) in ["Ada", "Ben", "Cyd", "Dan"].into_iter().enumerate() {
        for (s, sample) in samples.iter().enumerate() {
            for (k, attribute) in ["green", "ripe", "sweet"].into_iter().enumerate() {
                let address = ScoreAddress { assessor, sample, replicate: 1, ..ScoreAddress::default() };
                builder.add(address, attribute, scores(a, s, k)).unwrap();
            }
        }
    }
    builder.finish("small")
}

#[test]
fn few_samples_are_told_what_their_map_is_worth() {
    let wild = |a: usize, s: usize, k: usize| 10.0 * (s * s) as f64 + ((7 * s + 3 * k + a) % 5) as f64 * 6.0;
    let names = ["A", "B", "C", "D", "E"];
    let cautions = |n: usize| product_map(&small(&names[..n], wild), MapOptions::default()).unwrap();
    assert!(cautions(2).cautions[0].starts_with("Two samples differ along one line only"));
    assert_eq!(cautions(2).axes.len(), 1);
    assert!(cautions(3).cautions[0].starts_with("Three samples always fit on two axes"));
    assert_eq!(cautions(3).axes.len(), 2);
    assert!(cautions(4).cautions[0].starts_with("Four samples have three axes at most"));
    assert!(cautions(5).cautions.is_empty());
    let one = product_map(&small(&names[..1], wild), MapOptions::default());
    assert_eq!(one.unwrap_err().because, "a map takes two samples at least");
}

#[test]
fn a_constant_attribute_is_left_out_and_named() {
    let study = small(&["A", "B", "C"], |a, s, k| if k == 1 { 44.4 } else { (10 * s * (k + 1) + a) as f64 });
    for basis in [MapBasis::Covariance, MapBasis::Correlation] {
        let map = product_map(&study, options(basis)).unwrap();
        assert_eq!(map.left_out.len(), 1);
        assert_eq!(map.left_out[0].what, "ripe");
        assert_eq!(map.left_out[0].because, "all samples have the same mean on it");
        assert!(map.cautions.iter().any(|caution| caution.contains("one axis only")));
    }
    let flat = product_map(&small(&["A", "B"], |_, _, _| 3.0), MapOptions::default());
    assert!(flat.unwrap_err().because.contains("no attribute"));
}
