//! How each reading is taken: in words, and in minutes.
//!
//! All of it is common practice, no source.

use super::{Place, ReadingKind};

/// Readings that are taken in one set-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the guide's title says it")]
pub enum ReadingGroup {
    Tip,
    Nose,
    Head,
    Part,
    Play,
    Runout,
    Quill,
    Tap,
    PastCuts,
}

/// How the readings of a group are taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// The readings' name.
    pub title: &'static str,
    /// How to take them, in a few sentences.
    pub how: &'static str,
    /// What it takes.
    pub kit: &'static str,
    /// What to mind so that nobody is hurt.
    pub caution: &'static str,
    /// What to do, in order.
    pub steps: &'static [&'static str],
    /// What a good reading looks like.
    pub good: &'static [&'static str],
    /// What usually goes wrong.
    pub mistakes: &'static [&'static str],
}

/// Minutes it takes to set up, take and repeat one reading by itself.
/// Common practice, no source.
pub fn minutes(kind: ReadingKind) -> f64 {
    match kind.group() {
        ReadingGroup::Tip | ReadingGroup::Head | ReadingGroup::Part => 5.0,
        // Cutter and holder come out first, and go back in.
        ReadingGroup::Nose => 8.0,
        ReadingGroup::Play | ReadingGroup::Quill => 4.0,
        ReadingGroup::Runout => 3.0,
        ReadingGroup::Tap => 6.0,
        ReadingGroup::PastCuts => match kind {
            ReadingKind::PastFinish { .. } => 3.0,
            // Trial cuts in scrap, where nobody remembers.
            _ => 10.0,
        },
    }
}

impl ReadingKind {
    /// The readings it is taken with.
    pub fn group(self) -> ReadingGroup {
        match self {
            ReadingKind::Pull { place: Place::Tip, .. } => ReadingGroup::Tip,
            ReadingKind::Pull { place: Place::Nose, .. } => ReadingGroup::Nose,
            ReadingKind::Pull { place: Place::Head, .. } => ReadingGroup::Head,
            ReadingKind::Pull { place: Place::Part, .. } => ReadingGroup::Part,
            ReadingKind::RadialPlay | ReadingKind::AxialPlay => ReadingGroup::Play,
            ReadingKind::Runout => ReadingGroup::Runout,
            ReadingKind::QuillShake => ReadingGroup::Quill,
            ReadingKind::Tap(_) | ReadingKind::Decay { .. } => ReadingGroup::Tap,
            ReadingKind::PastFinish { .. } | ReadingKind::Quiet | ReadingKind::Chatters => ReadingGroup::PastCuts,
        }
    }
}

/// How one pulls, wherever it is: the light pull takes up the play, so that what the
/// needle shows beyond it is springs alone.
const PULL: &str = "Pull lightly, until nothing rocks any more: that takes up the play. Hold it, turn the dial to zero, and note what the scale shows. Then pull the same way as hard as the scale and one arm allow, and read needle and scale at the same moment.";

/// And what has to follow.
const EASE_BACK: &str = "Ease back to the light pull, without letting go: the needle has to come back to zero. Do it all a second time. Write down the movement, and the full pull less the light one.";

/// What a good pull looks like, wherever it is taken.
const GOOD_PULL: &[&str] = &[
    "Back at the light pull the needle is at zero, to within one division.",
    "Two pulls agree within a division or a tenth, whichever is more.",
    "A needle that hardly moves is a reading as well: write down what you see, 0 if it stands still. It says that this is stiff; a harder pull says how stiff.",
    "Half the pull shows about half the movement. If most of it comes with the first little pull, the play wasn’t taken up yet: begin with a firmer light pull. The play itself is read further below.",
];

impl ReadingGroup {
    /// Every group, in the order of the page.
    pub const ALL: [Self; 9] = [
        Self::Tip,
        Self::Nose,
        Self::Head,
        Self::Part,
        Self::Play,
        Self::Runout,
        Self::Quill,
        Self::Tap,
        Self::PastCuts,
    ];

