//! Sheets of an .ods workbook (OpenDocument 1.3, part 3). It reads values, merged cells and hidden sheets, and leaves
//! formulas, comments and everything else alone.

use super::archive::Archive;
use super::grid::{Allowance, CellKind, Grid, GridCell, Merged, number_text};
use super::xml::{Piece, Pieces, Tag};
use super::{WorkbookFault, optional_part, part};

pub(in crate::read) fn sheets(archive: &mut Archive<'_>) -> Result<Vec<Grid>, WorkbookFault> {
    let kind = optional_part(archive, "mimetype")?.unwrap_or_default();
    if !kind.is_empty() && !kind.contains("spreadsheet") {
        return Err(WorkbookFault::NoWorkbook);
    }
    let manifest = optional_part(archive, "META-INF/manifest.xml")?.unwrap_or_default();
    let mut pieces = Pieces::of(&manifest);
    if pieces.any(|piece| matches!(piece, Piece::Start(tag) if tag.name() == "encryption-data")) {
        return Err(WorkbookFault::Locked);
    }
    pieces.finish()?;
    let content = part(archive, "content.xml")?;
    let mut reader = ContentReader { pieces: Pieces::of(&content), ..ContentReader::default() };
    reader.read()?;
    if reader.grids.is_empty() {
        return Err(if kind.is_empty() { WorkbookFault::NoWorkbook } else { WorkbookFault::Damaged });
    }
    Ok(reader.grids)
}

struct ContentReader<'x> {
    pieces: Pieces<'x>,
    grids: Vec<Grid>,
    allowance: Allowance,
    hidden_styles: Vec<String>,
}

impl Default for ContentReader<'_> {
    fn default() -> Self {
        ContentReader {
            pieces: Pieces::of(""),
            grids: Vec::new(),
            allowance: Allowance::default(),
            hidden_styles: Vec::new(),
        }
    }
}

