//! A little linear algebra: at most a row for each reading.

use super::N;

/// Inner product.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// `A A' + 1`.
pub fn gram_plus_one(rows: &[[f64; N]]) -> Vec<Vec<f64>> {
    let entry = |i: usize, j: usize| dot(&rows[i], &rows[j]) + if i == j { 1.0 } else { 0.0 };
    (0..rows.len()).map(|i| (0..rows.len()).map(|j| entry(i, j)).collect()).collect()
}

/// Solves a small positive definite system by elimination.
pub fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Vec<f64> {
    let size = right.len();
    for pivot in 0..size {
        for row in pivot + 1..size {
            let factor = matrix[row][pivot] / matrix[pivot][pivot];
            let (above, below) = matrix.split_at_mut(row);
            for (value, head) in below[0][pivot..].iter_mut().zip(&above[pivot][pivot..]) {
                *value -= factor * head;
            }
            right[row] -= factor * right[pivot];
        }
    }
    for pivot in (0..size).rev() {
        let rest: f64 = (pivot + 1..size).map(|column| matrix[pivot][column] * right[column]).sum();
        right[pivot] = (right[pivot] - rest) / matrix[pivot][pivot];
    }
    right
}

/// Logarithm of the determinant of a small positive definite matrix.
pub fn log_determinant(mut matrix: Vec<Vec<f64>>) -> f64 {
    let mut sum = 0.0;
    for pivot in 0..matrix.len() {
        sum += matrix[pivot][pivot].ln();
        for row in pivot + 1..matrix.len() {
            let factor = matrix[row][pivot] / matrix[pivot][pivot];
            let (above, below) = matrix.split_at_mut(row);
            for (value, head) in below[0][pivot..].iter_mut().zip(&above[pivot][pivot..]) {
                *value -= factor * head;
            }
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn elimination_solves() {
        let x = solve(vec![vec![4.0, 1.0], vec![1.0, 3.0]], vec![1.0, 2.0]);
        assert_relative_eq!(x[0], 1.0 / 11.0, epsilon = 1e-12);
        assert_relative_eq!(x[1], 7.0 / 11.0, epsilon = 1e-12);
    }
}
