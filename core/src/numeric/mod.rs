//! Numbers only: tails of distributions, sums, small matrices. Nothing here knows what a panel is.

pub mod dense;
pub mod second_order;
pub mod binomial;
pub mod bootstrap;
pub mod eigen;
pub mod portable;
pub mod random;
pub mod tails;
