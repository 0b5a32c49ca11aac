//! What the spindle runs in: kinds of support, their standard sizes, and the
//! play and preload that are typical of their condition.

use crate::choice::choices;
use crate::quantity::Estimate;

use super::usually;

choices! {
    /// What the spindle runs in.
    SpindleSupport: "What does the spindle run in?" {
        DeepGroove => "Deep groove ball bearings", "The plain kind, as in most drill presses and small mills.";
        AngularPair => "A pair of angular contact ball bearings", "Balls lean against one shoulder; set up in pairs.";
        TaperedRoller => "A pair of tapered roller bearings", "Cone and cup; set with a nut.";
        PlainBush => "A plain bush", "Bronze or iron sleeve, no rolling parts.";
    }
}

choices! {
    /// How the bearings are, as far as anyone can tell.
    BearingCondition: "How are the bearings, as far as you can tell?" {
        Sound => "Sound", "Quiet, smooth by hand, no play you can feel.";
        Worn => "Worn", "A little play or a faint rumble.";
        Shot => "Shot", "Grinds, growls, or knocks when rocked by hand.";
    }
}

choices! {
    /// How the bearings are set against each other.
    Preload: "How are the bearings set against each other?" {
        None => "Not at all", "Pressed in and left; common in drill presses.";
        Collar => "By a set collar or snap ring", "A collar pushed up against the race by hand.";
        Nut => "By a nut", "A threaded nut with a lock, set by feel or torque.";
        Spring => "By a spring", "A wave spring or spring washer keeps a light push on.";
        Fixed => "Ground spacers, not adjustable", "Set at the factory.";
    }
}

/// Balls of one bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallSize {
    /// How many.
    pub count: f64,
    /// Diameter, mm.
    pub diameter: f64,
}

/// One standard bearing as far as its stiffness needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BearingSize {
    /// Bore, mm (ISO 15).
    pub bore: f64,
    /// Balls (ball bearings of the 62/72 series).
    pub balls: BallSize,
    /// Rollers: count and effective length, mm (tapered 302 series).
    pub rollers: (f64, f64),
    /// Basic dynamic load rating of the ball bearing, N (ISO 281).
    pub dynamic_rating: f64,
}

/// Bores and outside dimensions: ISO 15. Ball counts and diameters are typical
/// and reproduce ISO 281 ratings within 1.4 %; roller counts and lengths are
/// from memory (makers differ).
const SIZES: [BearingSize; 7] = [
    size(12.0, 7.0, 5.953, 14.0, 8.0, 6_800.0),
    size(15.0, 8.0, 5.953, 14.0, 8.0, 7_650.0),
    size(17.0, 8.0, 6.747, 14.0, 9.0, 9_550.0),
    size(20.0, 8.0, 7.938, 15.0, 10.5, 12_800.0),
    size(25.0, 9.0, 7.938, 17.0, 11.0, 14_000.0),
    size(30.0, 9.0, 9.525, 17.0, 12.0, 19_500.0),
    size(35.0, 9.0, 11.112, 17.0, 13.0, 25_700.0),
];

const fn size(bore: f64, balls: f64, ball: f64, rollers: f64, length: f64, rating: f64) -> BearingSize {
    BearingSize {
        bore,
        balls: BallSize { count: balls, diameter: ball },
        rollers: (rollers, length),
        dynamic_rating: rating,
    }
}

/// The standard size whose bore is nearest to `bore` (mm).
pub fn bearing_size(bore: f64) -> BearingSize {
    SIZES.into_iter().min_by(|a, b| (a.bore - bore).abs().total_cmp(&(b.bore - bore).abs())).unwrap_or(SIZES[2])
}

const PLAY_SOURCE: &str =
    "sound ball bearings: ISO 5753-1 clearance less the loss to fits; worn and shot: common practice, no source";

/// Radial play at the front bearing (diametral, mm) as it usually is.
pub fn typical_radial_play(
    support: SpindleSupport,
    condition: Option<BearingCondition>,
    preload: Option<Preload>,
) -> Estimate {
    use BearingCondition as C;
    let (low, high) = match (support, condition) {
        (SpindleSupport::PlainBush, Some(C::Sound)) => (10.0, 30.0),
        (SpindleSupport::PlainBush, Some(C::Worn)) => (30.0, 90.0),
        (SpindleSupport::PlainBush, Some(C::Shot)) => (80.0, 250.0),
        (SpindleSupport::PlainBush, None) => (15.0, 100.0),
        (SpindleSupport::DeepGroove, Some(C::Sound)) => (2.0, 10.0),
        (SpindleSupport::DeepGroove, None) => (3.0, 30.0),
        (_, Some(C::Sound)) => (1.0, 5.0),
        (_, None) => (1.5, 20.0),
        (_, Some(C::Worn)) => (12.0, 40.0),
        (_, Some(C::Shot)) => (45.0, 180.0),
    };
    // A push that is kept up takes out most of the play of a sound bearing; a
    // worn track still lets the spindle wander.
    let kept = match (preload, condition) {
        (Some(Preload::Nut | Preload::Spring | Preload::Fixed), Some(C::Sound) | None) => 0.25,
        (Some(Preload::Nut | Preload::Spring | Preload::Fixed), _) => 0.6,
        (Some(Preload::Collar), Some(C::Sound) | None) => 0.6,
        _ => 1.0,
    };
    usually((low * kept * 1e-3, high * kept * 1e-3), PLAY_SOURCE)
}

/// Axial play of the spindle (mm) as it usually is.
pub fn typical_axial_play(
    support: SpindleSupport,
    condition: Option<BearingCondition>,
    preload: Option<Preload>,
) -> Estimate {
    // Geometry: a clearance of a few micrometres lets a ball bearing move along
    // its axis roughly five to ten times as far (ISO 5753-1 clearances with the
    // usual groove radii).
    let radial = typical_radial_play(support, condition, preload);
    let ratio = match support {
        SpindleSupport::DeepGroove => 5.0,
        SpindleSupport::AngularPair | SpindleSupport::TaperedRoller => 1.5,
        SpindleSupport::PlainBush => 3.0,
    };
    usually((radial.low() * ratio * 0.7, radial.high() * ratio * 1.2), PLAY_SOURCE)
}

/// Axial preload (N) as it usually is. Never quite zero, so that it has a
/// logarithm: an unloaded bearing still carries the weight of the spindle.
pub fn typical_preload(
    support: SpindleSupport,
    condition: Option<BearingCondition>,
    preload: Option<Preload>,
) -> Estimate {
    let (low, high) = match (support, preload) {
        (SpindleSupport::PlainBush, _) => (1.0, 5.0),
        (_, Some(Preload::None)) => (1.0, 8.0),
        (SpindleSupport::DeepGroove, Some(Preload::Collar)) => (5.0, 60.0),
        (_, Some(Preload::Collar)) => (10.0, 100.0),
        (_, Some(Preload::Nut)) => (40.0, 300.0),
        (_, Some(Preload::Spring)) => (40.0, 150.0),
        (_, Some(Preload::Fixed)) => (80.0, 300.0),
        (SpindleSupport::DeepGroove, None) => (1.0, 60.0),
        (_, None) => (10.0, 250.0),
    };
    let lost = match condition {
        Some(BearingCondition::Shot) => 0.2,
        Some(BearingCondition::Worn) => 0.6,
        _ => 1.0,
    };
    usually((low * lost, high * lost), "common practice, no source")
}
