//! What rows and columns are: header, roles, decimal marks. It joins nothing.

pub(in crate::read) mod column_plan;
pub(in crate::read) mod decimals;
pub(in crate::read) mod doubts;
pub(in crate::read) mod header_words;
pub(in crate::read) mod layout;
pub(in crate::read) mod roles;
pub(in crate::read) mod survey;
