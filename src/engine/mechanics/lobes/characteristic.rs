//! Multipliers outside the unit circle, counted from the characteristic
//! function.
//!
//! The delay of milling is its period, so a motion that multiplies by `u` each
//! tooth has the delayed displacement `q(t - T) = q(t) / u`, and the equation
//! loses its delay: with `z = 1/u` it is an ordinary one with the coefficients
//! times `1 - z` (Szalai, Stepan and Hogan, SIAM J. Sci. Comput. 28 (2006), call
//! this the characteristic matrix; from memory). With its solution `P(z)` over one tooth,
//!
//! ```text
//! F(z) = det(1 - z P(z))
//! ```
//!
//! is analytic, and the unstable multipliers are its zeros inside the unit
//! circle. Their number is how often `F` goes round the origin while `z` goes
//! round the circle once. It is odd exactly if `F(-1)` is negative, since `F(1)`
//! is positive at any depth: a limit at which it turns odd is a period doubling.

use std::f64::consts::{PI, TAU};

use super::directional::{Coupling, Directional};
use super::matrix::determinant;
use super::series::{Series, winding};
use super::{Complex, Freedom, Limit, Loss, Milling, OrientedMode, Scan, Verdict, first_limit};
use crate::order;

/// Points on the circle worked together, so that they become vector
/// instructions.
const LANES: usize = 2;
type Lanes = [f64; LANES];
/// Displacement and velocity of each mode; real and imaginary parts apart.
type Motion<const M: usize> = [[[Lanes; 2]; M]; 2];

/// Spaces between the points on half the circle that are looked at first, and at
/// most: a multiplier on the circle needs infinitely many.
const SPACES: [usize; 2] = [6, 6 << 7];

/// Radians of the fastest oscillation in one step through the cut: what makes
/// limits exact to a ten-thousandth.
const STRIDE: f64 = 0.5;
/// The same for a drawing, exact to a thousandth: the error goes with the fourth
/// power.
const DRAWN_STRIDE: f64 = 0.95;
/// Largest angle the cutter turns in one step through the cut, rad.
const ANGLE: f64 = 0.3;
/// Steps in one stretch of the cut at most: beyond some hundred waves from tooth
/// to tooth lobes cannot be told apart anyway.
const STEPS: f64 = 2048.0;

/// Number of unstable multipliers at `speed` rpm and `depth` mm.
pub fn unstable_multipliers(milling: &Milling, speed: f64, depth: f64) -> u32 {
    match &milling.modes {
        Freedom::One(modes) => Characteristic::new(milling, modes, speed, depth, STRIDE).unstable_multipliers(),
        Freedom::Two(modes) => Characteristic::new(milling, modes, speed, depth, STRIDE).unstable_multipliers(),
    }
}

/// Whether the cut is stable, and if it just lost stability, which way.
pub fn verdict(milling: &Milling, speed: f64, depth: f64) -> Verdict {
    verdict_in_strides(milling, speed, depth, STRIDE)
}

/// [`verdict`], sooner and as exactly as a drawing shows.
pub(super) fn drawn_verdict(milling: &Milling, speed: f64, depth: f64) -> Verdict {
    verdict_in_strides(milling, speed, depth, DRAWN_STRIDE)
}

fn verdict_in_strides(milling: &Milling, speed: f64, depth: f64, stride: f64) -> Verdict {
    match &milling.modes {
        Freedom::One(modes) => Characteristic::new(milling, modes, speed, depth, stride).verdict(),
        Freedom::Two(modes) => Characteristic::new(milling, modes, speed, depth, stride).verdict(),
    }
}

/// The mean of `log |F|` over the circle, from evenly spaced points on half of it.
fn growth(values: &[Complex]) -> f64 {
    let weights = values.windows(2).map(|pair| pair[0].norm().ln() + pair[1].norm().ln());
    // A quarter: squared magnitudes, and each point is in two pairs.
    0.25 * weights.sum::<f64>() / (values.len() - 1) as f64
}

/// Smallest depth at which the cut loses stability, at `speed` rpm.
pub fn limit(milling: &Milling, speed: f64, scan: Scan) -> Option<Limit> {
    first_limit(scan, |depth| verdict(milling, speed, depth))
}

