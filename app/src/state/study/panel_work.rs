//! The long work of Panel: started when it is wanted, kept while the marks it rests on stand, dropped when they change.

use super::work::EachOf;
use crate::parts::long_work::{LongWork, Progress};
use crate::state::AppContext;
use leptos::prelude::*;
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::leave_one_out::{Influence, InfluenceRun};
use likeness_core::stats::panel::form_faults::{FormFaultReport, FormFaultSearch};
use likeness_core::stats::panel::replicate_effect::{ReplicateAnalysis, ReplicateOptions, Round, replicate_check};
use likeness_core::stats::panel::scale_use::{ScaleUse, scale_use};
use likeness_core::stats::panel::serving_order::{OrderEffects, order_effects_on, positions_known};
use likeness_core::stats::panel::sessions::{SessionPerformance, session_performance, sessions_known};
use likeness_core::study::{ExclusionScope, SourceFile, Study};

/// Marks compared (pages, lines and lines again) up to which slips are looked for without being asked: about a second.
const SHORT_SEARCH: u64 = 3_000_000;
/// Scores up to which assessors are set aside, and assessors' orders compared, without being asked.
const SHORT_PASS: u64 = 100_000;

/// All long work of Panel. Copies are handles to the same.
#[derive(Clone, Copy)]
pub struct PanelWork {
    context: AppContext,
    pub slips: LongWork<FormFaultReport>,
    pub influence: LongWork<Influence>,
    pub lines: LongWork<Vec<Defined<ScaleUse>>>,
    pub order: LongWork<Vec<OrderEffects>>,
    pub rounds: LongWork<Vec<Defined<ReplicateAnalysis>>>,
    pub sessions: LongWork<Vec<SessionPerformance>>,
}

/// What the marks that count are: two states that are equal here give the same results.
#[derive(Clone, PartialEq)]
struct Basis {
    files: Vec<SourceFile>,
    exclusions: Vec<ExclusionScope>,
    attributes: Vec<String>,
    n_servings: usize,
    marks: u64,
}

impl PanelWork {
    pub fn new(context: AppContext) -> Self {
        let work = PanelWork {
            context,
            slips: LongWork::new(),
            influence: LongWork::new(),
            lines: LongWork::new(),
            order: LongWork::new(),
            rounds: LongWork::new(),
            sessions: LongWork::new(),
        };
        let basis = Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(basis_of)));
        let settings =
            Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(|study| study.settings.clone())));
        // Memos are read, not only tracked: one that was never read does not know what it depends on.
        Effect::new(move |_| {
            basis.with(|_| ());
            work.slips.drop_result();
        });
        Effect::new(move |_| {
            basis.with(|_| ());
            settings.with(|_| ());
            work.influence.drop_result();
            work.lines.drop_result();
            work.order.drop_result();
            work.rounds.drop_result();
            work.sessions.drop_result();
        });
        work
    }

    pub fn look_for_form_faults(self) {
        self.with_study(|study| self.slips.start(Ok(FormFaultSearch::start(study))));
    }

    pub fn set_aside(self) {
        self.with_study(|study| self.influence.start(InfluenceRun::start(study)));
    }

    pub fn compare_lines(self) {
        let ask = |study: &Study, index: usize| scale_use(&study.attribute_scores(index), study.settings.alpha);
        self.with_study(|study| self.lines.start(Ok(EachOf::attributes(study, ask))));
    }

    pub fn look_at_order(self) {
        self.with_study(|study| {
            self.order.start(positions_known(study).map(|()| EachOf::attributes(study, order_effects_on)));
        });
    }

    pub fn compare_rounds(self) {
        self.with_study(|study| self.rounds.start(Ok(EachOf::attributes(study, rounds_of))));
    }

    pub fn compare_sessions(self) {
        self.with_study(|study| {
            self.sessions.start(sessions_known(study).map(|()| EachOf::sessions(study, session_performance)));
        });
    }

    /// Starts what is short and not yet begun. Reads signals, so that it is asked again when something changes.
    pub fn start_what_is_short(self) {
        let (search, pass) = self.context.app.study.with(|study| study.as_ref().map_or((0, 0), sizes));
        if search == 0 {
            return;
        }
        if search <= SHORT_SEARCH && is_idle(self.slips) {
            self.look_for_form_faults();
        }
        if pass <= SHORT_PASS {
            if is_idle(self.influence) {
                self.set_aside();
            }
            if is_idle(self.lines) {
                self.compare_lines();
            }
            if is_idle(self.order) {
                self.look_at_order();
            }
            if is_idle(self.rounds) {
                self.compare_rounds();
            }
            if is_idle(self.sessions) {
                self.compare_sessions();
            }
        }
    }

    fn with_study(self, run: impl FnOnce(&Study)) {
        self.context.app.study.with_untracked(|study| {
            if let Some(study) = study {
                run(study);
            }
        });
    }
}

fn is_idle<T: Send + Sync>(work: LongWork<T>) -> bool {
    matches!(work.progress(), Progress::Nothing)
}

/// Replicates where there are several, else sessions.
fn rounds_of(study: &Study, index: usize) -> Defined<ReplicateAnalysis> {
    let round = if study.replicate_count() > 1 || study.sessions.len() < 2 { Round::Replicate } else { Round::Session };
    replicate_check(&study.attribute_scores(index), &ReplicateOptions { round, alpha: study.settings.alpha })
}

/// How much there is to look for slips in, and to pass through once for each assessor.
fn sizes(study: &Study) -> (u64, u64) {
    let marks = study.servings.len() as u64 * study.attributes.len() as u64;
    (marks * study.attributes.len() as u64, marks * study.assessors.len() as u64)
}

fn basis_of(study: &Study) -> Basis {
    let mut marks = 0_u64;
    for attribute in 0..study.attributes.len() {
        for serving in 0..study.servings.len() {
            let bits = study.score(serving, attribute).map_or(1, f64::to_bits);
            marks = marks.rotate_left(5) ^ bits.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        }
    }
    Basis {
        files: study.files.clone(),
        exclusions: study.exclusions.iter().map(|exclusion| exclusion.scope).collect(),
        attributes: study.attributes.iter().map(|attribute| attribute.name.clone()).collect(),
        n_servings: study.servings.len(),
        marks,
    }
}
