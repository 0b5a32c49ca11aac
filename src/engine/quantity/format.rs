//! Writing quantities for people: few digits, no scientific notation, a true minus sign.

use super::decimal::decimal;
use super::units::{self, Unit};
use super::{Dimension, UnitSystem, grade};

/// Numbers nearer to zero than this, in the unit shown, are shown as zero.
const NEGLIGIBLE: f64 = 1e-9;

/// A value in base units, written with a unit the user knows and three significant figures:
/// "12.5 mm", "8 µm", "0.3 thou". Whole numbers of rpm, money and things are not rounded off, and
/// inches keep their thousandths up to ten.
///
/// Fine lengths of 1 mm (0.04 in) or more are written in mm (in), other lengths of less than
/// 0.1 in in thou, torques of less than 1 lbf·ft in lbf·in, and grades of roughness by their
/// names. NaN is "—".
pub fn format(value: f64, dimension: Dimension, system: UnitSystem) -> String {
    let value = named(value, dimension, system);
    format_in(value, unit_for(value, dimension, system))
}

/// The same with six figures and more, for what somebody typed: 9999 mm must not read 10000 mm.
pub fn format_typed(value: f64, dimension: Dimension, system: UnitSystem) -> String {
    let value = named(value, dimension, system);
    let unit = unit_for(value, dimension, system);
    written(value, unit, digits(value / unit.factor, unit).max(6))
}

/// The smallest and the largest value allowed, as [`format()`] writes them, but rounded to the
/// side where values are allowed: what is shown can be typed.
pub fn format_limits(limits: (f64, f64), dimension: Dimension, system: UnitSystem) -> [String; 2] {
    [(limits.0, 1.0), (limits.1, -1.0)].map(|(limit, inward)| {
        let limit = named(limit, dimension, system);
        let unit = unit_for(limit, dimension, system);
        let number = limit / unit.factor;
        let figures = digits(number, unit);
        let rounded = number.signum() * Rounded::to_digits(number.abs(), figures).value;
        let is_beyond = (number - rounded) * inward > 1e-9 * number.abs();
        let step = 10_f64.powi(exponent(rounded.abs()) + 1 - figures as i32);
        let inside = if is_beyond { rounded + inward * step } else { rounded };
        unit.after(&format_number(inside, figures))
    })
}

/// A grade of roughness by the name it has in the system.
fn named(value: f64, dimension: Dimension, system: UnitSystem) -> f64 {
    if dimension == Dimension::Roughness { grade::nominal(value, system) } else { value }
}

/// A value in base units, written in this unit.
pub fn format_in(value: f64, unit: &Unit) -> String {
    written(value, unit, digits(value / unit.factor, unit))
}

/// A value on an axis that reaches to `end`: every label in the unit of the longest one, so that
/// zero and the middle of an axis in thou are in thou.
pub fn format_along(value: f64, end: f64, dimension: Dimension, system: UnitSystem) -> String {
    format_in(value, unit_for(end, dimension, system))
}

/// An estimate in base units, to two significant figures: it is not known better. "20 N", "6.7 µm". Money is whole.
pub fn format_estimate(value: f64, dimension: Dimension, system: UnitSystem) -> String {
    let value = if dimension == Dimension::Money { value.round() } else { value };
    written(value, unit_for(value, dimension, system), 2)
}

/// An estimate that stands beside its range up to `high`, in the unit of that: "0.047 in" beside
/// "0.021–0.11 in".
pub fn format_middle(value: f64, high: f64, dimension: Dimension, system: UnitSystem) -> String {
    written(value, unit_for(high, dimension, system), 2)
}

fn written(value: f64, unit: &Unit, digits: usize) -> String {
    let number = value / unit.factor;
    let text = format_number(number, digits);
    if number.is_nan() { text } else { unit.after(&text) }
}

