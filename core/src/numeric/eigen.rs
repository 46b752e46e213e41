//! Eigenvalues and eigenvectors of a symmetric matrix by Jacobi rotations: slow for large matrices, exact for ours.
//!
//! Golub & Van Loan, Matrix Computations, section 8.5. Orthogonal to working precision, whatever the spacing.

/// Eigenvalues from large to small, each with its vector.
#[derive(Clone, Debug, PartialEq)]
pub struct Eigen {
    /// From large to small.
    pub values: Vec<f64>,
    /// `vectors[axis][row]`: unit length, sign arbitrary.
    pub vectors: Vec<Vec<f64>>,
}

/// Decomposes a symmetric matrix given by rows; only finite, square input. `None` for anything else.
pub fn symmetric(matrix: &[Vec<f64>]) -> Option<Eigen> {
    let size = matrix.len();
    if matrix.iter().any(|row| row.len() != size || row.iter().any(|value| !value.is_finite())) {
        return None;
    }
    let mut work = matrix.to_vec();
    let mut vectors: Vec<Vec<f64>> =
        (0..size).map(|row| (0..size).map(|c| f64::from(u8::from(row == c))).collect()).collect();
    let norm: f64 = work.iter().flatten().map(|value| value * value).sum();
    for _ in 0..60 {
        if off_diagonal(&work) <= norm * 1e-32 {
            break;
        }
        for p in 0..size {
            for q in p + 1..size {
                rotate(&mut work, &mut vectors, p, q);
            }
        }
    }
    let mut order: Vec<usize> = (0..size).collect();
    order.sort_by(|a, b| work[*b][*b].total_cmp(&work[*a][*a]).then(a.cmp(b)));
    Some(Eigen {
        values: order.iter().map(|axis| work[*axis][*axis]).collect(),
        vectors: order.iter().map(|axis| vectors[*axis].clone()).collect(),
    })
}

fn off_diagonal(work: &[Vec<f64>]) -> f64 {
    let size = work.len();
    (0..size).flat_map(|p| (p + 1..size).map(move |q| (p, q))).map(|(p, q)| 2.0 * work[p][q] * work[p][q]).sum()
}

/// One rotation in the plane of `p` and `q`; `vectors` is kept by columns of the product, one a row.
fn rotate(work: &mut [Vec<f64>], vectors: &mut [Vec<f64>], p: usize, q: usize) {
    let off = work[p][q];
    if off.abs() <= f64::MIN_POSITIVE {
        return;
    }
    let theta = (work[q][q] - work[p][p]) / (2.0 * off);
    let tangent = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
    let cosine = 1.0 / (tangent * tangent + 1.0).sqrt();
    let sine = tangent * cosine;
    for row in work.iter_mut() {
        let (x, y) = (row[p], row[q]);
        row[p] = cosine * x - sine * y;
        row[q] = sine * x + cosine * y;
    }
    rotate_rows(work, p, q, cosine, sine);
    rotate_rows(vectors, p, q, cosine, sine);
    work[p][q] = 0.0;
    work[q][p] = 0.0;
}

fn rotate_rows(rows: &mut [Vec<f64>], p: usize, q: usize, cosine: f64, sine: f64) {
    let (head, tail) = rows.split_at_mut(q);
    for (x, y) in head[p].iter_mut().zip(tail[0].iter_mut()) {
        (*x, *y) = (cosine * *x - sine * *y, sine * *x + cosine * *y);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;

    #[test]
    fn a_matrix_with_known_eigenvalues() {
        // The second-difference matrix of size 3 has eigenvalues 2 and 2 -+ sqrt(2) (2 - 2 cos(k pi / 4)).
        let matrix = vec![vec![2.0, -1.0, 0.0], vec![-1.0, 2.0, -1.0], vec![0.0, -1.0, 2.0]];
        let eigen = symmetric(&matrix).unwrap();
        for (got, expected) in eigen.values.iter().zip([2.0 + 2.0_f64.sqrt(), 2.0, 2.0 - 2.0_f64.sqrt()]) {
            assert!((got - expected).abs() < 1e-14, "{got} {expected}");
        }
    }

    #[test]
    fn values_and_vectors_give_back_the_matrix() {
        let mut random = Random::seeded_for(3, "eigen");
        for size in [1, 2, 5, 20, 40] {
            let raw: Vec<Vec<f64>> = (0..size).map(|_| (0..size).map(|_| random.normal()).collect()).collect();
            let entry = |p: usize, q: usize| raw[p.min(q)][p.max(q)];
            let matrix: Vec<Vec<f64>> = (0..size).map(|p| (0..size).map(|q| entry(p, q)).collect()).collect();
            let eigen = symmetric(&matrix).unwrap();
            for (p, q) in (0..size).flat_map(|p| (0..size).map(move |q| (p, q))) {
                let product: f64 = (0..size).map(|k| eigen.values[k] * eigen.vectors[k][p] * eigen.vectors[k][q]).sum();
                assert!((product - entry(p, q)).abs() < 1e-12, "size {size}");
                let dot: f64 = eigen.vectors[p].iter().zip(&eigen.vectors[q]).map(|(x, y)| x * y).sum();
                assert!((dot - f64::from(u8::from(p == q))).abs() < 1e-13, "size {size}");
            }
        }
    }

    #[test]
    fn odd_input_has_no_answer_and_zero_is_fine() {
        assert_eq!(symmetric(&[vec![1.0, 2.0]]), None);
        assert_eq!(symmetric(&[vec![f64::NAN]]), None);
        assert_eq!(symmetric(&[vec![0.0, 0.0], vec![0.0, 0.0]]).unwrap().values, [0.0, 0.0]);
        assert_eq!(symmetric(&[]).unwrap().values, [0.0; 0]);
    }
}
