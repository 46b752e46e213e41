//! Numbers, lists, table cells and markup as text: one place each. It knows no results.

pub mod csv;
pub mod lists;
pub mod markup;
pub mod numbers;
pub mod plain_json;
pub mod tidy_columns;
