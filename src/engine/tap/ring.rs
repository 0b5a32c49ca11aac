//! One pitch of the sound: how fast it swings and how fast it dies.

use std::f64::consts::{LN_10, PI, TAU};

use super::decay::{Decay, decays};
use super::fft::{Way, transform};
use super::spectrum::{Band, Spectrum};
use super::strokes::Stroke;
use super::{HIGHEST, LOWEST};
use crate::mechanics::lobes::Complex;
use crate::quantity::{Dimension, UnitSystem, format_estimate, format_margin};

/// A value and its 95 % limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// It lies within this of the truth 19 times out of 20.
    pub plus_minus: f64,
}

/// One pitch that rings after the taps.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Frequency of the ring, Hz.
    pub frequency: Measured,
    /// Damping ratio.
    pub damping: Measured,
    /// Damping ratio from the half-power width of the peak, as a check.
    pub half_power: f64,
    /// Taps in which it was heard well enough.
    pub taps: usize,
    /// Loudness at its start against the noise in its band, dB.
    pub signal_to_noise: f64,
    /// Loudness against that of the loudest pitch.
    pub loudness: f64,
    /// The loudest tap of it, to be drawn.
    pub trace: Trace,
}

/// The sound about one pitch after one tap.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Time between points, s.
    pub step: f64,
    /// The sound itself, from shortly before the tap on.
    pub wave: Vec<f64>,
    /// Time at which the fit begins, s from the first point on.
    pub fit_start: f64,
    /// Time at which the fit ends, or has nothing left to show, s.
    pub fit_end: f64,
    /// Fitted envelope where the fit begins.
    pub amplitude: f64,
    /// Fitted rate of decay, 1/s.
    pub decay: f64,
}

impl Trace {
    /// The fitted envelope at `time`, s from the first point on.
    pub fn envelope(&self, time: f64) -> f64 {
        self.amplitude * (-self.decay * (time - self.fit_start)).exp()
    }
}

impl Ring {
    /// Whether the two ways of reading the damping disagree by more than a
    /// third: then two pitches may lie within one peak.
    pub fn is_doubtful(&self) -> bool {
        (self.half_power / self.damping.value - 1.0).abs() > 1.0 / 3.0
    }

    /// Time in which the ring dies to a tenth, ms.
    pub fn time_to_a_tenth(&self) -> Measured {
        let zeta = self.damping.value;
        let value = 1e3 * time_to_a_tenth(self.frequency.value, zeta);
        let relative = (self.damping.plus_minus / zeta).hypot(self.frequency.plus_minus / self.frequency.value);
        Measured { value, plus_minus: value * relative }
    }

    /// Frequency (Hz) as a reading of the machine.
    pub fn pitch_reading(&self) -> Measured {
        self.frequency.repeated(PITCH_REPEATS)
    }

    /// Time (ms) in which it dies to a tenth, as a reading of the machine.
    pub fn time_reading(&self) -> Measured {
        self.time_to_a_tenth().repeated(TIME_REPEATS)
    }

    /// What the margins of both are made of.
    pub fn on_margins(&self) -> String {
        let [pitch, time] = [(self.frequency, Dimension::Frequency), (self.time_to_a_tenth(), Dimension::Milliseconds)]
            .map(|(measured, dimension)| measured.written(dimension));
        let [pitch_repeats, time_repeats] =
            [PITCH_REPEATS, TIME_REPEATS].map(|share| format_estimate(share, Dimension::Share, UnitSystem::Metric));
        format!(
            "± holds the truth 19 times out of 20. This one recording alone says {pitch} and {time}. Tapped anew, with everything locked anew, pitch usually differs by up to {pitch_repeats} and the time to die by {time_repeats} (common practice, no source); the reading counts with both."
        )
    }
}

/// How well a tap test repeats, as a share of what is read, 19 times out of 20:
/// tapped anew, another day, with the quill and the slides locked anew. A
/// recording knows nothing of that. Common practice, no source.
const PITCH_REPEATS: f64 = 0.02;

/// The same of the time in which the ring dies, which hangs on the joints.
const TIME_REPEATS: f64 = 0.15;

impl Measured {
    /// "212 ± 4 Hz"; frequency and times have one unit everywhere.
    pub fn written(self, dimension: Dimension) -> String {
        format_margin(self.value, self.plus_minus, dimension, UnitSystem::Metric)
    }

    /// Widened by the share of it that it differs by when taken anew.
    fn repeated(self, share: f64) -> Measured {
        Measured { plus_minus: self.plus_minus.hypot(share * self.value), ..self }
    }
}

/// Time (s) in which a ring of this frequency (Hz, as heard) and damping ratio
/// dies to a tenth: `ln 10 / σ`.
pub fn time_to_a_tenth(frequency: f64, damping: f64) -> f64 {
    LN_10 * (1.0 - damping * damping).sqrt() / (TAU * frequency * damping)
}

/// Reach of a 95 % interval in standard deviations.
const REACH: f64 = 1.96;

