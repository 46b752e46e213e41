//! Tests that are no profile, planned: designs, answers, results.

pub mod short_test;
pub mod test_designs;
pub mod test_kind;
mod test_patterns;
mod test_request;
pub mod test_results;
