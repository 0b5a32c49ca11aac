//! The fast Fourier transform, for powers of two.
//!
//! Own code: the crates for it plan for every size and processor, which put a
//! quarter on top of the whole page for a handful of lines.

use std::f64::consts::TAU;

use crate::mechanics::lobes::Complex;

/// Which way to transform.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Sums of value times `exp(-2 π i k n / N)`.
    Forward,
    /// Sums of value times `exp(2 π i k n / N)`: N times the inverse.
    Back,
}

/// Transforms `values` in place (Cooley and Tukey, Mathematics of Computation 19
/// (1965)).
///
/// # Panics
/// If their number is not a power of two.
pub fn transform(values: &mut [Complex], way: Way) {
    let count = values.len();
    assert!(count.is_power_of_two(), "{count} values");
    if count == 1 {
        return;
    }
    let shift = usize::BITS - count.trailing_zeros();
    for place in 0..count {
        let mirrored = place.reverse_bits() >> shift;
        if place < mirrored {
            values.swap(place, mirrored);
        }
    }
    let sign = match way {
        Way::Forward => -1.0,
        Way::Back => 1.0,
    };
    let turns: Vec<Complex> = (0..count / 2).map(|k| Complex::turn(sign * TAU * k as f64 / count as f64)).collect();
    // Neighbouring transforms of half a length make one of a whole.
    let mut half = 1;
    while half < count {
        let stride = count / 2 / half;
        for pair in values.chunks_exact_mut(2 * half) {
            let (even, odd) = pair.split_at_mut(half);
            for ((even, odd), &turn) in even.iter_mut().zip(odd).zip(turns.iter().step_by(stride)) {
                let turned = *odd * turn;
                (*even, *odd) = (*even + turned, *even - turned);
            }
        }
        half *= 2;
    }
}
