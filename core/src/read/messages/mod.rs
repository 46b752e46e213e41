//! What reading says: notes collected, and every sentence in one place.

pub(in crate::read) mod note;
pub(in crate::read) mod notes;
pub(in crate::read) mod sentences;
