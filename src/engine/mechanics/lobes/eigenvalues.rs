//! Eigenvalues of a real matrix: Householder reduction to Hessenberg form, then
//! the implicitly double-shifted QR iteration (Golub and Van Loan, *Matrix
//! Computations*, 4th ed. 2013, sections 7.4 and 7.5, from memory).
//!
//! Multipliers of equal magnitude are the rule here (conjugate pairs, and lobes
//! that meet), where power iteration stalls and this does not.

use super::Complex;
use super::matrix::{Matrix, add_scaled};

/// Sweeps for one eigenvalue before giving up; three are usual.
const SWEEPS: u32 = 60;

/// All eigenvalues, or `None` if a cell is not finite or the iteration does not
/// settle.
pub(super) fn eigenvalues(mut a: Matrix) -> Option<Vec<Complex>> {
    if !a.cells.iter().all(|cell| cell.is_finite()) {
        return None;
    }
    reduce(&mut a);
    let mut found = Vec::with_capacity(a.size);
    let mut end = a.size;
    let mut sweeps = 0;
    while end > 0 {
        let start = block_start(&mut a, end);
        match end - start {
            1 => {
                found.push(Complex::real(a.get(start, start)));
                (end, sweeps) = (start, 0);
            }
            2 => {
                found.extend(of_two(&a, start));
                (end, sweeps) = (start, 0);
            }
            _ if sweeps == SWEEPS => return None,
            _ => {
                sweeps += 1;
                sweep(&mut a, start, end, sweeps);
            }
        }
    }
    Some(found)
}

/// A reflection `1 - 2 v v' / v'v` that turns a vector onto its first axis:
/// `v` scaled to `v[0] = 1`, the factor `2 / v'v`, and what the vector becomes.
fn reflection(vector: &mut [f64]) -> (f64, f64) {
    let size = vector.iter().map(|x| x * x).sum::<f64>().sqrt();
    let tail: f64 = vector[1..].iter().map(|x| x.abs()).sum();
    if tail == 0.0 {
        return (0.0, vector[0]);
    }
    let onto = -size.copysign(vector[0]);
    let head = vector[0] - onto;
    vector.iter_mut().for_each(|x| *x /= head);
    vector[0] = 1.0;
    (head / -onto, onto)
}

/// Reflects rows `top..` from both sides, keeping the eigenvalues; columns from
/// `left`, rows to `bottom`, and nothing outside `low..high`.
fn reflect(a: &mut Matrix, v: &[f64], factor: f64, top: usize, left: usize, bottom: usize, [low, high]: [usize; 2]) {
    let size = a.size;
    let mut share = vec![0.0; high - left];
    for (i, &weight) in v.iter().enumerate() {
        add_scaled(&mut share, &a.cells[(top + i) * size + left..(top + i) * size + high], weight);
    }
    for (i, &weight) in v.iter().enumerate() {
        let row = &mut a.cells[(top + i) * size + left..(top + i) * size + high];
        add_scaled(row, &share, -factor * weight);
    }
    for row in low..bottom {
        let cells = &mut a.cells[row * size + top..][..v.len()];
        let share: f64 = cells.iter().zip(v).map(|(cell, weight)| cell * weight).sum();
        add_scaled(cells, v, -factor * share);
    }
}

/// To Hessenberg form.
fn reduce(a: &mut Matrix) {
    let size = a.size;
    for column in 0..size.saturating_sub(2) {
        let mut v: Vec<f64> = (column + 1..size).map(|row| a.get(row, column)).collect();
        let (factor, onto) = reflection(&mut v);
        if factor == 0.0 {
            continue;
        }
        reflect(a, &v, factor, column + 1, column + 1, size, [0, size]);
        a.set(column + 1, column, onto);
        for row in column + 2..size {
            a.set(row, column, 0.0);
        }
    }
}

/// Where the last block that hangs together starts.
fn block_start(a: &mut Matrix, end: usize) -> usize {
    for row in (1..end).rev() {
        let beside = a.get(row - 1, row - 1).abs() + a.get(row, row).abs();
        if a.get(row, row - 1).abs() <= f64::EPSILON * beside.max(f64::MIN_POSITIVE) {
            a.set(row, row - 1, 0.0);
            return row;
        }
    }
    0
}

