//! What the ear would make of it.

use super::Trace;

impl Trace {
    /// The vibration as sound: `seconds` of it at `rate` samples a second, the
    /// last revolutions over and over. In mm/s, since what the air hears of a
    /// surface is how fast it moves; both directions of the table go in.
    ///
    /// A cut that repeats itself closes without a click; in one that does not,
    /// the end of each round fades into the start of the next.
    pub fn sound(&self, rate: f64, seconds: f64) -> Vec<f32> {
        let speeds: Vec<f64> = self
            .displacement
            .windows(2)
            .map(|pair| ((pair[1][0] - pair[0][0]) + (pair[1][1] - pair[0][1])) / self.step)
            .collect();
        let fade = self.steps_per_revolution.min(speeds.len() / 2);
        let round = speeds.len() - fade;
        if round < 2 {
            return Vec::new();
        }
        let speed = |at: usize| {
            let at = at % round;
            // Over the first revolution the one after the end fades out.
            if at < fade {
                let share = at as f64 / fade as f64;
                share * speeds[at] + (1.0 - share) * speeds[round + at]
            } else {
                speeds[at]
            }
        };
        let stride = 1.0 / (rate * self.step);
        (0..(rate * seconds) as usize)
            .map(|sample| {
                // The mean of what happens within a sample, so that what is
                // too high to hear does not fold down.
                let (from, to) = (sample as f64 * stride, (sample + 1) as f64 * stride);
                if stride <= 1.0 {
                    let low = from as usize;
                    return (speed(low) + from.fract() * (speed(low + 1) - speed(low))) as f32;
                }
                let (low, high) = (from as usize, (to as usize).max(from as usize + 1));
                ((low..high).map(speed).sum::<f64>() / (high - low) as f64) as f32
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::super::marks::{Floor, Wall};
    use super::super::swept::Swept;
    use super::*;

    /// Four revolutions of a swing of 0.01 mm along the feed, `cycles` in each,
    /// at 25 revolutions a second.
    fn swinging(cycles: f64) -> Trace {
        let steps = 4_000;
        let step = 0.04 / f64::from(steps);
        let at = |i: u32| 0.01 * (TAU * cycles * f64::from(i) / f64::from(steps)).sin();
        Trace {
            step,
            steps_per_revolution: steps as usize,
            displacement: (0..4 * steps).map(|i| [at(i), 0.0, 0.0]).collect(),
            force: Vec::new(),
            each_tooth: Vec::new(),
            teeth: 2,
            feed: 0.05,
            alike: true,
            wall: Wall { slices: Vec::new(), swept: Swept::default(), feed: 0.05, teeth: 2 },
            floor: Floor { marks: Vec::new(), corner: 0.0, dish: 0.0, lean: 1.0, feed: 0.05, teeth: 2 },
            spindle_travel: [0.0; 3],
            loose: 0.0,
            slipped: [0.0; 3],
            lifted: 0.0,
        }
    }

    /// A swing of amplitude a at f sounds at f with a speed of 2 pi f a.
    #[test]
    fn pitch_and_loudness_are_those_of_the_swing() {
        let (rate, seconds) = (8_000.0, 2.0);
        let sound = swinging(8.0).sound(rate, seconds);
        assert_eq!(sound.len(), 16_000);
        let rises = sound.windows(2).filter(|pair| pair[0] < 0.0 && pair[1] >= 0.0).count();
        assert!(rises.abs_diff(400) <= 1, "{rises}");
        let loudest = sound.iter().fold(0.0_f32, |most, value| most.max(value.abs()));
        assert!((f64::from(loudest) - TAU * 200.0 * 0.01).abs() < 0.2, "{loudest}");
    }

    /// Neither the end of a round nor a rate below the steps' clicks or folds.
    #[test]
    fn rounds_join_and_what_is_too_high_is_left_out() {
        let sound = swinging(8.3).sound(44_100.0, 1.0);
        let jump = sound.windows(2).map(|pair| (pair[1] - pair[0]).abs()).fold(0.0, f32::max);
        assert!(jump < 1.5, "{jump} mm/s from one sample to the next");
        let high = swinging(400.0).sound(8_000.0, 0.5);
        let loudest = high.iter().fold(0.0_f32, |most, value| most.max(value.abs()));
        assert!(loudest < 0.35 * TAU as f32 * 10_000.0 * 0.01, "{loudest}");
    }
}
