//! Reading a quantity as people type it.

use super::number::{clip, read, take_vulgar_fraction};
use super::units::{self, Unit};
use super::{Dimension, ParseError};

/// A quantity as it was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parsed {
    /// In the dimension's base unit.
    pub value: f64,
    /// The unit the number was read in.
    pub unit: &'static Unit,
    /// Whether the unit was typed or taken for granted.
    pub unit_was_typed: bool,
    /// What was typed after a "±", in the base unit too.
    pub plus_minus: Option<f64>,
}

/// Reads a number and, if there is one, its unit: "12 thou", ".3mm", "1-1/4 in", "0,5", "½\"".
///
/// `default` is the unit of a bare number and must be one of `dimension`. One exception: where
/// the default is percent, a bare number between 0 and 1 is taken as a share of the whole, so
/// that "0.15" and "15" mean the same.
///
/// How far off it may be can follow, in the same unit, in one of its own or in percent of the
/// value: "212 ± 3 Hz", "0.13 mm ± 10 µm", "180 +/- 5 %".
///
/// # Errors
/// [`ParseError`] when the text is not one finite number with at most one unit of `dimension`.
pub fn parse(text: &str, dimension: Dimension, default: &'static Unit) -> Result<Parsed, ParseError> {
    debug_assert!(dimension.units().contains(&default), "{} is no unit here", default.symbol);
    let Some((value, margin)) = split_margin(text) else {
        return parse_one(text, dimension, default);
    };
    let wrong = || ParseError::Margin { text: clip(trim(text)) };
    let mut parsed = parse_one(value, dimension, default)?;
    let (number, rest) = read(trim(margin), trim(margin), dimension).map_err(|_| wrong())?;
    let plus_minus = match trim(rest) {
        "" => number * parsed.unit.factor,
        "%" if dimension != Dimension::Share => number * units::PERCENT.factor * parsed.value.abs(),
        name => {
            let unit = named_unit(name, trim(text), dimension)?;
            if !parsed.unit_was_typed {
                let number = parsed.value / parsed.unit.factor;
                parsed = Parsed { value: number * unit.factor, unit, unit_was_typed: true, ..parsed };
            }
            number * unit.factor
        }
    };
    if !(plus_minus > 0.0 && plus_minus.is_finite() && parsed.value.is_finite()) {
        return Err(wrong());
    }
    Ok(Parsed { plus_minus: Some(plus_minus), ..parsed })
}

/// The value and what follows "±", if there is one.
fn split_margin(text: &str) -> Option<(&str, &str)> {
    ["±", "+/-", "+/−"].into_iter().find_map(|sign| text.split_once(sign))
}

/// One number and its unit, without a margin.
fn parse_one(text: &str, dimension: Dimension, default: &'static Unit) -> Result<Parsed, ParseError> {
    let typed = trim(text);
    if typed.is_empty() {
        return Err(ParseError::Empty { dimension });
    }
    let (currency, body) = match typed.strip_prefix(['$', '£', '€']) {
        Some(body) => (&typed[..typed.len() - body.len()], body.trim_start()),
        None => ("", typed),
    };
    let (number, rest) = read(body, typed, dimension)?;
    let suffix = trim(rest);

    let (unit, unit_was_typed) = match (currency, suffix) {
        ("", "") => (bare_unit(number, default), false),
        (name, "") | ("", name) => (named_unit(name, typed, dimension)?, true),
        _ => return Err(diagnose(suffix, typed, dimension)),
    };
    let value = number * unit.factor;
    if !value.is_finite() || (value == 0.0) != (number == 0.0) {
        return Err(ParseError::OutOfRange { text: clip(typed) });
    }
    Ok(Parsed { value, unit, unit_was_typed, plus_minus: None })
}

/// The text to put back when the user leaves a field: as typed, with the default unit written
/// out if none was typed. Text that does not parse comes back trimmed and otherwise untouched.
pub fn with_unit(text: &str, default_unit: &'static Unit) -> String {
    let typed = trim(text);
    match parse(typed, default_unit.dimension, default_unit) {
        Ok(Parsed { unit, unit_was_typed: false, .. }) => match split_margin(typed) {
            Some((value, _)) => [&unit.after(trim(value)), " ", trim(&typed[value.len()..])].concat(),
            None => unit.after(typed),
        },
        _ => typed.to_owned(),
    }
}

/// Without the blanks around it, those of no width included.
fn trim(text: &str) -> &str {
    text.trim_matches(|c: char| c.is_whitespace() || matches!(c, '\u{200b}' | '\u{feff}'))
}

fn bare_unit(number: f64, default: &'static Unit) -> &'static Unit {
    let is_share = *default == units::PERCENT && number > 0.0 && number < 1.0;
    if is_share { &units::FRACTION } else { default }
}

fn named_unit(name: &str, typed: &str, dimension: Dimension) -> Result<&'static Unit, ParseError> {
    units::find(name, dimension).ok_or_else(|| match units::find_anywhere(name) {
        Some(unit) => ParseError::WrongDimension { text: clip(typed), unit, dimension },
        None => diagnose(name, typed, dimension),
    })
}

/// Why the text after the number is not a unit.
fn diagnose(suffix: &str, typed: &str, dimension: Dimension) -> ParseError {
    let text = clip(typed);
    if holds_a_number(suffix) {
        return ParseError::SeveralNumbers { text, dimension };
    }
    let first = suffix.split_whitespace().next().unwrap_or(suffix);
    let is_currency_too = typed.starts_with(['$', '£', '€']);
    if is_currency_too || first != suffix && units::find_anywhere(first).is_some() {
        return ParseError::SeveralUnits { text };
    }
    ParseError::UnknownUnit { text, unit: clip(suffix), dimension }
}

/// Whether a number starts somewhere in the text; the 2 of "m2" does not count.
fn holds_a_number(text: &str) -> bool {
    let mut in_word = false;
    text.char_indices().any(|(i, c)| {
        let starts = c.is_ascii_digit() && !in_word || take_vulgar_fraction(&text[i..]).is_some();
        in_word = c.is_alphanumeric();
        starts
    })
}

#[cfg(test)]
mod tests;
