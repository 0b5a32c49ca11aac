//! From typical ranges and readings to plausible machines, against closed forms.

use std::f64::consts::TAU;

use approx::assert_relative_eq;
use spindlewise_engine::decision::decide;
use spindlewise_engine::machine::Axis;
use spindlewise_engine::mechanics::{Estimates, Plausible, Prepared, Unknown, usual};
use spindlewise_engine::quantity::{Force, Frequency};
use spindlewise_engine::readings::{Place, Reading, ReadingKind, Sample, misfit, observe, sample};
use spindlewise_engine::scenario::{Field, Problem, Scenario, demo};

const DRAWS: usize = 2048;
const SEED: u64 = 20_240_607;

/// Standard deviation, in the logarithm, by which the model may miss a perfect
/// reading; found from outside, from a perfect reading that is off by e.
fn model_error(prepared: &Prepared, iron: &Plausible) -> f64 {
    let perfect = Reading {
        kind: ReadingKind::Runout,
        value: iron[Unknown::Runout] * std::f64::consts::E,
        log_sd: 0.0,
        blur: 0.0,
    };
    1.0 / misfit(&perfect, prepared, iron)
}

fn ground() -> (Prepared, Estimates) {
    let setup = Scenario::new("inference").resolve().case.setup;
    (Prepared::new(&setup), usual(&setup))
}

fn draw(prepared: &Prepared, usual: &Estimates, readings: &[Reading]) -> Sample {
    sample(usual, prepared, readings, DRAWS, 4, SEED)
}

fn logarithms(sample: &Sample, unknown: Unknown) -> Vec<f64> {
    sample.machines.iter().map(|iron| iron[unknown].ln()).collect()
}

fn mean_and_sd(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (mean, (squares / count).sqrt())
}

/// Normal prior, normal readings: precisions add, means weigh by precision
/// (Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.5, from memory).
fn conjugate(prior: (f64, f64), readings: &[(f64, f64)]) -> (f64, f64) {
    let precise = |sd: f64| 1.0 / (sd * sd);
    let precision = precise(prior.1) + readings.iter().map(|r| precise(r.1)).sum::<f64>();
    let weighted = prior.0 * precise(prior.1) + readings.iter().map(|r| r.0 * precise(r.1)).sum::<f64>();
    (weighted / precision, 1.0 / precision.sqrt())
}

/// The model's own error is what the engine says it is, 8 %, and adds to the
/// reading's in quadrature.
#[test]
fn reading_and_model_errors_add_in_quadrature() {
    let (prepared, usual) = ground();
    let iron = usual.middle();
    let model = model_error(&prepared, &iron);
    assert_relative_eq!(model, 0.08, max_relative = 1e-9);
    let reading = Reading {
        kind: ReadingKind::Runout,
        value: iron[Unknown::Runout] * std::f64::consts::E,
        log_sd: 0.06,
        blur: 0.0,
    };
    assert_relative_eq!(misfit(&reading, &prepared, &iron), 10.0, max_relative = 1e-9);
}

/// A reading that shows one unknown alone leaves a normal for its logarithm,
/// given by the closed form; whether the reading agrees with the prior or lies
/// two deviations off.
#[test]
fn one_reading_of_one_unknown_is_conjugate() {
    let (prepared, usual) = ground();
    let model = model_error(&prepared, &usual.middle());
    for (kind, unknown, log_sd) in [
        (ReadingKind::Runout, Unknown::Runout, 0.10),
        (ReadingKind::Runout, Unknown::Runout, 0.0),
        (ReadingKind::QuillShake, Unknown::QuillPlay, 0.5),
        (ReadingKind::AxialPlay, Unknown::AxialPlay, 0.25),
        (ReadingKind::RadialPlay, Unknown::RadialPlay, 0.2),
    ] {
        // The nose may move more than the bearing: a constant in the logarithm.
        let middle = usual.middle();
        let lever = observe(kind, &prepared, &middle) / middle[unknown];
        for off in [-2.0, 0.0, 1.0, 2.0] {
            let estimate = usual[unknown];
            let value = estimate.at(off) * lever;
            let reading = Reading { kind, value, log_sd, blur: 0.0 };
            let (mean, sd) = mean_and_sd(&logarithms(&draw(&prepared, &usual, &[reading]), unknown));
            let (expected, expected_sd) =
                conjugate((estimate.median().ln(), estimate.log_sd()), &[((value / lever).ln(), log_sd.hypot(model))]);
            assert!(
                (mean - expected).abs() < 0.05 * expected_sd,
                "{unknown:?} {off}: mean {mean}, closed form {expected} +- {expected_sd}"
            );
            assert_relative_eq!(sd, expected_sd, max_relative = 0.03);
        }
    }
}

