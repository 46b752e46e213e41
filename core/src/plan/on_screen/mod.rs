//! The ballot on a screen: its file, one assessor's way through it, the results file, what came back.

pub mod ballot_file;
pub mod ballot_run;
pub mod collect;
pub mod results_file;
