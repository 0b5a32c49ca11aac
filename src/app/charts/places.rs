//! Where marks stand that must not cover each other. Nothing here draws.

use spindlewise_engine::order;
use spindlewise_engine::quantity::GRADES;

/// An axis of roughness in which each grade is as wide as the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grades {
    /// The first and the last of the grades shown.
    ends: (usize, usize),
}

impl Grades {
    /// The shortest that holds all of `values`, mm.
    pub fn holding(values: impl IntoIterator<Item = f64>) -> Self {
        let (low, high) =
            values.into_iter().fold((f64::INFINITY, 0.0_f64), |(low, high), value| (low.min(value), high.max(value)));
        let last = GRADES.len() - 1;
        let first = GRADES.iter().rposition(|&grade| grade <= low).unwrap_or(0).min(last - 1);
        let end = GRADES.iter().position(|&grade| grade >= high).unwrap_or(last);
        Grades { ends: (first, end.max(first + 1)) }
    }

    /// The grades to label, mm.
    pub fn shown(self) -> &'static [f64] {
        &GRADES[self.ends.0..=self.ends.1]
    }

    /// Share of the axis's length, 0 to 1, held within the axis.
    pub fn share(self, value: f64) -> f64 {
        let (low, high) = (GRADES[self.ends.0], GRADES[self.ends.1]);
        ((value / low).ln() / (high / low).ln()).clamp(0.0, 1.0)
    }
}

/// Dots of `size` at `places` in piles: for each the column it comes to stand in,
/// and how many are below it.
pub fn piles(places: &[f64], size: f64) -> Vec<(f64, usize)> {
    let mut piled: Vec<(f64, usize)> = Vec::new();
    for place in places {
        let column = size * (place / size).round();
        let below = piled.iter().filter(|other| other.0 == column).count();
        piled.push((column, below));
    }
    piled
}

/// Heights as near as can be to `wanted`, but `gap` apart and none below `floor`;
/// larger is lower.
pub fn apart(wanted: &[f64], gap: f64, floor: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order::greatest_first(&mut order, |&at| wanted[at]);
    let mut heights = vec![0.0; wanted.len()];
    let mut lowest = floor;
    for one in order {
        heights[one] = wanted[one].min(lowest);
        lowest = heights[one] - gap;
    }
    heights
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dots_pile_up_and_none_is_lost() {
        let piled = piles(&[1.0, 3.0, 9.0, 2.5], 10.0);
        assert_eq!(piled, [(0.0, 0), (0.0, 1), (10.0, 0), (0.0, 2)]);
    }

    #[test]
    fn an_axis_of_grades_holds_what_it_was_made_for() {
        let axis = Grades::holding([0.0017, 0.0059]);
        assert_eq!(axis.shown(), [0.001_6, 0.003_2, 0.006_3]);
        assert!((axis.share(0.003_2) - 0.5).abs() < 0.01);
        for value in [1e-6, 0.001_6, 9.0] {
            let axis = Grades::holding([value]);
            assert!(axis.shown().len() >= 2 && (0.0..=1.0).contains(&axis.share(value)), "{value}");
        }
    }

    #[test]
    fn names_keep_apart() {
        assert_eq!(apart(&[100.0, 99.0, 20.0, 101.0], 10.0, 100.0), [90.0, 80.0, 20.0, 100.0]);
    }
}
