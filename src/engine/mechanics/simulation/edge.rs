//! The edges in the work: chip thickness from the surfaces left before, and the
//! force of it.
//!
//! At each angle and height the work remembers the deepest surface so far, as
//! the distance of the tooth tip along its radius in coordinates of the work.
//! A tooth cuts what lies between that and itself, so a tooth that leaves the
//! cut leaves the older surface to a later one, however many passes later:
//! `h = min over k of k f sin + u(t) - u(t - kT) + r_j - r_(j-k)`. Tlusty and
//! Ismail, CIRP Annals 30 (1981).

use std::f64::consts::{PI, TAU};

use super::chance::uneven;
use super::input::Milling;
use crate::work::CutSense;

/// Longest stretch of helix taken as straight, rad.
const SLICE: f64 = 0.06;

/// Passes after which the unsteadiness starts over; a power of two.
const PASSES: i64 = 1024;

/// Fewest steps that resolve one tooth's way through the work.
pub(super) const STEPS_IN_CUT: f64 = 40.0;

/// One angle of a slice: that of the middle of what lies in the work.
#[derive(Clone, Copy, Debug)]
struct Angle {
    sin: f64,
    cos: f64,
    /// Share of the slice that lies in the work.
    share: f64,
    /// Curvature of the tooth's path, as seen along the radius, over one feed:
    /// `(f cos)^2 / 2R`.
    recede: f64,
}

/// Deepest surface at one angle and height.
#[derive(Clone, Copy, Debug)]
struct Surface {
    deepest: f64,
    /// The pass that left it.
    pass: i64,
}

/// A stretch of the helix.
#[derive(Clone, Copy, Debug)]
struct Slice {
    /// Steps since a tooth came to the first angle, and its pass.
    rest: usize,
    pass: i64,
}

/// A tooth near a marking angle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Passing {
    pub slice: usize,
    pub tooth: usize,
    /// Steps since it was there; negative before.
    pub steps: i64,
}

/// All edges.
#[derive(Clone, Debug)]
pub(super) struct Edges {
    slices: Vec<Slice>,
    angles: Vec<Angle>,
    surfaces: Vec<Surface>,
    offsets: Vec<f64>,
    /// Steps from tooth to tooth.
    pitch: usize,
    teeth: i64,
    feed_per_step: f64,
    /// Coefficients times the height of a slice: N/mm for `h`, N for the edge.
    radial: [f64; 2],
    tangential: [f64; 2],
    axial: [f64; 2],
    /// Force of rubbing over velocity, N s/mm.
    rub: f64,
    /// By which the force of one pass differs from the usual; over and over.
    unsteady: Vec<f64>,
    wall: Place,
    floor: Place,
}

/// Where a mark is made, in steps and pitches from the first angle.
#[derive(Clone, Copy, Debug)]
struct Place {
    rest: usize,
    pitches: i64,
}

impl Place {
    fn new(steps: i64, pitch: i64) -> Self {
        Place { rest: steps.rem_euclid(pitch) as usize, pitches: steps.div_euclid(pitch) }
    }
}

/// Slices of the edges in `milling`.
pub(super) fn slices(milling: &Milling) -> usize {
    let lag = 2.0 * milling.geometry.depth * milling.geometry.helix.tan() / milling.geometry.diameter;
    let finest = SLICE.min(milling.geometry.engagement.span() / 8.0);
    ((lag / finest).ceil() as usize).clamp(1, 64)
}

impl Edges {
    pub fn new(milling: &Milling, per_revolution: usize) -> Self {
        let geometry = &milling.geometry;
        let k = &milling.coefficients;
        let teeth = geometry.teeth as usize;
        let pitch = per_revolution / teeth;
        let turn = TAU / per_revolution as f64;
        let bin = |angle: f64| (angle / turn).round() as i64;
        let (start, exit) = (geometry.engagement.start, geometry.engagement.exit);
        let count = slices(milling);
        let height = geometry.depth / count as f64;
        let lag = 2.0 * height * geometry.helix.tan() / geometry.diameter;
        // A slice comes in and goes out as gradually as its own lag makes it.
        let width = lag.max(turn);
        let first = ((start - 0.5 * width) / turn - 0.5).ceil() as i64;
        let last = ((exit + 0.5 * width) / turn + 0.5).floor() as i64;
        let lags = (0..count).map(|slice| (slice as f64 + 0.5) * lag);
        // A slice trails by whole steps and, in its angles, by what is left.
        let behind: Vec<i64> = lags.clone().map(|lag| bin(lag) + first).collect();
        let radius = 0.5 * geometry.diameter;
        let angles: Vec<Angle> = lags
            .flat_map(|lag| {
                let shift = bin(lag) as f64 * turn - lag;
                (first..=last).map(move |index| {
                    let middle = index as f64 * turn + shift;
                    let (from, to) = ((middle - 0.5 * width).max(start), (middle + 0.5 * width).min(exit));
                    let (sin, cos) = (0.5 * (from + to)).sin_cos();
                    let recede = (geometry.feed * cos).powi(2) / (2.0 * radius);
                    Angle { sin, cos, share: ((to - from) / width).max(0.0), recede }
                })
            })
            .collect();
        let offsets = if milling.offsets.is_empty() { vec![0.0; teeth] } else { milling.offsets.clone() };

        // Before the first step, teeth passed as if nothing had moved.
        let mut surfaces = Vec::with_capacity(angles.len());
        let pitches = pitch as i64;
        let bins = angles.len() / count;
        for (&behind, angles) in behind.iter().zip(angles.chunks_exact(bins)) {
            for (index, angle) in angles.iter().enumerate() {
                let behind = behind + index as i64;
                let next = (-behind).div_euclid(pitches) + i64::from(behind % pitches != 0);
                let left = (1..=teeth as i64).map(|back| {
                    let pass = next - back;
                    let fed = geometry.feed * (pass as f64 + behind as f64 / pitch as f64);
                    let tooth = (-pass).rem_euclid(teeth as i64) as usize;
                    Surface { deepest: fed * angle.sin + offsets[tooth], pass }
                });
                let deepest = left.max_by(|a, b| a.deepest.total_cmp(&b.deepest));
                surfaces.extend(deepest);
            }
        }
        let slices = behind
            .iter()
            .map(|behind| Slice { rest: (-behind).rem_euclid(pitches) as usize, pass: (-behind).div_euclid(pitches) })
            .collect();
        let wall = match milling.sense {
            CutSense::Conventional => 0,
            CutSense::Climb => per_revolution as i64 / 2,
        };
        let surface_speed = PI * geometry.diameter * milling.speed / 60.0;
        Edges {
            slices,
            angles,
            surfaces,
            offsets,
            pitch,
            teeth: teeth as i64,
            feed_per_step: geometry.feed / pitch as f64,
            radial: [height * k.krc, height * k.kre],
            tangential: [height * k.ktc, height * k.kte],
            axial: [height * (k.kac - k.thrust * k.krc), height * (k.kae - k.thrust * k.kre)],
            rub: height * milling.rubbing * 1e-3 / surface_speed,
            // An even spread from -1 to 1 has a standard deviation of 1/sqrt 3.
            unsteady: (0..PASSES).map(|i| 1.0 + milling.unsteadiness * 3.0_f64.sqrt() * uneven(i as u32, 0)).collect(),
            wall: Place::new(wall - first, pitches),
            floor: Place::new(bin(floor_angle(milling)) - first, pitches),
        }
    }

