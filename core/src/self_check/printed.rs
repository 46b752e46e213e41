//! Figures that need no scores: corrections for many tests, counts, panel sizes, codes and orders.

use super::{CheckValue, Topic, count, figure};
use crate::numeric::simultaneous::{dunnett_two_sided_quantile, studentized_range_quantile};
use crate::plan::orders::balance::BalanceCounts;
use crate::plan::orders::codes::{check_code, damm_digit, self_checking_pool};
use crate::plan::orders::williams::williams_rows;
use crate::stats::r#match::power::{PanelPlan, PlannedTest, difference_power, verdict_power};
use crate::stats::samples::multiplicity::{benjamini_hochberg, holm};
use crate::stats::tests::d_prime::share_of_d_prime;
use crate::stats::tests::discrimination::{
    DiscriminationOptions, DiscriminationTest, evaluate, minimum_correct, required_number,
};

const FALSE_FINDINGS: &str = "Benjamini & Hochberg (1995), Journal of the Royal Statistical Society B 57, section 4.1";
const P_ADJUST: &str = "The p of Benjamini & Hochberg (1995) section 4.1; R 4.2.2: p.adjust(p, \"holm\")";
const RANGE: &str = "Double quadrature; R 4.2.2: qtukey(.95, 4, 10) = 4.3265821";
const DUNNETT: &str = "Quadrature; mvtnorm 1.1-3: qmvt to three digits";
const BINOMIAL: &str = "Exact binomial tails, R 4.2.2: qbinom, pbinom";
const ISO_5495: &str = "ISO 5495:2005/Amd 1:2016, worked example (seen in a public text)";
const THURSTONE: &str = "mpmath 1.3, integral over Thurstone's model of the triangle test";
const INTEGRAL: &str = "scipy 1.17.1: integrate.quad of stats.chi.pdf times the normal probability";
const NONCENTRAL: &str = "scipy 1.17.1: stats.nct.sf + stats.nct.cdf";
const DAMM: &str = "H. M. Damm (2004), Total anti-symmetrische Quasigruppen: 572 gets the check digit 4";
const WILLIAMS: &str = "E. J. Williams (1949), Australian Journal of Scientific Research A 2, 149-168: perfect balance";

/// The fifteen p of Benjamini & Hochberg (1995), section 4.1.
const FIFTEEN_P: [f64; 15] = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0,
];

pub(super) fn comparisons() -> Vec<CheckValue> {
    let found = benjamini_hochberg(&FIFTEEN_P).into_iter().filter(|p| *p <= 0.05).count();
    let careful = holm(&FIFTEEN_P);
    // Five candidates against one target, all with as many scores: every correlation is a half.
    let halves = [0.5_f64.sqrt(); 3];
    vec![
        count(Topic::Comparisons, "found of 15 at 5 %, false findings held", 4, Some(found as u64), FALSE_FINDINGS),
        figure(Topic::Comparisons, "third of the 15 p after Holm", 0.0247, 10, careful.get(2).copied(), P_ADJUST),
        figure(
            Topic::Comparisons,
            "studentised range, 4 means, 10 df, 5 %",
            4.326_582_115_731_32,
            9,
            studentized_range_quantile(0.05, 4, 10.0),
            RANGE,
        ),
        figure(
            Topic::Comparisons,
            "three against one (Dunnett), 10 df, 5 %",
            2.758_996_978_373_56,
            9,
            dunnett_two_sided_quantile(0.05, &halves, 10.0),
            DUNNETT,
        ),
    ]
}

pub(super) fn counting() -> Vec<CheckValue> {
    let least =
        |what, expected, test, n| count(Topic::Counting, what, expected, minimum_correct(test, n, 0.05), BINOMIAL);
    let example = evaluate(DiscriminationTest::TwoAfc, 30, 21, DiscriminationOptions::default()).ok();
    let share = example.as_ref().and_then(|found| found.distinguishers.as_ref().ok()).map(|found| found.lower_bound95);
    let needed = required_number(DiscriminationTest::Triangle, 0.05, 0.9, 0.3).ok().map(|found| found.n);
    vec![
        least("right answers that a triangle of 24 needs", 13, DiscriminationTest::Triangle, 24),
        least("right answers that a triangle of 60 needs", 27, DiscriminationTest::Triangle, 60),
        least("right answers that a duo-trio of 36 needs", 24, DiscriminationTest::DuoTrio, 36),
        CheckValue {
            tolerance: 0.001,
            ..figure(Topic::Counting, "lower bound of distinguishers, 21 of 30", 0.125, 3, share, ISO_5495)
        },
        figure(
            Topic::Counting,
            "right in a triangle at d\u{2032} = 1",
            0.418_046_674_714_639,
            11,
            share_of_d_prime(DiscriminationTest::Triangle, 1.0),
            THURSTONE,
        ),
        count(Topic::Counting, "triangles for a power of 90 % where 30 % can tell", 53, needed, BINOMIAL),
    ]
}

pub(super) fn planning() -> Vec<CheckValue> {
    let plan = |assessors| PanelPlan { assessors, replicates: 2, sd_interaction: 5.0, sd_error: 9.0 };
    let test = PlannedTest { margin: 10.0, alpha: 0.05 };
    let shown = |assessors, truth| verdict_power(plan(assessors), test, truth).ok().map(|power| power.p_match);
    vec![
        figure(
            Topic::Planning,
            "true match shown by 12 assessors, 2 replicates",
            0.765_303_665_059_123_2,
            9,
            shown(12, 0.0),
            INTEGRAL,
        ),
        figure(Topic::Planning, "the same, candidate 5 mm away", 0.406_277_601_393_267_85, 9, shown(12, 5.0), INTEGRAL),
        figure(
            Topic::Planning,
            "true match shown by 20 assessors",
            0.965_838_465_165_778_6,
            9,
            shown(20, 0.0),
            INTEGRAL,
        ),
        figure(
            Topic::Planning,
            "difference of 10 mm found by 10 assessors",
            0.691_889_699_002_476,
            9,
            difference_power(plan(10), 0.05, 10.0).ok(),
            NONCENTRAL,
        ),
    ]
}

pub(super) fn codes() -> Vec<CheckValue> {
    let spread = |samples| {
        let rows = williams_rows(samples);
        let counts = BalanceCounts::of(rows.iter().map(Vec::as_slice), samples, samples);
        u64::from(counts.position_spread() + counts.predecessor_spread())
    };
    // The last digit of a self-checking code is that of its first two: one wrong digit never gives another code.
    let slips = self_checking_pool()
        .iter()
        .flat_map(|code| one_digit_wrong(code))
        .filter(|text| check_code(text).can_exist())
        .count();
    vec![
        count(Topic::Codes, "check digit of 572", 4, Some(u64::from(damm_digit(&[5, 7, 2]))), DAMM),
        count(Topic::Codes, "codes that one wrong digit turns into another", 0, Some(slips as u64), DAMM),
        count(Topic::Codes, "imbalance of the orders of 4 samples", 0, Some(spread(4)), WILLIAMS),
        count(Topic::Codes, "imbalance of the orders of 5 samples", 0, Some(spread(5)), WILLIAMS),
    ]
}

fn one_digit_wrong(code: &str) -> Vec<String> {
    let change = |place: usize, digit: char| -> String {
        code.chars().enumerate().map(|(index, known)| if index == place { digit } else { known }).collect()
    };
    let places = (0..code.len()).flat_map(|place| ('0'..='9').map(move |digit| (place, digit)));
    places.map(|(place, digit)| change(place, digit)).filter(|text| text != code).collect()
}
