//! Sheets as rows of cells. It knows nothing of what cells mean.

pub(in crate::read) mod row_cells;
pub(in crate::read) mod table;
pub(in crate::read) mod table_text;
