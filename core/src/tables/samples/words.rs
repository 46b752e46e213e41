//! What the tables of samples say.

use crate::text::numbers::statistic;

pub(super) const INTERVAL_NOT_DEFINED: &str = "no interval";
pub(super) const MEANS_INTERVAL: &str = "Small figures: 95 % interval of that one mean. It contains the spread between assessors, so it is wider than what it takes to tell two samples apart: judge differences by the differences table, not by overlap.";
pub(super) const ANOVA: &str = "Analysis of variance: do the samples differ?";
pub(super) const DF_GROUP: &str = "degrees of freedom";
pub(super) const DF_SAMPLE: &str = "samples";
pub(super) const DF_ERROR: &str = "denominator";
pub(super) const MS_GROUP: &str = "mean squares";
pub(super) const MS_SAMPLE: &str = "samples";
pub(super) const VARIANCE_GROUP: &str = "variance";
pub(super) const ASSESSOR_BY_SAMPLE: &str = "assessor \u{d7} sample";
pub(super) const ERROR: &str = "error";
pub(super) const SCORES_GROUP: &str = "scores";
pub(super) const SCORES_USED: &str = "used";
pub(super) const SCORES_DROPPED: &str = "missing or left out";
pub(super) const WRONG_GROUP: &str = "for teaching";
pub(super) const WRONG_F: &str = "F on error (wrong)";
pub(super) const ANOVA_RIGHT: &str = "F divides the mean square of samples by that of assessor \u{d7} sample: the samples must differ more than assessors disagree about them. Where a variance would be negative, mean squares are pooled, as restricted maximum likelihood does, and the degrees of freedom follow.";
pub(super) const ANOVA_WRONG: &str = "The last column divides by the error between replicates instead. It looks more impressive and answers another question: whether these very assessors, not assessors like them, would see the difference again.";
pub(super) const P_OVER_ATTRIBUTES: &str = "p over all attributes";
pub(super) const HOLM_COLUMN: &str = "Holm";
pub(super) const SHARE_COLUMN: &str = "Benjamini\u{2013}Hochberg";
pub(super) const P_ADJUSTED: &str = "p, adjusted";
pub(super) const DUNNETT: &str = "Dunnett's test";
pub(super) const HOLM: &str = "Holm's adjustment (the data are unbalanced, where Dunnett's law does not hold)";
pub(super) const LETTERS_ARE_NO_MATCH: &str = "Sharing a letter, or a large p, is not the same as being alike: a small panel shares letters too. Whether a candidate matches is judged against the margin, in Match.";

pub(super) fn means(unit: &str) -> String {
    format!("Means in {unit}, in the order of the ballot")
}

pub(super) fn adjusted_over(tests: usize) -> String {
    format!(
        "p stands for one attribute by itself. Holm keeps the chance of any false finding among all {tests} attributes \
         (Holm 1979), Benjamini\u{2013}Hochberg the expected share of false ones among the findings (1995)."
    )
}

pub(super) fn letters(unit: &str) -> String {
    format!("Means in {unit} with letters; samples that share a letter are not shown to differ")
}

pub(super) fn letters_how(alpha: f64, pairs: usize, method: &str, attributes: usize) -> String {
    format!(
        "{method}. Letters at alpha {} over the {pairs} pairs of one attribute; the error is assessor \u{d7} sample. \
         Nothing is adjusted over the {attributes} attributes: among that many, some letters part by chance.",
        statistic(alpha, 3)
    )
}

pub(super) fn against_target(target: &str) -> String {
    format!("Every candidate less {target}, by the mixed model")
}

pub(super) fn against_how(method: &str, candidates: usize, alpha: f64) -> String {
    format!(
        "p by {method}, adjusted over the {candidates} candidates of one attribute and not over attributes; a finding \
         at alpha {} is a p below it. The verdict in Match stands on each assessor's own differences instead, so its \
         figures differ a little.",
        statistic(alpha, 3)
    )
}
