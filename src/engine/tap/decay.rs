//! The decay of a pitch after each tap, read off the envelope of its band.

use std::f64::consts::{PI, TAU};

use super::spectrum::{Band, Spectrum};
use super::strokes::Stroke;

/// Envelopes below so many times the noise say nothing more.
const ABOVE_NOISE: f64 = 2.5;

/// A ring has to begin so many times above the noise.
const AUDIBLE: f64 = 5.0;

/// The least number of waves from which a decay can be read.
const LEAST_WAVES: f64 = 1.2;

/// A Gaussian band about `peak`, `width` its standard deviation in Hz.
fn gaussian_band(spectrum: &Spectrum, peak: f64, width: f64) -> Band {
    let low = (peak - 4.0 * width).max(0.0);
    spectrum.band(low, peak + 4.0 * width, |frequency| (-0.5 * ((frequency - peak) / width).powi(2)).exp())
}

/// The decay after one tap, as a straight line through the logarithm of the
/// envelope and another through its phase.
#[derive(Clone, Copy, Debug)]
pub struct Decay {
    /// The tap.
    pub stroke: Stroke,
    /// First sample from which it was read.
    pub from: usize,
    /// The one after the last.
    pub to: usize,
    /// Largest value of the envelope.
    pub crest: f64,
    /// Fitted value at `from`.
    pub amplitude: f64,
    /// Rate of decay, 1/s.
    pub sigma: f64,
    /// Frequency, Hz.
    pub pitch: f64,
    /// Standard deviation of `sigma`, and of the angular frequency, 1/s.
    pub sd: f64,
}

impl Decay {
    /// What it counts for among others.
    pub fn weight(&self) -> f64 {
        self.sd.powi(-2)
    }
}

/// The band about `centre` and the decays in it, tap by tap; `None` if there
/// are none.
pub fn decays(spectrum: &Spectrum, centre: f64, width: f64, strokes: &[Stroke]) -> Option<(Band, Vec<Decay>)> {
    let band = gaussian_band(spectrum, centre, width);
    if band.envelope.is_empty() {
        // Narrower than so short a recording can tell apart.
        return None;
    }
    let noise = band.noise_power().sqrt();
    let decays: Vec<Decay> = strokes.iter().filter_map(|&stroke| decay(&band, centre, width, noise, stroke)).collect();
    (!decays.is_empty()).then_some((band, decays))
}

fn decay(band: &Band, centre: f64, width: f64, noise: f64, stroke: Stroke) -> Option<Decay> {
    // A Gaussian band smears a blow over a Gaussian of this length, s.
    let blur = 1.0 / (TAU * width);
    let index = |seconds: f64| ((seconds * band.rate).max(0.0) as usize).min(band.envelope.len().saturating_sub(1));
    let size = |at: usize| band.envelope[at].abs();
    let search = index(stroke.start - 2.0 * blur)..=index((stroke.start + 0.02 + 4.0 * blur).min(stroke.end));
    let crest_at = search.max_by(|&a, &b| size(a).total_cmp(&size(b)))?;
    let crest = size(crest_at);
    if crest < AUDIBLE * noise {
        return None;
    }
    // After the blow the band answers by the decay alone, but for a rest that
    // has to be lost in the noise before it is believed.
    let settled = (2.0 * (crest / noise).ln()).sqrt().clamp(1.8, 4.0);
    let from = crest_at + ((settled - 0.8) * blur * band.rate).ceil() as usize;
    let last = index(stroke.end - 3.0 * blur);
    let mut to = (from..last).find(|&at| size(at) < ABOVE_NOISE * noise).unwrap_or(last);
    let is_short = |to: usize| to < from + 5 || ((to - from) as f64 / band.rate * centre) < LEAST_WAVES;
    let mut fit = None;
    // The fit says where it is lost in noise, better than the noise does.
    for _ in 0..6 {
        if is_short(to) {
            return None;
        }
        let line = fitted(band, from, to, noise, width, fit);
        let lost = (line.amplitude / (ABOVE_NOISE * noise)).ln() / line.sigma;
        let next = if line.sigma > 0.0 { last.min(from + (lost.max(0.0) * band.rate) as usize) } else { last };
        fit = Some(line);
        if next.abs_diff(to) <= 1 {
            break;
        }
        to = next;
    }
    let Line { amplitude, sigma, drift, sd } = fit.filter(|_| !is_short(to))?;
    Some(Decay { stroke, from, to, crest, amplitude, sigma, pitch: band.centre + drift / TAU, sd })
}

/// What a straight line through the complex logarithm says.
#[derive(Clone, Copy)]
struct Line {
    amplitude: f64,
    sigma: f64,
    /// Angular frequency against the band's centre, 1/s.
    drift: f64,
    sd: f64,
}

/// A sample of the envelope.
struct Point {
    time: f64,
    /// Logarithm of its magnitude, and its phase.
    log: f64,
    angle: f64,
    weight: f64,
}

/// Least squares on the complex logarithm from sample `from` to `to`, each
/// sample weighing as the square of its magnitude: what an even noise does to
/// the logarithm goes with one over it. The magnitude is that of `before`, an
/// earlier fit, or else the envelope's own.
fn fitted(band: &Band, from: usize, to: usize, noise: f64, width: f64, before: Option<Line>) -> Line {
    let points = points(band, from, to, before);
    let total: f64 = points.iter().map(|point| point.weight).sum();
    let mean = |of: fn(&Point) -> f64| points.iter().map(|point| point.weight * of(point)).sum::<f64>() / total;
    let middle = Point { time: mean(|p| p.time), log: mean(|p| p.log), angle: mean(|p| p.angle), weight: total };
    let sum = |of: &dyn Fn(Point) -> f64| -> f64 {
        let from_middle = |p: &Point| Point {
            time: p.time - middle.time,
            log: p.log - middle.log,
            angle: p.angle - middle.angle,
            weight: p.weight,
        };
        points.iter().map(|point| point.weight * of(from_middle(point))).sum()
    };
    let spread = sum(&|p| p.time * p.time);
    let slope = sum(&|p| p.time * p.log) / spread;
    let drift = sum(&|p| p.time * p.angle) / spread;
    let off = sum(&|p| (p.log - slope * p.time).powi(2) + (p.angle - drift * p.time).powi(2));
    // Whatever disturbs the line more than the noise does counts as well.
    let variance = (0.5 * noise * noise).max(off / (2.0 * points.len() as f64));
    // Neighbouring samples of a band share their noise: its correlation is a
    // Gaussian whose integral is 1 / (sqrt(π) width).
    let shared = (band.rate / (PI.sqrt() * width)).max(1.0);
    Line {
        amplitude: (middle.log - slope * middle.time).exp(),
        sigma: -slope,
        drift,
        sd: (variance * shared / spread).sqrt(),
    }
}

fn points(band: &Band, from: usize, to: usize, before: Option<Line>) -> Vec<Point> {
    let mut angle = band.envelope[from].arg();
    band.envelope[from..to]
        .iter()
        .enumerate()
        .map(|(i, value)| {
            let time = i as f64 / band.rate;
            // The phase runs on; an angle is known but for whole turns.
            let turned = value.arg() - angle;
            angle += turned - TAU * (turned / TAU).round();
            let size = before.map_or(value.abs(), |line| line.amplitude * (-line.sigma * time).exp());
            Point { time, log: value.abs().max(f64::MIN_POSITIVE).ln(), angle, weight: size * size }
        })
        .collect()
}