/// Two readings that agree say more than one; as much more as the closed form.
#[test]
fn two_agreeing_readings_shrink_the_spread() {
    let (prepared, usual) = ground();
    let model = model_error(&prepared, &usual.middle());
    let estimate = usual[Unknown::Runout];
    let reading = Reading { kind: ReadingKind::Runout, value: estimate.at(0.7), log_sd: 0.3, blur: 0.0 };
    let spread = |readings: &[Reading]| mean_and_sd(&logarithms(&draw(&prepared, &usual, readings), Unknown::Runout));
    let (once, twice) = (spread(&[reading]), spread(&[reading, reading]));
    assert!(twice.1 < 0.8 * once.1, "{twice:?} {once:?}");
    let seen = (reading.value.ln(), 0.3_f64.hypot(model));
    let expected = conjugate((estimate.median().ln(), estimate.log_sd()), &[seen, seen]);
    assert!((twice.0 - expected.0).abs() < 0.05 * expected.1);
    assert_relative_eq!(twice.1, expected.1, max_relative = 0.03);
}

/// What a reading does not touch keeps its prior.
#[test]
fn a_reading_leaves_other_unknowns_alone() {
    let (prepared, usual) = ground();
    let reading = Reading { kind: ReadingKind::Runout, value: usual[Unknown::Runout].at(1.5), log_sd: 0.1, blur: 0.0 };
    let sample = draw(&prepared, &usual, &[reading]);
    for &unknown in Unknown::ALL {
        if unknown == Unknown::Runout {
            continue;
        }
        let (mean, sd) = mean_and_sd(&logarithms(&sample, unknown));
        let estimate = usual[unknown];
        let off = (mean - estimate.median().ln()) / estimate.log_sd();
        assert!(off.abs() < 0.01, "{unknown:?} moved by {off} sd");
        assert_relative_eq!(sd, estimate.log_sd(), max_relative = 0.01);
    }
}

/// No reading: the sample has the quantiles of the typical ranges it is drawn
/// from, 10, 50 and 90 %, to the tenth of a standard deviation or so that 2048
/// balanced draws resolve.
#[test]
fn no_reading_leaves_the_prior() {
    let (prepared, usual) = ground();
    let sample = draw(&prepared, &usual, &[]);
    assert_eq!(sample.machines.len(), DRAWS);
    assert_eq!(sample.effective, DRAWS as f64);
    for &unknown in Unknown::ALL {
        let estimate = usual[unknown];
        let mut values = logarithms(&sample, unknown);
        values.sort_by(f64::total_cmp);
        for (p, expected) in [(0.1, estimate.low()), (0.5, estimate.median()), (0.9, estimate.high())] {
            let got = values[(p * DRAWS as f64) as usize];
            let off = (got - expected.ln()) / estimate.log_sd();
            assert!(off.abs() < 0.02, "{unknown:?} at {p}: {off} sd");
        }
    }
    // Unknowns are independent: no pair goes together more than chance allows.
    let (a, b) = (logarithms(&sample, Unknown::Runout), logarithms(&sample, Unknown::ColumnY));
    let ((mean_a, sd_a), (mean_b, sd_b)) = (mean_and_sd(&a), mean_and_sd(&b));
    let together: f64 =
        a.iter().zip(&b).map(|(a, b)| (a - mean_a) * (b - mean_b)).sum::<f64>() / (DRAWS as f64 * sd_a * sd_b);
    assert!(together.abs() < 0.05, "{together}");
}

fn with(entries: &[(Field, &str)]) -> Scenario {
    let mut scenario = Scenario::new("readings");
    scenario.set_entries(entries.iter().copied());
    scenario
}

