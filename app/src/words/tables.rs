//! The words of tables and of what stands under them.

use likeness_core::text::numbers::percent;

pub const ATTRIBUTE: &str = "attribute";
pub const FROM: &str = "from";
pub const TO: &str = "to";
pub const INTERVAL_95: &str = "95 % interval";
pub const INTERVAL_90: &str = "90 % interval";
pub const MARGIN: &str = "margin";
pub const VERDICT: &str = "verdict";
pub const SE: &str = "standard error";
pub const DF: &str = "df";
pub const P_GROUP: &str = "p against";
pub const P_LOWER: &str = "too low";
pub const P_UPPER: &str = "too high";
pub const P_DIFFERENCE: &str = "no difference";
pub const NOT_DECIDING: &str = "does not decide";
pub const NO_SCORES: &str = "there are no scores";
pub const INTERVAL_NOT_DEFINED: &str = "no interval";
pub const DIFFERENCES_HOW: &str = "Candidate minus target: each assessor's own difference, then the mean over assessors; intervals by Student's t with assessors less one degrees of freedom.";
pub const MEANS_INTERVAL: &str = "Small figures: 95 % interval of that one mean. It contains the spread between assessors, so it is wider than what it takes to tell two samples apart: judge differences by the differences table, not by overlap.";
pub const ANOVA: &str = "Analysis of variance: do the samples differ?";
pub const F: &str = "F";
pub const P: &str = "p";
pub const DF_GROUP: &str = "degrees of freedom";
pub const DF_SAMPLE: &str = "samples";
pub const DF_ERROR: &str = "denominator";
pub const MS_GROUP: &str = "mean squares";
pub const MS_SAMPLE: &str = "samples";
pub const MS_INTERACTION: &str = "assessor \u{d7} sample";
pub const MS_ERROR: &str = "error";
pub const WRONG_GROUP: &str = "for teaching";
pub const WRONG_F: &str = "F on error (wrong)";
pub const ANOVA_RIGHT: &str = "F divides the mean square of samples by that of assessor \u{d7} sample: the samples must differ more than assessors disagree about them. Where a variance would be negative, mean squares are pooled, as restricted maximum likelihood does, and the degrees of freedom follow.";
pub const ANOVA_WRONG: &str = "The last column divides by the error between replicates instead. It looks more impressive and answers another question: whether these very assessors, not assessors like them, would see the difference again.";

pub fn differences(sample: &str, target: &str, unit: &str) -> String {
    format!("{sample} minus {target}, in {unit}; largest difference first")
}

pub fn difference(unit: &str) -> String {
    format!("difference, {unit}")
}

pub fn means(unit: &str) -> String {
    format!("Means in {unit}, in the order of the ballot")
}

pub fn target_head(name: &str) -> String {
    format!("{name} (target)")
}

pub fn span(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper}")
}

/// The intervals that the verdict stands on at another alpha: for a difference, for a match.
pub fn verdict_intervals(alpha: f64) -> [String; 2] {
    [format!("{} interval (off)", percent(1.0 - alpha)), format!("{} interval (match)", percent(1.0 - 2.0 * alpha))]
}

pub fn verdict_rule(alpha: f64) -> String {
    format!(
        "Match: the {} interval lies inside the margin. Off: the {} interval excludes zero and the match is not shown. \
         Not shown: anything else, which is not the same as different.",
        percent(1.0 - 2.0 * alpha),
        percent(1.0 - alpha)
    )
}

pub fn in_a_hundred(count: &str) -> String {
    format!("{count} of 100")
}

pub const ASSESSOR: &str = "assessor";
pub const ASSESSORS: &str = "Assessors, all attributes together";
pub const TELLS_APART: &str = "tells samples apart";
pub const REPEATS: &str = "repeats";
pub const AGREES: &str = "agrees with the others";
pub const ATTRIBUTES: &str = "attributes";
pub const FAILED: &str = "failed";
pub const MEAN_R: &str = "mean r";
pub const NONE: &str = "none";
pub const ASSESSORS_HOW: &str = "Failures count only attributes on which the panel as a whole finds sample differences; the small figures are the exact 95 % interval of each share. With many tests some failures come by chance: look at the interval before you look at the person.";
pub const NEVER_LEFT_OUT: &str = "Disagreeing is no reason to leave anyone out. Leave out only what has a reason of its own, and compare the verdict with and without.";
pub const PANEL_ON_ATTRIBUTES: &str = "The panel on each attribute";
pub const P_SAMPLES: &str = "p, samples differ";
pub const DISAGREEMENT: &str = "disagreement";
pub const INTRACLASS: &str = "intraclass r, panel mean";
pub const PANEL_HOW: &str = "Disagreement is the mean square of assessor \u{d7} sample over that between replicates: a small p means that assessors see the samples differently, by more than they scatter. The intraclass correlation is that of the panel mean, differences of level forgiven.";
pub const PANEL_SEES_NO_DIFFERENCE: &str = "the panel finds none";
pub const GRID: &str = "Every assessor on every attribute";

pub fn within(unit: &str) -> String {
    format!("scatter, {unit}")
}

pub fn repeatability(unit: &str) -> String {
    format!("scatter between replicates, {unit}")
}

pub fn count_of(count: usize, all: usize) -> String {
    format!("{count} of {all}")
}

pub fn percent_span(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper} %")
}

pub fn grid_detail(agrees: &str, repeats: &str) -> String {
    format!("r {agrees}, s {repeats}")
}

pub fn grid_how(unit: &str) -> String {
    format!(
        "Large figure: F of this assessor over samples, against the own scatter between replicates. Small figures: r, the \
         correlation with the mean of the others over samples, and s, the own scatter in {unit}."
    )
}
