//! What the shop has at hand; some remedies need it or are cheaper with it.

use crate::choice::choices;

choices! {
    /// Something at hand.
    Means: "What have you got, or can borrow?" {
        ColletChuck => "A collet chuck that fits", "Then changing to it costs nothing but minutes.";
        StoutCutter => "A shorter or thicker cutter", "With the reach the job needs.";
        SharpCutter => "A fresh, sharp cutter", "Of the same size.";
        SecondClamp => "A stop, parallels or spare clamps", "Anything solid that bolts to the table.";
        Lathe => "The use of a lathe", "For sleeves, spacers and collars.";
        Press => "A press or a puller", "For taking bearings off and on squarely.";
    }
}

impl Means {
    /// What it costs to buy or to have done by somebody who has it: low, high.
    /// Common practice, no source.
    pub fn price(self) -> (f64, f64) {
        match self {
            Means::ColletChuck => (35.0, 120.0),
            Means::StoutCutter => (20.0, 70.0),
            Means::SharpCutter => (12.0, 45.0),
            Means::SecondClamp => (10.0, 40.0),
            Means::Lathe => (60.0, 200.0),
            Means::Press => (10.0, 45.0),
        }
    }
}
