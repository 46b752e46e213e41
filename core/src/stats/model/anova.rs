//! Analysis of variance of one attribute, assessor random: the test of the sample effect, variances and means.
//!
//! Model: score = sample + assessor (random) + assessor x sample (random) + error. It joins the table of cells, the
//! closed form for balanced data and restricted maximum likelihood for the rest; it does not know the target.

use super::anova_closed_form::fit_balanced;
use super::anova_reml::fit_unbalanced;
use super::cells::{Balance, CellTable};
use super::parts::Parts;
use crate::numeric::tails;
use crate::stats::results::{Anova, Defined, FTest, ModelVariances, NotDefined, SampleMean};
use crate::stats::samples::means::{ContrastEstimate, EstimatedMeans};
use crate::study::AttributeScores;

/// What can be chosen about the model of an attribute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelOptions {
    /// Confidence of the intervals of means.
    pub confidence: f64,
    pub method: MethodChoice,
}

/// Which way the variances are found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MethodChoice {
    /// In closed form where the data are balanced, by Newton steps elsewhere.
    #[default]
    ByBalance,
    /// By Newton steps everywhere: the same answer by the long way, for checks.
    AlwaysNewton,
}

/// The model of one attribute, fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelFit {
    pub anova: Defined<Anova>,
    pub model: Defined<ModelVariances>,
    /// In the order of `AttributeScores::samples`; a sample without a score on this attribute has no entry.
    pub means: Vec<SampleMean>,
    /// The means with their joint spread, for contrasts.
    estimated: Defined<EstimatedMeans>,
    /// For each of `AttributeScores::samples` its place among the estimated means.
    place_of_sample: Vec<Option<usize>>,
    sample_names: Vec<String>,
}

impl Default for ModelOptions {
    fn default() -> Self {
        ModelOptions { confidence: 0.95, method: MethodChoice::ByBalance }
    }
}

/// Fits the model to the scores of one attribute. Never fails whole: what is not defined says why.
pub fn fit(scores: &AttributeScores, options: &ModelOptions) -> ModelFit {
    let table = CellTable::new(scores);
    let parts = match table.balance() {
        Balance::Empty => Parts::nothing("there are no scores"),
        _ if table.assessors.len() == 1 => {
            Parts::nothing("one assessor alone shows no spread between assessors to test against")
        }
        _ if is_constant(&table) => Parts::nothing(format!("every score is {}", table.shift)),
        Balance::Balanced { replicates } if options.method == MethodChoice::ByBalance => {
            fit_balanced(&table, replicates)
        }
        _ => fit_unbalanced(&table, scores),
    };
    parts.into_fit(scores, &table, options)
}

impl ModelFit {
    /// Mean of a sample less mean of a reference, both numbered as in `AttributeScores::samples`, under the model.
    pub fn difference(&self, sample: usize, reference: usize) -> Defined<ContrastEstimate> {
        let estimated = self.estimated.as_ref().map_err(NotDefined::clone)?;
        self.differ(sample, reference)?;
        estimated.difference(self.place(sample)?, self.place(reference)?)
    }

    /// A weighted sum of sample means, one weight for each of `AttributeScores::samples`, under the model.
    pub fn contrast(&self, weights: &[f64]) -> Defined<ContrastEstimate> {
        let estimated = self.estimated.as_ref().map_err(NotDefined::clone)?;
        let mut dense = vec![0.0; estimated.means.len()];
        for (sample, weight) in weights.iter().enumerate().filter(|(_, weight)| weight.abs() > 0.0) {
            dense[self.place(sample)?] = *weight;
        }
        estimated.contrast(&dense)
    }

    /// The same difference on MS assessor x sample as it comes, whatever the model pools; balanced data only.
    pub fn difference_on_interaction(&self, sample: usize, reference: usize) -> Defined<ContrastEstimate> {
        self.differ(sample, reference)?;
        let (sample, reference) = (self.place(sample)?, self.place(reference)?);
        let anova = self.anova.as_ref().map_err(NotDefined::clone)?;
        let line = anova.table.as_ref().map_err(NotDefined::clone)?.interaction;
        let variance = 2.0 * line.ms / self.means[sample].n as f64;
        let estimate = self.means[sample].mean - self.means[reference].mean;
        ContrastEstimate::new(estimate, variance, 2.0 * variance * variance / line.df)
    }

    /// Whether every sample is compared with every other equally well, as in balanced data.
    pub fn is_balanced(&self) -> bool {
        self.estimated.as_ref().is_ok_and(EstimatedMeans::is_exchangeable)
    }

    /// The samples that have a mean, numbered as in `AttributeScores::samples`.
    pub fn scored_samples(&self) -> Vec<usize> {
        (0..self.place_of_sample.len()).filter(|sample| self.place_of_sample[*sample].is_some()).collect()
    }

    /// Name of a sample numbered as in `AttributeScores::samples`.
    pub fn sample_name(&self, sample: usize) -> &str {
        self.sample_names.get(sample).map_or("a sample outside the study", String::as_str)
    }

    fn differ(&self, sample: usize, reference: usize) -> Defined<()> {
        if sample == reference { Err(NotDefined::because("a sample is not compared with itself")) } else { Ok(()) }
    }

