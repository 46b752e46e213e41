//! The panel session by session: whether it tells samples apart, repeats and agrees more or less as sessions go by.
//!
//! Each session is judged as if it were the whole study. With few samples or assessors in a session its figures are
//! rough, so they are shown beside each other and no test is made of their differences.

use super::performance::performance;
use crate::numeric::describe::mean;
use crate::stats::results::{Defined, NotDefined};
use crate::study::{Exclusion, ExclusionScope, Study};
use serde::Serialize;

/// The panel in one session.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SessionPerformance {
    pub session: String,
    /// Assessors, samples and pages with a mark that counts.
    pub n_assessors: usize,
    pub n_samples: usize,
    pub n_pages: usize,
    /// Attributes on which the samples of this session could be tested.
    pub n_tested: usize,
    /// Those on which the panel found differences between them (p below alpha of the study).
    pub n_discriminated: usize,
    /// Root of the mean over attributes of the variance between replicates within the session, in units of the scale.
    pub repeatability_sd: Defined<f64>,
    /// Mean over attributes and assessors of the correlation with the others over the samples of the session.
    pub mean_correlation: Defined<f64>,
    /// Mean of all marks, in units of the scale.
    pub mean_score: Defined<f64>,
}

/// Whether there are sessions to compare.
///
/// Errors: the scores name fewer than two.
pub fn sessions_known(study: &Study) -> Defined<()> {
    match study.sessions.len() {
        0 => Err(NotDefined::because("the file names no sessions")),
        1 => Err(NotDefined::because("there is one session only")),
        _ => Ok(()),
    }
}

/// The panel in one session, an index into `Study::sessions`; the marks of the others are set aside.
pub fn session_performance(study: &Study, session: usize) -> SessionPerformance {
    let alone = one_session(study, session);
    let sample_p = crate::stats::analyse(&alone).sample_p();
    let panel = performance(&alone, &sample_p);
    let variances: Vec<f64> =
        panel.attributes.iter().filter_map(|one| one.repeatability.as_ref().ok()).map(|one| one.sd * one.sd).collect();
    let correlations: Vec<f64> =
        panel.assessors.iter().filter_map(|one| one.mean_correlation.as_ref().ok().copied()).collect();
    let tally = Tally::of(&alone);
    SessionPerformance {
        session: study.sessions.get(session).cloned().unwrap_or_default(),
        n_assessors: tally.assessors,
        n_samples: tally.samples,
        n_pages: tally.pages,
        n_tested: sample_p.iter().filter(|p| p.is_ok()).count(),
        n_discriminated: panel.attributes.iter().filter(|one| one.panel_discriminates).count(),
        repeatability_sd: or_because(mean(&variances).map(f64::sqrt), "no sample was marked twice within the session"),
        mean_correlation: or_because(mean(&correlations), "nobody can be held against others over several samples"),
        mean_score: or_because(tally.mean, "no mark counts in it"),
    }
}

/// The study with the pages of all other sessions left out, and no target.
fn one_session(study: &Study, session: usize) -> Study {
    let mut alone = study.clone();
    alone.settings.target = None;
    let is_other = |index: &usize| study.servings[*index].session != Some(session as u32);
    let leave_out = |index| Exclusion {
        scope: ExclusionScope::Serving(index),
        reason: String::new(),
        when: String::new(),
        late: false,
    };
    alone.exclusions.extend((0..study.servings.len()).filter(is_other).map(leave_out));
    alone
}

/// What there is of marks that count.
struct Tally {
    assessors: usize,
    samples: usize,
    pages: usize,
    mean: Option<f64>,
}

impl Tally {
    fn of(study: &Study) -> Self {
        let (mut assessors, mut samples, mut pages) = (Vec::new(), Vec::new(), Vec::new());
        let mut marks = Vec::new();
        for attribute in study.active_attributes() {
            for one in study.attribute_scores(attribute).observations {
                assessors.push(one.assessor);
                samples.push(one.sample);
                pages.push(one.serving);
                marks.push(one.score);
            }
        }
        let distinct = |mut all: Vec<u32>| {
            all.sort_unstable();
            all.dedup();
            all.len()
        };
        Tally { assessors: distinct(assessors), samples: distinct(samples), pages: distinct(pages), mean: mean(&marks) }
    }
}

fn or_because(value: Option<f64>, because: &str) -> Defined<f64> {
    value.ok_or_else(|| NotDefined::because(because))
}
