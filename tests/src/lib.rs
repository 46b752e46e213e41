//! Shared helpers of the cross-crate tests.

pub mod reference;
pub mod studies;