/// Error of a reading: two settings to one division each, rectangular, `q / sqrt
/// 12` (JCGM 100:2008 (GUM), F.2.2.1): 10 um give 2.89 um each, 4.08 um together;
/// 8 % for scale and hand on a pull (common practice, no source).
#[test]
fn readings_are_as_good_as_their_indicator() {
    for (division, movement, pull, expected) in [
        ("0.01 mm", "0.1 mm", true, 0.0408_f64.hypot(0.08)),
        ("0.0005 in", "0.1 mm", true, 0.05185_f64.hypot(0.08)),
        ("0.01 mm", "0.02 mm", false, 0.2041_f64.hypot(0.10)),
    ] {
        let field = if pull { Field::TipX } else { Field::Runout };
        let scenario = with(&[(Field::IndicatorDivision, division), (field, movement)]);
        let readings = scenario.resolve().case.readings;
        assert_eq!(readings.len(), 1);
        assert_relative_eq!(share(&readings[0]), expected, max_relative = 1e-3);
    }
}

/// All that a reading may be off by, as a share of it.
fn share(reading: &Reading) -> f64 {
    reading.log_sd.hypot(reading.blur / reading.value)
}

/// Movement (mm) at which one machine in ten, one in two and nine in ten of those
/// that fit a pull of 100 N on the head lie, where `read` was read off a dial of
/// ten micrometres.
fn moves(read: &str) -> [f64; 3] {
    let resolved = with(&[(Field::IndicatorDivision, "10 µm"), (Field::HeadY, read)]).resolve();
    assert_eq!(resolved.problems, []);
    let (prepared, usual) = (Prepared::new(&resolved.case.setup), usual(&resolved.case.setup));
    let kind = resolved.reading(Field::HeadY).expect("a pull");
    let fitted = draw(&prepared, &usual, &resolved.case.readings);
    let mut moves: Vec<f64> = fitted.machines.iter().map(|iron| observe(kind, &prepared, iron)).collect();
    moves.sort_by(f64::total_cmp);
    [1, 5, 9].map(|tenth| moves[DRAWS * tenth / 10])
}

/// What every machinist knows: the less the needle moves, the stiffer it is,
/// however coarse the dial (common practice, no source); and a needle that stood
/// still moved by less than its division, since setting and reading it are each
/// off by half of one at most (JCGM 100:2008 (GUM), F.2.2.1).
#[test]
fn the_less_the_needle_moves_the_stiffer_the_machine() {
    let sweep = ["0", "1", "2", "3", "5", "8", "10", "15", "20", "40"].map(|read| moves(&format!("{read} µm")));
    for pair in sweep.windows(2) {
        for (less, more) in pair[0].iter().zip(pair[1]) {
            assert!(*less < more, "{sweep:.4?}");
        }
    }
    // One in ten thousand of two even errors is as far off as the division: what is
    // taken for it, a normal as wide, makes that an error of 2.4 deviations.
    let (prepared, usual) = ground();
    let kind = ReadingKind::Pull { place: Place::Head, axis: Axis::Y, force: Force::newton(100.0) };
    let iron = usual.middle();
    let division = observe(kind, &prepared, &iron);
    let still = Reading { kind, value: 0.0, log_sd: 0.08, blur: division / 6_f64.sqrt() };
    let off = misfit(&still, &prepared, &iron);
    assert!((-2.45..-2.3).contains(&off), "{off}");
    // It is not told to be stiffer than such a dial could tell.
    let [_, middle, _] = sweep[0];
    assert!((0.002..0.010).contains(&middle), "{middle}");
}

/// Without a dial's divisions, and where the movement is far above them, the error
/// is a share of the reading: a normal of the logarithm, as before.
#[test]
fn far_above_its_divisions_a_dial_errs_by_a_share() {
    let (prepared, usual) = ground();
    let iron = usual.middle();
    let at = |ratio: f64, log_sd: f64, blur: f64| {
        let value = ratio * iron[Unknown::Runout];
        misfit(&Reading { kind: ReadingKind::Runout, value, log_sd, blur }, &prepared, &iron)
    };
    let division = 1e-3 * iron[Unknown::Runout];
    for ratio in [0.7, 0.9, 1.0, 1.2, 1.5] {
        assert_relative_eq!(at(ratio, 0.1, division), at(ratio, 0.1, 0.0), max_relative = 1e-3);
    }
}

