//! Whole studies through the engine: samples that differ, differences to the target.

use super::{CheckValue, Topic, count, data, figure};
use crate::stats::model::cells::CellTable;
use crate::stats::model::variance_closed_form::textbook_lines;
use crate::stats::{Analysis, AttributeAnalysis, DifferenceTest, Verdict, analyse};
use crate::study::{AttributeScores, Study};

const SILVER: &str = "NIST Statistical Reference Datasets, analysis of variance, AtmWtAg: certified value";
const SILICON: &str = "NIST Statistical Reference Datasets, analysis of variance, SiRstv: certified value";
const STUDENT: &str = "Student (1908), Biometrika 6, data of section IX; digits: R 4.2.2, t.test(x, y, paired = TRUE)";
const BALANCED: &str = "Invented panel, R 4.2.2: aov(y ~ sample + Error(assessor/sample))";
const POOLED: &str = "Invented panel, lmerTest 3.1-3: anova(lmer(y ~ sample + (1|assessor) + (1|assessor:sample)))";
const WITH_GAPS: &str =
    "Invented panel with six scores lost: dense Newton method in numpy, agrees with lmerTest 3.1-3 to 1e-7";
const TWO_TESTS: &str = "Invented panel, R 4.2.2: t.test(x, mu = -8, alternative = \"greater\"), t.test(x)$conf.int";

pub(super) fn sample_effects() -> Vec<CheckValue> {
    let check = |what, expected, digits, got, source| figure(Topic::SampleEffect, what, expected, digits, got, source);
    let whole = data::invented_panel().map(|study| analyse(&study));
    let gaps = data::invented_panel_with_gaps().map(|study| analyse(&study));
    let anova = |analysis: &Option<Analysis>, name: &str, read: fn(&crate::stats::Anova) -> f64| {
        let attribute = attribute_of(analysis.as_ref()?, name)?;
        attribute.anova.as_ref().ok().map(read)
    };
    let variance = attribute_in(&gaps, "case_none").and_then(|attribute| {
        attribute.model.as_ref().ok().and_then(|model| model.var_interaction.as_ref().ok().copied())
    });
    vec![
        check(
            "F of two treatments, six leading digits alike",
            15.946_733_567_793,
            9,
            f_of(&data::atomic_weight_of_silver()),
            SILVER,
        ),
        check("F of five treatments", 1.180_462_374_402_55, 11, f_of(&data::resistivity_of_silicon()), SILICON),
        check(
            "F of samples against assessor \u{d7} sample",
            7.098_791_852_020_35,
            11,
            anova(&whole, "case_none", |a| a.f),
            BALANCED,
        ),
        check("its p", 7.817_691_604_928_1e-5, 10, anova(&whole, "case_none", |a| a.p), BALANCED),
        check(
            "F where both variances of assessors are zero",
            3.951_665_467_242,
            7,
            anova(&whole, "case_chain", |a| a.f),
            POOLED,
        ),
        check("its denominator degrees of freedom", 156.0, 9, anova(&whole, "case_chain", |a| a.error_df), POOLED),
        check("F with scores lost", 6.741_207_712_954_281, 9, anova(&gaps, "case_none", |a| a.f), WITH_GAPS),
        check(
            "its degrees of freedom after Satterthwaite",
            40.731_161_229_299_39,
            6,
            anova(&gaps, "case_none", |a| a.error_df),
            WITH_GAPS,
        ),
        check("variance of assessor \u{d7} sample with scores lost", 29.700_643_554_793_782, 7, variance, WITH_GAPS),
    ]
}

pub(super) fn against_the_target() -> Vec<CheckValue> {
    let check = |what, expected, digits, got, source| figure(Topic::Verdict, what, expected, digits, got, source);
    let student = difference(Some(data::student()), "sleep gained", "first drug");
    let test = |read: fn(&DifferenceTest) -> f64| student.as_ref().map(|found| read(&found.test));
    let invented = difference(data::invented_panel(), "case_none", "B");
    let panel_test = |read: fn(&DifferenceTest) -> f64| invented.as_ref().map(|found| read(&found.test));
    vec![
        check("mean difference", -1.58, 10, student.as_ref().map(|found| found.difference), STUDENT),
        check(
            "t on 9 degrees of freedom",
            -4.062_127_683_382_04,
            11,
            student.as_ref().map(|found| found.difference / found.test.se),
            STUDENT,
        ),
        check("p of the difference", 0.002_832_890_197_384_27, 10, test(|t| t.p_difference), STUDENT),
        check("low end of the 95 % interval", -2.459_885_763_276_98, 10, test(|t| t.interval95.lower), STUDENT),
        check("high end of the 95 % interval", -0.700_114_236_723_018, 10, test(|t| t.interval95.upper), STUDENT),
        check(
            "p against \u{201c}8 mm too low\u{201d}",
            0.000_807_622_015_983_421,
            10,
            panel_test(|t| t.p_lower),
            TWO_TESTS,
        ),
        check(
            "p against \u{201c}8 mm too high\u{201d}",
            0.200_210_914_580_489,
            10,
            panel_test(|t| t.p_upper),
            TWO_TESTS,
        ),
        check("high end of the 90 % interval", 10.799_707_656_981_3, 10, panel_test(|t| t.interval90.upper), TWO_TESTS),
        count(
            Topic::Verdict,
            "verdict: 1 where not shown",
            1,
            invented.map(|found| u64::from(found.verdict == Verdict::NotShown)),
            TWO_TESTS,
        ),
    ]
}

struct Found {
    difference: f64,
    test: DifferenceTest,
    verdict: Verdict,
}

fn difference(study: Option<Study>, attribute: &str, sample: &str) -> Option<Found> {
    let analysis = analyse(&study?);
    let found = attribute_of(&analysis, attribute)?.difference_of(sample)?;
    Some(Found { difference: found.difference, test: *found.test.as_ref().ok()?, verdict: found.verdict })
}

fn attribute_in<'a>(analysis: &'a Option<Analysis>, name: &str) -> Option<&'a AttributeAnalysis> {
    attribute_of(analysis.as_ref()?, name)
}

fn attribute_of<'a>(analysis: &'a Analysis, name: &str) -> Option<&'a AttributeAnalysis> {
    analysis.attributes.iter().find(|attribute| attribute.attribute == name)
}

/// Mean square of samples over that of replicates: what one person's repeated scores give.
fn f_of(scores: &AttributeScores) -> Option<f64> {
    let replicates = scores.observations.len() / scores.samples.len().max(1);
    let lines = textbook_lines(&CellTable::new(scores), replicates);
    lines.error.map(|error| lines.sample.ms / error.ms)
}
