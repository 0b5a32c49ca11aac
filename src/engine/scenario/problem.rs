//! What can be wrong with something typed, and what to say about it.

use std::fmt;

use super::Field;
use crate::quantity::{ParseError, UnitSystem, format, format_limits, format_typed};
use crate::remedies::{RemedyId, Unmet, remedy};

/// Something typed that can't be used.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Problem {
    /// It isn't a number with a fitting unit.
    Unreadable {
        /// The field.
        field: Field,
        /// Why.
        error: ParseError,
    },
    /// It is a number, but not one that can be true here.
    OutOfRange {
        /// The field.
        field: Field,
        /// What was typed, in base units.
        value: f64,
        /// Smallest and largest value allowed here, in base units.
        range: (f64, f64),
        /// Why the limit lies there, if it isn't the field's own.
        because: &'static str,
        /// The same number with a unit in which it could be true.
        meant: Option<String>,
    },
    /// A cut that chattered was no deeper than one that did not.
    NotDeeper {
        /// The field.
        field: Field,
        /// What was typed, in mm.
        value: f64,
        /// The field it has to be deeper than, and its value in mm.
        than: (Field, f64),
    },
    /// It has to be a whole number.
    NotWhole {
        /// The field.
        field: Field,
        /// What was typed.
        value: f64,
    },
    /// It carries a "±", and nothing here reckons with one.
    NoMargin {
        /// The field.
        field: Field,
    },
    /// A remedy that is marked as done, but can't be in place.
    CannotBeDone {
        /// The remedy.
        remedy: RemedyId,
        /// Why not.
        unmet: Unmet,
    },
    /// The saved document has an entry under a name nobody knows.
    UnknownKey {
        /// The name.
        key: String,
    },
}

impl Problem {
    /// The field it belongs to, if it has one.
    pub fn field(&self) -> Option<Field> {
        match self {
            Problem::Unreadable { field, .. }
            | Problem::OutOfRange { field, .. }
            | Problem::NotDeeper { field, .. }
            | Problem::NotWhole { field, .. }
            | Problem::NoMargin { field } => Some(*field),
            Problem::CannotBeDone { .. } | Problem::UnknownKey { .. } => None,
        }
    }

    /// The message for somebody who reads in `units`.
    pub fn message(&self, units: UnitSystem) -> String {
        match self {
            Problem::Unreadable { error, .. } => error.to_string(),
            Problem::OutOfRange { field, value, range, because, meant } => {
                let spec = field.spec();
                let [least, most] = format_limits(*range, spec.dimension, units);
                let reason = if because.is_empty() { String::new() } else { format!(" ({because})") };
                let then = match meant {
                    Some(meant) => format!("Did you mean {meant}? Then type the unit too."),
                    None => "Check the number and its unit, or leave it blank.".to_owned(),
                };
                let still = if spec.still { "be 0 or " } else { "" };
                format!(
                    "{} can’t be {}: it has to {still}lie between {least} and {most}{reason}. {then}",
                    spec.label,
                    format_typed(*value, spec.dimension, units),
                )
            }
            Problem::NotDeeper { field, value, than: (other, than) } => {
                let show = |field: &Field, value| format_typed(value, field.spec().dimension, units);
                format!(
                    "{} can’t be {}: it has to be deeper than the {}, {}. Check both, or leave one blank.",
                    field.spec().label,
                    show(field, *value),
                    other.spec().label.to_ascii_lowercase(),
                    show(other, *than),
                )
            }
            Problem::NotWhole { field, value } => {
                format!("{} has to be a whole number, not {value}.", field.spec().label)
            }
            Problem::NoMargin { field } => {
                format!("{} is taken as it stands: leave out the ±.", field.spec().label)
            }
            Problem::CannotBeDone { remedy: id, unmet } => {
                format!("“{}” is marked as done, but is not reckoned with: {}.", remedy(*id).title, unmet.reason())
            }
            Problem::UnknownKey { key } => {
                format!("There is no field called “{key}”. It was kept, and is not used.")
            }
        }
    }
}

/// For the command line: the field's name, what is wrong, and what is allowed.
impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let message = self.message(UnitSystem::Metric);
        let Some(field) = self.field() else { return out.write_str(&message) };
        let spec = field.spec();
        write!(out, "{}: {message}", spec.key)?;
        if matches!(self, Problem::OutOfRange { .. }) {
            return Ok(());
        }
        let show = |value| format(value, spec.dimension, UnitSystem::Metric);
        write!(out, " Allowed: {} to {}.", show(spec.range.0), show(spec.range.1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    #[test]
    fn a_drawing_s_way_to_write_thou_is_recognised() {
        let message = |units: UnitSystem, field: Field, text: &str| {
            let mut scenario = Scenario::new("typed");
            scenario.units = units;
            scenario.set_entry(field, text);
            scenario.resolve().problems.first().map(|problem| problem.message(units)).unwrap_or_default()
        };
        for text in [".005", "0.005 thou"] {
            let said = message(UnitSystem::Inch, Field::RockRadial, text);
            assert!(said.contains("Did you mean 0.005 in? Then type the unit too."), "{said}");
        }
        let said = message(UnitSystem::Metric, Field::FeedPerTooth, ".05");
        assert!(said.contains("Did you mean 0.05 mm?"), "{said}");
        assert_eq!(message(UnitSystem::Inch, Field::RockRadial, ".005 in"), "");
        let said = message(UnitSystem::Inch, Field::RockRadial, "9999");
        assert!(!said.contains("Did you mean"), "{said}");
    }
}
