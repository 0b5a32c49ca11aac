//! Cutting forces against closed-form means, worked examples and limits.
//!
//! The model is that of Altintas, Manufacturing Automation, 2nd ed. 2012, ch. 2
//! (equation numbers from memory); the figures were computed outside this program.

use std::f64::consts::{PI, TAU};

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::force::{
    CutGeometry, Engagement, ForceBasis, ForceCoefficients, ForceHistory, STEPS,
};
use spindlewise_engine::mechanics::stability::FeedbackGeometry;
use spindlewise_engine::work::{CutKind, CutSense};

/// Feed per tooth and axial depth of the worked examples, mm.
const FEED: f64 = 0.05;
const DEPTH: f64 = 2.0;

fn geometry(kind: CutKind, sense: CutSense, immersion: f64, teeth: u32, helix: f64) -> CutGeometry {
    CutGeometry {
        diameter: 10.0,
        teeth,
        helix: f64::to_radians(helix),
        depth: DEPTH,
        feed: FEED,
        engagement: Engagement::new(kind, sense, 10.0 * immersion, 10.0),
    }
}

/// Coefficients of the worked examples.
fn steel() -> ForceCoefficients {
    ForceCoefficients { ktc: 2000.0, krc: 800.0, kac: 300.0, kte: 30.0, kre: 25.0, kae: 5.0, thrust: 0.0 }
}

fn history(cut: &CutGeometry, sense: CutSense, offset: f64, k: &ForceCoefficients) -> ForceHistory {
    ForceBasis::new(cut, sense).forces(offset, k)
}

fn means(history: &ForceHistory) -> [f64; 3] {
    [&history.x, &history.y, &history.z].map(ForceHistory::mean)
}

/// Mean forces of a true cutter in closed form: the integral of one tooth's
/// force over its engagement, times teeth over a turn.
fn exact_means(cut: &CutGeometry, k: &ForceCoefficients) -> [f64; 3] {
    let at = |phi: f64| {
        let (sin, cos) = phi.sin_cos();
        let cos_dphi = sin;
        let sin_dphi = -cos;
        let sin_cos = 0.5 * sin * sin;
        let sin_sin = 0.5 * (phi - sin * cos);
        [
            -k.ktc * FEED * sin_cos - k.krc * FEED * sin_sin - k.kte * cos_dphi - k.kre * sin_dphi,
            k.ktc * FEED * sin_sin - k.krc * FEED * sin_cos + k.kte * sin_dphi - k.kre * cos_dphi,
            k.kac * FEED * sin_dphi + k.kae * phi,
        ]
    };
    let (from, to) = (at(cut.engagement.start), at(cut.engagement.exit));
    std::array::from_fn(|i| f64::from(cut.teeth) * DEPTH / TAU * (to[i] - from[i]))
}

fn magnitude(force: [f64; 3]) -> f64 {
    force.iter().map(|part| part * part).sum::<f64>().sqrt()
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    magnitude(std::array::from_fn(|i| a[i] - b[i]))
}

/// Slot, 4 teeth, b 2, fz 0.05 mm: Altintas 2012, eq. 2.25: mean Fx =
/// -N b (Krc fz/4 + Kre/pi) and so on: -143.662, 276.394, 58.197 N.
#[test]
fn mean_forces_of_a_slot() {
    let cut = geometry(CutKind::Slot, CutSense::Conventional, 1.0, 4, 0.0);
    let mean = means(&history(&cut, CutSense::Conventional, 0.0, &steel()));
    for (got, expected) in mean.into_iter().zip([-143.662, 276.394, 58.197]) {
        assert_relative_eq!(got, expected, max_relative = 1e-3);
    }
}

/// The mean does not depend on the helix: every slice sees the same turn.
#[test]
fn the_helix_leaves_the_mean_of_a_slot_alone() {
    for teeth in [1, 2, 3, 4, 5] {
        for helix in [0.0, 15.0, 30.0, 45.0, 60.0] {
            let cut = geometry(CutKind::Slot, CutSense::Conventional, 1.0, teeth, helix);
            let mean = means(&history(&cut, CutSense::Conventional, 0.0, &steel()));
            let exact = exact_means(&cut, &steel());
            assert!(
                distance(mean, exact) < 1.5e-3 * magnitude(exact),
                "{teeth} teeth, {helix}: {mean:?}, exactly {exact:?}"
            );
        }
    }
}

