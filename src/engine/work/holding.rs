//! How the part is held.

use crate::choice::choices;
use crate::quantity::{Force, Length};

choices! {
    /// How the part is held.
    Workholding: "How is the part held?" {
        BareVise => "In a vise, nothing else", "A drill vise or small mill vise.";
        ViseStop => "In a vise, on parallels, against a stop", "Seated, knocked down, can’t slide along.";
        Angled => "On a V-block or at an angle in the vise", "Line contact, or only part of the jaw.";
        StepClamps => "Step clamps on the table", "Straps, studs and packing.";
        Plate => "Screwed to a plate", "Screws through or into the part.";
        HandTight => "A hand-tight clamp", "A toolmaker’s or C-clamp, no wrench.";
    }
}

choices! {
    /// What the part itself is like.
    PartShape: "What is the part like?" {
        Block => "A solid block", "Stands by itself.";
        Plate => "A plate", "Thinner than it is wide.";
        Thin => "Thin, tall or hanging over", "A wall, a tube, an arm out of the vise.";
    }
}

/// What is typical of a way of holding: stiffness in N/um at the height of the
/// grip, clamp force in N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypicalHolding {
    /// Across X, Y and along Z: low, high.
    pub stiffness: ((f64, f64), (f64, f64), (f64, f64)),
    /// Clamp force as people tighten it: low, high.
    pub clamp_force: (f64, f64),
    /// Whether something solid takes the feed force.
    pub stop: bool,
}

impl Workholding {
    /// Typical values; common practice, no source.
    pub fn typical(self) -> TypicalHolding {
        let (stiffness, clamp_force, stop) = match self {
            Workholding::BareVise => (((10.0, 40.0), (12.0, 45.0), (8.0, 30.0)), (2_500.0, 9_000.0), false),
            Workholding::ViseStop => (((18.0, 70.0), (20.0, 80.0), (15.0, 60.0)), (3_500.0, 11_000.0), true),
            Workholding::Angled => (((3.0, 14.0), (4.0, 16.0), (3.0, 14.0)), (1_500.0, 6_000.0), false),
            Workholding::StepClamps => (((20.0, 90.0), (20.0, 90.0), (25.0, 100.0)), (5_000.0, 16_000.0), false),
            Workholding::Plate => (((25.0, 110.0), (25.0, 110.0), (25.0, 110.0)), (8_000.0, 25_000.0), true),
            Workholding::HandTight => (((1.2, 6.0), (1.2, 6.0), (1.0, 5.0)), (200.0, 900.0), false),
        };
        TypicalHolding { stiffness, clamp_force, stop }
    }
}

impl PartShape {
    /// Stiffness of the part between grip and cut, N/um: low, high. Common
    /// practice, no source.
    pub fn stiffness(self) -> (f64, f64) {
        match self {
            PartShape::Block => (150.0, 800.0),
            PartShape::Plate => (40.0, 200.0),
            PartShape::Thin => (2.5, 20.0),
        }
    }

    /// Mass (kg) that swings in the grip, the part of the jaw that goes with it
    /// included; of a thin part only what bends: low, high. Common practice, no
    /// source.
    pub fn swinging_mass(self) -> (f64, f64) {
        match self {
            PartShape::Block => (0.8, 6.0),
            PartShape::Plate => (0.4, 3.0),
            PartShape::Thin => (0.05, 0.5),
        }
    }

    /// Damping ratio of the part in its grip: a block slips a little in it, a thin
    /// part bends and nothing rubs: low, high. Common practice, no source.
    pub fn damping(self) -> (f64, f64) {
        match self {
            PartShape::Block | PartShape::Plate => (0.03, 0.08),
            PartShape::Thin => (0.005, 0.02),
        }
    }
}

/// The part in its grip.
#[derive(Clone, Debug, PartialEq)]
pub struct Holding {
    /// How it is held.
    pub kind: Workholding,
    /// What the part is like.
    pub shape: PartShape,
    /// Height of the cut above the grip.
    pub height: Length,
    /// Clamp force, if known.
    pub clamp_force: Option<Force>,
}
