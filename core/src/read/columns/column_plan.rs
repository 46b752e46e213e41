//! Which columns name a score and which hold one. Made from roles alone; it knows nothing of cells.

use crate::read::options::{ColumnRole, ColumnRoles, DecimalMark};

/// Where each thing that names a score stands, as columns from 0.
pub(in crate::read) struct ColumnPlan {
    pub assessor: Option<usize>,
    pub sample: Option<usize>,
    pub code: Option<usize>,
    pub replicate: Option<usize>,
    pub session: Option<usize>,
    pub position: Option<usize>,
    pub label: Option<usize>,
    pub attribute: Option<usize>,
    pub scores: Vec<usize>,
    /// Decimal mark of each column of scores; `None` where each cell tells its own.
    pub marks: Vec<Option<DecimalMark>>,
    /// What the header of a score column names.
    pub headers: Headers,
    /// Cells that a row may have.
    pub width: usize,
}

/// What the headers of the score columns name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum Headers {
    /// Nothing: everything that names the score stands in its row.
    Nothing,
    Attributes,
    Assessors,
    Samples,
    Replicates,
}

const ACROSS: [(ColumnRole, Headers); 4] = [
    (ColumnRole::AttributeScores, Headers::Attributes),
    (ColumnRole::AssessorScores, Headers::Assessors),
    (ColumnRole::SampleScores, Headers::Samples),
    (ColumnRole::ReplicateScores, Headers::Replicates),
];

impl ColumnPlan {
    /// `width` is how many cells a row may have.
    pub fn new(roles: &ColumnRoles, width: usize) -> Self {
        let (scores, headers) = score_columns(roles);
        ColumnPlan {
            assessor: roles.find(ColumnRole::Assessor),
            sample: roles.find(ColumnRole::Sample),
            code: roles.find(ColumnRole::Code),
            replicate: roles.find(ColumnRole::Replicate),
            session: roles.find(ColumnRole::Session),
            position: roles.find(ColumnRole::Position),
            label: roles.find(ColumnRole::Label),
            attribute: if headers == Headers::Attributes { None } else { roles.find(ColumnRole::Attribute) },
            marks: vec![Some(DecimalMark::Point); scores.len()],
            scores,
            headers,
            width,
        }
    }

    /// What of assessor, sample, attribute and score can't be told, in words.
    pub fn missing(&self) -> Vec<&'static str> {
        let no_scores = self.scores.is_empty();
        let mut missing = Vec::new();
        if self.assessor.is_none() && self.headers != Headers::Assessors {
            missing.push("the assessor");
        }
        if self.sample.is_none() && self.headers != Headers::Samples {
            missing.push("the sample");
        }
        if self.attribute.is_none() && self.headers != Headers::Attributes && !no_scores {
            missing.push("the attribute");
        }
        if no_scores {
            missing.push("the scores");
        }
        missing
    }

    /// Whether a column names the replicates.
    pub fn numbers_replicates(&self) -> bool {
        self.replicate.is_some() || self.headers == Headers::Replicates
    }
}

/// The columns that hold scores: one beside a column of attributes, or several that their headers tell apart.
fn score_columns(roles: &ColumnRoles) -> (Vec<usize>, Headers) {
    let long = roles.find(ColumnRole::Attribute).and_then(|_| roles.find(ColumnRole::Score));
    let across = ACROSS.into_iter().find(|(role, _)| roles.find(*role).is_some());
    match (long, across) {
        (Some(column), _) => (vec![column], Headers::Nothing),
        (None, Some((role, headers))) => (roles.all(role), headers),
        (None, None) => (Vec::new(), Headers::Nothing),
    }
}
