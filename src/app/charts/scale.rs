//! Where a value falls on an axis, in percent of the axis's length. Nothing
//! here draws.

/// An axis from 0 to `end`, which grows to the right in equal steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linear {
    end: f64,
}

impl Linear {
    /// The shortest axis with round ticks that holds every share of a whole.
    pub fn holding(largest: f64) -> Self {
        let end = [0.1, 0.2, 0.3, 0.4, 0.6, 0.8].into_iter().find(|&end| largest <= end);
        Linear { end: end.unwrap_or(1.0) }
    }

    /// Percent of the axis's length, held within the axis.
    pub fn percent(self, value: f64) -> f64 {
        (value / self.end).clamp(0.0, 1.0) * 100.0
    }

    /// Values to label, ends included.
    pub fn ticks(self) -> [f64; 3] {
        [0.0, self.end / 2.0, self.end]
    }
}

/// The smallest round number that is not below `value`.
pub fn round_above(value: f64) -> f64 {
    let decade = 10_f64.powf(value.log10().floor());
    let steps = [1.0, 1.2, 1.6, 2.0, 2.4, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    steps.into_iter().map(|step| step * decade).find(|&round| round >= value * (1.0 - 1e-9)).unwrap_or(10.0 * decade)
}

/// An axis of ratios with "no change" (1) in the middle: twice as good is as
/// far to the right as half as good is to the left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    reach: f64,
}

impl Ratio {
    /// The shortest axis with round ends that holds every ratio; the furthest
    /// end is 8, beyond which a picture says nothing more.
    pub fn holding(ratios: impl IntoIterator<Item = f64>) -> Self {
        let furthest = ratios
            .into_iter()
            .filter(|ratio| ratio.is_finite() && *ratio > 0.0)
            .fold(1.0, |most: f64, ratio| most.max(ratio).max(1.0 / ratio));
        let reach = [1.25, 1.5, 2.0, 3.0, 4.0].into_iter().find(|&reach| furthest <= reach);
        Ratio { reach: reach.unwrap_or(8.0) }
    }

    /// Both ends in words.
    pub fn ends(self) -> [String; 2] {
        ["worse", "better"].map(|word| format!("{}\u{a0}× {word}", self.reach))
    }

    /// Percent of the axis's length, held within the axis.
    pub fn percent(self, ratio: f64) -> f64 {
        if ratio.is_nan() {
            return 50.0;
        }
        (ratio.max(0.0).ln() / self.reach.ln()).clamp(-1.0, 1.0) * 50.0 + 50.0
    }

    /// Whether the axis is too short for the ratio.
    pub fn is_beyond(self, ratio: f64) -> bool {
        ratio > self.reach || ratio * self.reach < 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_linear_axis_holds_what_it_was_made_for() {
        let axis = Linear::holding(0.37);
        assert_eq!(axis.ticks(), [0.0, 0.2, 0.4]);
        assert_eq!(axis.percent(0.1), 25.0);
        assert_eq!(axis.percent(0.9), 100.0);
        assert_eq!(Linear::holding(0.95).ticks()[2], 1.0);
    }

    #[test]
    fn round_numbers_hold_what_they_were_made_for() {
        for (value, round) in [(0.0709, 0.08), (1.8, 2.0), (2.0, 2.0), (13.0, 16.0), (9.5, 10.0)] {
            assert!((round_above(value) / round - 1.0).abs() < 1e-9, "{value}");
        }
    }

    #[test]
    fn no_change_is_in_the_middle_of_a_ratio_axis() {
        let axis = Ratio::holding([0.6, 1.3]);
        assert_eq!(axis.ends(), ["2\u{a0}× worse", "2\u{a0}× better"]);
        assert_eq!(axis.percent(1.0), 50.0);
        assert_eq!(axis.percent(2.0), 100.0);
        assert_eq!(axis.percent(0.5), 0.0);
        assert!((axis.percent(2_f64.sqrt()) - 75.0).abs() < 1e-9);
    }

    #[test]
    fn what_has_no_place_on_a_ratio_axis_does_no_harm() {
        let axis = Ratio::holding([f64::NAN, 0.0, -1.0, 100.0]);
        assert_eq!(axis.ends()[1], "8\u{a0}× better");
        assert_eq!(axis.percent(f64::NAN), 50.0);
        assert_eq!(axis.percent(0.0), 0.0);
        assert_eq!(axis.percent(f64::INFINITY), 100.0);
        assert!(axis.is_beyond(100.0) && axis.is_beyond(0.01) && !axis.is_beyond(8.0));
    }
}
