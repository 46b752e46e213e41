//! Files to sheets: every text file and every sheet of a workbook becomes one table of text cells.
//! It knows what kind of file it is, and nothing of what the cells mean.

use super::decode;
use super::decode::{Decoded, FileKind, NotText};
use super::separator;
use super::workbook;
use super::workbook::{CellKind, Grid, Merged, WorkbookFault};
use crate::notice::Place;
use crate::numeric::hash::fingerprint;
use crate::read::grid::cell_values::looks_like_number;
use crate::read::grid::table::{Stored, StoredCell, Table};
use crate::read::messages::notes::Source;
use crate::read::messages::sentences as say;
use crate::read::reader::Reader;
use crate::study::SourceFile;
use std::borrow::Cow;

/// One file by its name and bytes.
#[derive(Clone, Copy)]
pub(in crate::read) struct FileBytes<'a> {
    pub name: &'a str,
    pub bytes: &'a [u8],
}

/// What is in a file, before it is taken apart into cells.
pub(in crate::read) enum Content<'a> {
    Text(Decoded<'a>),
    Workbook(Vec<Grid>),
    /// Told already why not.
    Unreadable,
}

/// One table as it lies in its file.
pub(in crate::read) struct Sheet<'a> {
    /// Index of the file among those given.
    pub file: usize,
    pub source: Source,
    pub is_hidden: bool,
    pub record: SourceFile,
    pub table: Table<'a>,
    pub merged: Vec<Merged>,
    /// Byte between two cells; `None` for sheets of a workbook.
    pub separator: Option<u8>,
    /// In which the text stands; empty for sheets of a workbook.
    pub encoding: &'static str,
}

impl Reader<'_> {
    /// Unpacks or decodes one file; what can't be read is told.
    pub(in crate::read) fn content<'a>(&mut self, file: FileBytes<'a>) -> Content<'a> {
        let whole = Place::file(file.name);
        let longest = self.options.longest_file_bytes;
        let note = if file.bytes.len() > longest.min(u32::MAX as usize) {
            say::too_long(file.bytes.len(), longest)
        } else {
            match decode::decode(file.bytes) {
                Ok(decoded) => return Content::Text(self.decoded(whole, decoded)),
                Err(NotText::Empty) => say::empty_file(),
                Err(NotText::Unknown) => say::binary_file(),
                Err(NotText::Known(kind)) if kind.is_archive() => match workbook::sheets(file.bytes) {
                    Ok(grids) => return Content::Workbook(grids),
                    Err(fault) => fault_note(fault, kind),
                },
                Err(NotText::Known(kind)) => say::wrong_kind(kind),
            }
        };
        self.notes.at(whole, note);
        Content::Unreadable
    }

    fn decoded<'a>(&mut self, whole: Place, decoded: Decoded<'a>) -> Decoded<'a> {
        if !decoded.sure {
            self.notes.at(whole.clone(), say::encoding(decoded.encoding));
        }
        if decoded.damaged_signs > 0 {
            self.notes.at(whole, say::damaged_signs(decoded.damaged_signs, decoded.encoding));
        }
        decoded
    }

    /// The tables in one file.
    pub(in crate::read) fn sheets_of<'a>(
        &mut self,
        number: usize,
        file: FileBytes<'_>,
        content: &'a Content<'a>,
    ) -> Vec<Sheet<'a>> {
        match content {
            Content::Unreadable => Vec::new(),
            Content::Text(decoded) => self.text_table(number, file, decoded).into_iter().collect(),
            Content::Workbook(grids) => {
                let taken = grids.iter().map(|grid| self.grid_table(number, file, grid));
                taken.collect::<Option<Vec<Sheet<'a>>>>().unwrap_or_default()
            }
        }
    }

    fn text_table<'a>(&mut self, number: usize, file: FileBytes<'_>, decoded: &'a Decoded<'a>) -> Option<Sheet<'a>> {
        let stated = self.options.separator;
        let (separator, text, lines_above) = match separator::stated(&decoded.text) {
            Some((separator, below)) => (Some(stated.unwrap_or(separator)), below, 1),
            None => (stated.or_else(|| separator::guess(&decoded.text)), &*decoded.text, 0),
        };
        let source = Source::of_file(file.name);
        let Some(separator) = separator else {
            self.reading.preview.encoding = decoded.encoding.to_owned();
            self.notes.at(source.place(), say::one_column());
            return None;
        };
        let table = Table::parse(text, separator, lines_above);
        if let Some(line) = table.open_quote_line {
            self.notes.at(source.place().row(line), say::open_quote());
        }
        let (separator, encoding) = (Some(separator), decoded.encoding);
        Some(Sheet { separator, encoding, ..Sheet::of(number, source, record(file, None), table) })
    }

    fn grid_table<'a>(&mut self, number: usize, file: FileBytes<'_>, grid: &Grid) -> Option<Sheet<'a>> {
        let source = Source { file: file.name.to_owned(), sheet: Some(grid.name.clone()), headers: Vec::new() };
        let Some(table) = Table::of_grid(grid) else {
            self.notes.at(Place::file(file.name), fault_note(WorkbookFault::TooLarge, FileKind::Workbook));
            return None;
        };
        let record = record(file, Some(grid.name.clone()));
        let sheet = Sheet::of(number, source, record, table);
        Some(Sheet { is_hidden: grid.is_hidden, merged: grid.merged.clone(), ..sheet })
    }
}

