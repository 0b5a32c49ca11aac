//! The usual cautions, said where the work can hurt someone.

use serde::{Deserialize, Serialize};

/// A danger of the work at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the text says it")]
pub enum Caution {
    RotatingCutter,
    PowerOff,
    TryTheGrip,
    PartMaySlip,
    PartMayLift,
    IntoTheGrip,
    UnretainedTaper,
    DrillChuckSideLoad,
    PullIn,
    CutterMaySnap,
    OverSpeed,
    Pressing,
    Heating,
    HeavyLift,
    Stall,
    ShotBearings,
    LooseSpindle,
    Rubbing,
    Guards,
}

impl Caution {
    /// What to mind, in plain words.
    pub fn text(self) -> &'static str {
        match self {
            Caution::RotatingCutter => {
                "Keep hands, sleeves, rags and brushes away from a turning cutter; wear eye protection; stop the spindle before you measure or clear chips."
            }
            Caution::PowerOff => "Switch off and pull the plug before you touch the spindle, the belts or the cutter.",
            Caution::TryTheGrip => {
                "Push hard at the clamped part by hand before the spindle turns: if it gives at all, it is not held. A part thrown by a cutter injures."
            }
            Caution::PartMaySlip => {
                "The part may slip in its grip. Do not take this cut until it is held better: a part thrown by a cutter injures."
            }
            Caution::PartMayLift => {
                "The cutter may lift or tip the part out of its grip. Hold it lower, or clamp it down, before you cut."
            }
            Caution::IntoTheGrip => {
                "The cut is deeper than it begins above the grip: the cutter would mill into the jaws or the clamps, which breaks it and tears the part loose. Hold the part higher, or cut less deep."
            }
            Caution::UnretainedTaper => {
                "A chuck held only by its taper can come loose under side load while it turns. Milling needs a drawbar, a threaded nut or another positive hold; follow the machine maker’s advice."
            }
            Caution::DrillChuckSideLoad => {
                "A drill chuck is made for end thrust. Under side load an end mill can creep out of its jaws, and the chuck can leave its taper."
            }
            Caution::PullIn => {
                "With lost motion in the screw, climb cutting can snatch the work into the cutter, and so can the half of a slot or a wide cut that climbs. Lock the other slides, keep the gibs snug, take light cuts, and stay clear."
            }
            Caution::CutterMaySnap => {
                "The cutter may snap in this cut, and its pieces fly. Take less depth or less feed, and let it stick out no further than it must. Wear eye protection, and stand aside of where it turns."
            }
            Caution::OverSpeed => {
                "Stay below the speed marked on the cutter and the bearings; large cutters burst and chucks open when over-sped. An edge run faster than its material stands burns in minutes."
            }
            Caution::Pressing => {
                "Press squarely, on the ring that carries the fit, behind a shield: parts under a press can burst or fly."
            }
            Caution::Heating => {
                "Hot parts and oil burn; heat evenly, in air that can take the fumes, and never with a flame near grease or solvent."
            }
            Caution::HeavyLift => {
                "Heads, columns and added weights crush; get help or a hoist, and follow the maker’s way of lifting."
            }
            Caution::Stall => "The drive may stall or the belt slip in this cut; be ready to stop the feed.",
            Caution::ShotBearings => {
                "Bearings that grind, growl or knock can seize or shed parts while they turn. Replace them before you go on, whatever the finish."
            }
            Caution::LooseSpindle => {
                "A spindle this loose can dig in, break the cutter and throw the part. Take up its play, or replace the bearings, before you go on."
            }
            Caution::Rubbing => {
                "The chip is thinner than the edge is round: it rubs instead of cutting, heats up and dulls. Feed faster, or take more at a time."
            }
            Caution::Guards => {
                "Keep the guards on. Local rules and the maker’s instructions come before anything said here; ask a qualified person when in doubt."
            }
        }
    }
}
