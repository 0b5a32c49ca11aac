//! The modes of the loop against single-degree-of-freedom vibration (any
//! textbook; Thomson, Theory of Vibration with Applications, from memory).

use std::f64::consts::PI;

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::stability::Mode;
use spindlewise_engine::mechanics::{Compliance, Inertia, LoopPart, Modes, Plausible, Push, Unknown, usual};
use spindlewise_engine::scenario::Scenario;

/// Cutter, nose, spindle, frame, table, part: N/mm, Hz, damping ratio, as set in
/// `loop_of`. Cutter and nose are equal masses on equal springs, 0.1 kg on 10 N/um:
/// `k/m (3 -+ sqrt 5) / 2` (Thomson, Theory of Vibration with Applications, from
/// memory).
const MODES: [(f64, f64, f64); 6] = [
    (5278.640450004, 983.631643083, 0.03),
    (94721.359549996, 2575.181074002, 0.03),
    (8_000.0, 318.309_886, 0.03),
    (4_000.0, 60.0, 0.05),
    (20_000.0, 112.539_54, 0.04),
    (40_000.0, 711.762_54, 0.06),
];

const INERTIA: Inertia = Inertia { cutter: 0.1, holder: 0.1, nose: 0.5 };

fn loop_of() -> (Compliance, Plausible) {
    let mut iron = usual(&Scenario::new("modes").resolve().case.setup).middle();
    for (unknown, value) in [
        (Unknown::SpindleMass, 4.0),
        (Unknown::SpindleDamping, 0.03),
        (Unknown::CutterDamping, 0.03),
        (Unknown::FrequencyX, 60.0),
        (Unknown::DampingX, 0.05),
        (Unknown::TableMass, 40.0),
        (Unknown::TableDamping, 0.04),
        (Unknown::PartMass, 2.0),
        (Unknown::PartDamping, 0.06),
    ] {
        iron[unknown] = value;
    }
    let mut parts = [[0.0; 3]; 12];
    // Half of most groups in one part, half in another.
    for (part, stiffness) in [
        (LoopPart::Cutter, 20_000.0),
        (LoopPart::HolderJoint, 20_000.0),
        (LoopPart::Shaft, 10_000.0),
        (LoopPart::RearBearing, 16_000.0),
        (LoopPart::Quill, 16_000.0),
        (LoopPart::Head, 8_000.0),
        (LoopPart::Column, 8_000.0),
        (LoopPart::Table, 20_000.0),
        (LoopPart::Holding, 80_000.0),
        (LoopPart::Part, 80_000.0),
    ] {
        parts[part as usize] = [1.0 / stiffness; 3];
    }
    (Compliance(parts), iron)
}

/// Along X, with what crossed play adds.
fn modes_of(compliance: &Compliance, slack: &[(LoopPart, f64)], iron: &Plausible) -> Modes {
    Modes::new(compliance, INERTIA, 0, slack, iron)
}

#[test]
fn compliances_of_the_modes_add() {
    let (compliance, iron) = loop_of();
    let modes = modes_of(&compliance, &[], &iron);
    let sum: f64 = MODES.iter().map(|mode| 1.0 / mode.0).sum();
    assert_relative_eq!(modes.compliance(), sum, max_relative = 1e-12);
    let slack = modes_of(&compliance, &[(LoopPart::FrontBearing, 1e-5)], &iron);
    assert_relative_eq!(slack.compliance(), sum + 1e-5, max_relative = 1e-12);
}

/// 8 N/um and 2 kg ring at 318.31 Hz, `sqrt(k/m) / 2 pi`; what is heard is the
/// mode with by far the tallest peak, `1 / (2 k z)`, that a soft hammer rings.
#[test]
fn the_loudest_mode_is_heard() {
    let (compliance, mut iron) = loop_of();
    let heard = |iron: &Plausible| modes_of(&compliance, &[], iron).heard();
    let alone = |mode: Mode, (_, frequency, _): (f64, f64, f64)| {
        assert_relative_eq!(mode.frequency, frequency, max_relative = 0.02);
    };
    iron[Unknown::CutterDamping] = 0.5;
    iron[Unknown::DampingX] = 0.002;
    alone(heard(&iron), MODES[3]);
    assert_relative_eq!(heard(&iron).damping, 0.002, max_relative = 0.02);
    (iron[Unknown::DampingX], iron[Unknown::SpindleDamping]) = (0.5, 0.002);
    alone(heard(&iron), MODES[2]);
    (iron[Unknown::SpindleDamping], iron[Unknown::TableDamping]) = (0.5, 0.0005);
    alone(heard(&iron), MODES[4]);
    // As loud as each other, frame and table are heard half and half.
    let table = 20_000.0 * 0.0005 * (1.0 + (MODES[4].1 / 1000.0).powi(2));
    iron[Unknown::DampingX] = table / (4_000.0 * (1.0 + 0.06_f64.powi(2)));
    let between = (60.0 * MODES[4].1).sqrt();
    assert_relative_eq!(heard(&iron).frequency, between, max_relative = 0.02);
}

