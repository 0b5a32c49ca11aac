//! What the user wants and what they would give for it.

use crate::choice::choices;
use crate::quantity::{Hours, Length, Money};
use crate::work::{CutKind, Surfaces};

choices! {
    /// What brings the user here.
    Trouble: "What goes wrong?" {
        Chatter => "It chatters", "It sings, growls or leaves a pattern.";
        RoughWall => "Rough side walls", "Where the side of the cutter cut.";
        RoughFloor => "Rough floors or faces", "Where the end of the cutter cut.";
        OffSize => "Parts come out off size", "Slots too wide, walls out of place.";
        Play => "I can feel play", "Something rocks when I push it.";
        Advised => "I was told to change the bearings", "And want to know whether it would help.";
    }
}

/// What would count as good enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Want {
    /// Wanted roughness Ra.
    pub finish: Length,
    /// Bearable error of location.
    pub tolerance: Length,
    /// Whether the location error counts towards the goal.
    pub size_counts: bool,
    /// The surfaces whose finish counts.
    pub surfaces: Surfaces,
}

impl Want {
    /// The surfaces that count in a cut of this kind: the cut says which, unless
    /// the complaint names one.
    pub fn surfaces(kind: CutKind, troubles: &[Trouble]) -> Surfaces {
        let flat = matches!(kind, CutKind::Face | CutKind::Floor);
        let has = |trouble| troubles.contains(&trouble);
        let floor = has(Trouble::RoughFloor) || (flat && !has(Trouble::RoughWall));
        let wall = kind != CutKind::Face && (has(Trouble::RoughWall) || !floor);
        Surfaces { wall, floor: floor || !wall }
    }
}

/// What the user would give.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// Most money, if limited.
    pub money: Option<Money>,
    /// Most hours, if limited.
    pub hours: Option<Hours>,
    /// Worth of an hour.
    pub hour_worth: Money,
    /// Worth of reaching the goal for certain.
    pub target_worth: Money,
    /// Cost of a spoiled spindle.
    pub spoil_worth: Money,
}
