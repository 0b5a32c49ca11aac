//! The − and + buttons beside a number.

use spindlewise_engine::quantity::{UnitSystem, parse, with_unit};
use spindlewise_engine::scenario::FieldSpec;

/// About how much one press changes a number.
const SHARE: f64 = 0.08;

/// What to put in place of `text` after one press up (or down), in the unit it
/// was typed in. Starts from `blank`, the value in use when nothing is typed.
/// `None` where there is nothing to start from.
pub fn stepped(text: &str, spec: FieldSpec, blank: Option<f64>, units: UnitSystem, up: bool) -> Option<String> {
    let default = spec.dimension.default_unit(units);
    let (value, unit) = match parse(text, spec.dimension, default) {
        Ok(parsed) => (parsed.value, parsed.unit),
        Err(_) if text.trim().is_empty() => (blank?, default),
        Err(_) => return None,
    };
    let number = value / unit.factor;
    let (low, high) = (spec.range.0 / unit.factor, spec.range.1 / unit.factor);
    // Where zero is allowed, a share of the number would never get there.
    let smallest = match (spec.whole, low == 0.0) {
        (true, _) => 1.0,
        (false, true) => round_step(high / 4000.0),
        (false, false) => 0.0,
    };
    let about = if number == 0.0 { high / 20.0 } else { number.abs() };
    let step = round_step(SHARE * about).max(smallest);
    let place = number / step;
    // A hair off a round number counts as on it.
    let next = if up { (place + 1e-6).floor() + 1.0 } else { (place - 1e-6).ceil() - 1.0 };
    let decimals = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
    let number = if spec.still && !up && next * step < low { 0.0 } else { (next * step).clamp(low, high) };
    let written = format!("{number:.decimals$}");
    let written = if written.contains('.') { written.trim_end_matches('0').trim_end_matches('.') } else { &written };
    Some(with_unit(written, unit))
}

/// The largest of 1, 2, 5, 10, ... that is at most `about`.
fn round_step(about: f64) -> f64 {
    let power = 10_f64.powf(about.log10().floor());
    let lead = about / power;
    let lead = [5.0, 2.0].into_iter().find(|&step| lead >= step).unwrap_or(1.0);
    lead * power
}

#[cfg(test)]
mod tests {
    use super::*;
    use spindlewise_engine::scenario::Field;

    fn up(text: &str, field: Field) -> Option<String> {
        stepped(text, field.spec(), None, UnitSystem::Metric, true)
    }

    #[test]
    fn steps_stay_in_the_unit_that_was_typed() {
        let text = up("12 thou", Field::Runout).expect("it reads");
        assert!(text.ends_with("thou"), "{text}");
        let value = parse(
            &text,
            Field::Runout.spec().dimension,
            Field::Runout.spec().dimension.default_unit(UnitSystem::Metric),
        );
        assert!(value.expect("it reads").value > 12.0 * 0.0254);
    }

    /// Below the least that can be read off a dial the needle stands still.
    #[test]
    fn a_dial_steps_down_to_nothing_and_up_again() {
        let down = |text: &str| stepped(text, Field::TipX.spec(), None, UnitSystem::Metric, false);
        assert_eq!(down("0.5 µm").as_deref(), Some("0 µm"));
        assert_eq!(down("0 µm").as_deref(), Some("0 µm"));
        assert_eq!(up("0 µm", Field::TipX).as_deref(), Some("10 µm"));
    }

    #[test]
    fn whole_numbers_step_by_one() {
        assert_eq!(up("4", Field::Flutes).as_deref(), Some("5"));
    }

    #[test]
    fn what_cannot_be_read_is_not_stepped() {
        assert_eq!(up("about ten", Field::StickOut), None);
        assert_eq!(up("", Field::TipX), None);
    }
}
