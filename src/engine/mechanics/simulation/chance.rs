//! What looks like chance and is the same every time.

/// A number between -1 and 1, evenly spread: the finalizer of MurmurHash3
/// (public domain) on two counters.
pub(super) fn uneven(a: u32, b: u32) -> f64 {
    let mut bits = a.wrapping_mul(0x9E37_79B1) ^ b.wrapping_mul(0x85EB_CA77);
    for (shift, factor) in [(16, 0x85EB_CA6B_u32), (13, 0xC2B2_AE35)] {
        bits ^= bits >> shift;
        bits = bits.wrapping_mul(factor);
    }
    bits ^= bits >> 16;
    f64::from(bits) / f64::from(u32::MAX) * 2.0 - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean 0 and variance 1/3 of an even spread, and neighbours that know
    /// nothing of each other.
    #[test]
    fn looks_like_chance() {
        let values: Vec<f64> = (0..20_000).map(|i| uneven(i, 7)).collect();
        let mean = |values: &mut dyn Iterator<Item = f64>| values.sum::<f64>() / 20_000.0;
        assert!(mean(&mut values.iter().copied()).abs() < 0.015);
        assert!((mean(&mut values.iter().map(|v| v * v)) - 1.0 / 3.0).abs() < 0.01);
        assert!(mean(&mut values.windows(2).map(|pair| pair[0] * pair[1])).abs() < 0.01);
    }
}