    /// How its readings are taken.
    pub fn guide(self) -> Guide {
        match self {
            Self::Tip => Guide {
                title: "Pull at the cutter tip",
                how: "Hook the luggage scale round the cutter, low down, with the indicator’s foot on the table and its finger on the cutter, opposite the hook. Pull lightly to take up the play, turn the dial to zero, pull hard the same way, read, and ease back: the needle has to come back to zero.",
                kit: "Dial indicator on a stand, luggage scale, a loop of cord, tape for the cutter’s edges.",
                caution: "Power off, plug pulled, cutter at a standstill with its edges taped. Pull by hand only, never with a lever, a jack or the feed, and stand so that you don’t fall if the hook slips off.",
                steps: &[
                    "Set the machine as you mill: quill and slides locked, the cutter as far out as in the cut. Tape its edges.",
                    "Put the indicator’s foot on the table and its finger on the cutter, on the side away from the pull and at the height of the hook. Press the finger in by half a turn of the needle, so that it can follow.",
                    "Loop the cord round the cutter, low down, and hook the scale in it, level and along the table.",
                    PULL,
                    EASE_BACK,
                    "Then turn it all by a quarter and pull towards you.",
                ],
                good: GOOD_PULL,
                mistakes: &[
                    "The foot on the head: then what head and column give is missing.",
                    "The finger askew, or not at the height of the hook.",
                    "A timid pull: the movement should be ten divisions or more.",
                    "A hand or an elbow on the table while you read.",
                ],
            },
            Self::Nose => Guide {
                title: "Pull at the spindle nose",
                how: "The same on the bare end of the spindle, without holder and cutter: light pull, zero, hard pull, ease back. What moves less than at the tip is holder and cutter.",
                kit: "Dial indicator on a stand, luggage scale, a loop of cord.",
                caution: "Power off, plug pulled. Catch the holder when it comes out. Pull by hand only, never with a lever, a jack or the feed.",
                steps: &[
                    "Take out cutter and holder; leave quill and slides locked as you mill.",
                    "Put the indicator’s foot on the table and its finger on smooth ground metal of the nose, on the side away from the pull.",
                    "Loop the cord round the nose at the same height, to be pulled along the table.",
                    PULL,
                    EASE_BACK,
                    "Then the same towards you.",
                ],
                good: GOOD_PULL,
                mistakes: &[
                    "The finger on a thread, a keyway or paint.",
                    "The cord round the quill instead of the nose: then the bearings are missing.",
                    "The foot on the head or on the quill.",
                    "The quill further out than you mill.",
                ],
            },
            Self::Head => Guide {
                title: "Pull on the head",
                how: "Hook on to the head casting itself, beside the quill, and read there: light pull, zero, hard pull, ease back. What moves here is head and column: no bearing can take it away.",
                kit: "Dial indicator on a tall stand, luggage scale, a strap or a loop of cord.",
                caution: "Power off, plug pulled, the head’s own lock tight. Pull by hand only: a light machine that isn’t bolted down can tip.",
                steps: &[
                    "Lock the head as you mill. Find clean iron low on the casting, beside the quill.",
                    "Put the indicator’s foot on the table and its finger on the casting, low down, on the side away from the pull. For the pull towards you it may touch the front, beside the strap.",
                    "Put the strap round the casting at the same height.",
                    PULL,
                    EASE_BACK,
                    "Then the same towards you.",
                ],
                good: GOOD_PULL,
                mistakes: &[
                    "The finger on a cover, a guard or thick paint.",
                    "Hook or finger on the quill: that belongs to the nose.",
                    "Hook and finger at different heights.",
                    "The machine rocks on its stand: bolt it down, or pull less.",
                ],
            },
            Self::Part => Guide {
                title: "Pull on the part",
                how: "Hook on to the part at the height of the cut, with the indicator’s foot on the table: light pull, zero, hard pull, ease back. That is how much the grip gives.",
                kit: "Dial indicator on a stand, luggage scale, a loop of cord.",
                caution: "Power off, plug pulled, cutter out of the way. Pull by hand only, and not from above your feet: a part in a poor grip can come out.",
                steps: &[
                    "Grip the part just as you cut it. Raise the spindle well clear.",
                    "Put the indicator’s foot on the table, not on the vise, and its finger on the part at the height of the cut, on the side away from the pull.",
                    "Loop the cord round the part at the same height.",
                    PULL,
                    EASE_BACK,
                    "Then the same towards you.",
                ],
                good: GOOD_PULL,
                mistakes: &[
                    "The foot on the vise: then what the vise gives is missing.",
                    "A needle that stays behind: the part has slid in its grip. Grip it anew and pull less.",
                    "A thin part touched where it is thick.",
                ],
            },
            Self::Play => Guide {
                title: "Play at the spindle nose",
                how: "Rock the nose lightly by hand and lift and drop it. Note only the dead movement before it comes up against something.",
                kit: "Dial indicator with a short arm or a magnet foot.",
                caution: "Power off, plug pulled. By hand only, no levers: hard prying marks the bearings.",
                steps: &[
                    "Put the indicator’s foot on the quill, or on the head if the quill is locked hard, so that only the bearings are in between.",
                    "Sideways: finger on the nose, square to it. Push the nose away with two fingers until it comes up against something, read, pull it back just as lightly, read. The difference is the play.",
                    "Up and down: finger from below on the end of the nose. Lift the spindle lightly, let it down, read both ends.",
                    "Turn the spindle by a third and repeat; write down the middle one of three.",
                ],
                good: &[
                    "The needle stops dead at both ends, and stays there when you let go.",
                    "Three tries agree within a division.",
                    "No dead movement at all is a reading as well: write down 0.",
                ],
                mistakes: &[
                    "Pushing hard: then bearings and quill bend, and that is no play.",
                    "The foot on the table: then the shake of the quill and the column are in it.",
                    "Turning the spindle while you rock it: then runout is in it.",
                    "Stiff cold grease that hides the play: turn the spindle by hand a few times first.",
                ],
            },
            Self::Runout => Guide {
                title: "Runout",
                how: "Touch the shank just above the flutes. Turn the spindle slowly by hand, unplugged, once round.",
                kit: "Dial indicator on a stand, a felt pen.",
                caution: "Power off, plug pulled. Turn by the pulley or the drawbar, with your hands off the cutting edges.",
                steps: &[
                    "Wipe taper, collet and shank clean and put the cutter in as you mill.",
                    "Put the indicator’s foot on the table and its finger on the smooth shank, just above the flutes and square to it.",
                    "Turn the spindle slowly by hand, always the same way, once round. Note the lowest and the highest figure.",
                    "The whole swing between the two is the reading. Mark the high side with the pen and turn once more.",
                ],
                good: &[
                    "The high side comes at the same mark each time round.",
                    "Highest and lowest lie about half a turn apart.",
                    "Two turns agree within a division.",
                ],
                mistakes: &[
                    "The finger on the flutes or on a set-screw flat: it jumps.",
                    "Writing down half of the swing.",
                    "Leaning on the spindle while it turns: then the play is in it.",
                    "Two highs in one turn: dirt, a burr or a shank that isn’t round.",
                ],
            },
            Self::Quill => Guide {
                title: "Shake of the quill",
                how: "Clamp the indicator to the head and touch the quill, locked as you mill. Rock it by hand, both ways.",
                kit: "Dial indicator with a short arm or a magnet foot.",
                caution: "Power off, plug pulled. By hand only, no levers.",
                steps: &[
                    "Bring the quill out as far as you mill, and lock it as you do then.",
                    "Put the indicator’s foot on the head and its finger on the quill, low down and square to it.",
                    "Push the quill lightly one way until it comes up against something, read, then the other way, read. The difference is the shake.",
                    "Try both directions of the table and write down the larger one.",
                ],
                good: &[
                    "The needle stops dead at both ends, and stays there when you let go.",
                    "Three tries agree within a division.",
                    "Unlocked, it shakes more than locked.",
                ],
                mistakes: &[
                    "Pushing at the nose: then the bearings’ play is in it.",
                    "Pushing hard: what bends is no shake.",
                    "The quill locked tighter, or drawn in further, than when you mill.",
                ],
            },
            Self::Tap => Guide {
                title: "Tap test",
                how: "With the power off and the plug pulled, tap the standing cutter lightly with a small soft hammer, in the direction the reading is for, and let it ring out. Hold the microphone a hand’s breadth away.",
                kit: "A small hammer with a soft face, this device or a recorder.",
                caution: "Power off, plug pulled, cutter at a standstill, eyes protected. Tap lightly and with a soft face: carbide splinters.",
                steps: &[
                    "Set the machine as you mill, the part in its grip, the cutter just clear of it.",
                    "Hold the microphone a hand’s breadth from the cutter, without touching the machine.",
                    "Tap the cutter near its tip along the table: three to five times, a second apart. Let each ring die away.",
                    "Then the same towards you, as a reading of its own.",
                ],
                good: &[
                    "A clear ring, not a thud; all taps at the same pitch.",
                    "Each ring has died away before the next tap.",
                    "A second recording agrees within a twentieth in pitch and a quarter in time.",
                ],
                mistakes: &[
                    "A hand on cutter, quill or table: it damps the ring.",
                    "A hard blow or a steel face: then everything rattles.",
                    "A fan, a compressor or a radio in the room.",
                    "The microphone laid on the machine.",
                ],
            },
            Self::PastCuts => Guide {
                title: "What past cuts showed",
                how: "Cuts you have taken count as readings too, if they were taken with the cutter, the speed, the direction and the grip you give in the steps Work and Holding, and nothing has been changed since.",
                kit: "A part from such a cut; a set of roughness specimens, if you have one.",
                caution: "A trial cut is a cut: eyes protected, hands away, guards on, the part held as well as for the job. Stop at the first howl: chatter breaks cutters and shakes parts loose. Local rules and the maker’s instructions come first.",
                steps: &[
                    "Look at a part from such a cut. Compare the surface that matters with the specimens, by eye and fingernail, in slanting light.",
                    "Write down the roughness of the specimen that looks and feels most like it, and how deep that cut was.",
                    "Recall the deepest cut that ran quiet and the shallowest that chattered: a howl, and marks that don’t follow the teeth.",
                    "If you don’t remember, cut steps in scrap of the same material: begin shallow, go deeper by a quarter each time, and stop at the first howl.",
                ],
                good: &[
                    "A second part from the same cut looks the same.",
                    "The cut that chattered is less than twice as deep as the one that stayed quiet.",
                    "One of the two is a reading as well, if you never went deeper or never had quiet.",
                ],
                mistakes: &[
                    "A cutter that was fresher or duller than today’s.",
                    "The squeal of a dull edge taken for chatter: chatter leaves its pattern.",
                    "Cuts from before something was changed on the machine.",
                    "Comparing with specimens of another process: milled ones for a milled surface.",
                ],
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A pull is told one way in the lead and in the steps: play is taken up, then
    /// the dial is set to zero, and only then it is pulled hard.
    #[test]
    fn a_pull_takes_up_the_play_before_it_counts() {
        let pulls = [ReadingGroup::Tip, ReadingGroup::Nose, ReadingGroup::Head, ReadingGroup::Part];
        for guide in pulls.map(ReadingGroup::guide) {
            for told in [guide.how.to_lowercase(), guide.steps.join(" ").to_lowercase()] {
                let places = ["light", "zero", "hard", "ease back"].map(|word| told.find(word));
                assert!(places.is_sorted() && places[0].is_some(), "{told}");
            }
        }
    }

    #[test]
    fn every_guide_says_all_of_it() {
        for group in ReadingGroup::ALL {
            let Guide { title, how, kit, caution, steps, good, mistakes } = group.guide();
            for text in [title, how, kit, caution].iter().chain(steps).chain(good).chain(mistakes) {
                assert!(!text.is_empty(), "{group:?}");
            }
            assert!(steps.len() >= 3 && good.len() >= 2 && mistakes.len() >= 2, "{group:?}");
            // Nothing turns while a reading is taken, but in a trial cut.
            assert_eq!(caution.contains("plug pulled"), group != ReadingGroup::PastCuts, "{group:?}");
        }
    }
}