/// A value and how far off it may be, both in base units, rounded to the same place: that of the
/// margin's first figure, or of its second if the first is a 1 or a 2: "212.3 ± 1.4 Hz", "81 ± 6
/// ms". Reads back as it was written.
pub fn format_margin(value: f64, plus_minus: f64, dimension: Dimension, system: UnitSystem) -> String {
    let unit = unit_for(value, dimension, system);
    let margin = (plus_minus / unit.factor).abs();
    let digits = if margin < 3.0 * 10f64.powi(exponent(margin)) { 2 } else { 1 };
    let margin = Rounded::to_digits(margin, digits);
    let places = margin.decimals;
    unit.after(&format!("{:.places$} ± {}", value / unit.factor, margin.text()))
}

/// A number to so many significant figures (1 to 15), without trailing zeros.
pub fn format_number(value: f64, digits: usize) -> String {
    if value.is_nan() {
        return "—".to_owned();
    }
    let magnitude = Rounded::to_digits(value.abs(), digits).text();
    let magnitude = trim_zeros(&magnitude);
    if value < 0.0 && magnitude != "0" { ["−", magnitude].concat() } else { magnitude.to_owned() }
}

/// Two values in base units, in either order, as a range in one unit: "3–8 µm".
///
/// Both ends are rounded to the same decimal place, that of two significant figures of the larger
/// one, or of more where the range is narrow. An end too small for that place keeps two figures
/// of its own. Ends that read alike become one number.
pub fn format_range(low: f64, high: f64, dimension: Dimension, system: UnitSystem) -> String {
    if low.is_nan() || high.is_nan() {
        return format_number(f64::NAN, 1);
    }
    let (low, high) = if low <= high { (low, high) } else { (high, low) };
    let unit = unit_for(low.abs().max(high.abs()), dimension, system);
    let (low, high) = (low / unit.factor, high / unit.factor);
    let [from, to] = range_ends(low, high);
    if from == to {
        return unit.after(&format_number(high, digits(high, unit)));
    }
    let dash = if low < 0.0 { " to " } else { "–" };
    unit.after(&[&from, dash, &to].concat())
}

fn unit_for(value: f64, dimension: Dimension, system: UnitSystem) -> &'static Unit {
    // Values that round up to the limit count as having reached it.
    let reaches = |limit: f64, unit: &Unit| value.abs() >= 0.9995 * limit * unit.factor;
    match (dimension, system) {
        (Dimension::FineLength, UnitSystem::Metric) if reaches(1.0, &units::MM) => &units::MM,
        (Dimension::FineLength, UnitSystem::Inch) if reaches(0.04, &units::INCH) => &units::INCH,
        (Dimension::Torque, UnitSystem::Inch) if value != 0.0 && !reaches(1.0, &units::LBF_FT) => &units::LBF_IN,
        (Dimension::Length, UnitSystem::Inch) if value != 0.0 && !reaches(0.1, &units::INCH) => &units::THOU,
        _ => dimension.default_unit(system),
    }
}

/// Significant figures worth showing.
fn digits(number: f64, unit: &Unit) -> usize {
    const USUAL: usize = 3;
    let whole = usize::try_from(exponent(number.abs()) + 1).unwrap_or(0);
    match unit.dimension {
        Dimension::Rotation | Dimension::Money | Dimension::Count => whole.max(USUAL),
        Dimension::Length if *unit == units::INCH && whole == 1 => USUAL + 1,
        _ => USUAL,
    }
}

/// The ends of a range, rounded alike.
fn range_ends(low: f64, high: f64) -> [String; 2] {
    if !(low.is_finite() && high.is_finite()) {
        return [low, high].map(|end| format_number(end, 2));
    }
    let largest = exponent(low.abs().max(high.abs()));
    let step = |digits: i32| 10f64.powi(largest - digits + 1);
    let is_fine_enough = |digits: &i32| step(*digits) <= (high - low) / 2.0;
    let figures = (2..6).find(is_fine_enough).unwrap_or(6);
    let [from, to] = [low, high].map(|end| {
        let has_the_place = end.abs() >= 5.0 * step(figures);
        let own = if has_the_place { figures - (largest - exponent(end.abs())) } else { 2 };
        Rounded::to_digits(end.abs(), usize::try_from(own).unwrap_or(1))
    });
    let [from_text, to_text] = [from.text(), to.text()];
    let [trimmed_from, trimmed_to] = [trim_zeros(&from_text), trim_zeros(&to_text)];
    // "2.9–3.0", but "3–8".
    let same_place = from.decimals == to.decimals;
    let any_decimals = trimmed_from.contains('.') || trimmed_to.contains('.');
    let [from, to] =
        if same_place && any_decimals { [from_text.as_str(), to_text.as_str()] } else { [trimmed_from, trimmed_to] };
    [(low, from), (high, to)].map(|(end, text)| {
        let sign = if end < 0.0 && text != "0" { "−" } else { "" };
        [sign, text].concat()
    })
}

