//! The units, as data: one row each.
//!
//! Conversion factors are those of NIST SP 811 (2008), appendix B, which agree with ISO 80000-3
//! and ISO 80000-4: the inch, the pound (0.453 592 37 kg) and standard gravity (9.806 65 m/s²)
//! are exact by definition; everything else here follows from them.

use super::Dimension;

/// One unit of one dimension.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// As written after a number: "µm". Empty when the number stands alone.
    pub symbol: &'static str,
    /// As read aloud, in the plural: "micrometres".
    pub spoken: &'static str,
    /// What a number with this unit is, with its article: "a length".
    pub noun: &'static str,
    /// The dimension it measures; [`Dimension::Length`] for fine lengths too.
    pub dimension: Dimension,
    /// Base units in one of this unit.
    pub factor: f64,
    /// What people type for it, as left by `fold`.
    pub aliases: &'static [&'static str],
}

impl Unit {
    const fn new(
        dimension: Dimension,
        factor: f64,
        symbol: &'static str,
        spoken: &'static str,
        aliases: &'static [&'static str],
    ) -> Self {
        Self { symbol, spoken, noun: dimension.noun(), dimension, factor, aliases }
    }

    /// The same unit under a noun of its own.
    const fn called(self, noun: &'static str) -> Self {
        Self { noun, ..self }
    }

    /// A number already written out, followed by this unit. The degree sign takes no space.
    pub fn after(&self, number: &str) -> String {
        let gap = if self.symbol.is_empty() || self.symbol == "°" { "" } else { " " };
        [number, gap, self.symbol].concat()
    }
}

/// Millimetres in an inch, exact.
pub const MM_PER_INCH: f64 = 25.4;
/// Newtons in a kilogram-force, exact.
pub const N_PER_KGF: f64 = 9.806_65;
/// Newtons in a pound-force, exact: 0.453 592 37 kg × 9.806 65 m/s².
pub const N_PER_LBF: f64 = 4.448_221_615_260_5;
/// Newton metres in a pound-force foot.
pub const NM_PER_LBF_FT: f64 = N_PER_LBF * 12.0 * MM_PER_INCH / 1000.0;
/// N/µm in a pound-force per thousandth of an inch.
pub const N_PER_UM_PER_LBF_PER_THOU: f64 = N_PER_LBF / MM_PER_INCH;
/// Watts in a horsepower of 550 foot-pounds per second.
pub const W_PER_HP: f64 = 550.0 * NM_PER_LBF_FT;
/// Radians in a degree.
pub const RAD_PER_DEGREE: f64 = std::f64::consts::PI / 180.0;

macro_rules! table {
    ($($list:ident, $dimension:ident {
        $($name:ident = $factor:expr, $symbol:literal, $spoken:literal, [$($alias:literal),*]
            $(, $noun:literal)?;)+
    })+) => { $(
        $(
            #[doc = concat!("Read aloud as “", $spoken, "”.")]
            pub static $name: Unit = Unit::new(
                Dimension::$dimension, $factor, $symbol, $spoken, &[$($alias),*],
            )$(.called($noun))?;
        )+
        pub(super) static $list: &[&Unit] = &[$(&$name),+];
    )+ };
}

