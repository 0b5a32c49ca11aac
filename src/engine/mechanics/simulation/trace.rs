//! What comes out of a simulation.

use super::marks::{Floor, Wall};

/// Whether the cut repeats itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It does, or what is left of its start dies away.
    Stable,
    /// It does not: chatter.
    Chatter,
}

/// A simulated cut. Lengths mm, forces N, times s; displacement is the tool's
/// against the work, z out of the spindle.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Length of a step.
    pub step: f64,
    /// Steps in a revolution.
    pub steps_per_revolution: usize,
    /// Displacement at each step of the last revolutions.
    pub displacement: Vec<[f64; 3]>,
    /// Force on the tool at the same.
    pub force: Vec<[f64; 3]>,
    /// Displacement each time the first tooth stands at angle zero.
    pub each_tooth: Vec<[f64; 3]>,
    /// Teeth.
    pub teeth: usize,
    /// Feed per tooth.
    pub feed: f64,
    /// Whether all teeth are alike, so that each should repeat the one before.
    pub alike: bool,
    /// Marks on the wall.
    pub wall: Wall,
    /// Marks on the floor.
    pub floor: Floor,
    /// Peak to peak of the spindle in its bearings over the last revolutions.
    pub spindle_travel: [f64; 3],
    /// Share of the last revolutions in which the spindle touches nothing
    /// radially.
    pub loose: f64,
    /// How far the work has slipped in its holding at the end.
    pub slipped: [f64; 3],
    /// The highest it was lifted.
    pub lifted: f64,
}

/// Change from one sample to the next, as a share of the feed per tooth, below
/// which a cut that neither grows nor shrinks counts as repeating.
const REPEATS: f64 = 1e-2;

/// Change (mm) that is nothing but rounding.
const ROUNDING: f64 = 1e-10;

/// The same, above which a cut is no settling one even as it shrinks: teeth
/// leave the work, and what comes and goes is chatter.
const SETTLING: f64 = 0.25;

/// Growth or shrinkage from one quarter to the next that is told from a steady
/// state.
const STEADY: f64 = 0.9;

impl Trace {
    /// Displacement once per revolution.
    pub fn each_revolution(&self) -> impl Iterator<Item = [f64; 3]> + '_ {
        self.each_tooth.iter().copied().step_by(self.teeth)
    }

    /// Mean change (mm) from one sample to the next over a quarter of the run,
    /// the third and the last: `M` of Honeycutt and Schmitz, J. Manuf. Sci. Eng.
    /// (2016), doi 10.1115/1.4034138.
    ///
    /// Samples are taken once per tooth where all teeth are alike, which shows
    /// period doubling at any number of teeth; else once per revolution, since
    /// unequal teeth never repeat each other. Then a period doubling with an
    /// even number of teeth shows only while it grows.
    pub fn change(&self) -> [f64; 2] {
        let stride = if self.alike { 1 } else { self.teeth };
        let samples: Vec<[f64; 3]> = self.each_tooth.iter().copied().step_by(stride).collect();
        let quarter = (samples.len() / 4).max(1);
        let mean = |from: usize, to: usize| {
            let change = |pair: &[[f64; 3]]| (0..3).map(|i| (pair[1][i] - pair[0][i]).powi(2)).sum::<f64>().sqrt();
            samples[from..to].windows(2).map(change).sum::<f64>() / (to - from - 1).max(1) as f64
        };
        let last = samples.len();
        [mean(last - 2 * quarter, last - quarter), mean(last - quarter, last)]
    }

    /// Whether the cut is stable: its changes from sample to sample have died
    /// away or are dying.
    pub fn verdict(&self) -> Verdict {
        let [before, last] = self.change();
        let stable = if last < STEADY * before {
            last < SETTLING * self.feed
        } else if STEADY * last > before {
            last < ROUNDING
        } else {
            last < REPEATS * self.feed
        };
        if stable { Verdict::Stable } else { Verdict::Chatter }
    }

    /// Peak to peak of the displacement over the last revolutions.
    pub fn peak_to_peak(&self) -> [f64; 3] {
        peak_to_peak(&self.displacement)
    }

    /// Mean force over the last revolutions.
    pub fn mean_force(&self) -> [f64; 3] {
        std::array::from_fn(|axis| self.force.iter().map(|force| force[axis]).sum::<f64>() / self.force.len() as f64)
    }
}

/// How far a path goes from end to end along each axis.
pub fn peak_to_peak(path: &[[f64; 3]]) -> [f64; 3] {
    std::array::from_fn(|axis| {
        let values = path.iter().map(|at| at[axis]);
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
        high - low
    })
}