/// A stretch without cutting, then a kick by the cutting force. A chain of these
/// is a step of fourth order in time, exact while nothing cuts (Chin, Phys.
/// Lett. A 226 (1997), scheme A, from memory: its force gradient is the square of
/// the coefficients here).
#[derive(Clone, Copy, Debug)]
struct Stage<const M: usize> {
    /// Displacement and velocity of each mode, row by row.
    flight: [[f64; 4]; M],
    /// Velocity lost per displacement, times `1 - z`.
    kick: Coupling<M>,
    /// Velocity gained per displacement, times `(1 - z)` squared.
    gradient: Coupling<M>,
}

impl<const M: usize> Stage<M> {
    fn flight(flight: [[f64; 4]; M]) -> Self {
        Stage { flight, kick: [[0.0; M]; M], gradient: [[0.0; M]; M] }
    }
}

/// The characteristic function of one cut.
struct Characteristic<'a, const M: usize> {
    modes: &'a [OrientedMode; M],
    /// From tooth to tooth, s.
    period: f64,
    stages: Vec<Stage<M>>,
}

impl<'a, const M: usize> Characteristic<'a, M> {
    fn new(milling: &Milling, modes: &'a [OrientedMode; M], speed: f64, depth: f64, stride: f64) -> Self {
        let directional = Directional::new(milling, modes, depth);
        let (period, pitch) = (milling.period(speed), milling.pitch());
        let flight = |time: f64| modes.map(|mode| free_flight(&mode, time));
        let fastest = modes.iter().map(OrientedMode::omega).fold(0.0, f64::max);
        let cut = depth * directional.bound();
        let oscillation = (fastest * fastest + cut).sqrt() * period / pitch;
        let mut stages: Vec<Stage<M>> = vec![Stage::flight(flight(0.0))];
        for ends in directional.breaks().windows(2) {
            let (from, span) = (ends[0], ends[1] - ends[0]);
            let time = span * period / pitch;
            if directional.at(from + 0.5 * span).is_none() {
                stages.push(Stage::flight(flight(time)));
                continue;
            }
            let steps = (span * (oscillation / stride).max(1.0 / ANGLE)).ceil().clamp(1.0, STEPS);
            let step = time / steps;
            let half = flight(0.5 * step);
            // Values at the ends of a stretch are those just inside it.
            let at = |step: f64| {
                let share = (step / steps).clamp(1e-9, 1.0 - 1e-9);
                directional.at(from + share * span).unwrap_or([[0.0; M]; M])
            };
            add_kick(&mut stages, &at(0.0), depth * step / 6.0);
            for i in 0..steps as u32 {
                let i = f64::from(i);
                let middle = at(i + 0.5);
                let mut stage = Stage::flight(half);
                let gradient = depth * depth * step.powi(3) / 36.0;
                for row in 0..M {
                    for column in 0..M {
                        stage.kick[row][column] = 2.0 / 3.0 * depth * step * middle[row][column];
                        let square: f64 = (0..M).map(|k| middle[row][k] * middle[k][column]).sum();
                        stage.gradient[row][column] = gradient * square;
                    }
                }
                stages.push(stage);
                stages.push(Stage::flight(half));
                let share = if i + 1.0 == steps { 1.0 } else { 2.0 };
                add_kick(&mut stages, &at(i + 1.0), share * depth * step / 6.0);
            }
        }
        Characteristic { modes, period, stages }
    }

    fn unstable_multipliers(&self) -> u32 {
        let mut values = self.first_values();
        loop {
            if let Some(zeros) = self.zeros_inside(&values) {
                return zeros;
            }
            self.add_between(&mut values);
        }
    }

