//! How much the panel of a draft is assumed to scatter, as the leader can look it up in an earlier study. It knows no
//! statistics: what follows from these numbers is found in `planning`.

use serde::{Deserialize, Serialize};

/// What is assumed of a panel. All lengths are standard deviations in mm on the line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "ScatterForm")]
pub struct AssumedScatter {
    /// Between assessors, of each one's own difference candidate minus target: their means over `replicates_behind` cups.
    pub sd_difference_mm: f64,
    /// Cups of each sample behind such a difference, from 1.
    pub replicates_behind: usize,
    /// Between the replicates of one assessor.
    pub sd_error_mm: f64,
    /// Between the differences on any two attributes, 0 to 1: how much an assessor who sees one character stronger sees
    /// the others stronger too. An assumption; no study of few assessors tells it well.
    pub correlation: f64,
}

/// What a kept draft may hold. Drafts of earlier versions hold the scatter of assessor x sample on one sample in place of
/// that of a difference.
#[derive(Deserialize)]
struct ScatterForm {
    sd_difference_mm: Option<f64>,
    replicates_behind: Option<usize>,
    sd_error_mm: Option<f64>,
    correlation: Option<f64>,
    sd_interaction_mm: Option<f64>,
}

impl Default for AssumedScatter {
    /// A steady panel: assessor x sample 5 mm and replicates 9 mm make sqrt(2 (25 + 81 / 2)) = 11.45 mm.
    fn default() -> Self {
        AssumedScatter { sd_difference_mm: 11.5, replicates_behind: 2, sd_error_mm: 9.0, correlation: 0.3 }
    }
}

impl From<ScatterForm> for AssumedScatter {
    fn from(form: ScatterForm) -> Self {
        let usual = AssumedScatter::default();
        let sd_error_mm = form.sd_error_mm.unwrap_or(usual.sd_error_mm);
        let replicates_behind = form.replicates_behind.unwrap_or(usual.replicates_behind).max(1);
        // What was computed from the earlier form used it as assessor x sample: the same power comes out again.
        let error = sd_error_mm * sd_error_mm / replicates_behind as f64;
        let as_computed = |sd: f64| (2.0 * (sd * sd + error)).sqrt();
        let earlier = form.sd_interaction_mm.map(as_computed);
        AssumedScatter {
            sd_difference_mm: form.sd_difference_mm.or(earlier).unwrap_or(usual.sd_difference_mm),
            replicates_behind,
            sd_error_mm,
            correlation: form.correlation.unwrap_or(usual.correlation),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::draft::PlanDraft;

    #[test]
    fn a_draft_kept_before_means_what_was_computed_from_it() {
        let mut kept = serde_json::to_value(PlanDraft::default()).expect("a draft is plain data");
        let fields = kept.as_object_mut().expect("a draft has fields");
        for newer in ["sd_difference_mm", "replicates_behind", "correlation"] {
            assert!(fields.remove(newer).is_some(), "{newer} stands beside the other fields");
        }
        fields.insert("sd_interaction_mm".to_owned(), 5.0.into());
        let opened: PlanDraft = serde_json::from_value(kept).expect("a draft of an earlier version opens");
        // By hand: 2 (5^2 + 9^2 / 2) = 131.
        assert!((opened.scatter.sd_difference_mm - 131.0_f64.sqrt()).abs() < 1e-12, "{:?}", opened.scatter);
        assert_eq!(PlanDraft { scatter: AssumedScatter::default(), ..opened }, PlanDraft::default());
    }

    #[test]
    fn a_draft_comes_back_as_it_was() {
        let scatter =
            AssumedScatter { sd_difference_mm: 14.2, replicates_behind: 3, sd_error_mm: 8.0, correlation: 0.1 };
        let draft = PlanDraft { scatter, ..PlanDraft::default() };
        let text = serde_json::to_string(&draft).expect("a draft is plain data");
        assert_eq!(serde_json::from_str::<PlanDraft>(&text).expect("its own text"), draft);
    }
}
