//! The pictures in a scanner's PDF: bytes of a file in, one picture a page out, or what to do instead.
//!
//! A scanner's PDF holds one picture a page. JPEG pictures are handed out as they are, for a decoder that is there anyway;
//! fax and plain ones become grey pictures here. Tables of contents are not trusted: objects are looked for in the bytes
//! (ISO 32000-2). It knows nothing of ballots.

mod content;
mod document;
mod faults;
mod image;
mod objects;
mod pixels;
mod predictor;
mod store;
mod stream;
#[cfg(test)]
mod tests;

pub use document::ScannedPdf;
pub use faults::{MOST_PAGES, PdfFault};
pub use image::PagePicture;
