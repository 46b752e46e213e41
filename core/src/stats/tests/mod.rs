//! Tests that are no profile: discrimination, preference, ranking.

pub mod d_prime;
pub mod discrimination;
pub mod people;
pub mod ranking;
pub mod similarity;
pub mod test_kind;
