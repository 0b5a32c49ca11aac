//! Roughness and the marks it comes from, against definitions and closed forms.

use std::f64::consts::{PI, TAU};

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::force::{CutGeometry, Engagement, ForceCoefficients};
use spindlewise_engine::mechanics::simulation::{
    Extent, Milling, OrientedMode, Profile, Run, Simulation, Structure, Trace, runout,
};
use spindlewise_engine::work::{CutKind, CutSense};

fn wave(length: f64, shape: impl Fn(f64) -> f64) -> Profile {
    let spacing = 0.001;
    Profile { spacing, heights: (0..(length / spacing) as usize).map(|i| shape(i as f64 * spacing)).collect() }
}

/// The Gaussian filter of ISO 16610-21 passes half the amplitude at the cut-off
/// and `exp(-pi (alpha lc / l)^2)`, `alpha = sqrt(ln 2 / pi)`, at any wavelength.
#[test]
fn the_filter_passes_half_at_the_cut_off() {
    let cutoff = 0.8;
    for (ratio, expected) in [(1.0, Some(0.5)), (0.5, None), (0.7, None), (2.0, None), (5.0, None)] {
        let wavelength = ratio * cutoff;
        let profile = wave(12.0, |x| (TAU * x / wavelength).cos());
        let alpha = (2.0_f64.ln() / PI).sqrt();
        let transmission = (-PI * (alpha / ratio).powi(2)).exp();
        if let Some(expected) = expected {
            assert_relative_eq!(transmission, expected, max_relative = 1e-12);
        }
        let line = profile.mean_line(cutoff, 2000, 8000);
        let highest = line.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert_relative_eq!(highest, transmission, epsilon = 2e-4);
    }
}

/// A sine of amplitude a: Ra = 2a/pi, Rz = Rt = 2a (ISO 21920-2 definitions,
/// integrated by hand). At a tenth of the cut-off the filter takes nothing.
#[test]
fn a_sine_has_its_closed_form() {
    let profile = wave(6.0, |x| 0.003 * (TAU * x / 0.08).sin() + 0.4 - 0.01 * x);
    let found = profile.roughness_at(0.8).expect("long enough");
    assert_eq!(found.extent, Extent::Full);
    assert_relative_eq!(found.ra, 0.006 / PI, max_relative = 2e-3);
    assert_relative_eq!(found.rz, 0.006, max_relative = 2e-3);
    assert_relative_eq!(found.rt, 0.006, max_relative = 2e-3);
}

/// Waviness four cut-offs long is filtered out, all but 1 - 0.958 of it.
#[test]
fn waviness_is_no_roughness() {
    let found = wave(20.0, |x| 0.01 * (TAU * x / 3.2).sin()).roughness_at(0.8).expect("long enough");
    let left = 1.0 - 0.5_f64.powf(1.0 / 16.0);
    assert_relative_eq!(found.ra, left * 0.02 / PI, max_relative = 0.03);
}

/// Rz is a mean over sections, Rt the whole length: one deep scratch counts in
/// one section of five.
#[test]
fn one_scratch_counts_in_one_section() {
    let scratch = |x: f64| if (x - 3.0).abs() < 0.0004 { -0.02 } else { 0.0 };
    let found = wave(6.0, scratch).roughness_at(0.8).expect("long enough");
    assert_relative_eq!(found.rt, 0.02, max_relative = 0.01);
    assert_relative_eq!(found.rz, 0.02 / 5.0, max_relative = 0.05);
}

/// What a profile is too short for is said.
#[test]
fn short_profiles_say_so() {
    let sine = |length: f64| wave(length, |x| 0.003 * (TAU * x / 0.08).sin());
    let extent = |length: f64| sine(length).roughness_at(0.8).map(|found| found.extent);
    assert_eq!(extent(5.0), Some(Extent::Full));
    assert_eq!(extent(3.5), Some(Extent::Sections(3)));
    assert_eq!(extent(1.0), Some(Extent::Unfiltered));
    assert_eq!(extent(0.001), None);
    assert_relative_eq!(sine(0.8).roughness_at(0.8).expect("two points").ra, 0.006 / PI, max_relative = 2e-3);
}

/// The cut-off follows the roughness: 0.25 mm to Ra 0.1 um, 0.8 mm to 2 um, 2.5
/// mm to 10 um (ISO 4288:1996, from memory).
#[test]
fn the_cut_off_follows_the_roughness() {
    for (ra, cutoff) in [(0.05e-3, 0.25), (1e-3, 0.8), (5e-3, 2.5)] {
        let profile = wave(16.0, |x| ra * PI / 2.0 * (TAU * x / 0.04).sin());
        let (found, chosen) = profile.roughness(0.0).expect("long enough");
        assert_eq!(chosen, cutoff);
        assert_relative_eq!(found.ra, ra, max_relative = 0.01);
    }
}

