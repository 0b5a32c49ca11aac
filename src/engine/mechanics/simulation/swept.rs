//! What tips leave of a wall as they sweep along it.
//!
//! A tooth goes on vibrating while it passes the wall, so its mark is no smooth
//! arc: the whole way of its tip is followed, and of all ways the deepest at each
//! place is what shows.

use std::f64::consts::TAU;

use super::input::Milling;
use super::marks::{Grid, POINTS};
use super::{edge, wall_sign};
use crate::mechanics::force::CutGeometry;

/// A tip further than this (mm) off the wall on its arc has nothing to do with it:
/// no tool swings so far.
const REACH: f64 = 0.1;

/// The wall, slice by slice.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Swept {
    grid: Grid,
    /// Depth beyond the ideal surface at each point of the grid.
    slices: Vec<Vec<f64>>,
    /// Where the tip of each slice was a step ago.
    before: Vec<Option<[f64; 2]>>,
    radius: f64,
    /// +1 where teeth pass the wall along the feed, -1 where against it.
    sense: f64,
    /// Angle of a step, rad.
    turn: f64,
    /// Steps before and after the wall in which a tip is followed.
    window: i64,
    /// Curvature of a tip's way, 1/mm: a trochoid's. Martellotti, Trans. ASME 63
    /// (1941).
    curvature: f64,
}

impl Swept {
    /// Of the second half of a cut of `passes` teeth, as yet uncut; `per_revolution`
    /// steps make a turn.
    pub fn new(milling: &Milling, per_revolution: usize, passes: usize) -> Self {
        let CutGeometry { diameter, teeth, feed, .. } = milling.geometry;
        let radius = 0.5 * diameter;
        let fed = feed * passes as f64;
        let spacing = feed / POINTS;
        let grid = Grid { from: 0.5 * fed, spacing, count: (0.5 * fed / spacing) as usize };
        let turn = TAU / per_revolution as f64;
        let on_arc = ((2.0 * REACH / radius).sqrt() / turn) as i64;
        // Speed of the tooth along the wall over that of turning: the feed adds in
        // conventional cutting and takes away in climb.
        let sense = wall_sign(milling);
        let along = 1.0 + sense * feed * f64::from(teeth) / (TAU * radius);
        let slices = edge::slices(milling);
        Swept {
            grid,
            slices: vec![vec![f64::NEG_INFINITY; grid.count]; slices],
            before: vec![None; slices],
            radius,
            sense,
            turn,
            // A tooth that comes is not the one that went.
            window: on_arc.min((per_revolution as i64 / i64::from(teeth) - 1) / 2),
            curvature: 1.0 / (radius * along * along),
        }
    }

    /// Moves the tip of `slice` on: it is `steps` past the wall; right at it, with
    /// the tool where it is, it would be at `x` along the feed and reach `depth`.
    #[inline]
    pub fn pass(&mut self, slice: usize, steps: i64, x: f64, depth: f64) {
        if steps.abs() > self.window {
            self.before[slice] = None;
            return;
        }
        let (sin, cos) = (steps as f64 * self.turn).sin_cos();
        let now = [x + self.sense * self.radius * sin, depth - self.radius * (1.0 - cos)];
        let Some(before) = self.before[slice].replace(now) else { return };
        let [low, high] = if before[0] <= now[0] { [before, now] } else { [now, before] };
        let Grid { from, spacing, count } = self.grid;
        let index = |x: f64| ((x - from) / spacing).ceil().clamp(0.0, count as f64) as usize;
        let (first, last) = (index(low[0]), index(high[0]));
        let rise = (high[1] - low[1]) / (high[0] - low[0]).max(f64::MIN_POSITIVE);
        for (point, deepest) in self.slices[slice].iter_mut().enumerate().take(last).skip(first) {
            let x = from + point as f64 * spacing;
            let bulge = 0.5 * self.curvature * (x - low[0]) * (high[0] - x);
            *deepest = deepest.max(low[1] + rise * (x - low[0]) + bulge);
        }
    }

    /// Heights of what is left standing of `slice` at the points in `grid`.
    pub fn heights(&self, slice: usize, grid: &Grid) -> Vec<f64> {
        let Some(deepest) = self.slices.get(slice) else { return Vec::new() };
        let first = ((grid.from - self.grid.from) / grid.spacing).ceil().max(0.0) as usize;
        deepest.iter().skip(first).take(grid.count).map(|depth| -depth).collect()
    }
}
