//! Numbers only: tails of distributions, sums, small matrices. Nothing here knows what a panel is.

pub mod dense;
pub mod second_order;
pub mod tails;