/// Reads the ring at `peak` (Hz) through a band whose standard deviation is
/// `width` (Hz). `None` if it doesn't stand out, or doesn't die away.
pub fn ring(spectrum: &Spectrum, peak: f64, width: f64, strokes: &[Stroke]) -> Option<Ring> {
    // Once to find the pitch, and once with the band about it.
    let first = decays(spectrum, peak, width, strokes)?.1;
    let pitch =
        first.iter().map(|one| one.pitch * one.weight()).sum::<f64>() / first.iter().map(Decay::weight).sum::<f64>();
    if (pitch - peak).abs() > 1.5 * width {
        return None;
    }
    let (band, decays) = decays(spectrum, pitch, width, strokes)?;

    let (sigma, sigma_sd) = weighted(decays.iter().map(|one| (one.sigma, one.sd)));
    let (pitch, pitch_sd) = weighted(decays.iter().map(|one| (one.pitch, one.sd / TAU)));
    // Sound of no pitch can lead the fit out of what was looked for.
    if !(LOWEST..=HIGHEST).contains(&pitch) {
        return None;
    }
    let omega = TAU * pitch;
    let natural = omega.hypot(sigma);
    let zeta = sigma / natural;
    if !(1e-4..0.4).contains(&zeta) {
        return None;
    }
    let zeta_sd = sigma_sd * (omega / natural).powi(2) / natural;
    let loudest = decays.iter().max_by(|a, b| a.crest.total_cmp(&b.crest))?;
    let half_power = half_power(&band, loudest) / natural;
    // Sound cards' clocks are good to this, and better.
    const CLOCK: f64 = 2e-4;
    let noise = band.noise_power().sqrt();
    Some(Ring {
        frequency: Measured { value: pitch, plus_minus: REACH * pitch_sd.hypot(CLOCK * pitch) },
        // What the two ways of reading it disagree by counts in full.
        damping: Measured { value: zeta, plus_minus: (REACH * zeta_sd).hypot(half_power - zeta) },
        half_power,
        taps: decays.len(),
        signal_to_noise: 20.0 * (loudest.crest / noise).log10(),
        loudness: loudest.crest,
        trace: trace(&band, loudest),
    })
}

/// Weighted mean of (value, standard deviation) and its standard deviation;
/// widened when the values differ by more than theirs would let them.
fn weighted(values: impl Iterator<Item = (f64, f64)> + Clone) -> (f64, f64) {
    let weights: f64 = values.clone().map(|(_, sd)| sd.powi(-2)).sum();
    let mean = values.clone().map(|(value, sd)| value * sd.powi(-2)).sum::<f64>() / weights;
    let off: f64 = values.clone().map(|(value, sd)| ((value - mean) / sd).powi(2)).sum();
    let freedom = values.count().saturating_sub(1).max(1) as f64;
    (mean, weights.powf(-0.5) * (off / freedom).sqrt().max(1.0))
}

/// Rate of decay (1/s) from the half-power width of the peak: a decay at rate
/// `σ` has a peak that is `σ / π` wide where it has lost half its power. The
/// record is cut by an exponential window, whose own decay is taken off again
/// (Ewins, Modal Testing, section 3.7, from memory).
fn half_power(band: &Band, decay: &Decay) -> f64 {
    /// The window's decay over the record.
    const CUT: f64 = 3.0;
    /// Zeros after the record make the peak's outline smooth.
    const PADDING: usize = 8;
    let count = decay.to - decay.from;
    let window = CUT * band.rate / count as f64;
    let size = (PADDING * count).next_power_of_two();
    let mut lines = vec![Complex::default(); size];
    for (i, line) in lines.iter_mut().take(count).enumerate() {
        *line = band.envelope[decay.from + i].scale((-window * i as f64 / band.rate).exp());
    }
    transform(&mut lines, Way::Forward);
    let power = |at: usize| lines[at % size].norm();
    let peak = (0..size).max_by(|&a, &b| power(a).total_cmp(&power(b))).unwrap_or(0);
    let half = 0.5 * power(peak);
    // Distance from the peak at which the outline crosses half power, lines.
    let reach = |line: &dyn Fn(usize) -> usize| {
        let beyond = (1..size / 2).find(|&away| power(line(away)) < half).unwrap_or(size / 2);
        let (inner, outer) = (power(line(beyond - 1)), power(line(beyond)));
        (beyond - 1) as f64 + (inner - half) / (inner - outer)
    };
    let width = reach(&|away| peak + away) + reach(&|away| peak + size - away);
    PI * width * band.rate / size as f64 - window
}

fn trace(band: &Band, decay: &Decay) -> Trace {
    const POINTS_A_WAVE: f64 = 16.0;
    const MOST_POINTS: f64 = 1500.0;
    /// What lies further down can't be seen.
    const VISIBLE: f64 = 0.01;
    let from = decay.from as f64 / band.rate;
    let to = (decay.to as f64 / band.rate).min(from - VISIBLE.ln() / decay.sigma);
    let margin = 0.12 * (to - decay.stroke.start);
    let start = (decay.stroke.start - margin).max(0.0);
    let seconds = to + margin - start;
    let step = (1.0 / (POINTS_A_WAVE * decay.pitch)).max(seconds / MOST_POINTS);
    Trace {
        step,
        wave: (0..(seconds / step) as usize).map(|i| band.wave(start + i as f64 * step)).collect(),
        fit_start: from - start,
        fit_end: to - start,
        amplitude: decay.amplitude,
        decay: decay.sigma,
    }
}