#[rustfmt::skip]
table! {
    LENGTHS, Length {
        MM = 1.0, "mm", "millimetres",
            ["mm", "millimetre", "millimetres", "millimeter", "millimeters"];
        UM = 0.001, "µm", "micrometres",
            ["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"];
        INCH = MM_PER_INCH, "in", "inches",
            ["in", "inch", "inches", "ins", "\"", "″", "”", "“", "''"];
        THOU = MM_PER_INCH / 1000.0, "thou", "thousandths of an inch",
            ["thou", "thous", "tho", "mil", "mils"];
        MICROINCH = MM_PER_INCH * 1e-6, "µin", "microinches",
            ["uin", "microinch", "microinches"];
        TENTH = MM_PER_INCH / 10_000.0, "tenths", "ten-thousandths of an inch",
            ["tenth", "tenths"];
        CM = 10.0, "cm", "centimetres",
            ["cm", "centimetre", "centimetres", "centimeter", "centimeters"];
        METRE = 1000.0, "m", "metres", ["m", "metre", "metres", "meter", "meters"];
        FOOT = 12.0 * MM_PER_INCH, "ft", "feet", ["ft", "foot", "feet", "'", "′", "’"];
    }
    FORCES, Force {
        NEWTON = 1.0, "N", "newtons", ["n", "newton", "newtons"];
        KILONEWTON = 1000.0, "kN", "kilonewtons", ["kn", "kilonewton", "kilonewtons"];
        LBF = N_PER_LBF, "lbf", "pounds of force", ["lbf"];
        KGF = N_PER_KGF, "kgf", "kilograms of force", ["kgf", "kp"];
        LB = N_PER_LBF, "lb", "pounds of pull",
            ["lb", "lbs", "pound", "pounds"], "a weight";
        KG = N_PER_KGF, "kg", "kilograms of pull",
            ["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"], "a weight";
    }
    STIFFNESSES, Stiffness {
        N_PER_UM = 1.0, "N/µm", "newtons per micrometre", ["n/um", "n/micron"];
        N_PER_MM = 0.001, "N/mm", "newtons per millimetre", ["n/mm"];
        KN_PER_MM = 1.0, "kN/mm", "kilonewtons per millimetre", ["kn/mm"];
        LBF_PER_THOU = N_PER_UM_PER_LBF_PER_THOU, "lbf/thou", "pounds per thousandth of an inch",
            ["lbf/thou", "lb/thou", "lbs/thou", "lbf/mil", "lb/mil", "lbs/mil"];
        LBF_PER_INCH = N_PER_UM_PER_LBF_PER_THOU / 1000.0, "lbf/in", "pounds per inch",
            ["lbf/in", "lb/in", "lbs/in", "lbf/inch", "lb/inch", "lbs/inch"];
    }
    TORQUES, Torque {
        NEWTON_METRE = 1.0, "N·m", "newton metres", ["n.m", "nm"];
        NEWTON_MM = 0.001, "N·mm", "newton millimetres", ["n.mm", "nmm"];
        LBF_FT = NM_PER_LBF_FT, "lbf·ft", "pound feet", [
            "lbf.ft", "lb.ft", "lbs.ft", "ft.lbf", "ft.lb", "ft.lbs", "ftlb", "ftlbs",
            "foot.pound", "foot.pounds"
        ];
        LBF_IN = NM_PER_LBF_FT / 12.0, "lbf·in", "pound inches", [
            "lbf.in", "lb.in", "lbs.in", "in.lbf", "in.lb", "in.lbs", "inlb", "inlbs",
            "inch.pound", "inch.pounds"
        ];
    }
    ANGLES, Angle {
        DEGREE = RAD_PER_DEGREE, "°", "degrees", ["°", "deg", "degs", "degree", "degrees"];
        RADIAN = 1.0, "rad", "radians", ["rad", "rads", "radian", "radians"];
        ARCMIN = RAD_PER_DEGREE / 60.0, "arcmin", "minutes of arc", ["arcmin", "'", "′", "’"];
    }
    ROTATIONS, Rotation {
        RPM = 1.0, "rpm", "revolutions per minute",
            ["rpm", "1/min", "/min", "rev/min", "revs/min", "r/min"];
    }
    CUTTING_SPEEDS, CuttingSpeed {
        M_PER_MIN = 1.0, "m/min", "metres per minute", ["m/min"];
        M_PER_S = 60.0, "m/s", "metres per second", ["m/s", "m/sec"];
        SFM = 12.0 * MM_PER_INCH / 1000.0, "sfm", "surface feet per minute",
            ["sfm", "sfpm", "fpm", "ft/min"];
    }
    FEED_RATES, FeedRate {
        MM_PER_MIN = 1.0, "mm/min", "millimetres per minute", ["mm/min"];
        IN_PER_MIN = MM_PER_INCH, "in/min", "inches per minute", ["in/min", "inch/min", "ipm"];
    }
    FREQUENCIES, Frequency {
        HERTZ = 1.0, "Hz", "hertz", ["hz", "hertz", "1/s"];
        KILOHERTZ = 1000.0, "kHz", "kilohertz", ["khz"];
        CPM = 1.0 / 60.0, "cpm", "cycles per minute", ["cpm", "cycles/min"];
    }
    POWERS, Power {
        WATT = 1.0, "W", "watts", ["w", "watt", "watts"];
        KILOWATT = 1000.0, "kW", "kilowatts", ["kw", "kilowatt", "kilowatts"];
        HORSEPOWER = W_PER_HP, "hp", "horsepower", ["hp", "horsepower"];
    }
    MONIES, Money {
        MONEY = 1.0, "", "", ["$", "£", "€"];
    }
    HOURS, Hours {
        HOUR = 1.0, "h", "hours", ["h", "hr", "hrs", "hour", "hours"];
        MINUTE_IN_HOURS = 1.0 / 60.0, "min", "minutes", ["min", "mins", "minute", "minutes"];
    }
    MINUTES, Minutes {
        MINUTE = 1.0, "min", "minutes", ["min", "mins", "minute", "minutes"];
        HOUR_IN_MINUTES = 60.0, "h", "hours", ["h", "hr", "hrs", "hour", "hours"];
    }
    MILLISECONDS, Milliseconds {
        MILLISECOND = 1.0, "ms", "milliseconds", ["ms", "msec", "millisecond", "milliseconds"];
        SECOND = 1000.0, "s", "seconds", ["s", "sec", "secs", "second", "seconds"];
    }
    SHARES, Share {
        PERCENT = 0.01, "%", "percent", ["%", "percent", "per.cent", "pct"];
        FRACTION = 1.0, "", "of the whole", [];
    }
    COUNTS, Count {
        COUNT = 1.0, "", "", [];
    }
    PLAINS, Plain {
        PLAIN = 1.0, "", "", [];
    }
}

