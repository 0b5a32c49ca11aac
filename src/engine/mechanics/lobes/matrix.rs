//! Dense square matrices.

use super::Complex;

/// A square matrix, row by row.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Matrix {
    pub size: usize,
    pub cells: Vec<f64>,
}

impl Matrix {
    pub fn zeros(size: usize) -> Self {
        Matrix { size, cells: vec![0.0; size * size] }
    }

    pub fn identity(size: usize) -> Self {
        let mut matrix = Matrix::zeros(size);
        for i in 0..size {
            matrix.set(i, i, 1.0);
        }
        matrix
    }

    pub fn get(&self, row: usize, column: usize) -> f64 {
        self.cells[row * self.size + column]
    }

    pub fn set(&mut self, row: usize, column: usize, value: f64) {
        self.cells[row * self.size + column] = value;
    }

    pub fn row(&self, row: usize) -> &[f64] {
        &self.cells[row * self.size..][..self.size]
    }

    fn times(&self, other: &Matrix) -> Matrix {
        let mut product = Matrix::zeros(self.size);
        for (i, out) in product.cells.chunks_exact_mut(self.size).enumerate() {
            for (k, &factor) in self.row(i).iter().enumerate() {
                add_scaled(out, other.row(k), factor);
            }
        }
        product
    }

    /// The exponential, to rounding: halved until small, Taylor series, squared
    /// back.
    pub fn exponential(mut self) -> Matrix {
        const TERMS: u32 = 14;
        let size = self.size;
        let row_sum = |i: usize| self.row(i).iter().map(|cell| cell.abs()).sum::<f64>();
        let norm = (0..size).map(row_sum).fold(0.0, f64::max);
        let halvings = (2.0 * norm).log2().ceil().clamp(0.0, 1000.0) as i32;
        let scale = 0.5_f64.powi(halvings);
        self.cells.iter_mut().for_each(|cell| *cell *= scale);
        let mut sum = Matrix::identity(size);
        let mut term = Matrix::identity(size);
        for order in 1..=TERMS {
            term = term.times(&self);
            term.cells.iter_mut().for_each(|cell| *cell /= f64::from(order));
            add_scaled(&mut sum.cells, &term.cells, 1.0);
        }
        for _ in 0..halvings {
            sum = sum.times(&sum);
        }
        sum
    }
}

/// `out += factor * row`.
pub(super) fn add_scaled(out: &mut [f64], row: &[f64], factor: f64) {
    for (out, value) in out.iter_mut().zip(row) {
        *out += factor * value;
    }
}

/// Determinant of a complex matrix given row by row, by elimination with
/// pivoting; the matrix is used up.
pub(super) fn determinant(cells: &mut [Complex], size: usize) -> Complex {
    let mut product = Complex::real(1.0);
    for step in 0..size {
        let weight = |row: &usize| cells[row * size + step].norm();
        let pivot = (step..size).max_by(|a, b| weight(a).total_cmp(&weight(b))).unwrap_or(step);
        if pivot != step {
            for column in step..size {
                cells.swap(step * size + column, pivot * size + column);
            }
            product = -product;
        }
        let head = cells[step * size + step];
        product = product * head;
        if head.norm() == 0.0 {
            return product;
        }
        for row in step + 1..size {
            let factor = cells[row * size + step] / head;
            for column in step + 1..size {
                let above = cells[step * size + column];
                cells[row * size + column] = cells[row * size + column] - factor * above;
            }
        }
    }
    product
}
