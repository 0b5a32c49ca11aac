//! The catalogue. Money is in the user's currency (about a euro, a dollar or a
//! pound: common practice, no source), hours are a home shop's.

use serde::{Deserialize, Serialize};

use super::{Caution, Means};

/// A remedy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "titles say it")]
pub enum RemedyId {
    LeaveAlone,
    TurnPart,
    ReverseSense,
    ClampLower,
    StopAndClamp,
    ShortenStickOut,
    LockAndSnug,
    SlowDown,
    SpeedUp,
    LighterCut,
    SharpCutter,
    StoutCutter,
    ColletChuck,
    ResetPreload,
    Drawbar,
    BraceColumn,
    SameBearings,
    AngularPair,
    TaperedRollers,
    AnotherSpindle,
}

impl RemedyId {
    /// Whether it replaces the spindle's bearings.
    pub fn is_bearing_job(self) -> bool {
        matches!(self, RemedyId::SameBearings | RemedyId::AngularPair | RemedyId::TaperedRollers)
    }
}

/// Why a remedy can't be had here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unmet {
    /// It is so already.
    AlreadySo,
    /// The spindle isn't bored through.
    NotBored,
    /// Nobody said whether the spindle is bored through.
    BoreUnknown,
    /// It doesn't apply to this machine or cut.
    DoesNotApply,
    /// The user has it done already, and everything is judged with it.
    Done,
    /// The user does not want it.
    RuledOut,
    /// It can't be done along with one that is done already.
    Excluded(RemedyId),
}

impl Unmet {
    /// Within a sentence.
    pub fn reason(self) -> String {
        match self {
            Unmet::AlreadySo => "it is so already, or as good as".to_owned(),
            Unmet::NotBored => "the spindle is not bored right through, so no drawbar can pass".to_owned(),
            Unmet::BoreUnknown => {
                "first look whether the spindle is bored right through, so that a drawbar can pass".to_owned()
            }
            Unmet::DoesNotApply => "it does not apply to this machine or this cut".to_owned(),
            Unmet::Done => "you have it done already, and all else is judged with it".to_owned(),
            Unmet::RuledOut => "you ruled it out".to_owned(),
            Unmet::Excluded(other) => {
                format!("it can’t be done along with what you have done already: {}", lower(remedy(other).title))
            }
        }
    }
}

/// `text` within a sentence.
pub(crate) fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_ascii_lowercase().to_string() + chars.as_str())
}

/// What is known of a remedy apart from its mechanics.
#[derive(Clone, Copy, Debug)]
pub struct Remedy {
    /// Which.
    pub id: RemedyId,
    /// What to do, in a few words.
    pub title: &'static str,
    /// What it changes, in a sentence.
    pub changes: &'static str,
    /// What has to be at hand; what isn't is bought or hired ([`Means::price`]).
    pub needs: &'static [Means],
    /// What can't be done along with it.
    pub excludes: &'static [RemedyId],
    /// Money with all it needs at hand: 10 and 90 %.
    pub money: (f64, f64),
    /// Hours: 10 and 90 %.
    pub hours: (f64, f64),
    /// Chance of spoiling something, 0 to 1.
    pub spoil: f64,
    /// Cautions.
    pub cautions: &'static [Caution],
}

const NO_MEANS: &[Means] = &[];

macro_rules! catalogue {
    ($( $id:ident {
        $title:literal, $changes:literal,
        needs $needs:expr, excludes [$($excluded:ident),*],
        money $money:expr, hours $hours:expr, spoil $spoil:literal,
        cautions [$($caution:ident),*]
    } )+) => {
        impl RemedyId {
            /// Every remedy: what costs nothing first.
            pub const ALL: &'static [RemedyId] = &[$(RemedyId::$id),+];
        }

        /// What is known of `id`.
        pub fn remedy(id: RemedyId) -> Remedy {
            match id {
                $(RemedyId::$id => Remedy {
                    id,
                    title: $title,
                    changes: $changes,
                    needs: $needs,
                    excludes: &[$(RemedyId::$excluded),*],
                    money: $money,
                    hours: $hours,
                    spoil: $spoil,
                    cautions: &[$(Caution::$caution),*],
                }),+
            }
        }
    };
}

