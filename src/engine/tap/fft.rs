//! The fast Fourier transform, for powers of two.

use rustfft::algorithm::Radix4;
use rustfft::num_complex::Complex64;
use rustfft::{Fft, FftDirection};

use crate::mechanics::lobes::Complex;

/// Which way to transform.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Sums of value times `exp(-2 π i k n / N)`.
    Forward,
    /// Sums of value times `exp(2 π i k n / N)`: N times the inverse.
    Back,
}

/// Transforms `values` in place.
///
/// # Panics
/// If their number is not a power of two.
pub fn transform(values: &mut [Complex], way: Way) {
    let direction = match way {
        Way::Forward => FftDirection::Forward,
        Way::Back => FftDirection::Inverse,
    };
    let mut lines: Vec<Complex64> = values.iter().map(|value| Complex64::new(value.re, value.im)).collect();
    // The one algorithm by itself: a planner would bring those for every length.
    Radix4::new(lines.len(), direction).process(&mut lines);
    for (value, line) in values.iter_mut().zip(lines) {
        *value = Complex::new(line.re, line.im);
    }
}