/// A rigid machine, 10 mm cutter.
fn cut(sense: CutSense, teeth: u32, feed: f64, offset: f64, corner: f64, speed: f64) -> Milling {
    let engagement = Engagement::new(CutKind::Slot, sense, 10.0, 10.0);
    Milling {
        geometry: CutGeometry { diameter: 10.0, teeth, helix: 0.3, depth: 2.0, feed, engagement },
        sense,
        coefficients: ForceCoefficients { ktc: 2000.0, krc: 700.0, kac: 400.0, ..Default::default() },
        speed,
        offsets: runout(offset, 0.0, teeth),
        lengths: runout(offset, 0.0, teeth),
        corner,
        dish: 0.03,
        rubbing: 0.0,
        unsteadiness: 0.0,
    }
}

fn rigid(milling: Milling) -> Trace {
    let run = Run { revolutions: 200, entry: 0, kept: 1, refinement: 1 };
    Simulation::new(milling, Structure::default(), run).expect("valid").run()
}

/// Feed marks on a wall: `f^2/(8 R)` high with `R +- f N / pi` for the trochoid
/// (Martellotti, Trans. ASME 63 (1941)), Ra 4/(9 sqrt 3) of it; one mark per
/// revolution, `(N f)^2/(8 R)`, where runout lifts all teeth but one.
#[test]
fn wall_cusps_have_their_closed_form() {
    for (sense, sign) in [(CutSense::Conventional, 1.0), (CutSense::Climb, -1.0)] {
        for (teeth, offset, feed) in [(4, 0.0, 0.1), (2, 0.0, 0.2), (3, 0.02, 0.1)] {
            let trace = rigid(cut(sense, teeth, feed, offset, 0.5, 1000.0));
            let mark = if offset > 0.0 { feed * f64::from(teeth) } else { feed };
            // R + f N / pi is R (1 + v_f / v)^2 to first order.
            let radius = 5.0 * (1.0 + sign * feed * f64::from(teeth) / (TAU * 5.0)).powi(2);
            assert_relative_eq!(radius, 5.0 + sign * feed * f64::from(teeth) / PI, max_relative = 1e-3);
            let height = mark * mark / (8.0 * radius);
            let found = trace.wall.profile(0).roughness_at(0.8).expect("long enough");
            assert_eq!(found.extent, Extent::Full);
            // Sampled at 24 points in a feed, peaks fall between them; the
            // filter takes a little of marks half a cut-off long.
            assert_relative_eq!(found.rz, height, max_relative = 0.03);
            assert_relative_eq!(found.ra, 4.0 / (9.0 * 3.0_f64.sqrt()) * height, max_relative = 0.03);
        }
    }
}

/// Marks far apart need a cut-off that does not take them for waviness, however
/// fine they are: for a spacing of 0.13 to 0.4 mm it is 0.8 mm (ISO 4288:1996,
/// from memory).
#[test]
fn the_cut_off_follows_the_marks() {
    let (spacing, pitch, height) = (0.002, 0.2, 0.03e-3);
    let wave = |i: u32| 0.5 * height * (TAU * f64::from(i) * spacing / pitch).sin();
    let profile = Profile { spacing, heights: (0..5000).map(wave).collect() };
    let (found, chosen) = profile.roughness(pitch).expect("long enough");
    assert_eq!(chosen, 0.8);
    assert_relative_eq!(found.ra, height / PI, max_relative = 0.03);
    let (blind, short) = profile.roughness(0.0).expect("long enough");
    // The filter leaves 1 - 2^-(0.08/0.2)^2 of it, a tenth.
    assert!(short < pitch && blind.ra < 0.15 * found.ra, "{blind:?} at {short}");
}

/// A wall of straight teeth is its profile all the way up, and a floor's arcs
/// hang behind the line in the middle by the cutter's circle.
#[test]
fn a_map_of_heights_holds_the_profile() {
    let trace = rigid(cut(CutSense::Conventional, 2, 0.1, 0.0, 0.5, 1000.0));
    let map = trace.wall.relief(2.0, 1.0).expect("marks enough");
    let (length, height) = map.size();
    assert!((length - 1.0).abs() < 0.01 && height == 2.0, "{length} by {height}");
    let swing = |heights: &[f64]| {
        let ends = heights.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), &z| (a.min(z), b.max(z)));
        ends.1 - ends.0
    };
    for row in &map.rows {
        // Peaks fall between points.
        assert_relative_eq!(swing(row), swing(&trace.wall.profile(0).heights), max_relative = 0.1);
    }
    let (radius, width) = (5.0, 1.0);
    let floor = trace.floor.relief(radius, width, 1.0).expect("marks enough");
    let (middle, edge) = (&floor.rows[floor.rows.len() / 2], &floor.rows[0]);
    let behind = ((radius - (radius * radius - width * width).sqrt()) / floor.spacing).round() as usize;
    for (at, height) in edge.iter().enumerate().take(middle.len() - behind) {
        assert!((height - middle[at + behind]).abs() < 0.1 * swing(middle), "{at}");
    }
}

