//! Joins the closed form of a balanced study into its analysis of variance, with the model in words.
//!
//! It does not know names; the sums of squares and the pooling are in `variance_closed`.

use super::cells::CellTable;
use super::parts::Parts;
use super::variance_closed_form::{PooledLines, TextbookLines, balanced_means, textbook_lines};
use crate::stats::results::{Anova, AnovaTable, Defined, FTest, ModelMethod, ModelVariances, NotDefined};

/// What is said where nothing is left to test against.
pub(in crate::stats) const NO_SCATTER: &str =
    "all assessors show the very same differences between samples, which leaves no scatter to test against";

/// Fits a table with the same number of scores in every cell.
pub(in crate::stats) fn fit_balanced(table: &CellTable, replicates: usize) -> Parts {
    let lines = textbook_lines(table, replicates);
    let pooled = lines.pooled();
    Parts {
        anova: balanced_anova(table, &lines, &pooled),
        model: balanced_variances(table, replicates, &pooled),
        estimated: Ok(balanced_means(table, replicates, &pooled)),
    }
}

fn balanced_anova(table: &CellTable, lines: &TextbookLines, pooled: &PooledLines) -> Defined<Anova> {
    if table.samples.len() == 1 {
        return Err(NotDefined::because("only one sample has scores"));
    }
    let denominator = pooled.interaction;
    if table.is_rounding_noise(denominator.ms * denominator.df) {
        return Err(NotDefined::because(NO_SCATTER));
    }
    let test = FTest::of(lines.sample.ms / denominator.ms, lines.sample.df, denominator.df)?;
    Ok(Anova {
        sample_df: test.df1,
        error_df: test.df2,
        f: test.f,
        p: test.p,
        table: Ok(textbook_table(table, lines)),
        model: balanced_model_in_words(pooled),
    })
}

fn textbook_table(table: &CellTable, lines: &TextbookLines) -> AnovaTable {
    let no_replicates = || NotDefined::because("there is one score for each assessor and sample");
    let error = lines.error.ok_or_else(no_replicates);
    let testable = error.clone().and_then(|line| {
        let nothing = table.is_rounding_noise(line.ss);
        if nothing { Err(NotDefined::because("all repeated scores are the same")) } else { Ok(line) }
    });
    AnovaTable {
        assessor: lines.assessor,
        sample: lines.sample,
        interaction: lines.interaction,
        total_df: lines.total_df,
        total_ss: lines.total_ss,
        f_on_error_wrong: testable.clone().map(|line| lines.sample.ms / line.ms),
        interaction_f: testable
            .and_then(|line| FTest::of(lines.interaction.ms / line.ms, lines.interaction.df, line.df)),
        error,
    }
}

fn balanced_model_in_words(pooled: &PooledLines) -> String {
    let Some(error) = pooled.error else {
        let parts = "score = sample + assessor (random) + error, the error holding the assessor x sample interaction";
        let denominator = "F = MS sample / MS assessor x sample";
        return if pooled.assessor.pool == pooled.interaction.pool {
            format!("{parts}; {denominator}, pooled with MS assessor since the assessor variance is zero")
        } else {
            format!("{parts}; {denominator}")
        };
    };
    let with_error = error.pool == pooled.interaction.pool;
    let with_assessor = pooled.assessor.pool == pooled.interaction.pool;
    let pooling = match (with_error, with_assessor) {
        (false, false) => "",
        (true, false) => ", pooled with MS error since the interaction variance is zero",
        (false, true) => ", pooled with MS assessor since the assessor variance is zero",
        (true, true) => ", pooled with MS error and MS assessor since the interaction and assessor variances are zero",
    };
    format!(
        "score = sample + assessor (random) + assessor x sample (random) + error; \
         F = MS sample / MS assessor x sample{pooling}"
    )
}

fn balanced_variances(table: &CellTable, replicates: usize, pooled: &PooledLines) -> Defined<ModelVariances> {
    let (samples, repeats) = (table.samples.len() as f64, replicates as f64);
    let one_score = || NotDefined::because("there is one score for each assessor and sample");
    let Some(error) = pooled.error else {
        if table.samples.len() == 1 {
            return Err(one_score());
        }
        return Ok(ModelVariances {
            method: ModelMethod::ClosedForm,
            var_assessor: rise(pooled.assessor.ms, pooled.interaction.ms, samples),
            var_interaction: Err(one_score()),
            var_error: pooled.interaction.ms,
        });
    };
    let one_sample = || NotDefined::because("with one sample the interaction cannot be told from the assessor");
    let interaction = rise(pooled.interaction.ms, error.ms, repeats);
    Ok(ModelVariances {
        method: ModelMethod::ClosedForm,
        var_assessor: rise(pooled.assessor.ms, pooled.interaction.ms, samples * repeats),
        var_interaction: if table.samples.len() == 1 { Err(one_sample()) } else { Ok(interaction) },
        var_error: error.ms,
    })
}

fn rise(upper: f64, lower: f64, times: f64) -> f64 {
    ((upper - lower) / times).max(0.0)
}
