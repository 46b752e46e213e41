//! Shared helpers of the cross-crate tests.

#[cfg(feature = "browser")]
pub mod browser;
#[cfg(feature = "browser")]
pub mod filled_pages;
pub mod fuzz;
pub mod imports;
#[cfg(feature = "browser")]
pub mod page_results;
pub mod pdf_lines;
pub mod reference;
pub mod studies;
pub mod tasting;
pub mod workbooks;
