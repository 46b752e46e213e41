//! Numbers, lists and cells as text: one place each. It knows no results.

pub mod csv;
pub mod numbers;
pub mod plain_json;
