//! What a margin means in people: how far the step stands out of an assessor's own scatter, and how many would pick it out
//! of three cups. It must not know how that is said.
//!
//! d' is the step over the standard deviation within assessors, and the share of right answers in a triangle test follows
//! by Thurstone's model (Ennis 1993, Journal of Sensory Studies 8, 353-370). It is a lower bound: the scatter of marks on
//! a line holds the marking as well as the perceiving, so the perceived step is d' or more, and whoever tastes the cups
//! has all characters to go by and not one.

use crate::numeric::describe::mean;
use crate::stats::tests::d_prime::share_of_d_prime;
use crate::stats::tests::discrimination::DiscriminationTest;
use crate::stats::{Analysis, Defined, NotDefined};

/// Beyond this everybody is right to all digits that anybody reads.
const LARGEST_D_PRIME: f64 = 40.0;

/// A step of a margin's size as people meet it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarginInPeople {
    /// The margin itself, and the scatter of single cups within assessors, in units of the scale.
    pub margin: f64,
    pub sd_within_assessors: f64,
    /// The margin over the scatter within assessors: the least that d' can be.
    pub d_prime: f64,
    /// Least share of right answers in a triangle test, where guessing gives 1/3.
    pub triangle_right: f64,
    /// Least share of people who can tell, guessing taken off.
    pub distinguishers: f64,
}

/// A margin in people; both in units of the scale, the scatter that of single cups.
///
/// # Errors
/// A margin that is not above zero, no scatter.
pub fn margin_in_people(margin: f64, sd_within_assessors: f64) -> Defined<MarginInPeople> {
    if !(margin.is_finite() && margin > 0.0) {
        return Err(NotDefined::because("the margin must be above zero"));
    }
    if !(sd_within_assessors.is_finite() && sd_within_assessors > 0.0) {
        return Err(NotDefined::because("without any scatter within assessors every step stands out"));
    }
    let test = DiscriminationTest::Triangle;
    let d_prime = margin / sd_within_assessors;
    let triangle_right = share_of_d_prime(test, d_prime.min(LARGEST_D_PRIME))
        .ok_or_else(|| NotDefined::because("the margin is out of range"))?;
    let distinguishers = (triangle_right - test.chance()) / (1.0 - test.chance());
    Ok(MarginInPeople { margin, sd_within_assessors, d_prime, triangle_right, distinguishers })
}

/// The margin of a study in people, by the scatter between replicates that its own assessors showed: root mean square over
/// the deciding attributes.
///
/// # Errors
/// No replicates, so that no scatter within assessors was seen; or as [`margin_in_people`].
pub fn margin_of_study_in_people(analysis: &Analysis) -> Defined<MarginInPeople> {
    let models = analysis.deciding().into_iter().filter_map(|attribute| attribute.model.as_ref().ok());
    let variances: Vec<f64> =
        models.filter(|model| model.var_interaction.is_ok()).map(|model| model.var_error).collect();
    let mean = mean(&variances).ok_or_else(|| NotDefined::because("no cup was tasted twice"))?;
    margin_in_people(analysis.margin, mean.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_margin_as_wide_as_the_scatter_is_picked_out_by_few() {
        // Triangle at d' = 1, 2, 3: .418046674714639, .604806932772189, .781427598596484 (mpmath 1.3, the integral of Ennis
        // 1993 as it stands in tests/discrimination.rs; R 4.2.2 prints .4180 at 1).
        for (margin, share) in
            [(9.0, 0.418_046_674_714_639), (18.0, 0.604_806_932_772_189), (27.0, 0.781_427_598_596_484)]
        {
            let found = margin_in_people(margin, 9.0).expect("sound numbers");
            assert!((found.d_prime - margin / 9.0).abs() < 1e-15);
            assert!((found.triangle_right - share).abs() < 1e-12, "{found:?}");
            // By hand: (right - 1/3) / (2/3).
            assert!((found.distinguishers - 1.5 * (share - 1.0 / 3.0)).abs() < 1e-12, "{found:?}");
        }
    }

    #[test]
    fn the_units_of_the_scale_don_t_matter_and_a_wide_margin_is_told_by_all() {
        assert_eq!(
            margin_in_people(10.0, 9.0).unwrap().triangle_right,
            margin_in_people(1.0, 0.9).unwrap().triangle_right
        );
        assert!((margin_in_people(99.0, 0.001).unwrap().triangle_right - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_has_no_meaning_is_refused_in_words() {
        assert!(margin_in_people(0.0, 9.0).unwrap_err().because.contains("above zero"));
        assert!(margin_in_people(10.0, 0.0).unwrap_err().because.contains("stands out"));
        assert!(margin_in_people(f64::NAN, 9.0).is_err() && margin_in_people(10.0, f64::INFINITY).is_err());
    }
}
