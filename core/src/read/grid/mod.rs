//! Sheets as rows of cells, and what one cell spells by itself. It knows nothing of columns and what they mean.

pub(in crate::read) mod cell_values;
pub(in crate::read) mod look_alike;
pub(in crate::read) mod row_cells;
pub(in crate::read) mod spelling;
pub(in crate::read) mod table;
pub(in crate::read) mod table_text;
