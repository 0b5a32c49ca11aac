//! The machine in the form the mechanics needs: every answer given or assumed.

use super::{Archetype, BearingCondition, Preload, SpindleSupport};
use crate::choice::choices;
use crate::quantity::{Length, Power, Rotation};

choices! {
    /// What keeps the taper in the spindle.
    TaperRetention: "What keeps the holder in the spindle?" {
        Drawbar => "A drawbar or threaded nut", "It can’t fall out.";
        Unretained => "Only the taper’s own grip", "Pushed in by hand or tapped, as a drill chuck.";
    }
}

choices! {
    /// Whether a drawbar can pass through the spindle.
    SpindleBore: "Is the spindle bored right through?" {
        Through => "Yes, right through", "Seen from above, with the cap off and a light below, there is daylight: a drawbar can pass.";
        Closed => "No, or not all the way", "A drawbar can’t pass.";
    }
}

choices! {
    /// How the quill is used while milling.
    QuillUse: "What does the quill do while you mill?" {
        Locked => "Locked, drawn in", "Lock tight, as little extension as possible.";
        Free => "Not locked", "It moves or rests on the depth stop.";
        Absent => "No quill", "The whole head moves instead.";
    }
}

choices! {
    /// How the slides are adjusted.
    Gibs: "How are the slides adjusted?" {
        Snug => "Snug", "A slight drag, no rock.";
        Loose => "Loose", "It rocks when pushed, or you never set them.";
    }
}

/// A light mill with every question answered, by the user or by what is usual.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Kind of machine.
    pub archetype: Archetype,
    /// What the spindle runs in.
    pub support: SpindleSupport,
    /// Condition, if known.
    pub condition: Option<BearingCondition>,
    /// How the bearings are set, if known.
    pub preload: Option<Preload>,
    /// Taper retention.
    pub retention: TaperRetention,
    /// Whether the user said so; otherwise it is only what is usual.
    pub retention_told: bool,
    /// Whether it is bored right through, if known.
    pub bore: Option<SpindleBore>,
    /// Quill.
    pub quill: QuillUse,
    /// How far the quill is out.
    pub quill_extension: Length,
    /// Slides.
    pub gibs: Gibs,
    /// Bearing span.
    pub span: Length,
    /// Front bearing to nose.
    pub overhang: Length,
    /// Spindle diameter.
    pub spindle_diameter: Length,
    /// Bore of the front bearing.
    pub bearing_bore: Length,
    /// Lost motion of the feed screws, if measured.
    pub backlash: Option<Length>,
    /// Motor power.
    pub power: Power,
    /// Slowest and fastest speed.
    pub speeds: (Rotation, Rotation),
    /// The steps of the drive, slowest first; empty where any speed between can be
    /// set.
    pub steps: Vec<Rotation>,
}

impl Machine {
    /// The speed of the drive nearest to `wanted` in ratio, between `low` and
    /// `high`; `None` if it has none there. Where it has no steps, a round one.
    pub fn speed_near(&self, wanted: Rotation, (low, high): (Rotation, Rotation)) -> Option<Rotation> {
        if self.steps.is_empty() {
            let (low, high) = (low.as_rpm().max(self.speeds.0.as_rpm()), high.as_rpm().min(self.speeds.1.as_rpm()));
            return (low <= high).then(|| Rotation::rpm(round_speed(wanted.as_rpm().clamp(low, high), (low, high))));
        }
        let off = |speed: &Rotation| (*speed / wanted).ln().abs();
        let reachable = self.steps.iter().filter(|&&speed| low <= speed && speed <= high);
        reachable.min_by(|a, b| off(a).total_cmp(&off(b))).copied()
    }
}

/// A speed (rpm) as people set it on a dial, near `wanted` and within limits: in tens,
/// from 1000 on in twenty-fives, from 2000 on in fifties, from 4000 on in hundreds.
/// Common practice, no source.
/// `wanted` itself where there is none between the limits.
fn round_speed(wanted: f64, (low, high): (f64, f64)) -> f64 {
    let step = match wanted {
        slow if slow < 1000.0 => 10.0,
        middling if middling < 2000.0 => 25.0,
        fast if fast < 4000.0 => 50.0,
        _ => 100.0,
    };
    let near = step * (wanted / step).round();
    [near, near - step, near + step].into_iter().find(|speed| (low..=high).contains(speed)).unwrap_or(wanted)
}