/// Quarter immersion against and with the feed, 4 teeth: means -112.4, +11.5 and
/// +49.3, +104.9 N; the worked example of the two directions.
#[test]
fn mean_forces_of_a_quarter_width_cut() {
    for (sense, x, y) in [(CutSense::Conventional, -112.4, 11.5), (CutSense::Climb, 49.3, 104.9)] {
        let cut = geometry(CutKind::Side, sense, 0.25, 4, 0.0);
        let [mean_x, mean_y, _] = means(&history(&cut, sense, 0.0, &steel()));
        // Sampled every five degrees, edges and all: within half a newton.
        assert!((mean_x - x).abs() < 0.5, "{sense:?}: {mean_x}");
        assert!((mean_y - y).abs() < 0.5, "{sense:?}: {mean_y}");
    }
}

/// The same example tooth by tooth: against the feed Fx -223..-60, Fy -50..+142
/// (the force normal to the wall turns round in every pass); with the feed Fx
/// +13..+96, Fy +50..+262 (it never does).
#[test]
fn one_tooth_turns_the_wall_force_round_only_against_the_feed() {
    // Samples lie up to 2.5 degrees inside the ends of the cut, where force
    // changes by up to 5 N a degree.
    const INSIDE: f64 = 13.0;
    for (sense, x_range, y_range) in
        [(CutSense::Conventional, (-223.0, -60.0), (-50.0, 142.0)), (CutSense::Climb, (13.0, 96.0), (50.0, 262.0))]
    {
        let cut = geometry(CutKind::Side, sense, 0.25, 4, 0.0);
        let force = history(&cut, sense, 0.0, &steel());
        // 60 degrees in the cut, teeth 90 apart: one tooth at most.
        let cutting: Vec<usize> = (0..STEPS).filter(|&step| force.z[step] != 0.0).collect();
        assert_eq!(cutting.len(), 4 * 12);
        for (component, range) in [(&force.x, x_range), (&force.y, y_range)] {
            let ends = cutting
                .iter()
                .fold((f64::MAX, f64::MIN), |(low, high), &step| (low.min(component[step]), high.max(component[step])));
            assert!((ends.0 - range.0).abs() < INSIDE, "{sense:?} {ends:?} {range:?}");
            assert!((ends.1 - range.1).abs() < INSIDE, "{sense:?} {ends:?} {range:?}");
            assert_eq!(ends.0.signum(), range.0.signum(), "{sense:?}");
            assert_eq!(ends.1.signum(), range.1.signum(), "{sense:?}");
        }
    }
}

/// Against the feed the wall force turns where `tan phi = Fr / Ft` (cutting terms
/// alone; from the force balance): 16.7 degrees at 0.3.
#[test]
fn the_wall_force_turns_at_the_friction_angle() {
    let k = ForceCoefficients { ktc: 2000.0, krc: 600.0, ..ForceCoefficients::default() };
    let cut = geometry(CutKind::Side, CutSense::Conventional, 0.25, 1, 0.0);
    let force = history(&cut, CutSense::Conventional, 0.0, &k);
    let turn = 0.3_f64.atan();
    for step in 0..STEPS {
        let angle = (step as f64 + 0.5) * TAU / STEPS as f64;
        if force.z[step] == 0.0 && force.x[step] == 0.0 {
            continue;
        }
        assert_eq!(force.y[step] > 0.0, angle > turn, "at {} degrees", angle.to_degrees());
    }
}

