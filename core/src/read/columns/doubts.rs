//! Columns of numbers that seem to be no attributes: what is told of a person, and whole numbers far beyond the others.
//! They are asked about and not read as scores before that. It asks nothing itself.

use crate::read::grid::cell_values::{ScoreCell, score_cell};
use crate::read::grid::table::Table;
use crate::read::options::DecimalMark;

/// A column that may be no attribute, from 0, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::read) struct ColumnDoubt {
    pub column: usize,
    pub doubt: Doubt,
}

/// Why a column of numbers may be no attribute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::read) enum Doubt {
    /// Its header names what is known of a person: age, income.
    OfPerson,
    /// Whole numbers, three quarters of them at least this, while hardly any other column goes beyond `others`.
    FarOutside { from: f64, others: f64 },
}

/// Rows looked at, spread over the table.
const SURVEYED_ROWS: usize = 400;
/// How far a column must lie beyond the others: they end at less than half of where three quarters of it lie.
const FAR: f64 = 2.0;
/// With fewer columns beside it nothing tells which of them is the odd one.
const FEWEST_OTHERS: usize = 2;
/// Numbers that a column must have to be told from slips of the pen.
const FEWEST_NUMBERS: usize = 4;

/// The columns that lie far beyond the others, the farthest first, so that one of them does not hide the next.
pub(in crate::read) fn far_outside(table: &Table<'_>, first_data: usize, columns: &[usize]) -> Vec<ColumnDoubt> {
    let mut left: Vec<(usize, Vec<f64>)> =
        columns.iter().copied().zip(numbers_of(table, first_data, columns)).collect();
    left.retain(|(_, numbers)| !numbers.is_empty());
    left.sort_by(|(_, a), (_, b)| quantile(a, 0.25).total_cmp(&quantile(b, 0.25)));
    let mut doubts = Vec::new();
    while let Some((column, numbers)) = left.pop().filter(|_| left.len() >= FEWEST_OTHERS) {
        let mut beside: Vec<f64> = left.iter().flat_map(|(_, numbers)| numbers.iter().copied()).collect();
        beside.sort_by(f64::total_cmp);
        let (from, others) = (quantile(&numbers, 0.25), quantile(&beside, 0.95));
        let is_whole = numbers.iter().all(|number| number.fract().abs() < crate::numeric::tolerance::SAME_NUMBER);
        if !is_whole || numbers.len() < FEWEST_NUMBERS || from <= FAR * others || others <= 0.0 {
            break;
        }
        doubts.push(ColumnDoubt { column, doubt: Doubt::FarOutside { from, others } });
    }
    doubts
}

/// The numbers of each of these columns, the smallest first.
fn numbers_of(table: &Table<'_>, first_data: usize, columns: &[usize]) -> Vec<Vec<f64>> {
    let mut numbers = vec![Vec::new(); columns.len()];
    let step = table.row_count().saturating_sub(first_data).div_ceil(SURVEYED_ROWS).max(1);
    let mut ends = Vec::new();
    for row in (first_data..table.row_count()).step_by(step).filter(|_| columns.len() > FEWEST_OTHERS) {
        let cells = table.row(row, &mut ends);
        for (column, numbers) in columns.iter().zip(&mut numbers) {
            numbers.extend(number_in(cells.cell(*column)));
        }
    }
    numbers.iter_mut().for_each(|numbers| numbers.sort_by(f64::total_cmp));
    numbers
}

/// The number in a cell; a comma counts as decimal comma, which makes a number too small rather than too large.
fn number_in(cell: &[u8]) -> Option<f64> {
    let mark = if cell.contains(&b',') { DecimalMark::Comma } else { DecimalMark::Point };
    match score_cell(cell, mark) {
        ScoreCell::Score(number) => Some(number),
        _ => None,
    }
}

/// The number below which this share of sorted numbers lies.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let index = (sorted.len().saturating_sub(1) as f64 * share).floor() as usize;
    sorted.get(index).copied().unwrap_or(f64::NEG_INFINITY)
}