    /// Deep in the unstable range the count is not needed: the mean of `log |F|`
    /// over the circle is the sum of `log |u|` over the unstable multipliers
    /// (Jensen's formula, `F(0)` being one).
    fn verdict(&self) -> Verdict {
        /// A mean taken over few points is too large by less than `ln 2` per point of
        /// the circle for each stable multiplier close to it: for some ten of them, by
        /// less than this per space on half of it.
        const CERTAIN: f64 = 5.5;
        let mut values = self.first_values();
        if values.last().is_some_and(|value| value.re < 0.0) {
            return Verdict::Unstable(Loss::Flip);
        }
        loop {
            if growth(&values) * (values.len() - 1) as f64 > CERTAIN {
                return Verdict::Unstable(Loss::Hopf);
            }
            match self.zeros_inside(&values) {
                Some(0) => return Verdict::Stable,
                Some(_) => return Verdict::Unstable(Loss::Hopf),
                None => self.add_between(&mut values),
            }
        }
    }

    /// `F` at evenly spaced angles of `z` from 0 to pi.
    fn first_values(&self) -> Vec<Complex> {
        let [spaces, _] = SPACES;
        let angles: Vec<f64> = (0..=spaces).map(|i| PI * i as f64 / spaces as f64).collect();
        self.along(&angles)
    }

    /// Halves the spaces between values.
    fn add_between(&self, values: &mut Vec<Complex>) {
        let space = PI / (values.len() - 1) as f64;
        let middles: Vec<f64> = (1..values.len()).map(|i| space * (i as f64 - 0.5)).collect();
        let between = self.along(&middles);
        let last = values.last().copied();
        *values = values.iter().zip(between).flat_map(|(&at, after)| [at, after]).chain(last).collect();
    }

    /// `F` at each angle.
    fn along(&self, angles: &[f64]) -> Vec<Complex> {
        angles.chunks(LANES).flat_map(|chunk| self.at(chunk).into_iter().take(chunk.len())).collect()
    }

    /// How many zeros lie inside the unit circle, if that many `values` at evenly
    /// spaced angles of `z` from 0 to pi tell.
    ///
    /// `F` is followed by the series through them: what differs from it by less than
    /// its magnitude goes round the origin as often (Rouche).
    fn zeros_inside(&self, values: &[Complex]) -> Option<u32> {
        let series = Series::through(values);
        let error = series.error();
        if !error.is_finite() {
            // The motion outgrew the numbers.
            return Some(2);
        }
        let [_, most] = SPACES;
        let settled = |least: f64| least > error || values.len() > most;
        if !settled(values.iter().map(|value| value.abs()).fold(f64::INFINITY, f64::min)) {
            return None;
        }
        let (turned, least) = winding(&self.angles(), |angle| series.at(angle));
        // Half the circle; the other half mirrors it.
        settled(least).then(|| (turned / PI).round().max(0.0) as u32)
    }

    /// Angles of `z` from 0 to pi, close enough to follow the phase: evenly, and
    /// gathered where a free vibration comes near the circle.
    fn angles(&self) -> Vec<f64> {
        const PARTS: f64 = 22.0;
        const MOST: f64 = 440.0;
        let parts = (PARTS + self.turned()).min(MOST).ceil() as u32;
        let space = PI / f64::from(parts);
        let mut angles: Vec<f64> = (0..=parts).map(|i| space * f64::from(i)).collect();
        for oriented in self.modes {
            let damping = oriented.mode.damping;
            let omega = oriented.omega() * self.period;
            let centre = omega * (1.0 - damping * damping).sqrt();
            for widths in [0.0, 0.4, 1.0, 2.0, 4.0] {
                let offset = widths * damping * omega;
                if offset < space {
                    let folded = |angle: f64| PI - (angle.rem_euclid(TAU) - PI).abs();
                    angles.extend([folded(centre - offset), folded(centre + offset)]);
                }
            }
        }
        order::ascending(&mut angles);
        angles
    }

    /// About how many radians the cut turns the phase on while `z` goes half
    /// round: by the kicks that each mode gets over its frequency.
    fn turned(&self) -> f64 {
        let of = |i: usize| {
            let kicks: f64 = self.stages.iter().flat_map(|stage| &stage.kick[i]).map(|kick| kick.abs()).sum();
            kicks / self.modes[i].omega()
        };
        0.5 * PI * (0..M).map(of).sum::<f64>()
    }

