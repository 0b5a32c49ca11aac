//! The cut: engagement, feed, speed and direction.

use super::Axis;
use crate::choice::choices;
use crate::quantity::{CuttingSpeed, Length, Rotation};

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

/// One cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Kind.
    pub kind: CutKind,
    /// Depth along the spindle.
    pub axial_depth: Length,
    /// Width across the feed; at most the cutter's diameter.
    pub radial_width: Length,
    /// Feed per tooth.
    pub feed_per_tooth: Length,
    /// Spindle speed.
    pub speed: Rotation,
    /// Feed axis of the table.
    pub axis: Axis,
    /// Climb or conventional.
    pub sense: CutSense,
    /// Length of cut in one part.
    pub length: Length,
    /// How many parts.
    pub parts: u32,
}

impl Cut {
    /// Feed of the table, mm/min.
    pub fn feed_rate(&self, flutes: u32) -> f64 {
        self.feed_per_tooth.as_mm() * f64::from(flutes) * self.speed.as_rpm()
    }

    /// Minutes in the cut for the whole job, without handling.
    pub fn minutes(&self, flutes: u32) -> f64 {
        self.length.as_mm() * f64::from(self.parts) / self.feed_rate(flutes)
    }

    /// Cutting speed at `diameter`.
    pub fn cutting_speed(&self, diameter: Length) -> CuttingSpeed {
        CuttingSpeed::m_per_min(core::f64::consts::PI * diameter.as_mm() * self.speed.as_rpm() / 1000.0)
    }
}
