//! A seeded low-discrepancy sample of the unit cube.
//!
//! Sobol' sequence in Gray-code order with the direction numbers of Joe and Kuo
//! (SIAM J. Sci. Comput. 30 (2008); "new-joe-kuo-6", distributed under a
//! three-clause BSD licence, copyright 2008 Frances Y. Kuo and Stephen Joe),
//! moved by a random digital shift so that no point lies on the cube's faces.
//! No crate at hand offers more than a few dimensions for wasm without a large
//! table or a random device; this is the part of the table that is needed.

/// Primitive polynomial (as bits) and first direction numbers per dimension,
/// from the second on.
#[rustfmt::skip]
const DIRECTIONS: [(u32, &[u32]); 95] = [
    (3, &[1]),
    (7, &[1, 3]),
    (11, &[1, 3, 1]),
    (13, &[1, 1, 1]),
    (19, &[1, 1, 3, 3]),
    (25, &[1, 3, 5, 13]),
    (37, &[1, 1, 5, 5, 17]),
    (41, &[1, 1, 5, 5, 5]),
    (47, &[1, 1, 7, 11, 19]),
    (55, &[1, 1, 5, 1, 1]),
    (59, &[1, 1, 1, 3, 11]),
    (61, &[1, 3, 5, 5, 31]),
    (67, &[1, 3, 3, 9, 7, 49]),
    (91, &[1, 1, 1, 15, 21, 21]),
    (97, &[1, 3, 1, 13, 27, 49]),
    (103, &[1, 1, 1, 15, 7, 5]),
    (109, &[1, 3, 1, 15, 13, 25]),
    (115, &[1, 1, 5, 5, 19, 61]),
    (131, &[1, 3, 7, 11, 23, 15, 103]),
    (137, &[1, 3, 7, 13, 13, 15, 69]),
    (143, &[1, 1, 3, 13, 7, 35, 63]),
    (145, &[1, 3, 5, 9, 1, 25, 53]),
    (157, &[1, 3, 1, 13, 9, 35, 107]),
    (167, &[1, 3, 1, 5, 27, 61, 31]),
    (171, &[1, 1, 5, 11, 19, 41, 61]),
    (185, &[1, 3, 5, 3, 3, 13, 69]),
    (191, &[1, 1, 7, 13, 1, 19, 1]),
    (193, &[1, 3, 7, 5, 13, 19, 59]),
    (203, &[1, 1, 3, 9, 25, 29, 41]),
    (211, &[1, 3, 5, 13, 23, 1, 55]),
    (213, &[1, 3, 7, 3, 13, 59, 17]),
    (229, &[1, 3, 1, 3, 5, 53, 69]),
    (239, &[1, 1, 5, 5, 23, 33, 13]),
    (241, &[1, 1, 7, 7, 1, 61, 123]),
    (247, &[1, 1, 7, 9, 13, 61, 49]),
    (253, &[1, 3, 3, 5, 3, 55, 33]),
    (285, &[1, 3, 1, 15, 31, 13, 49, 245]),
    (299, &[1, 3, 5, 15, 31, 59, 63, 97]),
    (301, &[1, 3, 1, 11, 11, 11, 77, 249]),
    (333, &[1, 3, 1, 11, 27, 43, 71, 9]),
    (351, &[1, 1, 7, 15, 21, 11, 81, 45]),
    (355, &[1, 3, 7, 3, 25, 31, 65, 79]),
    (357, &[1, 3, 1, 1, 19, 11, 3, 205]),
    (361, &[1, 1, 5, 9, 19, 21, 29, 157]),
    (369, &[1, 3, 7, 11, 1, 33, 89, 185]),
    (391, &[1, 3, 3, 3, 15, 9, 79, 71]),
    (397, &[1, 3, 7, 11, 15, 39, 119, 27]),
    (425, &[1, 1, 3, 1, 11, 31, 97, 225]),
    (451, &[1, 1, 1, 3, 23, 43, 57, 177]),
    (463, &[1, 3, 7, 7, 17, 17, 37, 71]),
    (487, &[1, 3, 1, 5, 27, 63, 123, 213]),
    (501, &[1, 1, 3, 5, 11, 43, 53, 133]),
    (529, &[1, 3, 5, 5, 29, 17, 47, 173, 479]),
    (539, &[1, 3, 3, 11, 3, 1, 109, 9, 69]),
    (545, &[1, 1, 1, 5, 17, 39, 23, 5, 343]),
    (557, &[1, 3, 1, 5, 25, 15, 31, 103, 499]),
    (563, &[1, 1, 1, 11, 11, 17, 63, 105, 183]),
    (601, &[1, 1, 5, 11, 9, 29, 97, 231, 363]),
    (607, &[1, 1, 5, 15, 19, 45, 41, 7, 383]),
    (617, &[1, 3, 7, 7, 31, 19, 83, 137, 221]),
    (623, &[1, 1, 1, 3, 23, 15, 111, 223, 83]),
    (631, &[1, 1, 5, 13, 31, 15, 55, 25, 161]),
    (637, &[1, 1, 3, 13, 25, 47, 39, 87, 257]),
    (647, &[1, 1, 1, 11, 21, 53, 125, 249, 293]),
    (661, &[1, 1, 7, 11, 11, 7, 57, 79, 323]),
    (675, &[1, 1, 5, 5, 17, 13, 81, 3, 131]),
    (677, &[1, 1, 7, 13, 23, 7, 65, 251, 475]),
    (687, &[1, 3, 5, 1, 9, 43, 3, 149, 11]),
    (695, &[1, 1, 3, 13, 31, 13, 13, 255, 487]),
    (701, &[1, 3, 3, 1, 5, 63, 89, 91, 127]),
    (719, &[1, 1, 3, 3, 1, 19, 123, 127, 237]),
    (721, &[1, 1, 5, 7, 23, 31, 37, 243, 289]),
    (731, &[1, 1, 5, 11, 17, 53, 117, 183, 491]),
    (757, &[1, 1, 1, 5, 1, 13, 13, 209, 345]),
    (761, &[1, 1, 3, 15, 1, 57, 115, 7, 33]),
    (787, &[1, 3, 1, 11, 7, 43, 81, 207, 175]),
    (789, &[1, 3, 1, 1, 15, 27, 63, 255, 49]),
    (799, &[1, 3, 5, 3, 27, 61, 105, 171, 305]),
    (803, &[1, 1, 5, 3, 1, 3, 57, 249, 149]),
    (817, &[1, 1, 3, 5, 5, 57, 15, 13, 159]),
    (827, &[1, 1, 1, 11, 7, 11, 105, 141, 225]),
    (847, &[1, 3, 3, 5, 27, 59, 121, 101, 271]),
    (859, &[1, 3, 5, 9, 11, 49, 51, 59, 115]),
    (865, &[1, 1, 7, 1, 23, 45, 125, 71, 419]),
    (875, &[1, 1, 3, 5, 23, 5, 105, 109, 75]),
    (877, &[1, 1, 7, 15, 7, 11, 67, 121, 453]),
    (883, &[1, 3, 7, 3, 9, 13, 31, 27, 449]),
    (895, &[1, 3, 1, 15, 19, 39, 39, 89, 15]),
    (901, &[1, 1, 1, 1, 1, 33, 73, 145, 379]),
    (911, &[1, 3, 1, 15, 15, 43, 29, 13, 483]),
    (949, &[1, 1, 7, 3, 19, 27, 85, 131, 431]),
    (953, &[1, 3, 3, 3, 5, 35, 23, 195, 349]),
    (967, &[1, 3, 3, 7, 9, 27, 39, 59, 297]),
    (971, &[1, 1, 3, 9, 11, 17, 13, 241, 157]),
    (973, &[1, 3, 7, 15, 25, 57, 33, 189, 213]),
];