catalogue! {
    LeaveAlone {
        "Leave it alone", "Nothing. Accept what the machine does.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.0, 0.0), spoil 0.0, cautions []
    }
    TurnPart {
        "Turn the part ninety degrees", "The same cut runs along the other table axis, so the soft direction of the machine lies the other way to it.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.1, 0.4), spoil 0.0, cautions [PowerOff]
    }
    ReverseSense {
        "Cut from the other side: climb instead of conventional, or back", "The edge meets the work the other way round: the side force either keeps its direction or turns round in every tooth pass. A stop has to move to the other end.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.02, 0.1), spoil 0.01, cautions [PullIn, RotatingCutter]
    }
    ClampLower {
        "Clamp the part lower and tighter", "Less of it stands above the grip, and the grip presses harder. Mind that the cutter still clears the jaws.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.1, 0.4), spoil 0.0, cautions [PowerOff, TryTheGrip]
    }
    StopAndClamp {
        "Add a stop, parallels or a second clamp", "Something solid takes the feed force, and the part can’t rock or slide.",
        needs &[Means::SecondClamp], excludes [],
        money (0.0, 0.0), hours (0.2, 0.8), spoil 0.0, cautions [PowerOff, TryTheGrip]
    }
    ShortenStickOut {
        "Shorten the stick-out", "The cutter goes as deep into its holder as the cut allows; it bends with the cube of its length.",
        needs NO_MEANS, excludes [StoutCutter],
        money (0.0, 0.0), hours (0.05, 0.2), spoil 0.0, cautions [PowerOff]
    }
    LockAndSnug {
        "Lock the quill, draw it in, and snug the gibs", "The quill no longer shakes in its bore, and the slides no longer rock.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.3, 1.5), spoil 0.0, cautions [PowerOff]
    }
    SlowDown {
        "Run it slower", "At a lower cutting speed the flank rubs on the waves and damps them, and the edge stays cooler. Minutes go up.",
        needs NO_MEANS, excludes [SpeedUp],
        money (0.0, 0.0), hours (0.05, 0.1), spoil 0.0, cautions [PowerOff]
    }
    SpeedUp {
        "Run it faster", "Less built-up edge and fewer minutes; the flank rubs less, so chatter comes sooner.",
        needs NO_MEANS, excludes [SlowDown],
        money (0.0, 0.0), hours (0.05, 0.1), spoil 0.0, cautions [PowerOff, OverSpeed]
    }
    LighterCut {
        "Take a lighter cut", "Half the depth in twice the passes: half the force, at the price of minutes.",
        needs NO_MEANS, excludes [],
        money (0.0, 0.0), hours (0.0, 0.0), spoil 0.0, cautions [RotatingCutter]
    }
    SharpCutter {
        "Put in a fresh, sharp cutter", "Less edge force, less rubbing, a cleaner surface.",
        needs &[Means::SharpCutter], excludes [StoutCutter],
        money (0.0, 0.0), hours (0.05, 0.2), spoil 0.0, cautions [PowerOff]
    }
    StoutCutter {
        "Use a shorter, thicker cutter", "A thicker shank and a shorter reach; it bends far less.",
        needs &[Means::StoutCutter], excludes [ShortenStickOut, SharpCutter],
        money (0.0, 0.0), hours (0.1, 0.3), spoil 0.0, cautions [PowerOff]
    }
    ColletChuck {
        "Hold the cutter in a collet chuck", "A stiffer, truer grip than chuck jaws, and one that does not let an end mill creep.",
        needs &[Means::ColletChuck], excludes [AnotherSpindle],
        money (0.0, 0.0), hours (0.1, 0.5), spoil 0.01, cautions [PowerOff, UnretainedTaper]
    }
    ResetPreload {
        "Reset the bearings’ collar or nut", "A little more push takes the play out of sound bearings. Too much heats and kills them.",
        needs NO_MEANS, excludes [SameBearings, AngularPair, TaperedRollers, AnotherSpindle],
        money (0.0, 0.0), hours (0.5, 2.5), spoil 0.04, cautions [PowerOff]
    }
    Drawbar {
        "Fit a drawbar", "The taper is pulled home and stays there.",
        needs NO_MEANS, excludes [AnotherSpindle],
        money (10.0, 60.0), hours (1.0, 5.0), spoil 0.03, cautions [PowerOff, UnretainedTaper]
    }
    BraceColumn {
        "Brace the column or add mass", "The column and the base bend less; added mass lowers the ring.",
        needs NO_MEANS, excludes [],
        money (20.0, 150.0), hours (3.0, 14.0), spoil 0.01, cautions [HeavyLift]
    }
    SameBearings {
        "Fit new bearings of the same kind", "Fresh tracks and the play of a new bearing; the design stays as it was.",
        needs &[Means::Press], excludes [ResetPreload, AngularPair, TaperedRollers, AnotherSpindle],
        money (15.0, 60.0), hours (2.5, 8.0), spoil 0.06, cautions [PowerOff, Pressing, Heating]
    }
    AngularPair {
        "Convert to angular contact bearings", "A preloaded pair without play, stiffer along the spindle; needs spacers or a nut to set it.",
        needs &[Means::Press, Means::Lathe], excludes [ResetPreload, SameBearings, TaperedRollers, AnotherSpindle],
        money (60.0, 260.0), hours (6.0, 22.0), spoil 0.12, cautions [PowerOff, Pressing, Heating, OverSpeed]
    }
    TaperedRollers {
        "Convert to tapered roller bearings", "Line contact: the stiffest support, preloaded by a nut; runs warmer and slower.",
        needs &[Means::Press, Means::Lathe], excludes [ResetPreload, SameBearings, AngularPair, AnotherSpindle],
        money (40.0, 170.0), hours (6.0, 22.0), spoil 0.12, cautions [PowerOff, Pressing, Heating, OverSpeed]
    }
    AnotherSpindle {
        "Fit another spindle or head", "A complete spindle with its own bearings, taper and drawbar.",
        needs &[Means::Lathe], excludes [ColletChuck, ResetPreload, Drawbar, SameBearings, AngularPair, TaperedRollers],
        money (250.0, 1100.0), hours (12.0, 50.0), spoil 0.10, cautions [PowerOff, HeavyLift, OverSpeed]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exclusions_are_mutual() {
        for &id in RemedyId::ALL {
            for &other in remedy(id).excludes {
                assert!(remedy(other).excludes.contains(&id), "{other:?} must exclude {id:?} too");
            }
        }
    }

    /// What forbids the cut is said of a cut that was looked at, never of a remedy
    /// whatever the cut.
    #[test]
    fn no_remedy_forbids_the_cut_whatever_it_is() {
        for &id in RemedyId::ALL {
            for caution in remedy(id).cautions {
                assert!(!matches!(caution, Caution::PartMaySlip | Caution::PartMayLift), "{id:?}");
                assert!(!caution.text().contains("Do not take this cut"), "{id:?}");
            }
        }
    }

    #[test]
    fn remedies_that_cost_nothing_come_before_those_that_always_cost() {
        let first_paid = RemedyId::ALL.iter().position(|&id| remedy(id).money.0 > 0.0).expect("some always cost");
        assert!(RemedyId::ALL[..first_paid].iter().all(|&id| remedy(id).money.1 == 0.0));
        assert!(RemedyId::ALL[first_paid..].iter().all(|&id| remedy(id).money.1 > 0.0));
    }
}
