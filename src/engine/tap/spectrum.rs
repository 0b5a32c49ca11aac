//! A recording as a spectrum, and a band of it as a complex envelope.

use std::f64::consts::TAU;

use super::fft::{Way, transform};
use crate::mechanics::lobes::Complex;
use crate::order;

/// The spectrum of a recording that is silent after its end.
pub struct Spectrum {
    bins: Vec<Complex>,
    /// Distance of neighbouring bins, Hz.
    resolution: f64,
    seconds: f64,
}

/// A band of a recording as a complex envelope: its magnitude is the envelope
/// of the sound in the band, its phase runs with the distance of the pitch from
/// the centre.
pub struct Band {
    /// The envelope from the recording's start on.
    pub envelope: Vec<Complex>,
    /// Samples a second.
    pub rate: f64,
    /// Frequency at which the phase stands still, Hz.
    pub centre: f64,
}

impl Spectrum {
    /// Of real `samples`, `rate` a second.
    pub fn of(samples: &[f64], rate: f64) -> Self {
        let size = samples.len().next_power_of_two();
        let mut bins: Vec<Complex> = samples.iter().map(|&sample| Complex::real(sample)).collect();
        bins.resize(size, Complex::default());
        transform(&mut bins, Way::Forward);
        Spectrum { bins, resolution: rate / size as f64, seconds: samples.len() as f64 / rate }
    }

    /// The bins from 0 to half the sample rate: sums of sample times wave.
    pub fn bins(&self) -> &[Complex] {
        &self.bins[..=self.bins.len() / 2]
    }

    /// Distance of neighbouring bins, Hz.
    pub fn resolution(&self) -> f64 {
        self.resolution
    }

    /// The sound from `low` to `high` (Hz), each frequency weighted by `gain`.
    pub fn band(&self, low: f64, high: f64, gain: impl Fn(f64) -> f64) -> Band {
        let half = self.bins.len() / 2;
        let bin = |frequency: f64| ((frequency / self.resolution).round().max(1.0) as usize).min(half - 1);
        let (first, last) = (bin(low), bin(high));
        let middle = first.midpoint(last);
        let size = (last - first + 1).next_power_of_two();
        let mut envelope = vec![Complex::default(); size];
        // Only positive frequencies are kept, so each counts twice.
        let scale = 2.0 / self.bins.len() as f64;
        for place in first..=last {
            let shifted = (place + size - middle) % size;
            envelope[shifted] = self.bins[place].scale(scale * gain(place as f64 * self.resolution));
        }
        transform(&mut envelope, Way::Back);
        let rate = size as f64 * self.resolution;
        envelope.truncate((self.seconds * rate) as usize);
        Band { envelope, rate, centre: middle as f64 * self.resolution }
    }
}

impl Band {
    /// Mean square magnitude of the noise, from the quietest tenth of the
    /// recording: the squared magnitude of noise is exponentially distributed,
    /// so a tenth of it lies below `ln(10/9)` of its mean.
    pub fn noise_power(&self) -> f64 {
        let mut powers: Vec<f64> = self.envelope.iter().map(|value| value.norm()).collect();
        let tenth = powers.len() / 10;
        order::at_rank(&mut powers, tenth) / (10.0_f64 / 9.0).ln()
    }

    /// The sound of the band itself at `time` (s); 0 outside the recording.
    pub fn wave(&self, time: f64) -> f64 {
        let place = (time * self.rate).max(0.0);
        let (index, share) = (place as usize, place.fract());
        let Some(&here) = self.envelope.get(index) else { return 0.0 };
        let next = self.envelope.get(index + 1).copied().unwrap_or(here);
        ((here.scale(1.0 - share) + next.scale(share)) * Complex::turn(TAU * self.centre * time)).re
    }
}