/// Largest number of dimensions.
pub const DIMENSIONS: usize = DIRECTIONS.len() + 1;

const BITS: usize = 32;

fn direction_numbers(dimension: usize) -> [u32; BITS] {
    let mut v = [0; BITS];
    if dimension == 0 {
        for (i, number) in v.iter_mut().enumerate() {
            *number = 1 << (BITS - 1 - i);
        }
        return v;
    }
    let (polynomial, initial) = DIRECTIONS[dimension - 1];
    let degree = initial.len();
    for i in 0..BITS {
        v[i] = if i < degree {
            initial[i] << (BITS - 1 - i)
        } else {
            let mut number = v[i - degree] ^ (v[i - degree] >> degree);
            for k in 1..degree {
                if polynomial >> (degree - k) & 1 == 1 {
                    number ^= v[i - k];
                }
            }
            number
        };
    }
    v
}

/// `points` points in `dimensions` dimensions, row after row, each coordinate
/// strictly between 0 and 1. The shift of dimension `d` depends on `seed` and
/// `d` alone.
///
/// # Panics
/// If `dimensions` exceeds [`DIMENSIONS`].
pub fn sobol(points: usize, dimensions: usize, seed: u64) -> Vec<f64> {
    let mut sample = vec![0.0; points * dimensions];
    for dimension in 0..dimensions {
        let directions = direction_numbers(dimension);
        let shift = (mix(seed ^ (dimension as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15)) >> 32) as u32;
        let mut state = 0_u32;
        for point in 0..points {
            // Half a last bit in, so that neither 0 nor 1 can occur.
            sample[point * dimensions + dimension] = (f64::from(state ^ shift) + 0.5) / 2_f64.powi(32);
            state ^= directions[(point as u32).trailing_ones() as usize % BITS];
        }
    }
    sample
}

