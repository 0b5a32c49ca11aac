//! What a decimal comes to as a number.
//!
//! The standard library reads as many digits as there may be, by tables of 10 kB
//! that nothing can compress. What people type and what is rounded for them has
//! fewer: up to 19 digits, of which up to 27 lie behind the point, are exact to
//! the last bit here too.

/// A run of digits with at most one point or comma, times ten to the `power`.
/// Infinite when it is too large.
pub(super) fn decimal(digits: &str, power: i32) -> f64 {
    /// Digits beyond it are too small to count.
    const ENOUGH: u64 = 1_000_000_000_000_000_000;
    let (mut whole, mut power, mut behind) = (0_u64, power, false);
    for byte in digits.bytes() {
        match byte {
            b'0'..=b'9' if whole < ENOUGH => {
                whole = 10 * whole + u64::from(byte - b'0');
                power -= i32::from(behind);
            }
            b'0'..=b'9' => power += i32::from(!behind),
            _ => behind = true,
        }
    }
    let tens = 10_u128.checked_pow(power.unsigned_abs());
    match tens {
        _ if whole == 0 => 0.0,
        Some(tens) if (-27..0).contains(&power) => ratio(whole, tens),
        Some(tens) if power >= 0 && tens < u128::MAX >> 64 => (u128::from(whole) * tens) as f64,
        _ => whole as f64 * 10_f64.powi(power),
    }
}

/// Long division to more bits than a number has, and one for what is left.
fn ratio(above: u64, below: u128) -> f64 {
    let mut shift = u128::from(above).leading_zeros();
    let above = u128::from(above) << shift;
    let (mut whole, mut left) = (above / below, above % below);
    while whole >> 64 == 0 {
        left <<= 32;
        whole = (whole << 32) | (left / below);
        left %= below;
        shift += 32;
    }
    (whole | u128::from(left != 0)) as f64 * 0.5_f64.powi(shift as i32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The standard library's reading is correctly rounded.
        #[test]
        fn it_is_as_exact_as_the_standard_librarys(
            before in "[0-9]{1,9}", decimals in "[0-9]{0,10}", power in -17..10_i32,
        ) {
            let expected: f64 = format!("{before}.{decimals}e{power}").parse().unwrap();
            prop_assert_eq!(decimal(&format!("{before}.{decimals}"), power), expected);
            prop_assert_eq!(decimal(&format!("{before},{decimals}"), power), expected);
        }

        #[test]
        fn further_digits_and_powers_are_off_by_no_more_than_the_last_ones(
            digits in "[1-9][0-9]{0,60}", power in -250..200_i32,
        ) {
            let expected: f64 = format!("{digits}e{power}").parse().unwrap();
            prop_assert!((decimal(&digits, power) / expected - 1.0).abs() < 1e-13);
        }
    }

    #[test]
    fn the_ends_of_what_there_is() {
        assert_eq!(decimal("0", 5000), 0.0);
        assert_eq!(decimal("1", 400), f64::INFINITY);
        assert_eq!(decimal("1", -400), 0.0);
        // Halfway between two numbers, to the even one: 2⁵³ + 1 and a little more.
        assert_eq!(decimal("9007199254740993", 0), 9_007_199_254_740_992.0);
        assert_eq!(decimal("9007199254740993.001", 0), 9_007_199_254_740_994.0);
    }
}