/// A magnitude rounded in decimal.
struct Rounded {
    value: f64,
    decimals: usize,
}

impl Rounded {
    fn to_digits(magnitude: f64, digits: usize) -> Self {
        if !magnitude.is_finite() || magnitude < NEGLIGIBLE {
            let value = if magnitude.is_finite() { 0.0 } else { magnitude };
            return Self { value, decimals: 0 };
        }
        let after_first = digits.clamp(1, 15) - 1;
        let rounded = format!("{magnitude:.after_first$e}");
        let value = scientific(&rounded).map_or(magnitude, |(digits, power)| decimal(digits, power));
        let decimals = after_first as i32 - exponent(value);
        Self { value, decimals: usize::try_from(decimals).unwrap_or(0) }
    }

    fn text(&self) -> String {
        if self.value.is_infinite() {
            return "∞".to_owned();
        }
        format!("{:.*}", self.decimals, self.value)
    }
}

/// The power of ten of a magnitude's first digit; 0 for zero and for what is not finite.
fn exponent(magnitude: f64) -> i32 {
    scientific(&format!("{magnitude:e}")).map_or(0, |(_, power)| power)
}

/// Digits and power of "1.5e-3".
fn scientific(number: &str) -> Option<(&str, i32)> {
    let (digits, power) = number.split_once('e')?;
    Some((digits, power.parse().ok()?))
}

fn trim_zeros(number: &str) -> &str {
    match number.contains('.') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => number,
    }
}

#[cfg(test)]
mod tests {
    use super::Dimension::{FineLength, Frequency, Milliseconds};
    use super::UnitSystem::{Inch, Metric};
    use super::*;

    #[test]
    fn a_middle_is_in_the_unit_of_its_range() {
        let beside = |mm: f64, high: f64| format_middle(mm, high, Dimension::Length, UnitSystem::Inch);
        assert_eq!(beside(1.2, 2.8), "0.047 in");
        assert_eq!(beside(1.2, 2.0), "47 thou");
    }

    #[test]
    fn numbers() {
        for (value, digits, text) in [
            (0.0, 3, "0"),
            (-0.0, 3, "0"),
            (3.0, 3, "3"),
            (0.30, 3, "0.3"),
            (12.345, 3, "12.3"),
            (0.012_345, 3, "0.0123"),
            (1234.5, 3, "1230"),
            (999.6, 3, "1000"),
            (9.996, 3, "10"),
            (0.099_96, 3, "0.1"),
            (-2.5, 3, "−2.5"),
            (1e15, 3, "1000000000000000"),
            (1e-6, 3, "0.000001"),
            (1e-12, 3, "0"),
            (-1e-12, 3, "0"),
            (2.0 / 3.0, 1, "0.7"),
            (2.0 / 3.0, 0, "0.7"),
            (f64::NAN, 3, "—"),
            (f64::INFINITY, 3, "∞"),
            (f64::NEG_INFINITY, 3, "−∞"),
        ] {
            assert_eq!(format_number(value, digits), text, "{value}");
        }
    }

