//! Whether the plausible machines are as plausible as they say: simulation-based
//! calibration (Talts and others, arXiv 1804.06788, 2018). A machine is drawn from
//! the typical ranges, readings are made up from it with their errors, and the
//! machines inferred from these are compared with it: over many such rounds its
//! rank among them is uniform, for every figure, if and only if the inference is
//! right.

use spindlewise_engine::machine::Axis;
use spindlewise_engine::mechanics::{Bearings, Plausible, Prepared, Unknown, usual};
use spindlewise_engine::quantity::Force;
use spindlewise_engine::readings::{Observer, Place, Reading, ReadingKind, sample, scattered};
use spindlewise_engine::scenario::{Scenario, demo};
use spindlewise_engine::work::Setup;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

const ROUNDS: u64 = 400;
const DRAWS: usize = 512;

/// Ranks are taken among so many of the machines, so that they come to 32 kinds,
/// and counted in eight bins.
const AMONG: usize = 31;
const BINS: usize = 8;

const FORCE: Force = Force::newton(100.0);

fn pull(place: Place, axis: Axis) -> ReadingKind {
    ReadingKind::Pull { place, axis, force: FORCE }
}

/// What is looked at: unknowns that readings tell of, one that they don't, and
/// what comes of the cut.
fn figures(prepared: &Prepared, iron: &Plausible) -> [f64; 8] {
    use Unknown as U;
    let outcome = prepared.run(iron, &prepared.forces(iron), Bearings::AsTheyAre);
    [
        iron[U::BearingFactor],
        iron[U::RadialPlay],
        iron[U::ColumnY],
        iron[U::SpindleDamping],
        iron[U::ForceFactor],
        iron[U::Friction],
        outcome.depth_limit,
        outcome.wall,
    ]
}

/// A reading, the share by which it may be off, and the division (mm) it is read to,
/// if it is read off a dial.
type Taken = (ReadingKind, f64, f64);

/// What is read off the machine, with the errors that the inference reckons with: a
/// dial is set to zero and read to the nearest division each.
fn taken(kinds: &[Taken], prepared: &Prepared, iron: &Plausible, noise: &[f64]) -> Vec<Reading> {
    let observer = Observer::new(prepared, kinds.iter().map(|kind| kind.0));
    let normal = Normal::standard();
    kinds
        .iter()
        .zip(noise.chunks(2))
        .map(|(&(kind, log_sd, division), noise)| {
            let [noise, set] = noise else { unreachable!("two for each reading") };
            let error = (log_sd.hypot(kind.model_error()) * noise).exp();
            match kind {
                // A cut as deep as wanted either stays quiet or chatters.
                ReadingKind::Quiet => {
                    let depth = prepared.setup.cut.axial_depth.as_mm();
                    let quiet = observer.expected(kind, iron) * error > depth;
                    let kind = if quiet { ReadingKind::Quiet } else { ReadingKind::Chatters };
                    Reading { kind, value: depth, log_sd, blur: 0.0 }
                }
                _ if division > 0.0 => {
                    let set = normal.cdf(*set) - 0.5;
                    let value = division * (observer.expected(kind, iron) * error / division + set).round();
                    Reading { kind, value, log_sd, blur: division / 6_f64.sqrt() }
                }
                _ => Reading { kind, value: observer.expected(kind, iron) * error, log_sd, blur: 0.0 },
            }
        })
        .collect()
}

fn check(setup: &Setup, kinds: &[Taken]) {
    let prepared = Prepared::new(setup);
    let usual = usual(setup);
    let normal = Normal::standard();
    let mut counts = [[0_u32; BINS]; 8];
    for round in 0..ROUNDS {
        let random: Vec<f64> =
            scattered(Unknown::COUNT + 2 * kinds.len(), 77 + round).map(|u| normal.inverse_cdf(u)).collect();
        let (truth, noise) = random.split_at(Unknown::COUNT);
        let truth = usual.at(truth);
        let readings = taken(kinds, &prepared, &truth, noise);
        let inferred = sample(&usual, &prepared, &readings, DRAWS, 0, 1000 + round);
        let expected = figures(&prepared, &truth);
        let mut ranks = [0; 8];
        for place in scattered(AMONG, 5000 + round) {
            let iron = &inferred.machines[(place * DRAWS as f64) as usize];
            for (rank, (found, expected)) in ranks.iter_mut().zip(figures(&prepared, iron).iter().zip(expected)) {
                *rank += usize::from(*found < expected);
            }
        }
        for (count, rank) in counts.iter_mut().zip(ranks) {
            count[rank * BINS / (AMONG + 1)] += 1;
        }
    }
    let even = ROUNDS as f64 / BINS as f64;
    let freedom = ChiSquared::new(BINS as f64 - 1.0).expect("more than one bin");
    for (figure, count) in counts.iter().enumerate() {
        let squares: f64 = count.iter().map(|&count| (f64::from(count) - even).powi(2) / even).sum();
        let chance = 1.0 - freedom.cdf(squares);
        println!("figure {figure}: {count:?}, {chance:.3}");
        // Two dozen such tests in all, fixed numbers: one in a thousand is no chance.
        assert!(chance > 0.001, "figure {figure}: {count:?}, {chance}");
    }
}

/// What an indicator and a scale tell.
#[test]
fn pulls_and_play() {
    let setup = Scenario::new("calibration").resolve().case.setup;
    check(
        &setup,
        &[
            (pull(Place::Tip, Axis::X), 0.1, 0.0),
            (pull(Place::Tip, Axis::Y), 0.1, 0.0),
            (pull(Place::Nose, Axis::Y), 0.1, 0.0),
            (pull(Place::Head, Axis::Y), 0.15, 0.0),
            (ReadingKind::RadialPlay, 0.2, 0.0),
        ],
    );
}

/// What they tell where the needle moves by a division or two, or not at all.
#[test]
fn pulls_and_play_on_a_coarse_dial() {
    let setup = Scenario::new("calibration").resolve().case.setup;
    check(
        &setup,
        &[
            (pull(Place::Tip, Axis::Y), 0.08, 0.05),
            (pull(Place::Head, Axis::Y), 0.08, 0.02),
            (ReadingKind::RadialPlay, 0.2, 0.02),
        ],
    );
}

/// What ears, eyes and past cuts tell.
#[test]
fn taps_and_past_cuts() {
    let resolved = demo().resolve();
    let (setup, surfaces) = (resolved.case.setup, resolved.case.want.surfaces);
    let depth = setup.cut.axial_depth;
    check(
        &setup,
        &[
            (pull(Place::Tip, Axis::Y), 0.1, 0.0),
            (ReadingKind::Decay { axis: Axis::Y, ring: None }, 0.25, 0.0),
            (ReadingKind::PastFinish { depth, surfaces }, 0.42, 0.0),
            (ReadingKind::Quiet, 0.1, 0.0),
            (ReadingKind::Runout, 0.1, 0.0),
        ],
    );
}