/// Both eigenvalues of the two-by-two block at `at`.
fn of_two(a: &Matrix, at: usize) -> [Complex; 2] {
    let half = 0.5 * (a.get(at, at) - a.get(at + 1, at + 1));
    let middle = a.get(at + 1, at + 1) + half;
    let discriminant = half * half + a.get(at, at + 1) * a.get(at + 1, at);
    let root = Complex::real(discriminant).sqrt();
    [Complex::real(middle) + root, Complex::real(middle) - root]
}

/// One double-shifted QR step on the block `start..end`, of three rows or more.
fn sweep(a: &mut Matrix, start: usize, end: usize, count: u32) {
    let last = end - 1;
    let (mut sum, mut product) = {
        let [p, q] = [a.get(last - 1, last - 1), a.get(last, last)];
        (p + q, p * q - a.get(last - 1, last) * a.get(last, last - 1))
    };
    // A shift from elsewhere breaks the rare cycle.
    if count.is_multiple_of(10) {
        let size = a.get(last, last - 1).abs() + a.get(last - 1, last - 2).abs();
        (sum, product) = (1.5 * size, size * size);
    }
    let (h00, h10) = (a.get(start, start), a.get(start + 1, start));
    let mut bulge = vec![
        h00 * h00 + a.get(start, start + 1) * h10 - sum * h00 + product,
        h10 * (h00 + a.get(start + 1, start + 1) - sum),
        h10 * a.get(start + 2, start + 1),
    ];
    for top in start..last {
        let (factor, onto) = reflection(&mut bulge);
        if top > start {
            a.set(top, top - 1, onto);
            for below in 1..bulge.len() {
                a.set(top + below, top - 1, 0.0);
            }
        }
        reflect(a, &bulge, factor, top, top, (top + 4).min(end), [start, end]);
        bulge = (top + 1..(top + 4).min(end)).map(|row| a.get(row, top)).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Eigenvalues of a companion matrix are the roots of its polynomial, chosen
    /// here; a pair lies on one circle with a real root.
    #[test]
    fn roots_of_a_polynomial() {
        let roots = [
            Complex::new(0.6, 0.8),
            Complex::new(0.6, -0.8),
            Complex::real(-1.0),
            Complex::real(0.3),
            Complex::new(-0.2, 0.5),
            Complex::new(-0.2, -0.5),
        ];
        let mut polynomial = vec![Complex::real(1.0)];
        for root in roots {
            polynomial.push(Complex::default());
            for i in (1..polynomial.len()).rev() {
                polynomial[i] = polynomial[i] - root * polynomial[i - 1];
            }
        }
        let mut companion = Matrix::zeros(6);
        for i in 0..6 {
            companion.set(0, i, -polynomial[i + 1].re);
            if i > 0 {
                companion.set(i, i - 1, 1.0);
            }
        }
        let found = eigenvalues(companion).expect("settles");
        assert_eq!(found.len(), 6);
        for root in roots {
            let nearest = found.iter().map(|&value| (value - root).abs()).fold(f64::INFINITY, f64::min);
            assert!(nearest < 1e-12, "{root:?} is {nearest} off");
        }
    }

    /// A cyclic shift is orthogonal: without a shift from elsewhere the
    /// iteration would go round for ever. Its eigenvalues are roots of one.
    #[test]
    fn a_cyclic_shift() {
        let mut shift = Matrix::zeros(7);
        for i in 0..7 {
            shift.set((i + 1) % 7, i, 1.0);
        }
        let found = eigenvalues(shift).expect("settles");
        assert!(found.iter().all(|value| (value.abs() - 1.0).abs() < 1e-12));
        let sum = found.iter().fold(Complex::default(), |sum, &value| sum + value);
        assert!(sum.abs() < 1e-12);
    }

    #[test]
    fn nothing_of_what_is_not_finite() {
        let mut matrix = Matrix::identity(3);
        matrix.set(1, 2, f64::NAN);
        assert_eq!(eigenvalues(matrix), None);
    }
}
