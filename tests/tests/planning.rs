//! Power against simulated and independently integrated values.

use likeness_core::numeric::random::Random;
use likeness_core::stats::analyse;
use likeness_core::stats::r#match::differences::{DifferenceOptions, difference_test};
use likeness_core::stats::r#match::power::{PanelPlan, PlannedTest, difference_power, reach, verdict_power};
use likeness_tests::studies::{RandomStudy, close};

const TEST: PlannedTest = PlannedTest { margin: 10.0, alpha: 0.05 };

fn plan(assessors: usize, sd_interaction: f64, sd_error: f64) -> PanelPlan {
    PanelPlan { assessors, replicates: 2, sd_interaction, sd_error }
}

#[test]
fn power_of_a_true_match_in_two_decimals() {
    // Simulated in R 4.2.2, 200,000 studies each (standard error of a share .0011 at most), printed to two decimals:
    // so within .005 + 3 * .0011. Margin 10, alpha 5 %, two replicates.
    let cases = [
        (5.0, 9.0, vec![(8, 0.46), (10, 0.63), (12, 0.76), (15, 0.88), (20, 0.97)]),
        (8.0, 12.0, vec![(8, 0.11), (10, 0.19), (12, 0.29), (16, 0.50), (20, 0.67), (30, 0.89)]),
    ];
    for (interaction, error, list) in cases {
        for (assessors, printed) in list {
            let got = verdict_power(plan(assessors, interaction, error), TEST, 0.0).unwrap().p_match;
            assert!((got - printed).abs() <= 0.0083, "{assessors}: {got} {printed}");
        }
    }
}

#[test]
fn power_to_ten_digits() {
    // scipy 1.17.1: integrate.quad of stats.chi.pdf times the normal probability of the room for a match, and
    // stats.nct.sf + stats.nct.cdf for the difference (margin 10, alpha 5 %, s_ap 5, s_e 9, R 2).
    for (assessors, wanted) in [(8, 0.45841610811043704), (12, 0.7653036650591232), (20, 0.9658384651657786)] {
        close(verdict_power(plan(assessors, 5.0, 9.0), TEST, 0.0).unwrap().p_match, wanted, 1e-10, "match");
    }
    close(verdict_power(plan(30, 8.0, 12.0), TEST, 0.0).unwrap().p_match, 0.8897831651025413, 1e-10, "match");
    close(verdict_power(plan(12, 5.0, 9.0), TEST, 5.0).unwrap().p_match, 0.40627760139326785, 1e-10, "match");
    for (difference, wanted) in
        [(0.0, 0.05), (5.0, 0.23554009447542149), (10.0, 0.691889699002476), (15.0, 0.956626030997373)]
    {
        close(difference_power(plan(10, 5.0, 9.0), 0.05, difference).unwrap(), wanted, 1e-10, "difference");
    }
}

#[test]
fn the_verdicts_come_out_as_often_as_planned() {
    // 20,000 seeded studies through the very tests and verdict that the page uses: standard error .0035 at most.
    let plan = plan(10, 5.0, 9.0);
    for truth in [0.0, 6.0, 14.0] {
        let wanted = verdict_power(plan, TEST, truth).unwrap();
        close(wanted.p_match + wanted.p_off + wanted.p_not_shown, 1.0, 1e-12, "three verdicts");
        let mut random = Random::seeded_for(31, "planned verdicts");
        let mut counts = [0.0; 3];
        for _ in 0..20_000 {
            let differences: Vec<f64> = (0..10).map(|_| truth + plan.sd_of_difference() * random.normal()).collect();
            let test = difference_test(&differences, DifferenceOptions { margin: 10.0, alpha: 0.05 }).unwrap();
            // The tests of one attribute by itself, as the plan has them.
            counts[match (test.match_interval.is_inside(10.0), test.difference_interval.excludes_zero()) {
                (true, _) => 0,
                (false, true) => 1,
                (false, false) => 2,
            }] += 1.0 / 20_000.0;
        }
        for (count, wanted) in counts.iter().zip([wanted.p_match, wanted.p_off, wanted.p_not_shown]) {
            assert!((count - wanted).abs() < 0.0125, "truth {truth}: {count} {wanted}");
        }
    }
}