/// `count` independent uniform numbers between 0 and 1, for what has to have
/// nothing to do with the coordinates of any sequence.
pub fn scattered(count: usize, seed: u64) -> impl Iterator<Item = f64> {
    let seed = mix(seed);
    (0..count as u64).map(move |index| ((mix(seed.wrapping_add(index)) >> 11) as f64 + 0.5) / 2_f64.powi(53))
}

/// SplitMix64's finaliser: Steele, Lea and Flood, OOPSLA 2014.
fn mix(seed: u64) -> u64 {
    let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unshifted points as integers over 2^32.
    fn raw(points: usize, dimension: usize) -> Vec<f64> {
        let directions = direction_numbers(dimension);
        let mut state = 0_u32;
        (0..points)
            .map(|point| {
                let value = f64::from(state) / 2_f64.powi(32);
                state ^= directions[(point as u32).trailing_ones() as usize % BITS];
                value
            })
            .collect()
    }

    /// First points in three dimensions: Joe and Kuo's generator; the same from
    /// two general-purpose libraries (scipy 1.17, crate sobol 1.0).
    #[test]
    fn begins_as_published() {
        assert_eq!(raw(8, 0), [0.0, 0.5, 0.75, 0.25, 0.375, 0.875, 0.625, 0.125]);
        assert_eq!(raw(8, 1), [0.0, 0.5, 0.25, 0.75, 0.375, 0.875, 0.125, 0.625]);
        assert_eq!(raw(8, 2), [0.0, 0.5, 0.25, 0.75, 0.625, 0.125, 0.875, 0.375]);
    }

    /// Values of scipy 1.17.1, `scipy.stats.qmc.Sobol(96, scramble=False, bits=32)`.
    #[test]
    fn agrees_with_a_reference_library_in_high_dimensions() {
        assert_eq!(raw(1024, 5)[777], 0.3564453125);
        assert_eq!(raw(1024, 17)[300], 0.064453125);
        assert_eq!(raw(1024, 40)[1000], 0.9130859375);
        assert_eq!(raw(1024, 63)[1023], 0.0400390625);
        assert_eq!(raw(1024, 95)[601], 0.3798828125);
    }

    #[test]
    fn every_dimension_is_stratified() {
        let points = 256;
        let sample = sobol(points, DIMENSIONS, 7);
        for dimension in 0..DIMENSIONS {
            let mut seen = vec![false; points];
            for point in 0..points {
                let value = sample[point * DIMENSIONS + dimension];
                assert!(value > 0.0 && value < 1.0);
                seen[(value * points as f64) as usize] = true;
            }
            assert!(seen.iter().all(|&hit| hit), "dimension {dimension} leaves a gap");
        }
    }
}
