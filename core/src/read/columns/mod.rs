//! What rows and columns are: header, roles, decimal marks, scale. It joins nothing.

pub(in crate::read) mod column_plan;
pub(in crate::read) mod decimals;
pub(in crate::read) mod header_words;
pub(in crate::read) mod layout;
pub(in crate::read) mod numbers;
pub(in crate::read) mod roles;
pub(in crate::read) mod scale;
