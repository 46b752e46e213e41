//! Scores typed from paper: page by page, put aside, entered twice and compared.

pub mod compare;
pub mod entry;
pub mod entry_file;
pub mod page_guard;
