//! Numbers only: tails of distributions, sums, small matrices. Nothing here knows what a panel is.

pub mod binomial;
pub mod bootstrap;
pub mod correlation;
pub mod dense;
pub mod describe;
pub mod eigen;
pub mod hash;
pub mod maximum_law;
pub mod memory;
pub mod noncentral;
pub mod portable;
pub mod quadrature;
pub mod random;
pub mod root;
pub mod second_order;
pub mod simultaneous;
pub mod tail_table;
pub mod tails;
pub mod tolerance;
