//! likeness-core: everything Likeness computes, without a page and without a clock.
//!
//! ```text
//! bytes -> read -> Study -> stats -> results -> figures -> Scene -> paint
//!                      |                 \-> write -> tables, report, JSON
//! ```
//! Arrows run one way. `read`, `stats` and `plan` do not see each other; `figures` and `write` see results only;
//! `planning` joins `plan` with `stats`; `scan` reads pictures of filled ballots against a plan, `pdf` finds them in a
//! scanner's file, and `scan_desk` is where a person goes through what was read.

pub mod catalogue;
pub mod defined;
pub mod figures;
pub mod notice;
pub mod numeric;
pub mod pdf;
pub mod plan;
pub mod planning;
pub mod read;
pub mod run;
pub mod scan;
pub mod scan_desk;
pub mod self_check;
pub mod stats;
pub mod study;
pub mod table;
pub mod tables;
pub mod text;
pub mod write;
