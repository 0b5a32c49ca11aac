//! Does the part stay where it is clamped?
//!
//! Two faces in friction hold against sliding, `2 mu F_c`; their moment and
//! depth hold against tipping. Hoffman, *Jig and Fixture Design* (from memory).

use crate::work::Workholding;

/// Shock of an interrupted cut on top of the computed peak. Common practice.
const SHOCK: f64 = 1.5;

/// Half the width over which a grip resists tipping, mm. Common practice.
const HALF_GRIP: f64 = 20.0;

/// Force on a part: along the feed, across it, and lifting, N, with the height
/// of the cut above the grip, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "said above")]
pub struct Load {
    pub feed: f64,
    pub normal: f64,
    pub lift: f64,
    pub height: f64,
}

/// Safety against slipping and against lifting or tipping; below 1 it moves.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "said above")]
pub struct Margin {
    pub slip: f64,
    pub lift: f64,
}

/// Safety of a grip that presses with `clamp` (N) at friction `mu`.
pub fn margin(kind: Workholding, clamp: f64, mu: f64, load: &Load) -> Margin {
    let friction = 2.0 * mu * clamp;
    let stop = kind.typical().stop;
    let feed = if stop { 0.0 } else { load.feed };
    let across = load.normal * load.normal;
    let sliding = SHOCK * (feed * feed + across + load.lift * load.lift).sqrt();
    let sideways = (load.feed * load.feed + across).sqrt();
    let tipping = SHOCK * (sideways * load.height + load.lift * HALF_GRIP);
    // Clamps that press down hold against lifting with their whole force; jaws
    // only by friction.
    let holding = match kind {
        Workholding::StepClamps | Workholding::Plate => clamp * HALF_GRIP,
        _ => friction * HALF_GRIP,
    };
    Margin { slip: friction / sliding.max(1e-9), lift: holding / tipping.max(1e-9) }
}
