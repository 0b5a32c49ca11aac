//! From a recording to the pitches that ring in it.

use super::fft::{Way, transform};
use super::ring::{Ring, ring};
use super::spectrum::{Band, Spectrum};
use super::strokes::{Stroke, strokes};
use super::{HIGHEST, LOWEST, Recording, Unheard};
use crate::mechanics::lobes::Complex;
use crate::order;

/// What was heard in a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// The pitches, the loudest first; at least one, at most [`Heard::MOST`].
    pub rings: Vec<Ring>,
    /// Taps found.
    pub taps: usize,
    /// Frequency (Hz) and power of the sound after the taps, at frequencies that
    /// grow by equal ratios; the largest power is 1.
    pub spectrum: Vec<(f64, f64)>,
}

impl Heard {
    /// The most pitches reported.
    pub const MOST: usize = 3;
}

/// Ratio of neighbouring frequencies of the outline, less one.
const STEP: f64 = 0.008;

/// Standard deviation by which the outline is smoothed, as a share of the
/// frequency: narrower than what rings on a mill is broad or apart.
const SMOOTH: f64 = 0.012;

/// Peaks with less than this share of the highest one's power are left alone.
const LOWEST_PEAK: f64 = 2e-3;

/// The valley beside a peak, towards a higher one, lies below this share of it.
const VALLEY: f64 = 0.5;

/// Finds the pitches that ring after the taps.
///
/// # Errors
/// [`Unheard`] when none can be read.
pub fn listen(recording: &Recording) -> Result<Heard, Unheard> {
    let spectrum = Spectrum::of(recording.samples(), recording.rate());
    let edge = |frequency: f64| {
        let rise = (frequency - 0.6 * LOWEST) / (0.4 * LOWEST);
        let fall = (1.15 * HIGHEST - frequency) / (0.15 * HIGHEST);
        rise.min(fall).clamp(0.0, 1.0)
    };
    let broad = spectrum.band(0.6 * LOWEST, 1.15 * HIGHEST, edge);
    let strokes = strokes(&broad);
    if strokes.is_empty() {
        return Err(mains_hum(&spectrum).unwrap_or(Unheard::NoTap));
    }

    let rung: Vec<Rung> = strokes.iter().map(|stroke| Rung::after(stroke, &broad)).collect();
    let outline = outline(&rung);
    let peaks = peaks(&outline);
    let mut rings: Vec<Ring> = peaks
        .iter()
        .filter_map(|&peak| {
            let neighbour = peaks.iter().filter(|&&other| other != peak).map(|other| (other - peak).abs());
            let width = neighbour.map(|distance| distance / 3.0).fold(0.3 * peak, f64::min);
            ring(&spectrum, peak, width, &strokes)
        })
        .collect();
    order::greatest_first(&mut rings, |ring| ring.loudness);
    let Some(loudest) = rings.first().map(|ring| ring.loudness) else {
        return Err(mains_hum(&spectrum).unwrap_or(Unheard::NoRing { taps: strokes.len() }));
    };
    rings.truncate(Heard::MOST);
    for ring in &mut rings {
        ring.loudness /= loudest;
    }
    Ok(Heard { rings, taps: strokes.len(), spectrum: outline })
}

/// The spectrum of what follows one tap.
struct Rung {
    lines: Vec<Complex>,
    /// Frequency of the first line, and distance of neighbouring lines, Hz.
    centre: f64,
    resolution: f64,
    /// How much of the sound was looked at, s.
    seconds: f64,
}

impl Rung {
    /// Of what follows a tap until it is lost: the longer the silence that is
    /// taken along, the more noise.
    fn after(stroke: &Stroke, broad: &Band) -> Self {
        let at = |seconds: f64| ((seconds * broad.rate) as usize).min(broad.envelope.len());
        let after = &broad.envelope[at(stroke.start)..at(stroke.end)];
        let heard = &after[..dies_at(after, at(0.01))];
        // Zeros after it make the lines lie close.
        let size = (2 * heard.len()).next_power_of_two();
        let mut lines = heard.to_vec();
        lines.resize(size, Complex::default());
        transform(&mut lines, Way::Forward);
        Rung {
            lines,
            centre: broad.centre,
            resolution: broad.rate / size as f64,
            seconds: heard.len() as f64 / broad.rate,
        }
    }

