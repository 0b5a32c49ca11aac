//! Typed quantities, one by one and in lists.

use spindlewise_engine::quantity::{
    Dimension, Parsed, Unit, UnitSystem, format, format_margin, items, parse, with_unit,
};

/// Numbers nearer to zero than this, in the unit shown, may be shown as zero.
const FAINT: f64 = 1e-7;

pub fn holds(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    list(&text);
    let mut taken = false;
    for dimension in Dimension::ALL {
        for system in [UnitSystem::Metric, UnitSystem::Inch] {
            taken |= one(&text, dimension, system);
        }
    }
    taken
}

fn one(text: &str, dimension: Dimension, system: UnitSystem) -> bool {
    let default = dimension.default_unit(system);
    let left = with_unit(text, default);
    assert_eq!(with_unit(&left, default), left, "leaving a field twice is leaving it once");
    let parsed = match parse(text, dimension, default) {
        Ok(parsed) => parsed,
        Err(error) => {
            super::is_said(&error.to_string());
            assert!(text.contains(&left), "“{text}” was not kept word for word: “{left}”");
            return false;
        }
    };
    let Parsed { value, unit, plus_minus, .. } = parsed;
    assert!(value.is_finite(), "{text}");
    assert!(plus_minus.is_none_or(|margin| margin > 0.0 && margin.is_finite()), "{text}");
    assert!(dimension.units().contains(&unit), "{text} in {}", unit.symbol);

    let read = |text: &str| parse(text, dimension, default).unwrap_or_else(|why| panic!("“{text}”: {why}"));
    for same in [left, std::format!("\u{feff} {text}\u{a0}\n")] {
        let again = read(&same);
        assert_eq!((again.value, again.plus_minus), (value, plus_minus), "“{text}” as “{same}”");
    }
    comma(text, &parsed, dimension, default);
    let number = value / unit.factor;
    if number.is_finite() && value.abs() > 1e-290 {
        let again = read(&std::format!("{number:e} {}", unit.symbol)).value;
        assert!(near(again, value, 1e-14), "{text}: {again} is not {value}");
    }
    // Beyond it, three figures of the largest numbers there are can be none.
    if value.abs() < 1e300 {
        shown(&parsed, dimension, system, read);
    }
    true
}

/// A decimal comma means what a decimal point means, or is refused.
fn comma(text: &str, parsed: &Parsed, dimension: Dimension, default: &'static Unit) {
    if parsed.unit_was_typed || parsed.plus_minus.is_some() || text.contains(',') {
        return;
    }
    if let Ok(again) = parse(&text.replacen('.', ",", 1), dimension, default) {
        assert_eq!(again.value, parsed.value, "{text} with a comma");
    }
}

/// What is shown of it reads back, as near as so few figures can be.
fn shown(parsed: &Parsed, dimension: Dimension, system: UnitSystem, read: impl Fn(&str) -> Parsed) {
    let value = parsed.value;
    let text = format(value, dimension, system);
    let again = read(&text);
    let faint = FAINT * again.unit.factor;
    // Three figures: half a unit in the third place of 1.00 is 0.5 %.
    assert!(near(again.value, value, 5.000_001e-3) || (again.value - value).abs() < faint, "{value} as {text}");

    let Some(margin) = parsed.plus_minus.filter(|margin| (2.0 * faint..1e300).contains(margin)) else { return };
    let text = format_margin(value, margin, dimension, system);
    let again = read(&text);
    let margin_again = again.plus_minus.unwrap_or_default();
    assert!(near(margin_again, margin, 0.2), "{value} ± {margin} as {text}");
    let off = (again.value - value).abs();
    assert!(off <= 0.51 * margin || near(again.value, value, 1e-12), "{value} ± {margin} as {text}");
}

fn near(got: f64, expected: f64, share: f64) -> bool {
    (got - expected).abs() <= share * expected.abs()
}

/// A list loses nothing but what parts its items.
fn list(text: &str) {
    let items = items(text);
    assert!(items.iter().all(|item| !item.is_empty() && item.trim() == *item), "{items:?}");
    let parts = |c: &char| !c.is_whitespace() && !matches!(c, ',' | ';');
    let whole: Vec<char> = items.iter().flat_map(|item| item.chars()).filter(parts).collect();
    assert_eq!(whole, text.chars().filter(parts).collect::<Vec<_>>());
}
