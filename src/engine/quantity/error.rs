//! What is wrong with a typed quantity, and what to type instead.

use std::fmt;

use super::{Dimension, Unit};

/// Why a text is not a quantity of the dimension asked for. `text` is what was typed, cut short
/// if it was very long.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the fields are explained with their variants")]
pub enum ParseError {
    /// Nothing was typed.
    Empty { dimension: Dimension },
    /// There is no number at the start.
    NotANumber { text: String, dimension: Dimension },
    /// Thousands are set apart; `plain` is the same number without the separators.
    GroupedDigits { text: String, plain: String },
    /// A comma before three digits may be a decimal comma or a thousands separator.
    AmbiguousComma { text: String, decimal: String, whole: String },
    /// More than one number, as in a range, a thread size or feet and inches.
    SeveralNumbers { text: String, dimension: Dimension },
    /// More than one unit.
    SeveralUnits { text: String },
    /// A fraction with zero below the line.
    DivisionByZero { text: String },
    /// Too large or too small to compute with.
    OutOfRange { text: String },
    /// What follows a "±" is no amount by which a value can be off.
    Margin { text: String },
    /// What follows the number is no unit known here.
    UnknownUnit { text: String, unit: String, dimension: Dimension },
    /// The unit belongs to another kind of quantity.
    WrongDimension { text: String, unit: &'static Unit, dimension: Dimension },
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { dimension } => {
                write!(f, "Nothing entered yet; this needs {}.", Wanted(*dimension))
            }
            Self::NotANumber { text, dimension } => {
                write!(f, "“{text}” is not a number; this needs {}.", Wanted(*dimension))
            }
            Self::GroupedDigits { text, plain } => {
                write!(f, "“{text}” has its thousands set apart; write {plain}.")
            }
            Self::AmbiguousComma { text, decimal, whole } => {
                write!(f, "“{text}” can be read two ways; write {decimal} or {whole}.")
            }
            Self::SeveralNumbers { text, dimension } => write!(
                f,
                "“{text}” holds more than one number, like a range or a thread size; this needs {}.",
                Wanted(*dimension)
            ),
            Self::SeveralUnits { text } => {
                write!(f, "“{text}” has more than one unit; keep the one you mean.")
            }
            Self::DivisionByZero { text } => {
                write!(f, "“{text}” divides by zero; check the bottom of the fraction.")
            }
            Self::OutOfRange { text } => {
                write!(f, "“{text}” is too large or too small to work with; check the zeros.")
            }
            Self::Margin { text } => {
                write!(f, "“{text}” needs a positive amount after its ±, in a unit like its own or in percent.")
            }
            Self::UnknownUnit { unit, dimension, .. } => {
                write!(f, "“{unit}” is not a unit known here; ")?;
                match Units::of(*dimension) {
                    Some(units) => write!(f, "for {} use {units}.", dimension.noun()),
                    None => write!(f, "this needs {}.", Wanted(*dimension)),
                }
            }
            Self::WrongDimension { text, unit, dimension } => {
                write!(f, "“{text}” is {}; this needs {}.", unit.noun, Wanted(*dimension))
            }
        }
    }
}

impl std::error::Error for ParseError {}

/// "a length such as 12 thou or 0.3 mm"
struct Wanted(Dimension);

impl fmt::Display for Wanted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [one, other] = self.0.examples();
        write!(f, "{} such as {one} or {other}", self.0.noun())
    }
}

/// "mm, µm, in or thou"
struct Units(Vec<&'static str>);

impl Units {
    /// The symbols of the commonest units; none where numbers stand alone.
    fn of(dimension: Dimension) -> Option<Self> {
        let symbols = dimension.units().iter().map(|unit| unit.symbol);
        let symbols: Vec<_> = symbols.filter(|symbol| !symbol.is_empty()).take(4).collect();
        (!symbols.is_empty()).then_some(Self(symbols))
    }
}

impl fmt::Display for Units {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let last = self.0.len() - 1;
        for (i, symbol) in self.0.iter().enumerate() {
            let before = match i {
                0 => "",
                i if i == last => " or ",
                _ => ", ",
            };
            write!(f, "{before}{symbol}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use crate::quantity::{Dimension, UnitSystem, parse};

    fn message(text: &str, dimension: Dimension) -> String {
        let default = dimension.default_unit(UnitSystem::Metric);
        parse(text, dimension, default).unwrap_err().to_string()
    }

    #[test]
    fn messages_say_what_is_wrong_and_what_to_type() {
        use Dimension::*;
        for (text, dimension, expected) in [
            ("12 kg", Length, "“12 kg” is a weight; this needs a length such as 12 thou or 0.3 mm."),
            ("3 N", Length, "“3 N” is a force; this needs a length such as 12 thou or 0.3 mm."),
            ("$3", Force, "“$3” is an amount of money; this needs a force such as 50 N or 12 lb."),
            ("", Power, "Nothing entered yet; this needs a power such as 750 W or 1 hp."),
            ("lots", Count, "“lots” is not a number; this needs a count such as 2 or 4."),
            ("1,234.5", Length, "“1,234.5” has its thousands set apart; write 1234.5."),
            ("1,234", Length, "“1,234” can be read two ways; write 1.234 or 1234."),
            ("−1,234", Length, "“−1,234” can be read two ways; write -1.234 or -1234."),
            ("3 furlongs", Length, "“furlongs” is not a unit known here; for a length use mm, µm, in or thou."),
            ("3 days", Minutes, "“days” is not a unit known here; for a time use min or h."),
            ("3 dozen", Count, "“dozen” is not a unit known here; this needs a count such as 2 or 4."),
            (
                "5/8-24",
                Length,
                "“5/8-24” holds more than one number, like a range or a thread size; \
                 this needs a length such as 12 thou or 0.3 mm.",
            ),
            ("3 mm in", Length, "“3 mm in” has more than one unit; keep the one you mean."),
            ("1/0", Length, "“1/0” divides by zero; check the bottom of the fraction."),
            ("5 ± x", Length, "“5 ± x” needs a positive amount after its ±, in a unit like its own or in percent."),
            ("5 ± -1", Length, "“5 ± -1” needs a positive amount after its ±, in a unit like its own or in percent."),
            ("1e999", Length, "“1e999” is too large or too small to work with; check the zeros."),
        ] {
            assert_eq!(message(text, dimension), expected);
        }
    }

    #[test]
    fn long_text_is_cut_short() {
        let shown = message(&"word ".repeat(100), Dimension::Length);
        assert!(shown.chars().count() < 120, "{shown}");
        assert!(shown.contains("…"));
    }
}
