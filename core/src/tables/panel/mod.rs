//! Whether the panel can be believed, who marks differently, and what order, labels and rounds did.

pub mod conclusions;
mod form_faults;
mod line_use;
pub mod people;
mod performance;
mod rounds;
mod serving_order;
pub mod words;

pub use form_faults::form_faults;
pub use line_use::line_use;
pub use people::people;
pub use performance::{assessors, attributes, grid};
pub use rounds::{round_shifts, rounds, sessions};
pub use serving_order::{labels, serving_order};
