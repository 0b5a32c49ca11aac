use super::*;
use crate::quantity::UnitSystem::{self, Inch, Metric};

fn read_as(text: &str, dimension: Dimension, system: UnitSystem) -> Result<Parsed, ParseError> {
    parse(text, dimension, dimension.default_unit(system))
}

fn mm(text: &str) -> f64 {
    read_as(text, Dimension::Length, Metric).unwrap_or_else(|e| panic!("{e}")).value
}

fn error(text: &str) -> ParseError {
    read_as(text, Dimension::Length, Inch).unwrap_err()
}

#[track_caller]
fn assert_close(got: f64, expected: f64, what: &str) {
    assert!((got - expected).abs() <= 1e-12 * expected.abs(), "{what}: {got} is not {expected}");
}

/// Bare numbers, read in the default unit: millimetres and inches alike.
#[test]
fn numbers_as_typed_in_a_shop() {
    for (text, number) in [
        (".012", 0.012),
        ("1/2", 0.5),
        ("1-1/4", 1.25),
        ("1 1/4", 1.25),
        ("1 / 2", 0.5),
        ("1⁄2", 0.5),
        ("½", 0.5),
        ("1½", 1.5),
        ("1 ½", 1.5),
        ("1-½", 1.5),
        ("-1-1/4", -1.25),
        ("0,5", 0.5),
        ("0,125", 0.125),
        (",125", 0.125),
        ("1234,567", 1234.567),
        ("1.234", 1.234),
        ("12,3456", 12.3456),
        ("3e-2", 0.03),
        ("3E2", 300.0),
        ("3e+2", 300.0),
        ("3e−2", 0.03),
        ("+.5", 0.5),
        ("5.", 5.0),
        ("-5", -5.0),
        ("−5", -5.0),
        ("0", 0.0),
        ("  7 ", 7.0),
        ("\u{a0}7\u{202f}", 7.0),
        ("\u{feff}7\u{200b}", 7.0),
    ] {
        assert_close(mm(text), number, text);
        let inch = read_as(text, Dimension::Length, Inch).unwrap();
        assert_close(inch.value, 25.4 * number, text);
        assert!(!inch.unit_was_typed);
    }
    let vulgar = [('¼', 2.0), ('½', 4.0), ('¾', 6.0), ('⅛', 1.0), ('⅜', 3.0), ('⅝', 5.0), ('⅞', 7.0)];
    for (sign, eighths) in vulgar {
        assert_close(mm(&format!("{sign} in")), 25.4 * eighths / 8.0, "vulgar fraction");
    }
}

#[test]
fn units_of_length() {
    for (text, expected) in [
        ("12 thou", 0.3048),
        ("12thou", 0.3048),
        ("12 MIL", 0.3048),
        ("12 tho", 0.3048),
        ("63 µin", 0.001_600_2),
        ("63 microinch", 0.001_600_2),
        ("3 tenths", 0.00762),
        ("1 tenth", 0.00254),
        ("0.3 mm", 0.3),
        ("0,5mm", 0.5),
        (".3MM", 0.3),
        ("1-1/4 in", 31.75),
        ("1 1/4\"", 31.75),
        ("1 1/4”", 31.75),
        ("1/2″", 12.7),
        ("2 In.", 50.8),
        ("2 Inches", 50.8),
        ("3-inch", 76.2),
        ("8 um", 0.008),
        ("8 µm", 0.008),
        ("8 μm", 0.008),
        ("8 micron", 0.008),
        ("8 Microns", 0.008),
        ("8\u{a0}µm", 0.008),
        ("1.5 cm", 15.0),
        ("2 m", 2000.0),
        ("1 ft", 304.8),
        ("1'", 304.8),
    ] {
        assert_close(mm(text), expected, text);
        let fine = read_as(text, Dimension::FineLength, Inch).unwrap();
        assert_close(fine.value, expected, text);
        assert!(fine.unit_was_typed);
    }
}

