//! A recording as a spectrum, and a band of it as a complex envelope.

use std::f64::consts::TAU;

use rustfft::FftPlanner;
use rustfft::num_complex::Complex;

/// The spectrum of a recording that is silent after its end.
pub struct Spectrum {
    bins: Vec<Complex<f64>>,
    /// Distance of neighbouring bins, Hz.
    resolution: f64,
    seconds: f64,
}

/// A band of a recording as a complex envelope: its magnitude is the envelope
/// of the sound in the band, its phase runs with the distance of the pitch from
/// the centre.
pub struct Band {
    /// The envelope from the recording's start on.
    pub envelope: Vec<Complex<f64>>,
    /// Samples a second.
    pub rate: f64,
    /// Frequency at which the phase stands still, Hz.
    pub centre: f64,
}

impl Spectrum {
    /// Of real `samples`, `rate` a second.
    pub fn of(samples: &[f64], rate: f64) -> Self {
        let size = samples.len().next_power_of_two();
        let mut bins: Vec<Complex<f64>> = samples.iter().map(|&sample| sample.into()).collect();
        bins.resize(size, Complex::default());
        FftPlanner::new().plan_fft_forward(size).process(&mut bins);
        Spectrum { bins, resolution: rate / size as f64, seconds: samples.len() as f64 / rate }
    }

    /// The bins from 0 to half the sample rate: sums of sample times wave.
    pub fn bins(&self) -> &[Complex<f64>] {
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
            envelope[shifted] = self.bins[place] * (scale * gain(place as f64 * self.resolution));
        }
        FftPlanner::new().plan_fft_inverse(size).process(&mut envelope);
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
        let mut powers: Vec<f64> = self.envelope.iter().map(Complex::norm_sqr).collect();
        let tenth = powers.len() / 10;
        let (_, &mut below, _) = powers.select_nth_unstable_by(tenth, f64::total_cmp);
        below / (10.0_f64 / 9.0).ln()
    }

    /// The sound of the band itself at sample `index`.
    pub fn wave(&self, index: usize) -> f64 {
        let turned = TAU * self.centre * index as f64 / self.rate;
        (self.envelope[index] * Complex::cis(turned)).re
    }
}
