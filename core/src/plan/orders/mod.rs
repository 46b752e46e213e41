//! Serving orders and codes: designs, blocks, balance, carry-over.

pub mod balance;
pub(in crate::plan) mod block_orders;
pub mod blocks;
pub mod carry_over;
pub mod codes;
pub(in crate::plan) mod difference_families;
pub(in crate::plan) mod in_words;
pub(in crate::plan) mod lay_out;
pub mod order_plan;
pub(in crate::plan) mod row_choice;
pub mod serving_orders;
pub mod well_known_numbers;
pub mod williams;