impl ContentReader<'_> {
    fn read(&mut self) -> Result<(), WorkbookFault> {
        let mut style = String::new();
        let mut ended = false;
        while let Some(piece) = self.pieces.next() {
            match piece {
                Piece::Start(tag) if tag.name() == "style" => style = tag.get("name").unwrap_or_default().into_owned(),
                Piece::Start(tag)
                    if tag.name() == "table-properties" && tag.get("display").as_deref() == Some("false") =>
                {
                    self.hidden_styles.push(style.clone());
                }
                Piece::Start(tag) if tag.name() == "table" => self.table(&tag)?,
                Piece::End(tag) if tag.name() == "document-content" => ended = true,
                _ => {}
            }
        }
        self.pieces.finish()?;
        if ended { Ok(()) } else { Err(WorkbookFault::Damaged) }
    }

    fn table(&mut self, tag: &Tag<'_>) -> Result<(), WorkbookFault> {
        let style = tag.get("style-name").unwrap_or_default();
        let is_hidden = self.hidden_styles.iter().any(|hidden| *hidden == style);
        let mut grid = Grid::named(&tag.get("name").unwrap_or_default(), is_hidden);
        let mut row = 0_u32;
        while let Some(piece) = self.pieces.next() {
            match piece {
                Piece::Start(tag) if tag.name() == "table-row" => {
                    let repeats = tag.number("number-rows-repeated").unwrap_or(1_u32).max(1);
                    let first = grid.cells.len();
                    self.row(&mut grid, row)?;
                    let cells = grid.cells[first..].to_vec();
                    // A row that is empty may repeat to the end of the sheet: it costs nothing.
                    for further in (1..repeats).take_while(|_| !cells.is_empty()) {
                        for cell in &cells {
                            let row = cell.row.saturating_add(further);
                            grid.put(GridCell { row, ..cell.clone() }, &mut self.allowance)?;
                        }
                    }
                    row = row.saturating_add(repeats);
                }
                Piece::End(tag) if tag.name() == "table" => break,
                _ => {}
            }
        }
        self.grids.push(grid);
        Ok(())
    }

    fn row(&mut self, grid: &mut Grid, row: u32) -> Result<(), WorkbookFault> {
        let mut column = 0_u32;
        while let Some(piece) = self.pieces.next() {
            match piece {
                Piece::Start(tag) if matches!(tag.name(), "table-cell" | "covered-table-cell") => {
                    let repeats = tag.number("number-columns-repeated").unwrap_or(1_u32).max(1);
                    let cell = self.cell(&tag, row, column);
                    grid.merged.extend(merged_by(&tag, row, column));
                    let is_empty = cell.text.trim().is_empty() && cell.kind != CellKind::Unsaved;
                    for further in (0..repeats).take_while(|_| !is_empty) {
                        let column = column.saturating_add(further);
                        grid.put(GridCell { column, ..cell.clone() }, &mut self.allowance)?;
                    }
                    column = column.saturating_add(repeats);
                }
                Piece::End(tag) if tag.name() == "table-row" => break,
                _ => {}
            }
        }
        Ok(())
    }

    fn cell(&mut self, tag: &Tag<'_>, row: u32, column: u32) -> GridCell {
        let shown = self.shown_text(tag.name());
        let is_formula = tag.get("formula").is_some();
        let value = tag.get("value");
        let (text, kind) = match (tag.get("value-type").as_deref(), value) {
            (Some("float" | "percentage" | "currency"), Some(value)) => {
                (number_shown(&value, &shown), CellKind::Number)
            }
            (Some("date"), _) => {
                let date = tag.get("date-value").map(|date| date.replacen('T', " ", 1));
                (date.unwrap_or(shown), CellKind::Date)
            }
            (Some("boolean"), _) => (shown, CellKind::Truth),
            (Some("time"), _) => (shown, CellKind::Date),
            _ if is_error(&shown) => (shown, CellKind::Error),
            (None, None) if is_formula && shown.is_empty() => (shown, CellKind::Unsaved),
            _ => (tag.get("string-value").map_or(shown, |text| text.into_owned()), CellKind::Text),
        };
        GridCell { row, column, text, kind, is_formula }
    }

    /// The paragraphs of a cell, parted by blanks; comments are left out.
    fn shown_text(&mut self, cell: &str) -> String {
        let mut text = String::new();
        while let Some(piece) = self.pieces.next() {
            match piece {
                Piece::Start(tag) if tag.name() == "annotation" => {
                    self.pieces.text_inside("annotation");
                }
                Piece::Start(tag) if tag.name() == "p" && !text.is_empty() => text.push(' '),
                Piece::Start(tag) if matches!(tag.name(), "s" | "tab" | "line-break") => text.push(' '),
                Piece::Text(part) => text.push_str(&part),
                Piece::End(tag) if tag.name() == cell => break,
                _ => {}
            }
        }
        text.trim().to_owned()
    }
}

/// A number with the zeros in front that the sheet shows: codes are text.
fn number_shown(stored: &str, shown: &str) -> String {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let text = number_text(stored);
    if digits(&text) && digits(shown) && shown.trim_start_matches('0') == text.trim_start_matches('0') {
        shown.to_owned()
    } else {
        text
    }
}

fn is_error(text: &str) -> bool {
    text.starts_with("Err:") || (text.starts_with('#') && text.ends_with(['!', '?', 'A']))
}

fn merged_by(tag: &Tag<'_>, row: u32, column: u32) -> Option<Merged> {
    let spans = |name: &str| tag.number::<u32>(name).unwrap_or(1).max(1);
    let (columns, rows) = (spans("number-columns-spanned"), spans("number-rows-spanned"));
    let last_row = row.saturating_add(rows - 1);
    let last_column = column.saturating_add(columns - 1);
    (columns > 1 || rows > 1).then_some(Merged { first_row: row, first_column: column, last_row, last_column })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_keep_the_zeros_that_the_sheet_shows() {
        assert_eq!(number_shown("12", "012"), "012");
        assert_eq!(number_shown("12.5", "12,5"), "12.5");
        assert_eq!(number_shown("12", "13"), "12");
    }
}