#[test]
fn units_of_everything_else() {
    use Dimension::*;
    for (text, dimension, expected) in [
        ("50 N", Force, 50.0),
        ("2 kN", Force, 2000.0),
        ("10 kg", Force, 98.0665),
        ("10 kgf", Force, 98.0665),
        ("10 lb", Force, 44.482_216_152_605),
        ("10lbs", Force, 44.482_216_152_605),
        ("10 LBF", Force, 44.482_216_152_605),
        ("20 N/µm", Stiffness, 20.0),
        ("20 N/um", Stiffness, 20.0),
        ("20000 N/mm", Stiffness, 20.0),
        ("20 kN/mm", Stiffness, 20.0),
        ("100 lbf/thou", Stiffness, 17.512_683_524_647_64),
        ("100000 lb/in", Stiffness, 17.512_683_524_647_64),
        ("3 Nm", Torque, 3.0),
        ("3 N.m", Torque, 3.0),
        ("3 N·m", Torque, 3.0),
        ("3000 N.mm", Torque, 3.0),
        ("12 in-lb", Torque, 1.355_817_948_331_400_4),
        ("12 lbf.in", Torque, 1.355_817_948_331_400_4),
        ("1 ft-lb", Torque, 1.355_817_948_331_400_4),
        ("1 lbf·ft", Torque, 1.355_817_948_331_400_4),
        ("1 ft lbs", Torque, 1.355_817_948_331_400_4),
        ("180°", Angle, std::f64::consts::PI),
        ("180 deg", Angle, std::f64::consts::PI),
        ("10800 arcmin", Angle, std::f64::consts::PI),
        ("0.5 rad", Angle, 0.5),
        ("1500 rpm", Rotation, 1500.0),
        ("1500 1/min", Rotation, 1500.0),
        ("30 m/min", CuttingSpeed, 30.0),
        ("0.5 m/s", CuttingSpeed, 30.0),
        ("100 sfm", CuttingSpeed, 30.48),
        ("100 ft/min", CuttingSpeed, 30.48),
        ("120 mm/min", FeedRate, 120.0),
        ("5 in/min", FeedRate, 127.0),
        ("5 ipm", FeedRate, 127.0),
        ("85 Hz", Frequency, 85.0),
        ("1.2 kHz", Frequency, 1200.0),
        ("5100 cpm", Frequency, 85.0),
        ("750 W", Power, 750.0),
        ("0.75 kW", Power, 750.0),
        ("1 hp", Power, 745.699_871_582_270_2),
        ("45", Money, 45.0),
        ("$45.50", Money, 45.5),
        ("£ 45", Money, 45.0),
        ("45 €", Money, 45.0),
        ("2 h", Hours, 2.0),
        ("2 hours", Hours, 2.0),
        ("90 min", Hours, 1.5),
        ("90 min", Minutes, 90.0),
        ("1-1/2 hr", Minutes, 90.0),
        ("15 %", Share, 0.15),
        ("15%", Share, 0.15),
        ("15", Share, 0.15),
        ("0.15", Share, 0.15),
        ("0.15 %", Share, 0.0015),
        ("100", Share, 1.0),
        ("1", Share, 0.01),
        ("4", Count, 4.0),
        ("1.5", Plain, 1.5),
    ] {
        assert_close(read_as(text, dimension, Metric).unwrap().value, expected, text);
    }
}

#[test]
fn bare_numbers_take_the_unit_the_user_thinks_in() {
    use Dimension::*;
    for (dimension, metric, inch) in [
        (Length, "mm", "in"),
        (FineLength, "µm", "thou"),
        (Roughness, "µm", "µin"),
        (Force, "N", "lbf"),
        (Stiffness, "N/µm", "lbf/thou"),
        (Torque, "N·m", "lbf·ft"),
        (Angle, "°", "°"),
        (Rotation, "rpm", "rpm"),
        (CuttingSpeed, "m/min", "sfm"),
        (FeedRate, "mm/min", "in/min"),
        (Frequency, "Hz", "Hz"),
        (Power, "W", "hp"),
        (Money, "", ""),
        (Hours, "h", "h"),
        (Minutes, "min", "min"),
        (Share, "%", "%"),
        (Count, "", ""),
        (Plain, "", ""),
    ] {
        assert_eq!(read_as("3", dimension, Metric).unwrap().unit.symbol, metric);
        assert_eq!(read_as("3", dimension, Inch).unwrap().unit.symbol, inch);
    }
}

#[test]
fn examples_shown_to_the_user_parse() {
    for dimension in Dimension::ALL {
        for example in dimension.examples() {
            assert!(read_as(example, dimension, Metric).is_ok(), "{example}");
        }
    }
}

#[test]
fn nothing_and_nonsense() {
    for text in ["", "  ", "\u{a0}\u{200b}"] {
        assert_eq!(error(text), ParseError::Empty { dimension: Dimension::Length });
    }
    for text in ["NaN", "inf", "-inf", "infinity", "mm", ".", ",", "-", "5,", "1.2.3", "1,2.5", "--3"] {
        assert!(matches!(error(text), ParseError::NotANumber { .. }), "{text}: {:?}", error(text));
    }
}

#[test]
fn thousands_separators() {
    for (text, number) in [
        ("1,234.5", "1234.5"),
        ("1.234,5", "1234.5"),
        ("1 234", "1234"),
        ("1\u{202f}234,5 mm", "1234.5"),
        ("1'234", "1234"),
        ("12,345,678", "12345678"),
        ("-1 234 567 mm", "-1234567"),
    ] {
        match error(text) {
            ParseError::GroupedDigits { plain, .. } => assert_eq!(plain, number),
            other => panic!("{text}: {other:?}"),
        }
    }
    for text in ["1,234", "-1,234 mm", "12,345"] {
        assert!(matches!(error(text), ParseError::AmbiguousComma { .. }), "{text}");
    }
}