/// The form in which typed units are compared: ASCII lower case, one letter u for every micro
/// sign, and "." for whatever joins two words or factors ("ft-lb", "N·m", "per cent").
pub(super) fn fold(typed: &str) -> String {
    let mut folded = String::with_capacity(typed.len());
    let mut joined = false;
    for c in typed.chars() {
        match c {
            '.' | '·' | '⋅' | '*' | '-' | '\u{2010}' | '\u{2011}' => joined = true,
            c if c.is_whitespace() => joined = true,
            c => {
                if joined && c != '/' && !folded.is_empty() && !folded.ends_with('/') {
                    folded.push('.');
                }
                joined = false;
                folded.push(match c {
                    'µ' | 'μ' => 'u',
                    '\u{2044}' | '\u{2215}' => '/',
                    c => c.to_ascii_lowercase(),
                });
            }
        }
    }
    folded
}

/// The unit of this dimension that the typed text names.
pub(super) fn find(typed: &str, dimension: Dimension) -> Option<&'static Unit> {
    let folded = fold(typed);
    let named = |unit: &&&'static Unit| unit.aliases.contains(&folded.as_str());
    dimension.units().iter().find(named).copied()
}

/// The unit of any dimension that the typed text names.
pub(super) fn find_anywhere(typed: &str) -> Option<&'static Unit> {
    Dimension::ALL.into_iter().find_map(|dimension| find(typed, dimension))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;

    /// Conversion factors as printed, to seven figures, in NIST SP 811 (2008), appendix B.8,
    /// turned into the base units used here. From memory; scipy.constants gives the same.
    #[test]
    fn factors_agree_with_the_published_table() {
        let published = [
            (&INCH, 25.4),
            (&THOU, 0.0254),
            (&FOOT, 304.8),
            (&LBF, 4.448_222),
            (&KGF, 9.806_65),
            // lbf/in is 1.751 268 E+02 N/m.
            (&LBF_PER_INCH, 1.751_268e-4),
            (&LBF_PER_THOU, 1.751_268e-1),
            (&LBF_FT, 1.355_818),
            (&LBF_IN, 1.129_848e-1),
            (&DEGREE, 1.745_329e-2),
            (&ARCMIN, 2.908_882e-4),
            // ft/min is 5.08 E-03 m/s exactly; 60 s in a minute.
            (&SFM, 5.08e-3 * 60.0),
            (&IN_PER_MIN, 25.4),
            (&HORSEPOWER, 7.456_999e2),
        ];
        for (unit, factor) in published {
            let error = (unit.factor / factor - 1.0).abs();
            assert!(error < 5e-7, "{}: {} is not {factor}", unit.symbol, unit.factor);
        }
    }

    /// lb and g by definition (NIST SP 811, appendix B.8); lbf and hp to all figures as in
    /// scipy.constants 1.x.
    #[test]
    fn the_pound_force_is_the_pound_times_standard_gravity() {
        assert!((N_PER_LBF / (0.453_592_37 * N_PER_KGF) - 1.0).abs() < 1e-15);
        assert!((W_PER_HP / 745.699_871_582_270_1 - 1.0).abs() < 1e-15);
    }

    #[test]
    fn every_alias_is_folded_and_names_one_unit() {
        for dimension in Dimension::ALL {
            for unit in dimension.units() {
                for alias in unit.aliases {
                    assert_eq!(fold(alias), *alias);
                    assert_eq!(find(alias, dimension), Some(*unit), "{alias}");
                }
            }
        }
    }

    #[test]
    fn every_symbol_can_be_typed_back() {
        for dimension in Dimension::ALL {
            for unit in dimension.units().iter().filter(|unit| !unit.symbol.is_empty()) {
                assert_eq!(find(unit.symbol, dimension), Some(*unit));
            }
        }
    }

    #[test]
    fn default_units_belong_to_their_dimension() {
        for dimension in Dimension::ALL {
            for system in [UnitSystem::Metric, UnitSystem::Inch] {
                assert!(dimension.units().contains(&dimension.default_unit(system)));
            }
        }
    }

    #[test]
    fn spellings_fold_together() {
        for typed in ["N·m", "n.m", "N m", "N-m", "N * m", "N⋅m.", "N\u{a0}m"] {
            assert_eq!(find(typed, Dimension::Torque), Some(&NEWTON_METRE), "{typed}");
        }
        for typed in ["N/µm", "N/μm", "n / um", "N/UM"] {
            assert_eq!(find(typed, Dimension::Stiffness), Some(&N_PER_UM), "{typed}");
        }
        assert_eq!(find("in.", Dimension::Length), Some(&INCH));
        assert_eq!(find("", Dimension::Plain), None);
        assert_eq!(find("-", Dimension::Money), None);
    }
}
