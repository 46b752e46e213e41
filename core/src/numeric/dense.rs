//! Small dense square matrices: products, inverses by Cholesky. Sizes are tens, not thousands.

use super::eigen;
use super::eigen::Eigen;
use super::tolerance::NOTHING_LEFT;
use std::ops::{Index, IndexMut};

/// A square matrix, row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct SquareMatrix {
    size: usize,
    entries: Vec<f64>,
}

/// Inverse of a positive definite matrix and the logarithm of its determinant (of the matrix, not of the inverse).
#[derive(Clone, Debug, PartialEq)]
pub struct PositiveInverse {
    /// The inverse, symmetric.
    pub inverse: SquareMatrix,
    /// Natural logarithm of the determinant of the matrix itself.
    pub log_determinant: f64,
}

impl SquareMatrix {
    /// A square matrix of zeros.
    pub fn zeros(size: usize) -> Self {
        SquareMatrix { size, entries: vec![0.0; size * size] }
    }

    /// Products of every two rows of a table; all rows are equally long.
    pub fn products_of_rows(rows: &[Vec<f64>]) -> Self {
        let mut products = SquareMatrix::zeros(rows.len());
        for row in 0..rows.len() {
            for column in 0..=row {
                let product = dot(&rows[row], &rows[column]);
                products[(row, column)] = product;
                products[(column, row)] = product;
            }
        }
        products
    }

    /// Number of rows.
    pub fn size(&self) -> usize {
        self.size
    }

    /// One row, from 0.
    pub fn row(&self, row: usize) -> &[f64] {
        &self.entries[row * self.size..(row + 1) * self.size]
    }

    /// One row to write to, from 0.
    pub fn row_mut(&mut self, row: usize) -> &mut [f64] {
        &mut self.entries[row * self.size..(row + 1) * self.size]
    }

    /// Multiplies every entry.
    pub fn scale(&mut self, factor: f64) {
        self.entries.iter_mut().for_each(|entry| *entry *= factor);
    }

    /// Matrix times vector.
    pub fn times_vector(&self, vector: &[f64]) -> Vec<f64> {
        (0..self.size).map(|row| dot(self.row(row), vector)).collect()
    }

    /// Matrix times matrix of the same size.
    pub fn times(&self, other: &SquareMatrix) -> SquareMatrix {
        let mut product = SquareMatrix::zeros(self.size);
        for row in 0..self.size {
            for (inner, factor) in self.row(row).iter().enumerate() {
                let into = &mut product.entries[row * self.size..(row + 1) * self.size];
                add_scaled(into, *factor, other.row(inner));
            }
        }
        product
    }

    /// Trace of this matrix times another.
    pub fn trace_of_product(&self, other: &SquareMatrix) -> f64 {
        let mut trace = 0.0;
        for row in 0..self.size {
            trace += (0..self.size).map(|column| self[(row, column)] * other[(column, row)]).sum::<f64>();
        }
        trace
    }

    /// vector' matrix vector.
    pub fn quadratic_form(&self, vector: &[f64]) -> f64 {
        let rows = vector.iter().enumerate().filter(|(_, weight)| weight.abs() > 0.0);
        rows.map(|(row, weight)| weight * dot(self.row(row), vector)).sum()
    }

    /// Inverse by Cholesky; `None` where the matrix is not positive definite to working precision.
    pub fn positive_inverse(&self) -> Option<PositiveInverse> {
        let lower = self.cholesky()?;
        let size = self.size;
        // Inverse of the lower triangle, kept in its transpose so that rows are contiguous below.
        let mut inverse_lower = SquareMatrix::zeros(size);
        for column in 0..size {
            inverse_lower[(column, column)] = 1.0 / lower[(column, column)];
            for row in column + 1..size {
                let sum = (column..row).map(|inner| lower[(row, inner)] * inverse_lower[(column, inner)]).sum::<f64>();
                inverse_lower[(column, row)] = -sum / lower[(row, row)];
            }
        }
        let mut inverse = SquareMatrix::zeros(size);
        for row in 0..size {
            for column in 0..=row {
                let sum = dot(&inverse_lower.row(row)[row..], &inverse_lower.row(column)[row..]);
                inverse[(row, column)] = sum;
                inverse[(column, row)] = sum;
            }
        }
        let log_determinant = (0..size).map(|index| 2.0 * lower[(index, index)].ln()).sum();
        Some(PositiveInverse { inverse, log_determinant })
    }

