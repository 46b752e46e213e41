//! Whether the panel can be believed: performance, scale use, sessions, replicates, serving order, faults of forms.

pub mod assessor;
pub(in crate::stats) mod form_fault_detectors;
pub mod form_fault_findings;
pub mod form_faults;
pub(in crate::stats) mod form_pages;
mod form_shifts;
pub mod intraclass;
pub mod outcome_counts;
pub mod outcomes;
pub mod people;
pub mod performance;
pub mod raw_scores;
pub mod replicate_effect;
pub mod round_shift;
pub mod scale_use;
pub mod serving_order;
pub(in crate::stats) mod serving_order_model;
pub mod sessions;