    fn place(&self, sample: usize) -> Defined<usize> {
        self.place_of_sample
            .get(sample)
            .copied()
            .flatten()
            .ok_or_else(|| NotDefined::because(format!("{} has no score", self.sample_name(sample))))
    }
}

impl Parts {
    /// Puts names to what was fitted.
    fn into_fit(self, scores: &AttributeScores, table: &CellTable, options: &ModelOptions) -> ModelFit {
        let mut place_of_sample = vec![None; scores.samples.len()];
        let mut means = Vec::with_capacity(table.samples.len());
        for (place, sample) in table.samples.iter().enumerate() {
            place_of_sample[*sample] = Some(place);
            let spread = |found: &EstimatedMeans| found.mean_spread(place, options.confidence);
            let estimated = self.estimated.as_ref();
            means.push(SampleMean {
                sample: scores.samples[*sample].clone(),
                n: table.sample_count(place),
                mean: estimated.map_or_else(|_| table.raw_sample_mean(place), |found| found.means[place]),
                spread: estimated.map_err(NotDefined::clone).and_then(spread),
            });
        }
        ModelFit {
            anova: self.anova,
            model: self.model,
            means,
            estimated: self.estimated,
            place_of_sample,
            sample_names: scores.samples.clone(),
        }
    }
}

fn is_constant(table: &CellTable) -> bool {
    table.shifted_means.iter().all(|mean| table.is_rounding_noise(mean * mean))
        && table.is_rounding_noise(table.within_square_sum())
}

impl FTest {
    /// The test of `f` on `df1` and `df2` degrees of freedom.
    pub fn of(f: f64, df1: f64, df2: f64) -> Defined<FTest> {
        match tails::f_upper(f, df1, df2) {
            Some(p) => Ok(FTest { f, df1, df2, p }),
            None => Err(NotDefined::because(format!("F {f} on {df1} and {df2} degrees of freedom has no p-value"))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::{full_table, scores_of};

    fn because<T: std::fmt::Debug>(defined: Defined<T>) -> String {
        defined.expect_err("should not be defined").because
    }

    fn fitted(scores: &AttributeScores) -> ModelFit {
        fit(scores, &ModelOptions::default())
    }

    #[test]
    fn nothing_in_nothing_out_and_it_says_so() {
        let empty = fitted(&scores_of(&[]));
        assert_eq!(because(empty.anova), "there are no scores");
        assert!(empty.means.is_empty());
    }

    #[test]
    fn one_assessor_has_means_but_no_test() {
        let alone = fitted(&scores_of(&[("Ada", "A", 1.0), ("Ada", "B", 3.0), ("Ada", "A", 2.0), ("Ada", "B", 4.0)]));
        assert_eq!(because(alone.anova), "one assessor alone shows no spread between assessors to test against");
        assert_eq!(alone.means[1].mean, 3.5);
        assert!(alone.means[1].spread.is_err());
    }

    #[test]
    fn a_constant_attribute_says_its_score() {
        let constant = fitted(&full_table(3, 4, 2, |_, _, _| 7.3));
        assert_eq!(because(constant.anova), "every score is 7.3");
        assert_eq!(constant.means[3].mean, 7.3);
    }

    #[test]
    fn one_sample_has_a_mean_with_the_spread_between_assessors() {
        // By hand: assessor means 1, 2, 6: mean 3, variance 7, SE sqrt(7/3), df 2.
        let one = fitted(&scores_of(&[("Ada", "A", 1.0), ("Ben", "A", 2.0), ("Cy", "A", 6.0)]));
        assert_eq!(because(one.anova), "only one sample has scores");
        let spread = one.means[0].spread.clone().unwrap();
        assert!((spread.se - (7.0_f64 / 3.0).sqrt()).abs() < 1e-14 && (spread.df - 2.0).abs() < 1e-12);
    }

    #[test]
    fn samples_that_differ_alike_for_everybody_leave_no_scatter() {
        let alike = fitted(&full_table(4, 3, 1, |assessor, sample, _| assessor as f64 * 1.1 + sample as f64 * 2.3));
        assert!(because(alike.anova).starts_with("all assessors show the very same differences"));
    }

    #[test]
    fn two_samples_without_replicates_are_the_paired_t_test() {
        // F of two samples is the square of the paired t. R 4.2.2, datasets::sleep, t.test(paired = TRUE):
        // t = -4.06212768338204, df = 9, p = 0.00283289019738427.
        let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
        let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        let scores = full_table(10, 2, 1, |assessor, sample, _| if sample == 0 { first } else { second }[assessor]);
        let anova = fitted(&scores).anova.unwrap();
        assert!((anova.f - 4.06212768338204_f64.powi(2)).abs() < 1e-11);
        assert!((anova.error_df - 9.0).abs() < 1e-12 && (anova.p - 0.00283289019738427).abs() < 1e-15);
        assert!(anova.table.unwrap().error.is_err());
    }

    #[test]
    fn an_unknown_or_empty_sample_is_named_in_a_contrast() {
        let mut scores = full_table(3, 2, 2, |a, s, r| (a * 3 + s * 7 + r * a) as f64);
        scores.samples.push("left out".to_owned());
        assert_eq!(because(fitted(&scores).difference(2, 0)), "left out has no score");
        assert_eq!(because(fitted(&scores).difference(9, 0)), "a sample outside the study has no score");
    }
}
