//! What is to be laid out, and what an order of servings is: rows, keys, counts. It knows not how orders are found.

use super::balance::BalanceCounts;
use super::blocks::BlockBalance;
use super::codes::CodeSet;
use crate::plan::PlanError;
use serde::{Deserialize, Serialize};

/// What each assessor tastes in a replicate where a session doesn't bear all samples.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coverage {
    /// One session a replicate with a part of the samples: balanced incomplete blocks.
    #[default]
    OneSession,
    /// All samples, spread over several sessions.
    AllSamples,
}

/// What is to be laid out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderRequest {
    pub samples: usize,
    pub assessors: usize,
    pub replicates: usize,
    /// How many samples a session bears; `None` for all.
    pub samples_per_session: Option<usize>,
    pub coverage: Coverage,
    /// Index of a sample that is served in each session where sessions don't hold all samples: the target.
    pub target_in_each_session: Option<usize>,
    /// Whether each session begins with a warm-up cup under a code of its own. It has no position and no score.
    pub warm_up: bool,
    /// Codes that the study used before and that can't come back.
    pub used_codes: Vec<String>,
    pub seed: u64,
}

/// One assessor in one session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderRow {
    pub assessor: usize,
    pub replicate: u32,
    pub session: u32,
    /// Sample indices in serving order; the first has position 1.
    pub order: Vec<usize>,
    /// The codes of these samples in this session, in the same order. Files don't hold them: they follow from the key.
    #[serde(default, skip_serializing)]
    pub codes: Vec<String>,
    /// How many of these cups were served already; a row with one or more can't change any more.
    #[serde(default)]
    pub served: usize,
}

/// The codes of one session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SessionKey {
    pub session: u32,
    pub replicate: u32,
    /// One code a sample, by sample index.
    pub codes: Vec<String>,
    pub warm_up_code: Option<String>,
}

/// Orders and codes of a study, with the counts that tell how well they are balanced. The counts and sentences follow
/// from the rest: files don't hold them, and `with_counts` makes them anew on opening.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderPlan {
    pub request: OrderRequest,
    /// By session, then assessor.
    pub rows: Vec<OrderRow>,
    pub keys: Vec<SessionKey>,
    pub codes_check_themselves: bool,
    /// What is lost where codes don't check themselves.
    pub codes_lost: Option<String>,
    /// Over all rows.
    #[serde(skip)]
    pub balance: BalanceCounts,
    /// One entry a replicate.
    #[serde(skip)]
    pub balance_by_replicate: Vec<BalanceCounts>,
    /// How even the incomplete blocks are; `None` where each session holds all samples. Where the target is in each
    /// session it is left out of the counts, and index i stands for the i-th sample that is not the target.
    #[serde(skip)]
    pub blocks: Option<BlockBalance>,
    /// What kind of design this is, one sentence a line.
    #[serde(skip)]
    pub in_words: Vec<String>,
    #[serde(default)]
    pub late_changes: Vec<LateChange>,
}

/// One assessor in one session, before there is an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plan) struct Slot {
    pub(in crate::plan) assessor: usize,
    pub(in crate::plan) replicate: u32,
    pub(in crate::plan) session: u32,
}

/// One change of who takes part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LateChange {
    /// An assessor gets no more cups, from this session on. A row that was begun keeps the cups that were served.
    Absent { assessor: usize, from_session: u32 },
    /// An assessor takes part from this session on: a new one, whose index is the number of assessors so far, or one
    /// who was absent.
    Added { assessor: usize, from_session: u32 },
}

impl OrderRequest {
    /// Whether a session bears all samples.
    pub fn is_complete(&self) -> bool {
        self.samples_per_session.is_none_or(|most| most >= self.samples)
    }

    /// How many sessions an assessor sits in for one replicate.
    pub fn sessions_per_replicate(&self) -> usize {
        match (self.samples_per_session, self.coverage) {
            (Some(_), Coverage::AllSamples) if !self.is_complete() => {
                self.spread_samples().len().div_ceil(self.spread_per_session())
            }
            _ => 1,
        }
    }

    /// Samples that are spread over sessions: all but a target that is in each.
    pub(in crate::plan) fn spread_samples(&self) -> Vec<usize> {
        (0..self.samples).filter(|sample| Some(*sample) != self.target_in_each_session).collect()
    }

    /// How many of them a session bears.
    pub(in crate::plan) fn spread_per_session(&self) -> usize {
        let most = self.samples_per_session.unwrap_or(self.samples);
        most - usize::from(self.target_in_each_session.is_some())
    }

    /// Whether this can be laid out.
    ///
    /// # Errors
    /// The first count that is out of range.
    pub fn check(&self) -> Result<(), PlanError> {
        if !(2..=MOST_SAMPLES).contains(&self.samples) {
            return Err(PlanError::SampleCount { got: self.samples, lowest: 2, highest: MOST_SAMPLES });
        }
        if !(1..=MOST_ASSESSORS).contains(&self.assessors) {
            return Err(PlanError::AssessorCount { got: self.assessors, highest: MOST_ASSESSORS });
        }
        if !(1..=MOST_REPLICATES).contains(&self.replicates) {
            return Err(PlanError::ReplicateCount { got: self.replicates, highest: MOST_REPLICATES });
        }
        if let Some(got) = self.samples_per_session.filter(|size| *size < 2) {
            return Err(PlanError::SessionSize { got, lowest: 2 });
        }
        match self.target_in_each_session {
            Some(target) if target >= self.samples => {
                Err(PlanError::NoSuchSample { number: target + 1, samples: self.samples })
            }
            _ => Ok(()),
        }
    }
}

const MOST_SAMPLES: usize = 40;
const MOST_ASSESSORS: usize = 400;
const MOST_REPLICATES: usize = 20;

impl OrderPlan {
    /// The row of an assessor in a session.
    pub fn row(&self, assessor: usize, session: u32) -> Option<&OrderRow> {
        self.rows.iter().find(|row| row.assessor == assessor && row.session == session)
    }

    /// The codes of a session.
    pub fn key(&self, session: u32) -> Option<&SessionKey> {
        self.keys.iter().find(|key| key.session == session)
    }

    /// The codes of a row's cups by the key of its session; `None` where the key lacks one of them.
    pub fn codes_of(&self, row: &OrderRow) -> Option<Vec<String>> {
        let key = self.key(row.session)?;
        row.order.iter().map(|sample| key.codes.get(*sample).cloned()).collect()
    }

    /// All codes of the study, warm-up cups included, for checking a code as it is typed.
    pub fn code_set(&self) -> CodeSet {
        CodeSet {
            codes: self.keys.iter().flat_map(|key| key.codes.iter().chain(&key.warm_up_code)).cloned().collect(),
            self_checking: self.codes_check_themselves,
            lost: self.codes_lost.clone(),
        }
    }

    /// Whether any cup was served already.
    pub fn is_begun(&self) -> bool {
        self.rows.iter().any(|row| row.served > 0)
    }
}