    fn cholesky(&self) -> Option<SquareMatrix> {
        let mut lower = SquareMatrix::zeros(self.size);
        for row in 0..self.size {
            for column in 0..=row {
                let sum = self[(row, column)] - dot(&lower.row(row)[..column], &lower.row(column)[..column]);
                if row > column {
                    lower[(row, column)] = sum / lower[(column, column)];
                } else if sum > NOTHING_LEFT * self[(row, row)] && sum.is_finite() {
                    lower[(row, row)] = sum.sqrt();
                } else {
                    return None;
                }
            }
        }
        Some(lower)
    }

    /// Eigenvalues and eigenvectors of a symmetric matrix; `None` where an entry is no number.
    pub fn symmetric_eigen(&self) -> Option<Eigen> {
        eigen::symmetric(&(0..self.size).map(|row| self.row(row).to_vec()).collect::<Vec<_>>())
    }
}

impl Index<(usize, usize)> for SquareMatrix {
    type Output = f64;

    fn index(&self, (row, column): (usize, usize)) -> &f64 {
        &self.entries[row * self.size + column]
    }
}

impl IndexMut<(usize, usize)> for SquareMatrix {
    fn index_mut(&mut self, (row, column): (usize, usize)) -> &mut f64 {
        &mut self.entries[row * self.size + column]
    }
}

/// Sum of products.
pub fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(a, b)| a * b).sum()
}

/// Adds `factor` times `from` to `into`.
pub fn add_scaled(into: &mut [f64], factor: f64, from: &[f64]) {
    for (entry, addend) in into.iter_mut().zip(from) {
        *entry += factor * addend;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from_rows(rows: &[&[f64]]) -> SquareMatrix {
        let mut matrix = SquareMatrix::zeros(rows.len());
        for (index, row) in rows.iter().enumerate() {
            matrix.row_mut(index).copy_from_slice(row);
        }
        matrix
    }

    /// A positive definite matrix with entries of many sizes: Hilbert's with 1 added to the diagonal.
    fn hilbert_plus_one(size: usize) -> SquareMatrix {
        let mut matrix = SquareMatrix::zeros(size);
        for row in 0..size {
            for column in 0..size {
                matrix[(row, column)] = 1.0 / (row + column + 1) as f64 + if row == column { 1.0 } else { 0.0 };
            }
        }
        matrix
    }

    #[test]
    fn inverse_and_determinant_by_hand() {
        let found = from_rows(&[&[4.0, 2.0], &[2.0, 3.0]]).positive_inverse().unwrap();
        let expected = from_rows(&[&[0.375, -0.25], &[-0.25, 0.5]]);
        for row in 0..2 {
            for column in 0..2 {
                assert!((found.inverse[(row, column)] - expected[(row, column)]).abs() < 1e-15);
            }
        }
        assert!((found.log_determinant - 8.0_f64.ln()).abs() < 1e-15);
    }

    #[test]
    fn a_matrix_times_its_inverse_is_one() {
        let matrix = hilbert_plus_one(9);
        let product = matrix.times(&matrix.positive_inverse().unwrap().inverse);
        for row in 0..9 {
            for column in 0..9 {
                let expected = if row == column { 1.0 } else { 0.0 };
                assert!((product[(row, column)] - expected).abs() < 1e-14);
            }
        }
    }

    #[test]
    fn what_is_not_positive_definite_has_no_inverse() {
        assert!(from_rows(&[&[1.0, 2.0], &[2.0, 1.0]]).positive_inverse().is_none());
        assert!(from_rows(&[&[1.0, 1.0], &[1.0, 1.0]]).positive_inverse().is_none());
        assert!(from_rows(&[&[f64::NAN]]).positive_inverse().is_none());
    }
}
