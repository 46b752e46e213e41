//! Tables put together: which hold scores, which is the key, which names mean the same.

pub(in crate::read) mod combine;
pub(in crate::read) mod key;
pub(in crate::read) mod names;
pub(in crate::read) mod parts;
pub(in crate::read) mod table_choice;
