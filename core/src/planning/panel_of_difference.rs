//! From what a leader can look up, the scatter of one assessor's difference, to the two standard deviations that
//! planning computes with. It must not know drafts.

use crate::stats::r#match::power::PanelPlan;
use crate::stats::{Defined, NotDefined};
use crate::text::numbers::typed;

/// How far rounding may put the scatter of a difference below what replicates alone make of it, as a share.
const ROUNDING: f64 = 0.01;

/// Scatter of one assessor's difference candidate minus target, as an earlier study shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DifferenceScatter {
    /// Standard deviation between assessors, in units of the scale.
    pub sd_difference: f64,
    /// Cups of each sample behind each assessor's difference, from 1.
    pub replicates_behind: usize,
    /// Standard deviation between replicates of one assessor, in units of the scale.
    pub sd_error: f64,
}

/// The panel whose differences scatter so: s_d^2 = 2 (s_ap^2 + s_e^2 / R), solved for s_ap.
///
/// # Errors
/// Numbers below zero, no replicates, or replicates that alone scatter a difference more than it is said to.
pub fn panel_of_difference(scatter: DifferenceScatter, assessors: usize, replicates: usize) -> Defined<PanelPlan> {
    let DifferenceScatter { sd_difference, replicates_behind, sd_error } = scatter;
    let fine = |sd: f64| sd.is_finite() && sd >= 0.0;
    if !(fine(sd_difference) && fine(sd_error)) || replicates_behind == 0 {
        return Err(NotDefined::because(
            "standard deviations must be numbers of zero or more, and a difference has one replicate behind it at least",
        ));
    }
    let from_replicates = (2.0 * sd_error * sd_error / replicates_behind as f64).sqrt();
    if from_replicates > sd_difference * (1.0 + ROUNDING) {
        return Err(NotDefined::because(format!(
            "replicates that scatter by {} make a difference scatter by {} on their own, more than the {} given for it; \
             one of the two can't be right",
            typed(sd_error),
            typed(from_replicates),
            typed(sd_difference)
        )));
    }
    let interaction = 0.5 * (sd_difference * sd_difference - from_replicates * from_replicates);
    Ok(PanelPlan { assessors, replicates, sd_interaction: interaction.max(0.0).sqrt(), sd_error })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::r#match::power::{PlannedTest, verdict_power};

    fn scatter(sd_difference: f64, sd_error: f64) -> DifferenceScatter {
        DifferenceScatter { sd_difference, replicates_behind: 2, sd_error }
    }

    #[test]
    fn the_panel_found_scatters_as_was_said() {
        for (sd_difference, sd_error) in [(11.4, 9.0), (16.5, 12.0), (9.0, 0.0)] {
            let panel = panel_of_difference(scatter(sd_difference, sd_error), 12, 2).expect("it fits");
            // Identity: the scatter of a difference comes back.
            assert!((panel.sd_of_difference() - sd_difference).abs() < 1e-12);
        }
        // More replicates leave less of the replicates' scatter and all of the assessors': by hand 131 - 81 + 81 / 2.
        let panel = panel_of_difference(scatter(131.0_f64.sqrt(), 9.0), 12, 4).expect("it fits");
        assert!((panel.sd_of_difference() - 90.5_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn who_follows_the_words_gets_the_power_of_their_panel() {
        // Twelve assessors, margin 10, alpha .05, s_ap 5, s_e 9, R 2: .7653036650591232 (scipy 1.17.1, as in
        // tests/planning.rs). Their differences scatter by sqrt(131) mm. Taken for assessor x sample, as it was before,
        // even the part that is no replicates' error, sqrt(50) mm, gave .56.
        let test = PlannedTest { margin: 10.0, alpha: 0.05 };
        let power = |panel| verdict_power(panel, test, 0.0).expect("a sound plan").p_match;
        let now = power(panel_of_difference(scatter(131.0_f64.sqrt(), 9.0), 12, 2).expect("it fits"));
        assert!((now - 0.765_303_665_059_123_2).abs() < 1e-10, "{now}");
        let before = PanelPlan { assessors: 12, replicates: 2, sd_interaction: 50.0_f64.sqrt(), sd_error: 9.0 };
        assert!((power(before) - 0.56).abs() < 0.005, "{}", power(before));
    }

    #[test]
    fn what_can_t_be_is_refused_in_words() {
        let because = |scatter| panel_of_difference(scatter, 12, 2).expect_err("it can't be").because;
        assert_eq!(
            because(scatter(8.0, 9.0)),
            "replicates that scatter by 9 make a difference scatter by 9 on their own, more than the 8 given for it; one \
             of the two can't be right"
        );
        assert!(because(scatter(f64::NAN, 9.0)).contains("zero or more"));
        assert!(because(DifferenceScatter { replicates_behind: 0, ..scatter(9.0, 1.0) }).contains("one replicate"));
        // 9 mm and 9 mm with two replicates behind: nothing is left for assessors to disagree by, and that may be.
        assert_eq!(panel_of_difference(scatter(9.0, 9.0), 12, 2).map(|panel| panel.sd_interaction), Ok(0.0));
    }
}
