//! The words of the Profile view.

use likeness_core::text::numbers::statistic;

pub const SHAPE_HEADING: &str = "What is each sample like?";
pub const DIFFERENT_HEADING: &str = "Where do the samples part?";
pub const MEANS_HEADING: &str = "How strong is each character?";
pub const SURE_HEADING: &str = "Is it more than disagreement?";
pub const WHICH_HEADING: &str = "Which samples differ?";

pub const COMPARE_START: &str = "Compare all pairs of samples";
pub const COMPARING: &str = "Comparing samples on each attribute";
pub const P_ADJUSTED: &str = "p, adjusted";
pub const P_OVER_ATTRIBUTES: &str = "p over all attributes";
pub const HOLM_COLUMN: &str = "Holm";
pub const SHARE_COLUMN: &str = "Benjamini\u{2013}Hochberg";
pub const DUNNETT: &str = "Dunnett's test";
pub const HOLM: &str = "Holm's adjustment (the data are unbalanced, where Dunnett's law does not hold)";
pub const LETTERS_ARE_NO_MATCH: &str = "Sharing a letter, or a large p, is not the same as being alike: a small panel shares letters too. Whether a candidate matches is judged against the margin, in Match.";

pub fn letters(unit: &str) -> String {
    format!("Means in {unit} with letters; samples that share a letter are not shown to differ")
}

pub fn letters_how(alpha: f64, pairs: usize, method: &str, attributes: usize) -> String {
    format!(
        "{method} Letters at alpha {} over the {pairs} pairs of one attribute; the error is assessor \u{d7} sample. \
         Nothing is adjusted over the {attributes} attributes: among that many, some letters part by chance.",
        statistic(alpha, 3)
    )
}

pub fn against_target(target: &str) -> String {
    format!("Every candidate less {target}, by the mixed model")
}

pub fn against_how(method: &str, candidates: usize, alpha: f64) -> String {
    format!(
        "p by {method}, adjusted over the {candidates} candidates of one attribute and not over attributes; a finding \
         at alpha {} is a p below it. The verdict in Match stands on each assessor's own differences instead, so its \
         figures differ a little.",
        statistic(alpha, 3)
    )
}

pub fn adjusted_over(tests: usize) -> String {
    format!(
        "p stands for one attribute by itself. Holm keeps the chance of any false finding among all {tests} attributes \
         (Holm 1979), Benjamini\u{2013}Hochberg the expected share of false ones among the findings (1995)."
    )
}

pub fn comparisons_not_defined(because: &str) -> String {
    format!("Comparisons of samples are not defined, because {because}.")
}
