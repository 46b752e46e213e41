//! From rows of cells to the scores of a study, and what is checked once it stands.

pub(in crate::read) mod assemble;
pub(in crate::read) mod cell_map;
pub(in crate::read) mod checks;
pub(in crate::read) mod collected;
pub(in crate::read) mod rows;
pub(in crate::read) mod scale;
pub(in crate::read) mod score_cells;
pub(in crate::read) mod similar_names;