impl<'a> Sheet<'a> {
    fn of(file: usize, source: Source, record: SourceFile, table: Table<'a>) -> Self {
        let (is_hidden, merged, separator, encoding) = (false, Vec::new(), None, "");
        Sheet { file, source, is_hidden, record, table, merged, separator, encoding }
    }
}

/// The file's name without folders and ending.
pub(in crate::read) fn title_of(file_name: &str) -> &str {
    let name = file_name.rsplit(['/', '\\']).next().unwrap_or(file_name);
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

fn record(file: FileBytes<'_>, sheet: Option<String>) -> SourceFile {
    let (length_bytes, fingerprint) = (file.bytes.len() as u64, fingerprint(file.bytes));
    SourceFile { name: file.name.to_owned(), sheet, length_bytes, fingerprint }
}

fn fault_note(fault: WorkbookFault, kind: FileKind) -> say::Note {
    match fault {
        WorkbookFault::NoWorkbook => say::wrong_kind(kind),
        WorkbookFault::Damaged => say::damaged_workbook(),
        WorkbookFault::Locked => say::locked_workbook(),
        WorkbookFault::TooLarge => say::workbook_too_large(),
    }
}

/// Cells that a sheet may span once the blank ones between are counted. Scores of a million servings span fewer.
const MOST_SPANNED_CELLS: usize = 20_000_000;

impl Table<'_> {
    /// A sheet of a workbook as a table: rows and columns stand where they stand in the sheet. `None` where the cells
    /// lie so far apart that the blanks between them would fill the memory.
    pub(in crate::read) fn of_grid(grid: &Grid) -> Option<Table<'static>> {
        let mut table = Table::empty_sheet();
        table.rows_may_be_short = true;
        let mut bytes = Vec::new();
        let (mut spanned, mut last_row) = (0_usize, 0);
        for row in grid.cells.chunk_by(|a, b| a.row == b.row) {
            let (Some(first), Some(last)) = (row.first(), row.last()) else { continue };
            spanned += last.column as usize + 1;
            if spanned > MOST_SPANNED_CELLS {
                return None;
            }
            (last_row..first.row).for_each(|blank| table.pass_over_blank(blank + 1));
            last_row = first.row + 1;
            let mut texts: Vec<Cow<'_, [u8]>> = vec![Cow::Borrowed(&[]); last.column as usize + 1];
            let row_number = table.row_count();
            for cell in row {
                let column = cell.column as usize;
                texts[column] = Cow::Borrowed(cell.text.as_bytes());
                let how = how_stored(cell.kind, &cell.text, cell.is_formula);
                table.stored.extend(how.map(|how| StoredCell { row: row_number, column, how }));
            }
            table.add_row(&mut bytes, first.row + 1, texts.iter().map(|text| text.as_ref()));
        }
        table.bytes = Cow::Owned(bytes);
        Some(table)
    }
}

/// How a sheet stores a cell, where that is worth telling.
fn how_stored(kind: CellKind, text: &str, is_formula: bool) -> Option<Stored> {
    match kind {
        CellKind::Unsaved => Some(Stored::UnsavedFormula),
        CellKind::Text if looks_like_number(text.trim().as_bytes()) => Some(Stored::NumberAsText),
        _ => is_formula.then_some(Stored::Formula),
    }
}
