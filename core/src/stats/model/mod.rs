//! The mixed model of one attribute: cells, variances, the test of the sample effect. It knows no target.

pub mod anova;
pub(in crate::stats) mod anova_closed_form;
pub(in crate::stats) mod anova_reml;
pub(in crate::stats) mod cell_groups;
pub(in crate::stats) mod cell_terms;
pub mod cells;
pub(in crate::stats) mod parts;
pub(in crate::stats) mod reml_blocks;
pub(in crate::stats) mod reml_criterion;
pub(in crate::stats) mod reml_totals;
pub(in crate::stats) mod sample_effect;
pub mod variance_closed_form;
pub(in crate::stats) mod variance_reml;