#[test]
fn at_the_border_of_the_margin_a_match_is_claimed_in_five_percent_at_most() {
    for assessors in [3, 6, 12, 40] {
        for sd in [1.0, 5.0, 12.0] {
            let got = verdict_power(plan(assessors, sd, sd), TEST, 10.0).unwrap().p_match;
            assert!(got <= 0.05 + 1e-9, "{assessors} {sd}: {got}");
        }
        // With little scatter the whole alpha is used.
        close(verdict_power(plan(assessors, 0.2, 0.2), TEST, 10.0).unwrap().p_match, 0.05, 1e-9, "level");
    }
}

#[test]
fn reach_is_the_inverse_of_power() {
    let plan = plan(12, 5.0, 9.0);
    let got = reach(plan, TEST, 0.8).unwrap();
    let margin = got.smallest_margin.unwrap();
    let at = verdict_power(plan, PlannedTest { margin, ..TEST }, 0.0).unwrap().p_match;
    close(at, 0.8, 1e-9, "margin");
    let difference = got.smallest_difference.unwrap();
    close(difference_power(plan, 0.05, difference).unwrap(), 0.8, 1e-9, "difference");
    // From the table above: 12 assessors reach .765, 15 reach .883; 13 reach .8 by the same integral (it must be 13 or 14).
    let needed = got.assessors_needed.unwrap();
    let power = |assessors| verdict_power(PanelPlan { assessors, ..plan }, TEST, 0.0).unwrap().p_match;
    assert!((13..=14).contains(&needed) && power(needed) >= 0.8 && power(needed - 1) < 0.8);
    let hopeless = reach(PanelPlan { sd_interaction: 900.0, ..plan }, TEST, 0.8).unwrap();
    assert!(hopeless.assessors_needed.unwrap_err().because.contains("400"));
}

#[test]
fn one_scale_for_another_changes_no_chance() {
    let points = PanelPlan { sd_interaction: 0.5, sd_error: 0.9, ..plan(9, 0.0, 0.0) };
    let small = verdict_power(points, PlannedTest { margin: 1.0, alpha: 0.05 }, 0.3).unwrap();
    let large = verdict_power(plan(9, 5.0, 9.0), TEST, 3.0).unwrap();
    close(small.p_match, large.p_match, 1e-12, "match");
    close(10.0 * small.expected_half_width, large.expected_half_width, 1e-12, "width");
}

#[test]
fn a_study_plans_the_next_one_with_its_own_variances() {
    let study = RandomStudy { assessors: 10, samples: 6, attributes: 1, ..RandomStudy::default() }.draw(4);
    let analysis = analyse(&study);
    let plan = PanelPlan::of_attribute(&analysis.attributes[0], 10, 2).unwrap();
    // True standard deviations are 5 and 9; 45 and 60 degrees of freedom leave a third of either way.
    assert!((plan.sd_error - 9.0).abs() < 2.5 && plan.sd_interaction < 10.0, "{plan:?}");
    let single = RandomStudy { replicates: 1, attributes: 1, ..RandomStudy::default() }.draw(4);
    let plan = PanelPlan::of_attribute(&analyse(&single).attributes[0], 8, 2).unwrap();
    assert_eq!((plan.replicates, plan.sd_interaction), (1, 0.0), "without replicates the error holds both");
}

#[test]
fn impossible_plans_are_refused_in_words() {
    let because = |plan, test, truth: f64| verdict_power(plan, test, truth).unwrap_err().because;
    assert!(because(plan(1, 5.0, 9.0), TEST, 0.0).contains("two assessors"));
    assert!(because(plan(8, f64::NAN, 9.0), TEST, 0.0).contains("numbers of zero or more"));
    assert!(because(plan(8, 0.0, 0.0), TEST, 0.0).contains("without any scatter"));
    assert!(because(plan(8, 5.0, 9.0), PlannedTest { margin: 0.0, ..TEST }, 0.0).contains("margin"));
    assert!(because(plan(8, 5.0, 9.0), PlannedTest { alpha: 0.7, ..TEST }, 0.0).contains("alpha"));
    assert!(because(plan(8, 5.0, 9.0), TEST, f64::NAN).contains("true difference"));
    assert!(reach(plan(8, 5.0, 9.0), TEST, 0.01).is_err());
}