    /// Power at `frequency`, averaged over a Gaussian as narrow as the sound
    /// allows.
    fn power(&self, frequency: f64) -> f64 {
        let width = (SMOOTH * frequency).max(0.3 / self.seconds);
        let line = |frequency: f64| ((frequency - self.centre) / self.resolution).round() as isize;
        let (mut sum, mut weights) = (0.0, 0.0);
        for place in line(frequency - 3.0 * width)..=line(frequency + 3.0 * width) {
            let away = (self.centre + place as f64 * self.resolution - frequency) / width;
            let weight = (-0.5 * away * away).exp();
            // Below the first line come the last.
            let index = place.rem_euclid(self.lines.len() as isize) as usize;
            sum += weight * self.lines[index].norm();
            weights += weight;
        }
        sum / weights
    }
}

/// The sample at which a sound is down to a hundredth of its energy left, and
/// never less than `window` samples.
fn dies_at(after: &[Complex], window: usize) -> usize {
    let blocks: Vec<f64> =
        after.chunks(window.max(1)).map(|block| block.iter().map(|value| value.norm()).sum()).collect();
    let quiet = blocks.iter().copied().fold(f64::INFINITY, f64::min);
    let excess: Vec<f64> = blocks.iter().map(|energy| energy - 2.0 * quiet).collect();
    let loud = excess.iter().copied().fold(0.0, f64::max);
    let last = excess.iter().rposition(|&energy| energy > 0.01 * loud).map_or(blocks.len(), |last| last + 1);
    (last * window).clamp(window.min(after.len()), after.len())
}

/// Mean power of the taps at frequencies that grow by equal ratios, smoothed;
/// the largest is 1.
fn outline(rung: &[Rung]) -> Vec<(f64, f64)> {
    let count = ((HIGHEST / LOWEST).ln() / STEP) as usize;
    let frequencies = (0..=count).map(|i| LOWEST * (i as f64 * STEP).exp());
    let mut outline: Vec<(f64, f64)> =
        frequencies.map(|frequency| (frequency, rung.iter().map(|one| one.power(frequency)).sum())).collect();
    let most = outline.iter().map(|point| point.1).fold(f64::MIN_POSITIVE, f64::max);
    for point in &mut outline {
        point.1 /= most;
    }
    outline
}

/// Frequencies (Hz) of the peaks of an outline, highest first.
fn peaks(outline: &[(f64, f64)]) -> Vec<f64> {
    let power = |at: usize| outline[at].1;
    let mut peaks: Vec<usize> = (1..outline.len() - 1)
        .filter(|&at| power(at) > power(at - 1) && power(at) >= power(at + 1) && power(at) > LOWEST_PEAK)
        .filter(|&at| {
            // Going from the peak, a valley comes before anything higher.
            let stands_out = |beside: &mut dyn Iterator<Item = usize>| {
                for other in beside {
                    if power(other) > power(at) {
                        return false;
                    }
                    if power(other) < VALLEY * power(at) {
                        return true;
                    }
                }
                true
            };
            stands_out(&mut (0..at).rev()) && stands_out(&mut (at + 1..outline.len()))
        })
        .collect();
    order::greatest_first(&mut peaks, |&at| power(at));
    peaks.truncate(2 * Heard::MOST);
    peaks.into_iter().map(|at| outline[at].0).collect()
}

/// Whether mains hum holds most of the sound's energy.
fn mains_hum(spectrum: &Spectrum) -> Option<Unheard> {
    const MOST: f64 = 0.5;
    let powers = spectrum.bins().iter().enumerate().map(|(bin, value)| {
        let frequency = bin as f64 * spectrum.resolution();
        (frequency, value.norm())
    });
    let powers: Vec<(f64, f64)> = powers.filter(|(frequency, _)| (LOWEST..HIGHEST).contains(frequency)).collect();
    let total: f64 = powers.iter().map(|power| power.1).sum();
    [50.0, 60.0].into_iter().find_map(|mains| {
        let of_mains = |frequency: f64| {
            let multiple = (frequency / mains).round();
            (1.0..=8.0).contains(&multiple) && (frequency - multiple * mains).abs() < 1.0
        };
        let hum: f64 = powers.iter().filter(|power| of_mains(power.0)).map(|power| power.1).sum();
        (hum > MOST * total).then_some(Unheard::MainsHum { mains })
    })
}