/// A margin typed after 0 is the needle's own, 1.96 deviations of it.
#[test]
fn nothing_read_can_have_a_margin() {
    let blur = |text: &str| {
        let resolved = with(&[(Field::PartX, text)]).resolve();
        assert_eq!(resolved.problems, [], "{text}");
        assert_eq!(resolved.case.readings[0].value, 0.0);
        resolved.case.readings[0].blur
    };
    assert_relative_eq!(blur("0 ± 2 µm"), 2e-3 / 1.96, max_relative = 1e-9);
    // 10 µm where no division was told: 0.408 of one.
    assert_relative_eq!(blur("0"), 4.082e-3, max_relative = 1e-3);
    for (field, text) in [(Field::PartX, "0.1 µm"), (Field::TapX, "0"), (Field::QuietDepth, "0")] {
        let problems = with(&[(field, text)]).resolve().problems;
        assert!(matches!(problems[..], [Problem::OutOfRange { .. }]), "{problems:?}");
    }
}

/// A "±" behind a reading is its own 95 % margin, 1.96 standard deviations of a
/// normal (any table of it).
#[test]
fn a_margin_takes_the_place_of_the_usual_error() {
    let scenario = with(&[
        (Field::TipX, "0.10 mm ± 10 %"),
        (Field::RockRadial, "10 ± 4 µm"),
        (Field::TapX, "212 ± 3 Hz"),
        (Field::DecayX, "80 ms ± 6"),
    ]);
    let resolved = scenario.resolve();
    assert_eq!(resolved.problems, []);
    let expected = [0.1 / 1.96, 0.4 / 1.96, 3.0 / 1.96 / 212.0, 6.0 / 1.96 / 80.0];
    assert_eq!(resolved.case.readings.len(), expected.len());
    for (reading, expected) in resolved.case.readings.iter().zip(expected) {
        assert_relative_eq!(share(reading), expected, max_relative = 1e-9);
    }
    let refused = with(&[(Field::StickOut, "40 ± 2 mm")]).resolve();
    assert_eq!(refused.problems, [Problem::NoMargin { field: Field::StickOut }]);
    assert_eq!(refused.case, Scenario::new("none").resolve().case);
}

/// Pitch and decay of the frame's ring are `f` and `ln 10 / (2 π f ζ)`, straight
/// lines in the logarithms: the damping ratio's posterior has a closed form.
#[test]
fn a_ring_and_its_decay_tell_the_damping() {
    let (prepared, usual) = ground();
    let model = model_error(&prepared, &usual.middle());
    let [pitch, damping] = [usual[Unknown::FrequencyY], usual[Unknown::DampingY]];
    let (pitch_sd, decay_sd) = (0.02, 0.1);
    for off in [-1.5, 0.0, 1.5] {
        let (frequency, ratio) = (pitch.at(0.3), damping.at(off));
        let time = 1e3 * 10_f64.ln() / (TAU * frequency * ratio);
        let kind = ReadingKind::Decay { axis: Axis::Y, ring: Some(Frequency::hertz(frequency)) };
        let readings = [
            Reading { kind: ReadingKind::Tap(Axis::Y), value: frequency, log_sd: pitch_sd, blur: 0.0 },
            Reading { kind, value: time, log_sd: decay_sd, blur: 0.0 },
        ];
        let (mean, sd) = mean_and_sd(&logarithms(&draw(&prepared, &usual, &readings), Unknown::DampingY));
        // What is known of the pitch carries over to the damping.
        let tapped = pitch_sd.hypot(model);
        let known_pitch = conjugate((pitch.median().ln(), pitch.log_sd()), &[(frequency.ln(), tapped)]);
        let seen = (
            (1e3 * 10_f64.ln() / (TAU * time)).ln() - known_pitch.0,
            decay_sd.hypot(kind.model_error()).hypot(known_pitch.1),
        );
        let (expected, expected_sd) = conjugate((damping.median().ln(), damping.log_sd()), &[seen]);
        assert!((mean - expected).abs() < 0.1 * expected_sd, "{off}: {mean}, closed form {expected} +- {expected_sd}");
        assert_relative_eq!(sd, expected_sd, max_relative = 0.05);
        assert!(sd < 0.6 * damping.log_sd(), "{sd} of {}", damping.log_sd());
    }
}

/// Both together, at a pitch that only the frame can have.
#[test]
fn a_tap_agrees_with_brute_force() {
    agrees_with_brute_force(
        with(&[(Field::TapY, "32 ± 1 Hz"), (Field::DecayY, "0.3 s ± 10 %")]),
        &[Unknown::DampingY, Unknown::FrequencyY],
    );
}