    #[test]
    fn quantities_in_both_systems() {
        use Dimension::*;
        for (value, dimension, metric, inch) in [
            (12.7, Length, "12.7 mm", "0.5 in"),
            (34.925, Length, "34.9 mm", "1.375 in"),
            (304.8, Length, "305 mm", "12 in"),
            (0.6, Length, "0.6 mm", "23.6 thou"),
            (2.54, Length, "2.54 mm", "0.1 in"),
            (0.0, Length, "0 mm", "0 in"),
            (0.008, FineLength, "8 µm", "0.315 thou"),
            (0.007_62, FineLength, "7.62 µm", "0.3 thou"),
            (0.0016, Roughness, "1.6 µm", "63 µin"),
            (0.0032, Roughness, "3.2 µm", "125 µin"),
            (0.0063, Roughness, "6.3 µm", "250 µin"),
            (0.0127, Roughness, "12.5 µm", "500 µin"),
            (0.0031, Roughness, "3.1 µm", "122 µin"),
            (0.0, FineLength, "0 µm", "0 thou"),
            (-0.0254, FineLength, "−25.4 µm", "−1 thou"),
            (0.999, FineLength, "999 µm", "39.3 thou"),
            (0.9996, FineLength, "1 mm", "39.4 thou"),
            (1.016, FineLength, "1.02 mm", "0.04 in"),
            (100.0, Force, "100 N", "22.5 lbf"),
            (20.0, Stiffness, "20 N/µm", "114 lbf/thou"),
            (10.0, Torque, "10 N·m", "7.38 lbf·ft"),
            (0.018, Torque, "0.018 N·m", "0.159 lbf·in"),
            (std::f64::consts::FRAC_PI_6, Angle, "30°", "30°"),
            (1725.0, Rotation, "1725 rpm", "1725 rpm"),
            (30.48, CuttingSpeed, "30.5 m/min", "100 sfm"),
            (127.0, FeedRate, "127 mm/min", "5 in/min"),
            (84.97, Frequency, "85 Hz", "85 Hz"),
            (372.85, Power, "373 W", "0.5 hp"),
            (1249.6, Money, "1250", "1250"),
            (12.5, Money, "12.5", "12.5"),
            (1.5, Hours, "1.5 h", "1.5 h"),
            (20.0, Minutes, "20 min", "20 min"),
            (0.873, Share, "87.3 %", "87.3 %"),
            (12_345.0, Count, "12345", "12345"),
            (1.234, Plain, "1.23", "1.23"),
        ] {
            assert_eq!(format(value, dimension, Metric), metric);
            assert_eq!(format(value, dimension, Inch), inch);
        }
        assert_eq!(format(f64::NAN, Length, Metric), "—");
        assert_eq!(format(f64::INFINITY, Force, Metric), "∞ N");
        assert_eq!(format_in(0.0254, &units::TENTH), "10 tenths");
    }

    #[test]
    fn estimates_have_two_figures() {
        use Dimension::*;
        for (value, dimension, metric, inch) in [
            (0.006_72, FineLength, "6.7 µm", "0.26 thou"),
            (19.23, Force, "19 N", "4.3 lbf"),
            (123.4, Force, "120 N", "28 lbf"),
            (0.58, Angle, "33°", "33°"),
            (-34.925, Length, "−35 mm", "−1.4 in"),
            (1249.6, Money, "1200", "1200"),
            (-1.74, Money, "−2", "−2"),
        ] {
            assert_eq!(format_estimate(value, dimension, Metric), metric);
            assert_eq!(format_estimate(value, dimension, Inch), inch);
        }
        assert_eq!(format_estimate(f64::NAN, Length, Metric), "—");
    }

    #[test]
    fn what_was_typed_is_not_rounded_off() {
        use Dimension::{Length, Rotation, Roughness};
        for (value, dimension, system, text) in [
            (9999.0, Length, Metric, "9999 mm"),
            (500.4, Length, Metric, "500.4 mm"),
            (12.345 * 25.4, Length, Inch, "12.345 in"),
            (0.3048, Length, Inch, "12 thou"),
            (63.0 * 25.4e-6, Roughness, Metric, "1.6 µm"),
            (1_234_567.0, Rotation, Metric, "1234567 rpm"),
        ] {
            assert_eq!(format_typed(value, dimension, system), text);
        }
    }

