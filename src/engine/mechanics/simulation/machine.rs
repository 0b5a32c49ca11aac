//! All that moves, added up.

use std::f64::consts::TAU;

use super::contact::{Bearings, Slider};
use super::input::{OrientedMode, Structure};
use super::oscillator::Oscillator;

const AXES: [[f64; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

/// A machine, step by step: [`Machine::predict`], then the cutting force where
/// that leads, then [`Machine::correct`].
#[derive(Clone, Debug)]
pub(super) struct Machine {
    modes: Vec<Oscillator>,
    spindle: Option<Spindle>,
    work: Option<Work>,
}

/// The spindle in its bearings.
#[derive(Clone, Debug)]
struct Spindle {
    bearings: Bearings,
    body: [Oscillator; 3],
    lowest: [f64; 3],
    highest: [f64; 3],
    loose: usize,
}

/// The work in its holding.
#[derive(Clone, Debug)]
struct Work {
    slider: Slider,
    body: [Oscillator; 3],
    lifted: f64,
}

impl Machine {
    /// At rest, for steps of `dt` (s).
    pub fn new(structure: &Structure, dt: f64) -> Self {
        let modes = structure.modes.iter().map(|mode| Oscillator::mode(mode, dt)).collect();
        let spindle = structure.spindle.as_ref().map(|spindle| {
            let bearings = Bearings::new(spindle);
            let at = bearings.rest();
            let body = std::array::from_fn(|axis| {
                let mut body = Oscillator::body(spindle.mass, AXES[axis], dt);
                body.rest(at[axis], 0.0);
                body
            });
            Spindle { bearings, body, lowest: [f64::INFINITY; 3], highest: [f64::NEG_INFINITY; 3], loose: 0 }
        });
        let work = structure.holding.as_ref().map(|holding| {
            let body = std::array::from_fn(|axis| {
                let stiffness = holding.stiffness[axis];
                let frequency = (stiffness * 1e3 / holding.mass).sqrt() / TAU;
                let damping = holding.damping;
                Oscillator::mode(&OrientedMode { stiffness, damping, frequency, direction: AXES[axis] }, dt)
            });
            Work { slider: Slider::new(holding), body, lifted: 0.0 }
        });
        Machine { modes, spindle, work }
    }

    /// Goes on by a step under the force as it was; displacement (mm) and
    /// velocity (mm/s) of the tool against the work there.
    #[inline]
    pub fn predict(&mut self) -> ([f64; 3], [f64; 3]) {
        let (mut at, mut velocity) = ([0.0; 3], [0.0; 3]);
        for mode in &mut self.modes {
            mode.predict();
            add_along(&mode.direction, mode.at, &mut at);
            add_along(&mode.direction, mode.velocity, &mut velocity);
        }
        let spindle = self.spindle.iter_mut().map(|spindle| &mut spindle.body);
        for body in spindle.chain(self.work.iter_mut().map(|work| &mut work.body)) {
            for (axis, part) in body.iter_mut().enumerate() {
                part.predict();
                at[axis] += part.at;
                velocity[axis] += part.velocity;
            }
        }
        (at, velocity)
    }

    /// Ends the step with cutting force `force` (N) on the tool; gives the
    /// displacement. `watched` steps count for what is told of the spindle.
    #[inline]
    pub fn correct(&mut self, force: &[f64; 3], watched: bool) -> [f64; 3] {
        let mut at = [0.0; 3];
        for mode in &mut self.modes {
            mode.correct(mode.share(force));
            add_along(&mode.direction, mode.at, &mut at);
        }
        if let Some(Spindle { bearings, body, lowest, highest, loose }) = &mut self.spindle {
            let place = [body[0].at, body[1].at, body[2].at];
            let pushed = bearings.force(place, [body[0].velocity, body[1].velocity, body[2].velocity]);
            add_corrected(body, force, &pushed, &mut at);
            if watched {
                for axis in 0..3 {
                    lowest[axis] = lowest[axis].min(place[axis]);
                    highest[axis] = highest[axis].max(place[axis]);
                }
                *loose += usize::from(bearings.loose(place));
            }
        }
        if let Some(Work { slider, body, lifted }) = &mut self.work {
            let held = slider.force([body[0].at, body[1].at, body[2].at]);
            add_corrected(body, force, &held, &mut at);
            *lifted = lifted.max(body[2].at);
        }
        at
    }

    /// Peak to peak (mm) of the spindle in its bearings while watched.
    pub fn spindle_travel(&self) -> [f64; 3] {
        let travel = |spindle: &Spindle| std::array::from_fn(|axis| spindle.highest[axis] - spindle.lowest[axis]);
        self.spindle.as_ref().map_or([0.0; 3], travel)
    }

    /// Watched steps in which the spindle touched nothing radially.
    pub fn loose(&self) -> usize {
        self.spindle.as_ref().map_or(0, |spindle| spindle.loose)
    }

    /// How far (mm) the work has slipped in its holding, as the tool sees it.
    pub fn slipped(&self) -> [f64; 3] {
        self.work.as_ref().map_or([0.0; 3], |work| work.slider.slipped)
    }

    /// The highest (mm) the work was lifted.
    pub fn lifted(&self) -> f64 {
        self.work.as_ref().map_or(0.0, |work| work.lifted)
    }
}

#[inline]
fn add_along(direction: &[f64; 3], size: f64, sum: &mut [f64; 3]) {
    for (sum, part) in sum.iter_mut().zip(direction) {
        *sum += part * size;
    }
}

/// Ends the step of a body under the cutting force and its own, and adds where
/// it is to `at`.
#[inline]
fn add_corrected(body: &mut [Oscillator; 3], force: &[f64; 3], own: &[f64; 3], at: &mut [f64; 3]) {
    for (axis, part) in body.iter_mut().enumerate() {
        part.correct(force[axis] + own[axis]);
        at[axis] += part.at;
    }
}
