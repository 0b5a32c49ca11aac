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

    pub fn get(&self, row: usize, column: usize) -> f64 {
        self.cells[row * self.size + column]
    }

    pub fn set(&mut self, row: usize, column: usize, value: f64) {
        self.cells[row * self.size + column] = value;
    }

    pub fn row(&self, row: usize) -> &[f64] {
        &self.cells[row * self.size..][..self.size]
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
