//! Joins restricted maximum likelihood into the analysis of variance of a study of any balance, with words for it.

use super::anova_closed_form::NO_SCATTER;
use super::cell_groups::{AdditiveRest, SampleGroups};
use super::cells::CellTable;
use super::parts::Parts;
use super::reml_criterion::{ASSESSOR, Blocks, ERROR, INTERACTION};
use super::sample_effect::sample_effect;
use super::variance_reml::{RemlFit, cannot_tell_apart, fit_reml};
use crate::stats::results::{Anova, Defined, ModelMethod, ModelVariances, NotDefined};
use crate::stats::samples::means::{EstimatedMeans, GeneralSpread};
use crate::study::AttributeScores;

/// What the cells let the model hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Terms {
    /// Assessor, interaction and error.
    All,
    /// One score a cell: the interaction is the error.
    NoReplicates,
    /// One sample: the interaction is the assessor.
    OneSample,
    /// Scores within a cell never differ: the error is zero and the interaction takes its place.
    NoError,
}

/// Fits a table of any balance, at least two assessors in it.
pub(in crate::stats) fn fit_unbalanced(table: &CellTable, scores: &AttributeScores) -> Parts {
    let terms = Terms::of(table);
    let mut blocks = Blocks::new(table);
    if terms == Terms::NoError {
        blocks = blocks.one_score_a_cell();
    }
    let rounding = crate::numeric::tolerance::reading_error(table.largest_score);
    let fitted = can_be_fitted(table, terms).and_then(|()| fit_reml(&blocks, terms == Terms::All, rounding * rounding));
    match fitted {
        Err(because) => Parts { anova: Err(because.clone()), model: Err(because.clone()), estimated: Err(because) },
        Ok(fit) => {
            let estimated = estimated_means(table, &blocks, &fit);
            Parts {
                anova: unbalanced_anova(table, scores, terms, &fit, &estimated),
                model: Ok(variances(terms, &fit)),
                estimated: Ok(estimated),
            }
        }
    }
}

impl Terms {
    fn of(table: &CellTable) -> Terms {
        if table.within_df() == 0 {
            Terms::NoReplicates
        } else if table.is_rounding_noise(table.within_square_sum()) {
            Terms::NoError
        } else if table.samples.len() == 1 {
            Terms::OneSample
        } else {
            Terms::All
        }
    }

    fn interaction_is_the_error(self) -> bool {
        matches!(self, Terms::NoReplicates | Terms::NoError)
    }
}

/// Where the interaction is the error, the cells must be able to show one, and must show one.
fn can_be_fitted(table: &CellTable, terms: Terms) -> Defined<()> {
    if !terms.interaction_is_the_error() {
        return Ok(());
    }
    let rest = AdditiveRest::of(table).ok_or_else(cannot_tell_apart)?;
    if rest.df == 0 {
        return Err(cannot_tell_apart());
    }
    if table.is_rounding_noise(rest.ss) { Err(NotDefined::because(NO_SCATTER)) } else { Ok(()) }
}

fn estimated_means(table: &CellTable, blocks: &Blocks, fit: &RemlFit) -> EstimatedMeans {
    let effects = blocks.centres.iter().zip(&fit.evaluation.effects);
    let means = effects.map(|(centre, effect)| table.shift + (centre + effect)).collect();
    let spread = GeneralSpread {
        covariance: fit.evaluation.covariance.clone(),
        derivatives: fit.covariance_derivatives(),
        covariance_of_variances: fit.covariance_of_variances.clone(),
    };
    EstimatedMeans::general(means, spread)
}

fn unbalanced_anova(
    table: &CellTable,
    scores: &AttributeScores,
    terms: Terms,
    fit: &RemlFit,
    estimated: &EstimatedMeans,
) -> Defined<Anova> {
    if table.samples.len() == 1 {
        return Err(NotDefined::because("only one sample has scores"));
    }
    let mut order = (0..table.samples.len()).collect::<Vec<_>>();
    order.sort_by_key(|place| &scores.samples[table.samples[*place]]);
    let counts = (0..table.samples.len()).map(|place| table.sample_count(place)).collect::<Vec<_>>();
    let test = sample_effect(estimated, &order, &counts)?;
    Ok(Anova {
        sample_df: test.df1,
        error_df: test.df2,
        f: test.f,
        p: test.p,
        table: Err(NotDefined::because("the textbook table needs the same number of scores in every cell")),
        model: in_words(table, terms, fit),
    })
}

fn variances(terms: Terms, fit: &RemlFit) -> ModelVariances {
    let found = fit.variances;
    let (var_interaction, var_error) = match terms {
        Terms::All => (Ok(found[INTERACTION]), found[ERROR]),
        Terms::NoError => (Ok(found[ERROR]), 0.0),
        Terms::NoReplicates => {
            (Err(NotDefined::because("there is one score at most for each assessor and sample")), found[ERROR])
        }
        Terms::OneSample => {
            (Err(NotDefined::because("with one sample the interaction cannot be told from the assessor")), found[ERROR])
        }
    };
    ModelVariances { method: ModelMethod::Reml, var_assessor: found[ASSESSOR], var_interaction, var_error }
}

fn in_words(table: &CellTable, terms: Terms, fit: &RemlFit) -> String {
    let mut words = match terms {
        Terms::All | Terms::OneSample => {
            "score = sample + assessor (random) + assessor x sample (random) + error".to_owned()
        }
        Terms::NoReplicates => "score = sample + assessor (random) + error, the error holding the assessor x sample \
                                interaction"
            .to_owned(),
        Terms::NoError => "mean of repeated scores, which never differ, = sample + assessor (random) + assessor x \
                           sample (random)"
            .to_owned(),
    };
    words.push_str(
        "; restricted maximum likelihood, F of the sample means with Satterthwaite degrees of freedom \
         (type III contrasts by Doolittle elimination, samples in the order of their names)",
    );
    let dropped = |place| !fit.free.contains(&place);
    match (dropped(INTERACTION) && terms == Terms::All, dropped(ASSESSOR)) {
        (true, true) => words.push_str("; the interaction and assessor variances are zero and left out"),
        (true, false) => words.push_str("; the interaction variance is zero and left out"),
        (false, true) => words.push_str("; the assessor variance is zero and left out"),
        (false, false) => {}
    }
    let groups = SampleGroups::of(table).count;
    if groups > 1 {
        words.push_str(&format!(
            "; the samples fall into {groups} groups that no assessor joins, so samples of different groups are \
             compared through different people"
        ));
    }
    words
}
