//! Sound in memory.

use super::Unheard;

/// One channel of sound.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    rate: f64,
    samples: Vec<f64>,
}

impl Recording {
    /// Longest stretch that is listened to, s.
    pub const LONGEST: f64 = 20.0;
    /// Shortest stretch in which a tap can be told from silence, s.
    pub const SHORTEST: f64 = 0.25;
    /// Slowest sample rate that holds the pitches of a mill, Hz.
    const SLOWEST: f64 = 7_000.0;

    /// Sound of `rate` samples a second, full scale being 1; what is beyond
    /// [`Recording::LONGEST`] is left out.
    ///
    /// # Errors
    /// [`Unheard`] when it can hold no tap: too short, too slow, silent, or
    /// clipped.
    pub fn new(rate: f64, mut samples: Vec<f64>) -> Result<Self, Unheard> {
        if !(rate >= Self::SLOWEST && rate.is_finite()) {
            return Err(Unheard::SlowRate { rate, least: Self::SLOWEST });
        }
        samples.truncate((Self::LONGEST * rate) as usize);
        let seconds = samples.len() as f64 / rate;
        if seconds < Self::SHORTEST {
            return Err(Unheard::TooShort { seconds, least: Self::SHORTEST });
        }
        let mean = samples.iter().sum::<f64>() / samples.len() as f64;
        if !mean.is_finite() {
            return Err(Unheard::Silent);
        }
        if is_clipped(&samples) {
            return Err(Unheard::Clipped);
        }
        for sample in &mut samples {
            *sample -= mean;
        }
        if samples.iter().all(|sample| sample.abs() < 1e-9) {
            return Err(Unheard::Silent);
        }
        Ok(Recording { rate, samples })
    }

    /// Samples a second.
    pub fn rate(&self) -> f64 {
        self.rate
    }

    /// The samples, without their mean.
    pub fn samples(&self) -> &[f64] {
        &self.samples
    }

    /// How long it is, s.
    pub fn seconds(&self) -> f64 {
        self.samples.len() as f64 / self.rate
    }
}

/// Whether crests are cut off flat: a dying wave reaches its own extreme once,
/// a clipped one comes back to the same value, and stays there, crest after
/// crest.
fn is_clipped(samples: &[f64]) -> bool {
    const FLAT: usize = 4;
    const CRESTS: usize = 3;
    const LOUD: f64 = 0.05;
    let top = samples.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let bottom = samples.iter().copied().fold(f64::INFINITY, f64::min);
    let crests =
        |extreme: f64| samples.chunk_by(|a, b| a == b).filter(|run| run.len() >= FLAT && run[0] == extreme).count();
    [top, bottom].into_iter().any(|extreme| extreme.abs() > LOUD && crests(extreme) >= CRESTS)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wave(limit: f64) -> Vec<f64> {
        let ring = |i: usize| (-(i as f64) / 4000.0).exp() * (i as f64 * 0.05).sin();
        (0..16_000).map(|i| ring(i).clamp(-limit, limit)).collect()
    }

    #[test]
    fn a_clipped_ring_is_told_from_a_whole_one() {
        assert!(Recording::new(16_000.0, wave(1.0)).is_ok());
        assert_eq!(Recording::new(16_000.0, wave(0.5)), Err(Unheard::Clipped));
    }

    #[test]
    fn what_can_hold_no_tap_is_refused() {
        assert!(matches!(Recording::new(16_000.0, vec![0.1; 100]), Err(Unheard::TooShort { .. })));
        assert!(matches!(Recording::new(4_000.0, wave(1.0)), Err(Unheard::SlowRate { .. })));
        assert!(matches!(Recording::new(f64::NAN, wave(1.0)), Err(Unheard::SlowRate { .. })));
        assert_eq!(Recording::new(16_000.0, vec![0.0; 16_000]), Err(Unheard::Silent));
        assert_eq!(Recording::new(16_000.0, vec![f64::NAN; 16_000]), Err(Unheard::Silent));
    }
}
