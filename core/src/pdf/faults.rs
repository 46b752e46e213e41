//! Why a PDF or a page of it gives no picture, and what to do instead. It knows nothing of how that was found.

use crate::scan::PictureFault;
use std::fmt;

/// More pages than this are not opened at once.
pub const MOST_PAGES: usize = 500;

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PdfFault {
    /// The file opens with a password.
    Locked,
    /// No page was found.
    NoPages,
    /// More objects or pages than any scanner makes.
    TooMuch,
    /// The page has no picture of the size of a page: it was never on paper, or was drawn.
    NoPicture,
    /// The page is laid together from several pictures.
    SeveralPictures,
    /// A coding that isn't read, by its name in the file.
    Coding(String),
    /// Pixels of a kind that isn't read.
    Pixels,
    /// The picture ends too soon or makes no sense.
    Damaged,
    /// The picture's size isn't taken.
    Size(PictureFault),
}

const INSTEAD: &str =
    "Set the scanner to JPEG or to a plain PDF (not compact, not searchable), or save the pages as JPEG or PNG.";

impl fmt::Display for PdfFault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PdfFault::Locked => out.write_str("The PDF is locked. Save it without a password, or scan again."),
            PdfFault::NoPages => out.write_str("The PDF has no page that can be found: it is damaged. Scan again."),
            PdfFault::TooMuch => {
                write!(
                    out,
                    "The PDF holds more than the pages of a scanner, or more than {MOST_PAGES} of them. Split it."
                )
            }
            PdfFault::NoPicture => {
                write!(out, "The page holds no scanned picture: it was drawn by a program. {INSTEAD}")
            }
            PdfFault::SeveralPictures => write!(out, "The page is laid together from several pictures. {INSTEAD}"),
            PdfFault::Coding(name) => {
                write!(out, "The page's picture is coded as {name}, which isn't read here. {INSTEAD}")
            }
            PdfFault::Pixels => write!(out, "The page's picture has pixels of a kind that isn't read here. {INSTEAD}"),
            PdfFault::Damaged => out.write_str("The page's picture is damaged: it ends too soon. Scan the page again."),
            PdfFault::Size(fault) => fault.fmt(out),
        }
    }
}

impl From<PictureFault> for PdfFault {
    fn from(fault: PictureFault) -> Self {
        PdfFault::Size(fault)
    }
}
