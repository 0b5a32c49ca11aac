//! Eigenvalues of a real matrix in Hessenberg form (nothing below the first
//! subdiagonal): the implicitly double-shifted QR iteration (Golub and Van Loan,
//! *Matrix Computations*, 4th ed. 2013, section 7.5, from memory).
//!
//! Multipliers of equal magnitude are the rule here (conjugate pairs, and lobes
//! that meet), where power iteration stalls and this does not.

use super::Complex;
use super::matrix::Matrix;

/// Sweeps for one eigenvalue before giving up; three are usual.
const SWEEPS: u32 = 60;

/// All eigenvalues, or `None` if a cell is not finite or the iteration does not
/// settle.
pub(super) fn eigenvalues(hessenberg: &Matrix) -> Option<Vec<Complex>> {
    if !hessenberg.cells.iter().all(|cell| cell.is_finite()) {
        return None;
    }
    let mut a = hessenberg.clone();
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

/// A reflection `1 - factor v v'` that turns a vector onto its first axis: `v`
/// with `v[0] = 1`, the factor, and what the vector becomes.
fn reflection(vector: [f64; 3]) -> ([f64; 3], f64, f64) {
    let [first, second, third] = vector;
    if second == 0.0 && third == 0.0 {
        return ([1.0, 0.0, 0.0], 0.0, first);
    }
    let onto = -(first * first + second * second + third * third).sqrt().copysign(first);
    let head = first - onto;
    ([1.0, second / head, third / head], head / -onto, onto)
}

/// Reflects the three rows and columns from `top` on, keeping the eigenvalues of
/// the block `start..end`; near its end there are two.
fn reflect(a: &mut Matrix, [_, v, w]: [f64; 3], factor: f64, top: usize, [start, end]: [usize; 2]) {
    let size = a.size;
    let bottom = (top + 4).min(end);
    let (upper, lower) = a.cells[top * size..].split_at_mut(size);
    let (middle, lower) = lower.split_at_mut(size);
    let upper = &mut upper[top..end];
    let middle = &mut middle[top..end];
    if top + 2 < end {
        let lower = &mut lower[top..end];
        for ((x, y), z) in upper.iter_mut().zip(middle).zip(lower) {
            let share = factor * (*x + v * *y + w * *z);
            *x -= share;
            *y -= share * v;
            *z -= share * w;
        }
        for row in start..bottom {
            let cells = &mut a.cells[row * size + top..][..3];
            let share = factor * (cells[0] + v * cells[1] + w * cells[2]);
            cells[0] -= share;
            cells[1] -= share * v;
            cells[2] -= share * w;
        }
    } else {
        for (x, y) in upper.iter_mut().zip(middle) {
            let share = factor * (*x + v * *y);
            *x -= share;
            *y -= share * v;
        }
        for row in start..bottom {
            let cells = &mut a.cells[row * size + top..][..2];
            let share = factor * (cells[0] + v * cells[1]);
            cells[0] -= share;
            cells[1] -= share * v;
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
    let size = discriminant.abs().sqrt();
    let root = if discriminant < 0.0 { Complex::new(0.0, size) } else { Complex::real(size) };
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
    // Over the entry below the corner, which keeps huge entries in range.
    let mut bulge = [
        (h00 * (h00 - sum) + product) / h10 + a.get(start, start + 1),
        h00 + a.get(start + 1, start + 1) - sum,
        a.get(start + 2, start + 1),
    ];
    for top in start..last {
        let (v, factor, onto) = reflection(bulge);
        if top > start {
            a.set(top, top - 1, onto);
            (top + 1..(top + 3).min(end)).for_each(|row| a.set(row, top - 1, 0.0));
        }
        reflect(a, v, factor, top, [start, end]);
        let below = |row: usize| if row < end { a.get(row, top) } else { 0.0 };
        bulge = [1, 2, 3].map(|down| below(top + down));
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
        let found = eigenvalues(&companion).expect("settles");
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
        let found = eigenvalues(&shift).expect("settles");
        assert!(found.iter().all(|value| (value.abs() - 1.0).abs() < 1e-12));
        let sum = found.iter().fold(Complex::default(), |sum, &value| sum + value);
        assert!(sum.abs() < 1e-12);
    }

    #[test]
    fn nothing_of_what_is_not_finite() {
        let mut matrix = Matrix::zeros(3);
        matrix.set(1, 2, f64::NAN);
        assert_eq!(eigenvalues(&matrix), None);
    }
}
