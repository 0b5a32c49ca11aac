//! The eigenvalue of largest magnitude of a map that is only ever applied:
//! Arnoldi's method (Quart. Appl. Math. 9 (1951) 17-29).
//!
//! The map over one tooth smooths: most of its eigenvalues are close to zero, and
//! the largest shows after a few steps, however many delayed displacements there
//! are. Where it does not, the steps go on until the whole space is spanned,
//! which is the reduction of the dense matrix to Hessenberg form and exact.

use super::Complex;
use super::eigenvalues::eigenvalues;
use super::matrix::Matrix;

/// What an eigenvalue may be off its equation, as a share of itself.
const RESIDUAL: f64 = 1e-11;

/// Eigenvalues at least this share of the largest have to be found as well: until
/// then one of them may turn out to be the largest.
const RIVAL: f64 = 0.9;

/// Steps before the first look at the eigenvalues.
const FIRST: usize = 6;

/// The eigenvalue of largest magnitude of `map`, which takes a vector of `size` to
/// a vector of `size` cleared before. `None` where numbers are not finite.
pub(super) fn largest(size: usize, mut map: impl FnMut(&[f64], &mut [f64])) -> Option<Complex> {
    // Any vector will do that holds something of everything: multiples of the
    // golden ratio are spread evenly, and the map smooths them.
    let spread: Vec<f64> = (1..=size).map(|i| (0.618_033_988_749_895 * i as f64).fract() - 0.5).collect();
    let mut basis = vec![0.0; size];
    map(&spread, &mut basis);
    if normalize(&mut basis) == Some(0.0) {
        basis = spread;
    }
    // Columns of the Hessenberg matrix one after the other, each one longer.
    let mut columns: Vec<f64> = Vec::new();
    // What the residual and the largest eigenvalue were at the last look; since
    // then the residual is falling with each entry below the diagonal.
    let mut seen: Option<[f64; 2]> = None;
    for step in 1..=size {
        basis.resize((step + 1) * size, 0.0);
        let (known, next) = basis.split_at_mut(step * size);
        map(&known[(step - 1) * size..], next);
        let start = columns.len();
        columns.resize(start + step, 0.0);
        // Once leaves what cancelled; twice is enough.
        for _ in 0..2 {
            for (share, vector) in columns[start..].iter_mut().zip(known.chunks_exact(size)) {
                let along = dot(vector, next);
                *share += along;
                next.iter_mut().zip(vector).for_each(|(cell, value)| *cell -= along * value);
            }
        }
        let below = normalize(next)?;
        let worth = match &mut seen {
            None => step >= FIRST,
            Some([residual, largest]) => {
                *residual *= below / *largest;
                *residual <= RESIDUAL
            }
        };
        if worth || step == size || below == 0.0 {
            let hessenberg = assemble(&columns, step);
            let values = eigenvalues(&hessenberg)?;
            let largest = values.iter().copied().max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
            let rivals = values.iter().filter(|value| value.im >= 0.0 && value.abs() >= RIVAL * largest.abs());
            let off = rivals.map(|&value| residual(&hessenberg, below, value).abs());
            let worst = off.max_by(f64::total_cmp)? / largest.abs();
            if worst <= RESIDUAL || step == size || below == 0.0 {
                return Some(largest);
            }
            seen = Some([worst, largest.abs()]);
        }
        columns.push(below);
    }
    None
}

/// Scales to length one and gives the length it had; `None` if it is not finite.
fn normalize(vector: &mut [f64]) -> Option<f64> {
    let length = dot(vector, vector).sqrt();
    if length > 0.0 {
        vector.iter_mut().for_each(|cell| *cell /= length);
    }
    length.is_finite().then_some(length)
}

/// In four sums at a time, which the processor can add side by side.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (fours, others) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = fours.remainder().iter().zip(others.remainder()).map(|(a, b)| a * b).sum();
    let mut sums = [0.0; 4];
    for (a, b) in fours.zip(others) {
        for (sum, (a, b)) in sums.iter_mut().zip(a.iter().zip(b)) {
            *sum += a * b;
        }
    }
    rest + sums.iter().sum::<f64>()
}

/// The square matrix of `size` columns.
fn assemble(columns: &[f64], size: usize) -> Matrix {
    let mut matrix = Matrix::zeros(size);
    let mut rest = columns;
    for column in 0..size {
        let length = (column + 2).min(size);
        let (cells, after) = rest.split_at(length);
        cells.iter().enumerate().for_each(|(row, &cell)| matrix.set(row, column, cell));
        rest = after;
    }
    matrix
}

/// By how much the vector of eigenvalue `value` fails its equation in the whole
/// space, where the row below the matrix holds only `below`: that times its last
/// entry, over its length. From the last entry up each row gives the one before.
fn residual(hessenberg: &Matrix, below: f64, value: Complex) -> f64 {
    let size = hessenberg.size;
    let mut vector = vec![Complex::default(); size];
    vector[size - 1] = Complex::real(1.0);
    let mut length = 1.0;
    for row in (1..size).rev() {
        let cells = hessenberg.row(row);
        let known = cells[row..].iter().zip(&vector[row..]);
        let sum = known.fold(-(value * vector[row]), |sum, (&cell, entry)| sum + entry.scale(cell));
        let entry = sum.scale(-1.0 / cells[row - 1]);
        length += entry.norm();
        vector[row - 1] = entry;
    }
    below / length.sqrt()
}
