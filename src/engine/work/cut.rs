//! The cut: engagement, feed, speed and direction.

use super::Axis;
use crate::choice::choices;

choices! {
    /// Kind of cut.
    CutKind: "What kind of cut?" {
        Slot => "Slot", "Full width of the cutter.";
        Side => "Side", "Along a wall, with the side of the cutter.";
        Face => "Face", "A flat top, wide and shallow.";
        Floor => "Floor", "The bottom of a pocket or step.";
    }
}

choices! {
    /// How the edge meets the work.
    CutSense: "With or against the feed?" {
        Conventional => "Conventional: against the feed", "The edge starts thin and comes out thick; the work is pushed back.";
        Climb => "Climb: with the feed", "The edge bites thick and comes out thin; the work is pulled along.";
    }
}

/// One cut. Lengths in mm, speed in rpm.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Kind.
    pub kind: CutKind,
    /// Depth along the spindle.
    pub axial_depth: f64,
    /// Width across the feed; at most the cutter's diameter.
    pub radial_width: f64,
    /// Feed per tooth.
    pub feed_per_tooth: f64,
    /// Spindle speed.
    pub speed: f64,
    /// Feed axis of the table.
    pub axis: Axis,
    /// Climb or conventional.
    pub sense: CutSense,
    /// Length of cut in one part.
    pub length: f64,
    /// How many parts.
    pub parts: f64,
}

impl Cut {
    /// Feed of the table, mm/min.
    pub fn feed_rate(&self, flutes: u32) -> f64 {
        self.feed_per_tooth * f64::from(flutes) * self.speed
    }

    /// Minutes in the cut for the whole job, without handling.
    pub fn minutes(&self, flutes: u32) -> f64 {
        self.length * self.parts / self.feed_rate(flutes)
    }

    /// Cutting speed at diameter `diameter` (mm), m/min.
    pub fn cutting_speed(&self, diameter: f64) -> f64 {
        core::f64::consts::PI * diameter * self.speed / 1000.0
    }
}
