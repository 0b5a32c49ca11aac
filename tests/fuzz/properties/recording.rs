//! A recording in a file, and what is heard in it.

use spindlewise_engine::tap::{HIGHEST, Heard, LOWEST, Recording, UnreadableWav, listen, read_wav};

pub fn holds(bytes: &[u8]) -> bool {
    let (rate, samples) = match read_wav(bytes) {
        Ok(sound) => sound,
        Err(why) => {
            super::is_said(&why.to_string());
            return false;
        }
    };
    assert!(rate >= 0.0 && rate.is_finite(), "{rate}");
    assert!(samples.len() as f64 <= Recording::LONGEST * rate && samples.len() <= bytes.len());
    for end in [0, bytes.len() / 2, bytes.len().saturating_sub(1)] {
        breaks_off(&bytes[..end], rate, &samples);
    }
    let recording = match Recording::new(rate, samples) {
        Ok(recording) => recording,
        Err(why) => {
            super::is_said(&why.to_string());
            return false;
        }
    };
    assert!((Recording::SHORTEST..=Recording::LONGEST).contains(&recording.seconds()), "{} s", recording.seconds());
    assert!(recording.samples().iter().all(|sample| sample.is_finite()));
    match listen(&recording) {
        Ok(heard) => makes_sense(&heard),
        Err(why) => super::is_said(&why.to_string()),
    }
    true
}

/// A file that breaks off is read as far as it goes.
fn breaks_off(bytes: &[u8], rate: f64, whole: &[f64]) {
    match read_wav(bytes) {
        Ok((same, samples)) => {
            assert_eq!(same, rate);
            assert!(samples.len() <= whole.len());
            assert!(samples.iter().zip(whole).all(|(a, b)| a.to_bits() == b.to_bits()));
        }
        Err(why) => assert!(matches!(why, UnreadableWav::BrokenOff | UnreadableWav::NotWav), "{why:?}"),
    }
}

fn makes_sense(heard: &Heard) {
    assert!((1..=Heard::MOST).contains(&heard.rings.len()) && heard.taps > 0, "{heard:?}");
    for ring in &heard.rings {
        for (measured, least, most) in [(ring.frequency, LOWEST, HIGHEST), (ring.damping, 0.0, 1.0)] {
            assert!((least..=most).contains(&measured.value), "{measured:?}");
            assert!(measured.plus_minus >= 0.0 && measured.plus_minus.is_finite(), "{measured:?}");
        }
        assert!((0.0..=1.0).contains(&ring.loudness), "{}", ring.loudness);
    }
    assert!(heard.spectrum.iter().all(|(frequency, power)| *frequency > 0.0 && (0.0..=1.0).contains(power)));
}