    /// `F` at a few angles of `z`; those missing are filled up.
    fn at(&self, angles: &[f64]) -> [Complex; LANES] {
        let z: [Complex; LANES] = std::array::from_fn(|lane| Complex::turn(angles.get(lane).copied().unwrap_or(0.0)));
        let gain = z.map(|z| Complex::real(1.0) - z);
        let square = gain.map(|gain| gain * gain);
        let (gain, square) = (split(gain), split(square));
        let size = 2 * M;
        let mut maps = vec![Complex::default(); LANES * size * size];
        let columns = self.solve(&gain, &square);
        for (column, state) in columns.iter().flatten().enumerate() {
            for (row, [re, im]) in state.iter().flatten().enumerate() {
                for lane in 0..LANES {
                    let moved = -(z[lane] * Complex::new(re[lane], im[lane]));
                    let stays = Complex::real(if row == column { 1.0 } else { 0.0 });
                    maps[lane * size * size + row * size + column] = stays + moved;
                }
            }
        }
        let mut maps = maps.chunks_exact_mut(size * size);
        std::array::from_fn(|_| maps.next().map_or(Complex::default(), |map| determinant(map, size)))
    }

    /// Motion over one tooth from each displacement at one, then each velocity.
    fn solve(&self, gain: &[Lanes; 2], square: &[Lanes; 2]) -> [[Motion<M>; M]; 2] {
        let mut columns = [[[[[[0.0; LANES]; 2]; M]; 2]; M]; 2];
        for (of, columns) in columns.iter_mut().enumerate() {
            for (i, column) in columns.iter_mut().enumerate() {
                column[of][i][0] = [1.0; LANES];
            }
        }
        for stage in &self.stages {
            let factors: [[[Lanes; 2]; M]; M] = std::array::from_fn(|i| {
                std::array::from_fn(|k| {
                    let (kick, gradient) = (stage.kick[i][k], stage.gradient[i][k]);
                    std::array::from_fn(|part| {
                        std::array::from_fn(|lane| gradient * square[part][lane] - kick * gain[part][lane])
                    })
                })
            });
            for column in columns.iter_mut().flatten() {
                advance(column, &stage.flight, &factors);
            }
        }
        columns
    }
}

/// One stage of one motion.
#[inline(always)]
fn advance<const M: usize>([q, v]: &mut Motion<M>, flight: &[[f64; 4]; M], factors: &[[[Lanes; 2]; M]; M]) {
    for i in 0..M {
        let [a, b, c, d] = flight[i];
        for part in 0..2 {
            for lane in 0..LANES {
                let (x, y) = (q[i][part][lane], v[i][part][lane]);
                q[i][part][lane] = a * x + b * y;
                v[i][part][lane] = c * x + d * y;
            }
        }
    }
    for i in 0..M {
        for k in 0..M {
            let [re, im] = &factors[i][k];
            for lane in 0..LANES {
                let [x, y] = [q[k][0][lane], q[k][1][lane]];
                v[i][0][lane] += re[lane] * x - im[lane] * y;
                v[i][1][lane] += re[lane] * y + im[lane] * x;
            }
        }
    }
}

/// Real and imaginary parts apart.
fn split(values: [Complex; LANES]) -> [Lanes; 2] {
    [values.map(|value| value.re), values.map(|value| value.im)]
}

/// Adds to the kick of the last stage.
fn add_kick<const M: usize>(stages: &mut [Stage<M>], coupling: &Coupling<M>, scale: f64) {
    if let Some(stage) = stages.last_mut() {
        for (row, added) in stage.kick.iter_mut().zip(coupling) {
            for (cell, added) in row.iter_mut().zip(added) {
                *cell += scale * added;
            }
        }
    }
}

/// Displacement and velocity of a mode after `time` s on its own, row by row.
fn free_flight(oriented: &OrientedMode, time: f64) -> [f64; 4] {
    let (omega, damping) = (oriented.omega(), oriented.mode.damping);
    let damped = omega * (1.0 - damping * damping).sqrt();
    let (sin, cos) = (damped * time).sin_cos();
    let decay = (-damping * omega * time).exp();
    let sway = damping * omega / damped * sin;
    [decay * (cos + sway), decay * sin / damped, -decay * omega * omega / damped * sin, decay * (cos - sway)]
}