    /// Goes on by one step.
    #[inline]
    pub fn turn(&mut self) {
        for slice in &mut self.slices {
            slice.rest += 1;
            if slice.rest == self.pitch {
                slice.rest = 0;
                slice.pass += 1;
            }
        }
    }

    /// Force (N) at step `step` with the tool at `at` (mm), moving at `velocity`
    /// (mm/s), and the surfaces cut.
    #[inline]
    pub fn cut(&mut self, step: usize, at: &[f64; 3], velocity: &[f64; 3]) -> [f64; 3] {
        let fed = self.feed_per_step * step as f64;
        let bins = self.angles.len() / self.slices.len();
        let mut force = [0.0; 3];
        let tables = self.angles.chunks_exact(bins).zip(self.surfaces.chunks_exact_mut(bins));
        for (slice, (angles, surfaces)) in self.slices.iter().zip(tables) {
            // The teeth of this slice stand a pitch apart.
            let mut index = slice.rest;
            let mut pass = slice.pass;
            while let (Some(angle), Some(surface)) = (angles.get(index), surfaces.get_mut(index)) {
                let tooth = (-pass).rem_euclid(self.teeth) as usize;
                let tip = (fed + at[0]) * angle.sin + at[1] * angle.cos + self.offsets[tooth];
                let age = (pass - surface.pass) as f64;
                let reach = tip - surface.deepest + angle.recede * age * age;
                if reach > 0.0 {
                    *surface = Surface { deepest: tip, pass };
                }
                // The chip formula leaves out the curvature over a single feed.
                let chip = reach - angle.recede;
                if chip > 0.0 {
                    let rubbing = self.rub * (velocity[0] * angle.sin + velocity[1] * angle.cos);
                    let unsteady = self.unsteady[(pass & (PASSES - 1)) as usize];
                    let share = angle.share * unsteady;
                    let tangential = share * (self.tangential[0] * chip + self.tangential[1]);
                    let radial = share * (self.radial[0] * chip + self.radial[1]) + angle.share * rubbing;
                    force[0] -= tangential * angle.cos + radial * angle.sin;
                    force[1] += tangential * angle.sin - radial * angle.cos;
                    force[2] += share * (self.axial[0] * chip + self.axial[1]);
                }
                index += self.pitch;
                pass -= 1;
            }
        }
        force
    }

    /// The teeth nearest to the wall, slice by slice.
    #[inline]
    pub fn near_wall(&self) -> impl Iterator<Item = Passing> + '_ {
        (0..self.slices.len()).map(|slice| self.nearest(slice, self.wall))
    }

    /// The tooth whose tip passes where the floor is made.
    #[inline]
    pub fn at_floor(&self) -> Option<Passing> {
        Some(self.nearest(0, self.floor)).filter(|passing| passing.steps == 0)
    }

    #[inline]
    fn nearest(&self, slice: usize, place: Place) -> Passing {
        let Slice { rest, pass } = self.slices[slice];
        let pitch = self.pitch as i64;
        let past = rest as i64 - place.rest as i64;
        let next = i64::from(past > pitch / 2) - i64::from(past < -pitch / 2);
        let tooth = (place.pitches - pass - next).rem_euclid(self.teeth) as usize;
        Passing { slice, tooth, steps: past - next * pitch }
    }

    /// Radial offset of a tooth, mm.
    pub fn offset(&self, tooth: usize) -> f64 {
        self.offsets[tooth]
    }
}

/// Angle at which the floor is marked, rad: ahead of the axis, or as near to it
/// as the work reaches.
pub(super) fn floor_angle(milling: &Milling) -> f64 {
    let engagement = milling.geometry.engagement;
    (0.5 * PI).clamp(engagement.start, engagement.exit)
}
