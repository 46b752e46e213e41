//! A sheet of a workbook as text cells, each with what kind it was stored as. It knows nothing of file formats.

/// What a cell was stored as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum CellKind {
    Number,
    Text,
    Date,
    /// `#REF!` and its like.
    Error,
    Truth,
    /// A formula whose value was not saved.
    Unsaved,
}

/// One cell with something in it. Rows and columns count from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::read) struct GridCell {
    pub row: u32,
    pub column: u32,
    pub text: String,
    pub kind: CellKind,
    pub is_formula: bool,
}

/// Cells that are merged into one. Rows and columns count from 0, ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) struct Merged {
    pub first_row: u32,
    pub first_column: u32,
    pub last_row: u32,
    pub last_column: u32,
}

/// One sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct Grid {
    pub name: String,
    pub is_hidden: bool,
    /// By row, then by column.
    pub cells: Vec<GridCell>,
    pub merged: Vec<Merged>,
}

/// What the cells of a whole workbook may still take.
pub(in crate::read) struct Allowance {
    cells: usize,
    text_bytes: usize,
}

/// A sheet has more cells or text than is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) struct TooMuch;

/// Rows and columns that spreadsheets have (ECMA-376 and common practice): 1,048,576 and 16,384.
const MOST_ROWS: u32 = 1 << 20;
const MOST_COLUMNS: u32 = 1 << 14;

impl Default for Allowance {
    fn default() -> Self {
        Allowance { cells: 3_000_000, text_bytes: 100_000_000 }
    }
}

impl Grid {
    pub fn named(name: &str, is_hidden: bool) -> Self {
        let name = name.replace(char::is_control, " ");
        Grid { name, is_hidden, ..Grid::default() }
    }

    /// Puts a cell in. Cells that are empty are left out.
    pub(in crate::read) fn put(&mut self, cell: GridCell, allowance: &mut Allowance) -> Result<(), TooMuch> {
        if cell.text.trim().is_empty() && cell.kind != CellKind::Unsaved {
            return Ok(());
        }
        let fits = cell.row < MOST_ROWS && cell.column < MOST_COLUMNS;
        allowance.cells = allowance.cells.checked_sub(1).filter(|_| fits).ok_or(TooMuch)?;
        allowance.text_bytes = allowance.text_bytes.checked_sub(cell.text.len()).ok_or(TooMuch)?;
        self.cells.push(cell);
        Ok(())
    }

    /// Puts cells in order; of two in one place the first stays.
    pub fn settle(&mut self) {
        let place = |cell: &GridCell| (cell.row, cell.column);
        self.cells.sort_by_key(place);
        self.cells.dedup_by_key(|cell| (cell.row, cell.column));
    }
}

/// A number as text: shortest form that gives the same number back.
pub(in crate::read) fn number_text(stored: &str) -> String {
    match stored.trim().parse::<f64>() {
        Ok(number) if number.is_finite() => format!("{number}"),
        _ => stored.trim().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cell(row: u32, column: u32, text: &str) -> GridCell {
        GridCell { row, column, text: text.to_owned(), kind: CellKind::Text, is_formula: false }
    }

    #[test]
    fn cells_are_kept_in_order_and_blank_ones_left_out() {
        let (mut grid, mut allowance) = (Grid::named("a", false), Allowance::default());
        for one in [cell(2, 1, "c"), cell(0, 0, "a"), cell(1, 1, "  "), cell(0, 0, "again")] {
            assert_eq!(grid.put(one, &mut allowance), Ok(()));
        }
        grid.settle();
        let texts: Vec<&str> = grid.cells.iter().map(|cell| cell.text.as_str()).collect();
        assert_eq!(texts, ["a", "c"]);
    }

    #[test]
    fn no_sheet_grows_beyond_what_is_allowed() {
        let (mut grid, mut allowance) = (Grid::default(), Allowance { cells: 2, text_bytes: 5 });
        assert_eq!(grid.put(cell(0, 0, "abc"), &mut allowance), Ok(()));
        assert_eq!(grid.put(cell(0, 1, "def"), &mut allowance), Err(TooMuch));
        assert_eq!(Grid::default().put(cell(MOST_ROWS, 0, "a"), &mut Allowance::default()), Err(TooMuch));
    }

    #[test]
    fn numbers_are_written_as_short_as_they_can_be() {
        assert_eq!(number_text("4.5999999999999996"), "4.6");
        assert_eq!(number_text("1.2E+1"), "12");
        assert_eq!(number_text(" x "), "x");
    }
}