/// A pull shows many unknowns at once, and rocking by hand shows play only as far
/// as preload lets it; neither in a straight line. Against plain importance
/// weights on 100 times as many draws from the prior (Robert and Casella, Monte
/// Carlo Statistical Methods, ch. 3, from memory), which needs none of the
/// engine's machinery.
fn agrees_with_brute_force(scenario: Scenario, unknowns: &[Unknown]) {
    let resolved = scenario.resolve();
    assert_eq!(resolved.problems, []);
    let case = resolved.case;
    let (prepared, usual) = (Prepared::new(&case.setup), usual(&case.setup));
    let fitted = sample(&usual, &prepared, &case.readings, DRAWS, 0, SEED);

    let wide = sample(&usual, &prepared, &[], 100 * DRAWS, 0, SEED + 1);
    let weights: Vec<f64> = wide
        .machines
        .iter()
        .map(|iron| {
            let misfits = case.readings.iter().map(|reading| misfit(reading, &prepared, iron));
            (-0.5 * misfits.map(|misfit| misfit * misfit).sum::<f64>()).exp()
        })
        .collect();
    let total: f64 = weights.iter().sum();
    let worth = total * total / weights.iter().map(|weight| weight * weight).sum::<f64>();
    assert!(worth > 2_000.0, "too few draws to compare with: {worth}");
    for &unknown in unknowns {
        let values = logarithms(&wide, unknown);
        let moment = |of: &dyn Fn(f64) -> f64| {
            let sum: f64 = values.iter().zip(&weights).map(|(value, weight)| weight * of(*value)).sum();
            sum / total
        };
        let mean = moment(&|value| value);
        let sd = moment(&|value| (value - mean).powi(2)).sqrt();
        let got = mean_and_sd(&logarithms(&fitted, unknown));
        let prior_sd = usual[unknown].log_sd();
        assert!(
            (got.0 - mean).abs() < 0.1 * prior_sd,
            "{unknown:?}: mean and sd {got:?}, by brute force {mean} and {sd}"
        );
        assert_relative_eq!(got.1, sd, max_relative = 0.1);
    }
}

#[test]
fn a_pull_at_the_tip_agrees_with_brute_force() {
    agrees_with_brute_force(
        with(&[(Field::TipForce, "100 N"), (Field::TipX, "0.10 mm")]),
        &[Unknown::Joint, Unknown::ColumnX, Unknown::Taper, Unknown::Quill],
    );
}

/// Several readings together, one of them of play: the demonstration.
#[test]
fn the_demonstration_agrees_with_brute_force() {
    agrees_with_brute_force(demo(), &[Unknown::ColumnY, Unknown::Joint, Unknown::BearingFactor, Unknown::RadialPlay]);
}

/// So does one that hardly moved the needle.
#[test]
fn a_needle_that_stood_still_agrees_with_brute_force() {
    agrees_with_brute_force(
        with(&[(Field::IndicatorDivision, "50 µm"), (Field::HeadY, "0")]),
        &[Unknown::ColumnY, Unknown::HeadY],
    );
}

#[test]
fn rocking_by_hand_agrees_with_brute_force() {
    agrees_with_brute_force(with(&[(Field::RockRadial, "0.015 mm")]), &[Unknown::RadialPlay, Unknown::PreloadForce]);
    agrees_with_brute_force(with(&[(Field::RockAxial, "0.05 mm")]), &[Unknown::AxialPlay, Unknown::PreloadForce]);
}

/// Draws after weighing are never worth more than were made, and still enough to
/// read quantiles from.
#[test]
fn effective_draws_are_honest() {
    let (prepared, usual) = ground();
    let reading = Reading { kind: ReadingKind::Runout, value: usual[Unknown::Runout].at(1.0), log_sd: 0.1, blur: 0.0 };
    // For one normal unknown the proposal is the posterior itself.
    let sample = draw(&prepared, &usual, &[reading]);
    assert!(sample.effective <= DRAWS as f64 * (1.0 + 1e-9));
    assert!(sample.effective > 0.999 * DRAWS as f64, "{}", sample.effective);
    assert_eq!(sample.machines.len(), DRAWS);

    let decision = decide(&demo().resolve().case);
    assert!(decision.effective_draws <= decision.draws as f64);
    assert!(decision.effective_draws > 100.0, "{}", decision.effective_draws);
}
