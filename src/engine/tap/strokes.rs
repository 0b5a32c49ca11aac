//! Where in a recording it was tapped.

use super::spectrum::Band;
use crate::order;

/// A tap and what rings after it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// When it begins, s.
    pub start: f64,
    /// When the next begins, or the recording ends, s.
    pub end: f64,
}

/// Taps follow each other at least so far apart, s: nobody taps faster, and
/// a hammer that bounces is heard as one tap.
const APART: f64 = 0.12;

/// Energies that jump by so much within a moment are a tap: 8 dB.
const JUMP: f64 = 6.3;

/// Taps much fainter than the loudest are footsteps or echoes: 30 dB.
const FAINTEST: f64 = 1e-3;

/// Finds the taps in a broad band of the sound.
pub fn strokes(band: &Band) -> Vec<Stroke> {
    let samples = |seconds: f64| ((seconds * band.rate) as usize).max(1);
    let mut sums = vec![0.0];
    for value in &band.envelope {
        sums.push(sums[sums.len() - 1] + value.norm());
    }
    let count = band.envelope.len();
    let mean = |from: usize, to: usize| match to.min(count) {
        to if from < to => (sums[to] - sums[from]) / (to - from) as f64,
        _ => 0.0,
    };
    let floor = band.noise_power();
    // A ring that dies within a millisecond or two is lost in a longer window,
    // a slow one grows out of a shorter one.
    let mut rises = vec![0.0_f64; count];
    let mut energies = vec![0.0_f64; count];
    // Two pitches that beat rise and fall too, but not above their mean over a
    // beat by much.
    let beat = samples(0.06);
    for window in [0.004, 0.016].map(samples) {
        for at in 0..count {
            let after = mean(at, at + window);
            let before = mean(at.saturating_sub(beat), at.saturating_sub(window / 4));
            rises[at] = rises[at].max(after / (before + floor));
            energies[at] = energies[at].max(after);
        }
    }
    let loudest = energies.iter().copied().fold(0.0, f64::max);
    let mut starts: Vec<usize> = Vec::new();
    let mut order: Vec<usize> =
        (0..count).filter(|&at| rises[at] > JUMP && energies[at] > FAINTEST * loudest).collect();
    order::greatest_first(&mut order, |&at| rises[at]);
    for at in order {
        if starts.iter().all(|&other| at.abs_diff(other) > samples(APART)) {
            starts.push(at);
        }
    }
    order::least_first(&mut starts, |&at| at as f64);
    let ends = starts.iter().skip(1).copied().chain([count]);
    let seconds = |at: usize| at as f64 / band.rate;
    starts.iter().zip(ends).map(|(&start, end)| Stroke { start: seconds(start), end: seconds(end) }).collect()
}