    /// 20 mm are 0.78740 in and 500 mm are 19.6850 in: 0.787 in and 19.7 in would be refused.
    #[test]
    fn limits_are_rounded_inwards() {
        use Dimension::{Length, Rotation};
        for (limits, dimension, system, texts) in [
            ((20.0, 500.0), Length, Inch, ["0.788 in", "19.6 in"]),
            ((20.0, 500.0), Length, Metric, ["20 mm", "500 mm"]),
            ((12.7, 304.8), Length, Inch, ["0.5 in", "12 in"]),
            ((0.0, 0.3), Length, Metric, ["0 mm", "0.3 mm"]),
            ((-500.0, -20.0), Length, Inch, ["−19.6 in", "−0.788 in"]),
            ((20.0, 30_000.0), Rotation, Inch, ["20 rpm", "30000 rpm"]),
        ] {
            assert_eq!(format_limits(limits, dimension, system), texts);
        }
    }

    #[test]
    fn an_axis_has_one_unit() {
        use Dimension::{Length, Torque};
        for (end, dimension, system, labels) in [
            (0.08 * 25.4, Length, Inch, ["0 thou", "40 thou", "80 thou"]),
            (0.16 * 25.4, Length, Inch, ["0 in", "0.08 in", "0.16 in"]),
            (3.0, Length, Metric, ["0 mm", "1.5 mm", "3 mm"]),
            (1.2, FineLength, Metric, ["0 mm", "0.6 mm", "1.2 mm"]),
            (0.02, FineLength, Metric, ["0 µm", "10 µm", "20 µm"]),
            (0.5 * units::LBF_FT.factor, Torque, Inch, ["0 lbf·in", "3 lbf·in", "6 lbf·in"]),
        ] {
            assert_eq!([0.0, 0.5, 1.0].map(|at| format_along(at * end, end, dimension, system)), labels);
        }
    }

    #[test]
    fn margins() {
        for (value, plus_minus, dimension, text) in [
            (212.34, 1.37, Frequency, "212.3 ± 1.4 Hz"),
            (212.34, 0.0314, Frequency, "212.34 ± 0.03 Hz"),
            (1212.34, 23.7, Frequency, "1212 ± 24 Hz"),
            (81.26, 6.0, Milliseconds, "81 ± 6 ms"),
            (0.13, 0.0104, FineLength, "130 ± 10 µm"),
        ] {
            assert_eq!(format_margin(value, plus_minus, dimension, Metric), text);
            let parsed = crate::quantity::parse(text, dimension, dimension.default_unit(Metric)).expect(text);
            assert!((parsed.plus_minus.expect(text) / plus_minus - 1.0).abs() < 0.2, "{text}");
        }
    }

    #[test]
    fn ranges() {
        for (low, high, text) in [
            (3.0, 8.0, "3–8 µm"),
            (8.0, 3.0, "3–8 µm"),
            (3.12, 8.42, "3.1–8.4 µm"),
            (8.3, 12.2, "8–12 µm"),
            (12.0, 143.7, "12–140 µm"),
            (0.512, 347.23, "0.51–350 µm"),
            (101.0, 103.0, "101–103 µm"),
            (2.93, 3.02, "2.93–3.02 µm"),
            (2.92, 3.0, "2.92–3.00 µm"),
            (0.0, 8.0, "0–8 µm"),
            (-3.0, 8.0, "−3 to 8 µm"),
            (5.0, 5.0, "5 µm"),
            (5.000_000_1, 5.000_000_2, "5 µm"),
            (400.0, 2000.0, "0.4–2 mm"),
        ] {
            let range = format_range(low / 1000.0, high / 1000.0, Dimension::FineLength, Metric);
            assert_eq!(range, text);
        }
        assert_eq!(format_range(0.18, 1.07, Dimension::Length, Inch), "7–42 thou");
        assert_eq!(format_range(0.1, 0.25, Dimension::Share, Inch), "10–25 %");
        assert_eq!(format_range(80.0, 240.0, Dimension::Money, Inch), "80–240");
        assert_eq!(format_range(3.0, f64::INFINITY, Dimension::Force, Metric), "3–∞ N");
        assert_eq!(format_range(f64::NAN, 1.0, Dimension::Force, Inch), "—");
    }
}