/// Self-feeding: with the feed the mean force pulls the work along below
/// a/D = 0.832, 0.747, 0.666, 0.591 for Kr/Kt = 0.2 .. 0.5, and pushes it back
/// above; against the feed it always pushes (zero of the closed-form mean,
/// computed outside this program to 0.83213, 0.74729 and 0.59118).
#[test]
fn climb_cuts_pull_the_work_below_a_width() {
    for (ratio, limit, tolerance) in
        [(0.2, 0.832_13, 1e-5), (0.3, 0.747_29, 1e-5), (0.4, 0.666, 5e-4), (0.5, 0.591_18, 1e-5)]
    {
        let k = ForceCoefficients { ktc: 1000.0, krc: 1000.0 * ratio, ..ForceCoefficients::default() };
        let forward = |sense, immersion| {
            let cut = geometry(CutKind::Side, sense, immersion, 4, 30.0);
            means(&history(&cut, sense, 0.0, &k))[0]
        };
        assert!(forward(CutSense::Climb, limit - 0.01) > 0.0, "{ratio}");
        assert!(forward(CutSense::Climb, limit + 0.01) < 0.0, "{ratio}");
        for immersion in [0.02, 0.1, 0.3, 0.5, 0.8, 1.0] {
            assert!(forward(CutSense::Conventional, immersion) < 0.0);
        }

        // The feedback of a mode along the feed is the same integral, in closed
        // form: its zero is the limit.
        let feedback = |immersion: f64| {
            let engagement = Engagement::new(CutKind::Side, CutSense::Climb, 10.0 * immersion, 10.0);
            FeedbackGeometry::new(engagement, 4).with(k.ktc, k.krc).feed
        };
        let (mut low, mut high) = (0.3, 1.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if feedback(middle) < 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        assert!((low - limit).abs() < tolerance, "{ratio}: {low}");
    }
}

/// Engagement angles and mean chips: a/D 0.05, 0.1, 0.25 take 25.842, 36.870 and
/// 60 degrees; `hm = 2 fz (a/D) / phi_s` = 0.011 086, 0.015 540, 0.023 873 mm
/// (circle geometry; Klocke, Manufacturing Processes 1, from memory).
#[test]
fn engagement_and_mean_chip() {
    for (immersion, degrees, chip) in [(0.05, 25.842, 0.011_086), (0.1, 36.870, 0.015_540), (0.25, 60.0, 0.023_873)] {
        for sense in [CutSense::Conventional, CutSense::Climb] {
            let cut = geometry(CutKind::Side, sense, immersion, 4, 30.0);
            let span = cut.engagement.span();
            assert_relative_eq!(span.to_degrees(), degrees, max_relative = 2e-5);
            let only_chip = ForceCoefficients { ktc: 1.0, ..ForceCoefficients::default() };
            let area = history(&cut, sense, 0.0, &only_chip).tangential;
            let mean_chip = area * TAU / (4.0 * DEPTH * span);
            // 1.4 % at the shallowest: samples, not geometry.
            assert_relative_eq!(mean_chip, chip, max_relative = 0.02);
        }
        // Against the feed from thin to thick, ending at the angle; with it, mirrored.
        let up = Engagement::new(CutKind::Side, CutSense::Conventional, 10.0 * immersion, 10.0);
        let down = Engagement::new(CutKind::Side, CutSense::Climb, 10.0 * immersion, 10.0);
        assert_eq!(up.start, 0.0);
        assert_eq!(down.exit, PI);
        assert_relative_eq!(up.exit, PI - down.start, max_relative = 1e-12);
    }
    let slot = Engagement::new(CutKind::Slot, CutSense::Climb, 10.0, 10.0);
    assert_eq!((slot.start, slot.exit), (0.0, PI));
    // A centred face cut of 0.6 D: asin 0.6 either side of the feed.
    let face = Engagement::new(CutKind::Face, CutSense::Climb, 6.0, 10.0);
    assert_relative_eq!(face.span().to_degrees(), 73.740, max_relative = 1e-5);
    assert_relative_eq!(face.start + face.exit, PI, max_relative = 1e-12);
}

/// Force at every sample against a plain sum over thin slices of the edge, each
/// behind the one below by its share of the helix (Altintas 2012, ch. 2), which
/// shares nothing with the engine's antiderivatives.
#[test]
fn every_sample_agrees_with_thin_slices() {
    const SLICES: usize = 4000;
    let k = steel();
    for (sense, immersion, teeth, helix, depth) in [
        (CutSense::Conventional, 0.1, 4, 30.0, 2.0),
        (CutSense::Climb, 0.25, 3, 45.0, 8.0),
        (CutSense::Conventional, 1.0, 2, 38.0, 20.0),
        (CutSense::Climb, 0.6, 6, 60.0, 40.0),
    ] {
        let cut = CutGeometry { depth, ..geometry(CutKind::Side, sense, immersion, teeth, helix) };
        let force = history(&cut, sense, 0.0, &k);
        let lag = 2.0 * depth * f64::to_radians(helix).tan() / 10.0;
        let thickness = depth / SLICES as f64;
        for step in 0..STEPS {
            let tip = (step as f64 + 0.5) * TAU / STEPS as f64;
            let mut sum = [0.0; 3];
            for tooth in 0..teeth {
                for slice in 0..SLICES {
                    let behind = lag * (slice as f64 + 0.5) / SLICES as f64;
                    let pitch = TAU * f64::from(tooth) / f64::from(teeth);
                    let angle = (tip + pitch - behind).rem_euclid(TAU);
                    if angle < cut.engagement.start || angle > cut.engagement.exit {
                        continue;
                    }
                    let (sin, cos) = angle.sin_cos();
                    let chip = FEED * sin;
                    let along = thickness * (k.ktc * chip + k.kte);
                    let into = thickness * (k.krc * chip + k.kre);
                    sum[0] += -along * cos - into * sin;
                    sum[1] += along * sin - into * cos;
                    sum[2] += thickness * (k.kac * chip + k.kae);
                }
            }
            let got = [force.x[step], force.y[step], force.z[step]];
            let off = distance(got, sum);
            assert!(off < 2e-3 * magnitude(sum) + 0.05 * depth, "step {step}: {got:?}, slices {sum:?}");
        }
    }
}

/// Power at the edge is the specific force times the volume removed,
/// `P = kc a b vf` (Klocke, Manufacturing Processes 1, from memory): 2000 N/mm2,
/// a 2.5, b 2, fz 0.05 mm, 4 teeth, 1100 rpm: 36.67 W.
#[test]
fn power_is_specific_force_times_volume() {
    let only_chip = ForceCoefficients { ktc: 2000.0, ..ForceCoefficients::default() };
    let cut = geometry(CutKind::Side, CutSense::Climb, 0.25, 4, 30.0);
    let tangential = history(&cut, CutSense::Climb, 0.0, &only_chip).tangential;
    let speed = PI * 10.0 * 1100.0 / 60_000.0; // m/s
    assert_relative_eq!(tangential * speed, 36.667, max_relative = 5e-3);
}

/// Seventy-two samples of a revolution, five degrees apart: how far their mean is
/// from the closed form. Helical teeth in a cut of 1 mm and more spread over a
/// sample and miss by 2.5 % at most; straight teeth and very shallow cuts by up
/// to 13 %, half a sample at either end of the cut, where their span is short.
#[test]
fn seventy_two_samples_are_enough() {
    let mut worst = [0.0_f64; 2];
    for sense in [CutSense::Conventional, CutSense::Climb] {
        for immersion in [0.02, 0.04, 0.05, 0.08, 0.1, 0.17, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 1.0] {
            for teeth in [1, 2, 3, 4, 5, 6] {
                for (helix, depth) in [(0.0, 2.0), (30.0, 0.2), (30.0, 0.5), (30.0, 1.0), (30.0, 2.0), (30.0, 8.0)] {
                    let cut = CutGeometry { depth, ..geometry(CutKind::Side, sense, immersion, teeth, helix) };
                    let exact = exact_means(&cut, &steel()).map(|mean| mean * depth / DEPTH);
                    let got = means(&history(&cut, sense, 0.0, &steel()));
                    let kind = usize::from(helix == 0.0 || depth < 1.0);
                    worst[kind] = worst[kind].max(distance(got, exact) / magnitude(exact));
                }
            }
        }
    }
    assert!(worst[0] < 0.025, "helical: {}", worst[0]);
    assert!(worst[1] < 0.13, "straight or shallow: {}", worst[1]);
}

/// Runout only hands chips from tooth to tooth: while every tooth still cuts
/// through the whole engagement, the sum of chips is that of a true cutter, and
/// so is the mean tangential force (Kline and DeVor, Int. J. Mach. Tool Des. Res.
/// 23 (1983)); one tooth's chip changes by at most 2 rho sin(pi/N).
#[test]
fn runout_conserves_the_chips() {
    for teeth in [2, 3, 4, 6] {
        // A centred face cut starts at a thick chip, so none vanishes.
        let cut = geometry(CutKind::Face, CutSense::Climb, 0.6, teeth, 0.0);
        let basis = ForceBasis::new(&cut, CutSense::Climb);
        let only_chip = ForceCoefficients { ktc: 2000.0, kac: 2000.0, ..ForceCoefficients::default() };
        let true_cutter = basis.forces(0.0, &steel()).tangential;
        for share in [0.05, 0.1, 0.2] {
            let offset = share * FEED;
            assert_relative_eq!(basis.forces(offset, &steel()).tangential, true_cutter, max_relative = 1e-12);
            let swung = basis.forces(offset, &only_chip);
            let steady = basis.forces(0.0, &only_chip);
            let most = 2.0 * offset * (PI / f64::from(teeth)).sin() * 2000.0 * DEPTH;
            let change = (0..STEPS).map(|step| (swung.z[step] - steady.z[step]).abs()).fold(0.0, f64::max);
            // Up to two teeth of six in the cut at once.
            let at_once = (cut.engagement.span() * f64::from(teeth) / TAU).ceil();
            assert!(change > 0.2 * most, "{teeth} {share}: {change} of {most}");
            assert!(change <= at_once * most * (1.0 + 1e-9), "{teeth} {share}: {change} of {most}");
        }
    }
}

/// However the cutter runs out, a turn removes what the feed brings: at every
/// angle the chips of a turn sum to N fz sin phi (conservation of volume; Kline
/// and DeVor 1983). With no edge term the mean tangential force is that sum.
#[test]
fn runout_removes_no_more_than_the_feed_brings() {
    let only_chip = ForceCoefficients { ktc: 1.0, ..ForceCoefficients::default() };
    let mut worst = (0.0_f64, String::new());
    for (kind, immersion) in
        [(CutKind::Side, 0.04), (CutKind::Side, 0.1), (CutKind::Side, 0.25), (CutKind::Face, 0.6), (CutKind::Slot, 1.0)]
    {
        for teeth in [2, 3, 4] {
            let cut = geometry(kind, CutSense::Conventional, immersion, teeth, 30.0);
            let basis = ForceBasis::new(&cut, CutSense::Conventional);
            let area = |share: f64| basis.forces(share * FEED, &only_chip).tangential;
            for share in [0.1, 0.25, 0.5, 1.0, 2.0, 5.0] {
                let off = (area(share) / area(0.0) - 1.0).abs();
                if off > worst.0 {
                    worst = (off, format!("{kind:?} {immersion} D, {teeth} teeth, runout {share} fz"));
                }
            }
        }
    }
    assert!(worst.0 < 0.02, "{} more than the feed brings: {}", worst.0, worst.1);
}

/// Two teeth: one does everything when the run-out swing exceeds the feed,
/// 2 rho >= fz, and each of its chips is twice as thick (circle geometry).
#[test]
fn one_of_two_teeth_does_everything() {
    let cut = geometry(CutKind::Face, CutSense::Climb, 0.6, 2, 0.0);
    let basis = ForceBasis::new(&cut, CutSense::Climb);
    let only_chip = ForceCoefficients { kac: 1.0, ..ForceCoefficients::default() };
    let even = basis.forces(0.0, &only_chip).z;
    let cutting = |z: &[f64; STEPS]| z.iter().filter(|force| **force > 0.0).count();
    assert_eq!(cutting(&basis.forces(0.3 * FEED, &only_chip).z), cutting(&even));
    for share in [0.5, 0.7, 1.0, 3.0] {
        let alone = basis.forces(share * FEED, &only_chip).z;
        assert_eq!(2 * cutting(&alone), cutting(&even), "{share}");
        for step in 0..STEPS {
            assert!(
                alone[step] == 0.0 || (alone[step] / even[step] - 2.0).abs() < 1e-9,
                "runout {share} fz: chips {} times as thick",
                alone[step] / even[step]
            );
        }
    }
}

/// The wall is made where a tooth passes the feed's own direction: at the start
/// of a cut against the feed and at the end of one with it (any account of
/// surface location error, as Kline, DeVor and Shareef, J. Eng. Ind. 104
/// (1982)).
#[test]
fn the_wall_is_made_at_one_end_of_the_cut() {
    for (sense, at) in [(CutSense::Conventional, 0.0), (CutSense::Climb, PI)] {
        let cut = geometry(CutKind::Side, sense, 0.25, 1, 30.0);
        let basis = ForceBasis::new(&cut, sense);
        assert_relative_eq!(basis.wall().iter().sum::<f64>(), 1.0, max_relative = 1e-12);
        let lag = 2.0 * DEPTH * 30.0_f64.to_radians().tan() / 10.0;
        for (step, weight) in basis.wall().iter().enumerate() {
            let past = (step as f64 + 0.5) * TAU / STEPS as f64 - at;
            let past = (past + PI).rem_euclid(TAU) - PI;
            let sample = 0.5 * TAU / STEPS as f64;
            let makes_it = past > -sample - 1e-9 && past < lag + sample + 1e-9;
            assert!(makes_it || *weight == 0.0, "{sense:?} {}", past.to_degrees());
            let surely = past > 0.0 && past < lag;
            assert!(!surely || *weight > 0.0, "{sense:?} {}", past.to_degrees());
        }
    }
}
