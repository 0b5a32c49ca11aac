//! Pairs of cuts, judged side by side.

/// How many pairs came out which way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SideBySide {
    /// The cut as it is now looked better.
    pub better: u32,
    /// No difference was seen.
    pub same: u32,
    /// The cut as it was looked better.
    pub worse: u32,
}

impl SideBySide {
    /// How often tossing a coin for each pair in which a difference was seen would
    /// come out at least as lopsided: the sign test (Dixon and Mood, J. American
    /// Statistical Association 41 (1946)).
    pub fn by_chance(&self) -> f64 {
        let SideBySide { better, worse, .. } = *self;
        let (seen, fewer) = (better + worse, better.min(worse));
        // A row of Pascal's triangle over its sum.
        let (mut ways, mut sum) = (0.5_f64.powi(seen as i32), 0.0);
        for k in 0..=fewer {
            sum += ways;
            ways *= f64::from(seen - k) / f64::from(k + 1);
        }
        (2.0 * sum).min(1.0)
    }
}