/// Feed marks on the floor: `f^2/(8 r)` for a round corner, ridges `f tan dish`
/// of Ra a quarter for a sharp one (turning geometry, any text on cutting); per
/// revolution where one tooth stands out.
#[test]
fn floor_marks_have_their_closed_form() {
    for (corner, teeth, offset, feed) in
        [(5.0, 4, 0.0, 0.1), (5.0, 3, 0.02, 0.05), (0.0, 4, 0.0, 0.1), (0.0, 2, 0.01, 0.05)]
    {
        let trace = rigid(cut(CutSense::Conventional, teeth, feed, offset, corner, 1000.0));
        let mark = if offset > 0.0 { feed * f64::from(teeth) } else { feed };
        let (height, ratio) = if corner > 0.0 {
            (mark * mark / (8.0 * corner), 4.0 / (9.0 * 3.0_f64.sqrt()))
        } else {
            (mark * 0.03_f64.tan(), 0.25)
        };
        let found = trace.floor.profile().roughness_at(0.8).expect("long enough");
        // A sawtooth's sharp edge falls between points, 1/24 of it at most.
        assert_relative_eq!(found.rz, height, max_relative = 0.05);
        assert_relative_eq!(found.ra, ratio * height, max_relative = 0.05);
    }
}

/// A wall cut while the tool sways across it once every few revolutions carries
/// the sway: a stable forced vibration leaves feed marks alone, chatter more.
#[test]
fn chatter_shows_on_the_wall() {
    let ra = |depth: f64| {
        let mut milling = cut(CutSense::Climb, 3, 0.05, 0.0, 0.5, 1000.0);
        milling.geometry.depth = depth;
        milling.geometry.engagement = Engagement::new(CutKind::Side, CutSense::Climb, 4.0, 10.0);
        let direction = [0.0, 1.0, 0.0];
        let modes = vec![OrientedMode { stiffness: 4000.0, damping: 0.03, frequency: 130.0, direction }];
        let run = Run { revolutions: 200, entry: 10, kept: 1, refinement: 1 };
        let structure = Structure { modes, ..Structure::default() };
        let trace = Simulation::new(milling, structure, run).expect("valid").run();
        trace.wall.profile(0).roughness_at(0.8).expect("long enough").ra
    };
    let cusp = 4.0 / (9.0 * 3.0_f64.sqrt()) * 0.05 * 0.05 / 40.0;
    let (quiet, loud) = (ra(0.2), ra(6.0));
    assert!((quiet / cusp - 1.0).abs() < 0.1, "{quiet} {cusp}");
    assert!(loud > 20.0 * quiet, "{loud} {quiet}");
}

/// A tip cuts nowhere deeper than the tool ever swings, and nothing stands higher
/// than between two marks of a turn (geometry), however fast it moves while it
/// passes the wall: chatter at many times the pace of the teeth, at a low speed.
#[test]
fn no_mark_is_deeper_than_the_tool_swings() {
    let mut milling = cut(CutSense::Climb, 2, 0.06, 0.0, 0.5, 500.0);
    milling.geometry.depth = 1.6;
    milling.geometry.engagement = Engagement::new(CutKind::Side, CutSense::Climb, 3.0, 10.0);
    let modes = [([1.0, 0.0, 0.0], 700.0), ([0.0, 1.0, 0.0], 800.0)].map(|(direction, frequency)| OrientedMode {
        stiffness: 6000.0,
        damping: 0.03,
        frequency,
        direction,
    });
    let run = Run { revolutions: 120, entry: 5, kept: 60, refinement: 1 };
    let structure = Structure { modes: modes.to_vec(), ..Structure::default() };
    let trace = Simulation::new(milling, structure, run).expect("valid").run();
    let [along, across, _] = trace.peak_to_peak();
    let heights = trace.wall.profile(trace.wall.slices.len() / 2).heights;
    let (low, high) = heights.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), &z| (a.min(z), b.max(z)));
    let between = (2.0 * 0.06 + along).powi(2) / 40.0;
    assert!(across > 0.01, "it chatters: {across}");
    assert!(high - low < across + between, "{} high, the tool swings by {across}", high - low);
}
