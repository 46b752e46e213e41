//! The desk at which a person goes through filled pages that were read from pictures: what was read, what is asked, what
//! was decided and by whom, a second look at some rows, and the record of all of it. Its state is plain data that can be
//! saved after every key. It knows nothing of how a page is read or shown.
//!
//! ```text
//! pictures -> taking -> desk <- queue, spot_check (a person) -> counts, record -> study
//! ```

pub mod counts;
pub mod desk;
pub mod desk_file;
pub mod picture_file;
pub mod queue;
pub mod record;
pub mod spot_check;
pub mod strips;
pub mod taking;
#[cfg(test)]
mod tests;
