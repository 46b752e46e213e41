//! Whether candidates match the target, how sure that is, and what hangs on whom.

mod chances;
mod closeness;
mod differences;
mod headline;
mod integrated;
mod leave_one_out;
mod power;
pub mod reasons;
mod second_opinion;
pub mod sentences;
mod stands_on;
mod verdicts;
pub mod words;

pub use chances::{chances, chances_sentence, next_margins};
pub use closeness::closeness;
pub use differences::{all_differences, differences};
pub use headline::{alarm, headline, late_sentence};
pub use integrated::integrated;
pub use leave_one_out::leave_one_out;
pub use power::power;
pub use second_opinion::{second_opinion, second_opinion_in_full};
pub use stands_on::{closest, shifts, stands_on};
pub use verdicts::{verdicts, verdicts_in_words};
