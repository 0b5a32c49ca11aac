//! The best there is for each amount spent.

/// A staircase: for any amount, the best value had for no more. What costs more
/// and brings no more is not on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Staircase {
    /// Cost and value, both rising, with who stands there.
    steps: Vec<(f64, f64, usize)>,
}

impl Staircase {
    /// The best value (larger is better) for at most `cost`.
    pub fn best(&self, cost: f64) -> f64 {
        let beyond = self.steps.partition_point(|step| step.0 <= cost);
        beyond.checked_sub(1).map_or(f64::NEG_INFINITY, |last| self.steps[last].1)
    }

    /// Offers `who` at `cost` with `value`; it stays if nothing as cheap is as good.
    pub fn offer(&mut self, cost: f64, value: f64, who: usize) {
        if self.best(cost) >= value {
            return;
        }
        let at = self.steps.partition_point(|step| step.0 < cost);
        let beaten = self.steps[at..].iter().take_while(|step| step.1 <= value).count();
        self.steps.splice(at..at + beaten, [(cost, value, who)]);
    }

    /// Who stands on it, cheapest first.
    pub fn who(&self) -> impl Iterator<Item = usize> {
        self.steps.iter().map(|step| step.2)
    }

    /// Cost and value of each step, cheapest first.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.steps.iter().map(|step| (step.0, step.1))
    }

    /// Of each step, whether it is worth its cost for some price of the value: it
    /// lies on the upper hull. The others are the better buy for no price, because
    /// the next step up gives more for each unit of money (extended dominance:
    /// Cantor, Medical Decision Making 14 (1994), from memory).
    pub fn on_hull(&self) -> Vec<bool> {
        let mut hull: Vec<usize> = Vec::new();
        let slope = |a: usize, b: usize| {
            let (from, to) = (self.steps[a], self.steps[b]);
            (to.1 - from.1) / (to.0 - from.0)
        };
        for next in 0..self.steps.len() {
            while let [.., before, last] = hull[..]
                && slope(before, last) <= slope(last, next)
            {
                hull.pop();
            }
            hull.push(next);
        }
        (0..self.steps.len()).map(|step| hull.contains(&step)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_what_nothing_cheaper_beats() {
        let mut stairs = Staircase::default();
        for (who, (cost, value)) in
            [(5.0, 0.5), (0.0, 0.1), (9.0, 0.5), (5.0, 0.6), (2.0, 0.3), (1.0, 0.3)].iter().enumerate()
        {
            stairs.offer(*cost, *value, who);
        }
        assert_eq!(stairs.who().collect::<Vec<_>>(), [1, 5, 3]);
        assert_eq!(stairs.best(4.0), 0.3);
        assert_eq!(stairs.best(-1.0), f64::NEG_INFINITY);
    }

    #[test]
    fn a_step_below_the_line_between_its_neighbours_is_off_the_hull() {
        let mut stairs = Staircase::default();
        for (who, (cost, value)) in [(0.0, 0.0), (10.0, 0.1), (20.0, 0.8), (60.0, 1.0)].iter().enumerate() {
            stairs.offer(*cost, *value, who);
        }
        assert_eq!(stairs.on_hull(), [true, false, true, true]);
    }
}