/// The wall is made at one instant of a force that repeats with every tooth. Two
/// harmonics with phases, `a cos(w t + p)`, seen at t = 0: each mode answers
/// `a |G| cos(p + arg G)` with `|G|` and `arg G` in the textbook's form.
#[test]
fn deflection_is_the_steady_response_of_each_mode() {
    let (compliance, iron) = loop_of();
    let modes = modes_of(&compliance, &[], &iron);
    let (mean, waves) = (100.0, [(60.0, 0.4), (25.0, -1.1)]);
    // In phase with the wall, and a quarter ahead of it.
    let harmonics = waves.map(|(size, phase): (f64, f64)| [size * phase.cos(), size * phase.sin()]);
    for passes in [5.0, 30.0, 73.3, 150.0, 200.0, 500.0] {
        let expected: f64 = MODES
            .iter()
            .map(|(stiffness, frequency, damping)| {
                let swings = waves.iter().zip([1.0, 2.0]).map(|((size, phase), harmonic)| {
                    let ratio: f64 = harmonic * passes / frequency;
                    let (re, im) = (1.0 - ratio * ratio, 2.0 * damping * ratio);
                    size / re.hypot(im) * (phase - im.atan2(re)).cos()
                });
                (mean + swings.sum::<f64>()) / stiffness
            })
            .sum();
        assert_relative_eq!(modes.deflection(mean, &harmonics, passes), expected, max_relative = 1e-6);
    }
    // Slow: all of it; fast: the mean alone.
    let all = mean + harmonics.iter().map(|[level, _]| level).sum::<f64>();
    assert_relative_eq!(modes.deflection(mean, &harmonics, 0.01), all * modes.compliance(), max_relative = 1e-3);
    let blurred = mean * modes.compliance();
    assert_relative_eq!(modes.deflection(mean, &harmonics, 1e6), blurred, max_relative = 1e-4);
}

/// Scatter (mm) of one mode at the moment the wall is made, when each pass pushes
/// for `length` of the time between teeth with a force of random size of standard
/// deviation `force` (N): stepped exactly through free and forced swing.
fn scattered(mode: (f64, f64, f64), force: f64, length: f64, since: f64, passes: f64) -> f64 {
    let (stiffness, frequency, damping) = mode;
    let natural = 2.0 * PI * frequency;
    let damped = natural * (1.0 - damping * damping).sqrt();
    // Swing about `rest` for a time: exact solution of the oscillator.
    let swing = |(at, velocity): (f64, f64), rest: f64, time: f64| {
        let (sin, cos) = (damped * time).sin_cos();
        let (left, decay) = ((-damping * natural * time).exp(), damping * natural);
        let off = at - rest;
        let rate = (velocity + decay * off) / damped;
        (rest + left * (off * cos + rate * sin), left * (velocity * cos - (decay * rate + damped * off) * sin))
    };
    let (mut state, mut squares) = ((0.0, 0.0), 0.0);
    const PASSES: usize = 40_000;
    for pass in 0..PASSES {
        let even = ((pass * pass) as f64 * 0.786_151_377_757_423_3).fract() - 0.5;
        state = swing(state, 12.0_f64.sqrt() * even * force / stiffness, length / passes);
        squares += swing(state, 0.0, since / passes).0.powi(2);
        state = swing(state, 0.0, (1.0 - length) / passes);
    }
    (squares / PASSES as f64).sqrt()
}

/// Uneven teeth shake each mode like pushes of random size. Short pushes come as
/// impulses; against the oscillator stepped exactly through 40,000 of them, for
/// pushes shorter than half a swing of any mode, within a quarter.
#[test]
fn uneven_pushes_scatter_the_tool() {
    let (compliance, iron) = loop_of();
    let modes = modes_of(&compliance, &[], &iron);
    let share = 0.1;
    for (range, passes) in [(300.0, 73.3), (300.0, 41.0), (80.0, 22.7)] {
        let length = 0.1 * passes / 2600.0;
        let since = 1.0 - length;
        let push = Push { mean: length * range, range, at_wall: 0.0, length, before: 0.0, since, abrupt: 1.0 };
        let expected: f64 =
            MODES.iter().map(|&mode| scattered(mode, share * range, length, since, passes).powi(2)).sum::<f64>().sqrt();
        assert_relative_eq!(share * modes.scatter(&push, 1.0, passes), expected, max_relative = 0.25);
        // Less damping rings longer; a force that fades gently rings less.
        assert!(modes.scatter(&push, 0.3, passes) > modes.scatter(&push, 1.0, passes));
        let gentle = Push { abrupt: 0.0, ..push };
        assert!(modes.scatter(&gentle, 1.0, passes) < modes.scatter(&push, 1.0, passes));
    }
}
