//! Workbooks: bytes of an .xlsx or .ods file to sheets of text cells. It knows nothing of panels.
//!
//! Nothing is unpacked before its size is known, and what a workbook may take in all is limited, so that no file can
//! hang the page or fill its memory. Every part's checksum is held, so that a damaged file never gives other scores.
//!
//! Archives are taken apart by the crate `zip`, which the writer of workbooks brings along anyway, and documents by
//! quick-xml without its feature for encodings; `archive` and `xml` add only the limits. Readers of our own stood here
//! before. The change was to be kept up to 30 KB gzipped (30,000 bytes), and it comes close: a stand-in for the page,
//! one function that reads a file and writes the results workbook (opt-level z, fat LTO, panic abort, stripped,
//! rustc 1.95, `gzip -9`), grew from 655,487 to 685,357 bytes, by 29,870. The page itself was not measured. What made
//! the difference is `ZipArchive`: with the crate's reader of one entry after the other (`zip::unstable`) the stand-in
//! grew by 36,348.

mod archive;
mod formats;
mod grid;
mod ods;
mod xlsx;
mod xml;

pub(in crate::read) use grid::{CellKind, Grid, Merged};

use archive::{Archive, ZipFault};
use grid::TooMuch;
use xml::Broken;

/// Why a workbook can't be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum WorkbookFault {
    /// An archive without sheets of a kind that is read: a text document, pictures, a binary workbook.
    NoWorkbook,
    /// A part is missing or broken.
    Damaged,
    /// Locked by a password.
    Locked,
    /// Unpacks to more than is read.
    TooLarge,
}

/// What all parts of a workbook may unpack to. Real score files stay far below.
const MOST_UNPACKED_BYTES: u64 = 300_000_000;

/// All sheets of a workbook, in its order.
pub(in crate::read) fn sheets(bytes: &[u8]) -> Result<Vec<Grid>, WorkbookFault> {
    let mut archive = Archive::open(bytes, MOST_UNPACKED_BYTES)?;
    let mut sheets = match () {
        () if archive.has("content.xml") => ods::sheets(&mut archive)?,
        () if archive.has("xl/workbook.bin") => return Err(WorkbookFault::NoWorkbook),
        () if archive.has("[Content_Types].xml") => xlsx::sheets(&mut archive)?,
        () => return Err(WorkbookFault::NoWorkbook),
    };
    sheets.iter_mut().for_each(Grid::settle);
    Ok(sheets)
}

/// Text of a part that has to be there.
fn part(archive: &mut Archive<'_>, name: &str) -> Result<String, WorkbookFault> {
    optional_part(archive, name)?.ok_or(WorkbookFault::Damaged)
}

fn optional_part(archive: &mut Archive<'_>, name: &str) -> Result<Option<String>, WorkbookFault> {
    let bytes = archive.file(name)?;
    bytes.map(|bytes| String::from_utf8(bytes).map_err(|_| WorkbookFault::Damaged)).transpose()
}

impl From<ZipFault> for WorkbookFault {
    fn from(fault: ZipFault) -> Self {
        match fault {
            ZipFault::Damaged => WorkbookFault::Damaged,
            ZipFault::Locked => WorkbookFault::Locked,
            ZipFault::TooLarge => WorkbookFault::TooLarge,
        }
    }
}

impl From<TooMuch> for WorkbookFault {
    fn from(_: TooMuch) -> Self {
        WorkbookFault::TooLarge
    }
}

impl From<Broken> for WorkbookFault {
    fn from(_: Broken) -> Self {
        WorkbookFault::Damaged
    }
}
