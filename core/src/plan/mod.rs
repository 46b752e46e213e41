//! The plan of a tasting, made before there are data: codes, serving orders, ballots, sheets, scores typed from paper.
//!
//! Everything here is a pure function: the seed and the time are arguments. It knows nothing of files, statistics or
//! the page.

pub mod attributes;
pub mod balance;
pub mod ballot;
pub mod ballot_geometry;
pub mod blocks;
pub mod booth;
pub mod booth_collect;
pub mod booth_results;
pub mod booth_run;
pub mod brief;
pub mod carry_over;
pub mod checklist;
pub mod codes;
pub mod csv_text;
pub mod design;
pub mod draft;
pub mod keying;
pub mod keying_compare;
pub mod keying_file;
pub mod keying_guard;
pub mod label_studies;
pub mod late;
pub mod orders;
pub mod page_code;
pub mod print_svg;
pub mod record;
pub mod sealed;
pub mod sheets;
pub mod short_test;
pub mod test_results;
pub mod well_known;
pub mod williams;

mod attribute_words;
mod block_orders;
mod choose;
mod difference_families;
mod error;
mod example;
mod orders_in_words;
mod words;

pub use error::PlanError;