#[test]
fn more_than_one_number() {
    for text in [
        "5/8-24",
        "1/4-20 UNC",
        "10-32",
        "3-5 mm",
        "3–8 µm",
        "3 to 5 mm",
        "1 23",
        "½½",
        "1.5 1/2",
        "5 ft 6 in",
        "5'6\"",
        "1/2/3",
        "10 x 20",
    ] {
        assert!(matches!(error(text), ParseError::SeveralNumbers { .. }), "{text}: {:?}", error(text));
    }
}

#[test]
fn out_of_range() {
    for text in ["1e999", "-1e999", "1e-999", "1e308 m", "5e-324 µm"] {
        assert!(matches!(error(text), ParseError::OutOfRange { .. }), "{text}");
    }
    let endless = "9".repeat(400);
    for text in [endless.clone(), format!("1/{endless}"), format!("{endless}/1")] {
        assert!(matches!(error(&text), ParseError::OutOfRange { .. }), "{text}");
    }
    for text in ["1/0", "0/0", "1 1/00 in"] {
        assert!(matches!(error(text), ParseError::DivisionByZero { .. }), "{text}");
    }
}

#[test]
fn wrong_units() {
    for (text, symbol) in [("3 N", "N"), ("12 kg", "kg"), ("5 min", "min"), ("3 m/min", "m/min")] {
        match error(text) {
            ParseError::WrongDimension { unit, .. } => assert_eq!(unit.symbol, symbol),
            other => panic!("{text}: {other:?}"),
        }
    }
    for text in ["3 mm in", "3 in mm", "$3 mm"] {
        assert!(matches!(error(text), ParseError::SeveralUnits { .. }), "{text}: {:?}", error(text));
    }
    for text in ["3 furlongs", "3 m2", "3 e", "3 -", "3 /"] {
        assert!(matches!(error(text), ParseError::UnknownUnit { .. }), "{text}: {:?}", error(text));
    }
}

#[test]
fn leaving_a_field_writes_the_unit_out() {
    for (text, default, left) in [
        (" 12 ", &units::THOU, "12 thou"),
        ("1-1/4", &units::INCH, "1-1/4 in"),
        ("0,5", &units::MM, "0,5 mm"),
        ("12 thou", &units::MM, "12 thou"),
        ("12thou ", &units::MM, "12thou"),
        ("30", &units::DEGREE, "30°"),
        ("15", &units::PERCENT, "15 %"),
        ("0.15", &units::PERCENT, "0.15"),
        ("45", &units::MONEY, "45"),
        (" 5/8-24 ", &units::INCH, "5/8-24"),
        ("  ", &units::MM, ""),
    ] {
        assert_eq!(with_unit(text, default), left);
    }
}

#[test]
fn margins_after_a_value() {
    for (text, value, margin) in [
        ("212 ± 3 Hz", 212.0, 3.0),
        ("212 Hz ± 3", 212.0, 3.0),
        ("212±3", 212.0, 3.0),
        ("212 Hz +/- 3 Hz", 212.0, 3.0),
        ("0.212 ± 0.003 kHz", 212.0, 3.0),
        ("0.212 kHz ± 3 Hz", 212.0, 3.0),
        ("200 ± 2 %", 200.0, 4.0),
        ("200 Hz +/− 2 %", 200.0, 4.0),
    ] {
        let parsed = read_as(text, Dimension::Frequency, Metric).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_close(parsed.value, value, text);
        assert_close(parsed.plus_minus.expect(text), margin, text);
    }
    for text in ["212 ±", "± 3", "212 ± 0", "212 ± -3", "212 ± 3 mm", "212 ± 3 ± 1", "212 ± 1e999"] {
        assert!(read_as(text, Dimension::Frequency, Metric).is_err(), "{text}");
    }
    // A share's margin is a share, and never a part of it.
    let share = read_as("3 ± 0.5", Dimension::Share, Metric).expect("it reads");
    assert_close(share.value, 0.03, "share");
    assert_close(share.plus_minus.expect("a margin"), 0.005, "margin");
}

#[test]
fn a_unit_is_written_out_before_the_margin() {
    let hertz = Dimension::Frequency.default_unit(Metric);
    for (typed, written) in
        [("212 ± 3", "212 Hz ± 3"), ("212 ± 3 %", "212 Hz ± 3 %"), ("212 ± 3 Hz", "212 ± 3 Hz"), ("212 ± x", "212 ± x")]
    {
        assert_eq!(with_unit(typed, hertz), written);
        assert_eq!(with_unit(written, hertz), written);
    }
}
