//! What must hold for any input.

use proptest::prelude::*;

use super::*;

fn any_dimension() -> impl Strategy<Value = Dimension> {
    prop::sample::select(Dimension::ALL.to_vec())
}

fn any_system() -> impl Strategy<Value = UnitSystem> {
    prop::sample::select(vec![UnitSystem::Metric, UnitSystem::Inch])
}

fn any_unit() -> impl Strategy<Value = (Dimension, &'static Unit)> {
    any_dimension()
        .prop_flat_map(|dimension| prop::sample::select(dimension.units()).prop_map(move |unit| (dimension, unit)))
}

/// Text made of what quantities are made of, so that much of it nearly parses.
fn near_quantity() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[-+−0-9.,/ eE½'\"µ°%$£a-z\u{a0}]{0,16}",
        "[-+−]?[0-9]{0,4}[.,/ -]?[0-9]{0,3}[½⅞]?(e[-−+]?[0-9]{1,3})? ?(mm|in|\"|thou|µm|N|lb|%|rpm)?",
    ]
}

fn relative_error(got: f64, expected: f64) -> f64 {
    (got / expected - 1.0).abs()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_text_is_a_finite_number_or_a_message(
        text in near_quantity(), dimension in any_dimension(), system in any_system(),
    ) {
        match parse(&text, dimension, dimension.default_unit(system)) {
            Ok(parsed) => prop_assert!(parsed.value.is_finite()),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }

    #[test]
    fn leaving_a_field_twice_is_leaving_it_once(
        text in near_quantity(), (dimension, unit) in any_unit(),
    ) {
        let once = with_unit(&text, unit);
        prop_assert_eq!(&with_unit(&once, unit), &once);
        let value = |text: &str| parse(text, dimension, unit).map(|parsed| parsed.value).ok();
        prop_assert_eq!(value(&once), value(&text));
    }

    #[test]
    fn what_is_written_reads_back(
        number in prop_oneof![1e-5..1.0, 1.0..1e6], sign in prop::sample::select(vec![-1.0, 1.0]),
        (dimension, unit) in any_unit(),
    ) {
        let value = sign * number * unit.factor;
        let text = format_in(value, unit);
        let read = parse(&text, dimension, unit).unwrap();
        // Three significant figures: half a unit in the third place of 1.00 is 0.5 %.
        prop_assert!(relative_error(read.value, value) <= 5.000_001e-3, "{} as {}", value, text);
    }

    #[test]
    fn either_system_reads_back_what_the_other_wrote(
        value in 1e-4..1e4, dimension in any_dimension(), system in any_system(),
    ) {
        let text = format(value, dimension, UnitSystem::Inch);
        // Where one unit serves both systems the number may stand alone.
        let read = parse(&text, dimension, dimension.default_unit(system)).unwrap();
        prop_assert!(relative_error(read.value, value) <= 5.000_001e-3, "{} as {}", value, text);
    }

    #[test]
    fn inches_and_millimetres_agree(sixty_fourths in 1u32..640) {
        let read = |text: String| parse(&text, Dimension::Length, &units::INCH).unwrap().value;
        let inches = f64::from(sixty_fourths) / 64.0;
        let mixed = format!("{}-{}/64", sixty_fourths / 64, sixty_fourths % 64);
        let mm = read(format!("{} mm", inches * 25.4));
        for text in [format!("{inches}"), format!("{} thou", inches * 1000.0), mixed] {
            prop_assert!(relative_error(read(text), mm) < 1e-14);
        }
    }

    #[test]
    fn any_value_is_written_without_powers_of_ten(
        value in any::<f64>(), other in any::<f64>(), digits in 0usize..40,
        dimension in any_dimension(), system in any_system(),
    ) {
        let number = format_number(value, digits);
        prop_assert!(!number.is_empty() && !number.contains(['e', 'E', '-']), "{}", number);
        prop_assert!(!format(value, dimension, system).is_empty());
        prop_assert!(!format_range(value, other, dimension, system).is_empty());
    }

    #[test]
    fn ranges_keep_their_ends_in_order_and_near(a in 1e-3..1e3, b in 1e-3..1e3) {
        let text = format_range(a, b, Dimension::Plain, UnitSystem::Metric);
        let ends: Vec<f64> = text.split('–').map(|end| end.parse().unwrap()).collect();
        let (low, high) = (f64::min(a, b), f64::max(a, b));
        prop_assert!(ends.first() <= ends.last());
        for (end, value) in [(ends[0], low), (ends[ends.len() - 1], high)] {
            prop_assert!(relative_error(end, value) <= 0.1, "{}–{} as {}", low, high, text);
        }
    }

    #[test]
    fn quantiles_are_ordered(
        low in 1e-6..1e3, ratio in 1.0..100.0, p in 0.001..0.998, more in 0.0001..0.001,
    ) {
        let estimate = Estimate::typical(low, low * ratio, "made up").unwrap();
        prop_assert!(estimate.low() <= estimate.median() && estimate.median() <= estimate.high());
        prop_assert!(estimate.quantile(p) <= estimate.quantile(p + more));
        prop_assert!(relative_error(estimate.low(), low) < 1e-12);
        prop_assert!(relative_error(estimate.high(), low * ratio) < 1e-12);
    }
}
