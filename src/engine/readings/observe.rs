//! What a plausible machine would show on the indicator.

use super::{Place, ReadingKind};
use crate::machine::Axis;
use crate::mechanics::{LoopPart, Modes, Plausible, Prepared, RADIAL_HOLD, Unknown, play};

/// Parts between the table and the place, that a pull at the place bends. The
/// scale hangs on nothing that is measured, so the table's own springs are not
/// in a pull at the tip.
fn parts(place: Place) -> &'static [LoopPart] {
    use LoopPart as P;
    match place {
        Place::Tip => &[
            P::Cutter,
            P::HolderJoint,
            P::Taper,
            P::Shaft,
            P::FrontBearing,
            P::RearBearing,
            P::Quill,
            P::Head,
            P::Column,
        ],
        Place::Nose => &[
            P::Shaft,
            P::FrontBearing,
            P::RearBearing,
            P::Quill,
            P::Head,
            P::Column,
        ],
        Place::Head => &[P::Head, P::Column],
        Place::Part => &[P::Table, P::Holding, P::Part],
    }
}

/// What a hand rocks a spindle with, N. Common practice, no source.
const HAND: f64 = 60.0;

/// Share of a clearance that a hand can feel when something holds it shut up to
/// `hold` (N); never quite nothing, since it has a logarithm.
fn felt(hold: f64, hand: f64) -> f64 {
    play::held(hold, hand).max(0.05)
}

/// Force of a light tap, N.
const TAP: f64 = 20.0;

/// The reading to expect on this machine, in mm or Hz.
pub fn observe(kind: ReadingKind, prepared: &Prepared, iron: &Plausible) -> f64 {
    match kind {
        ReadingKind::Pull { place, axis, force } => {
            let force = force.as_newton();
            let compliance = match place {
                Place::Nose => prepared.nose_compliance(iron, force),
                _ => prepared.compliance(iron, force),
            };
            let axis = match axis {
                Axis::X => 0,
                Axis::Y => 1,
            };
            force
                * parts(place)
                    .iter()
                    .map(|&part| compliance.of(part)[axis])
                    .sum::<f64>()
        }
        ReadingKind::RadialPlay => {
            let lever = prepared.nose_lever();
            let hold = RADIAL_HOLD * iron[Unknown::PreloadForce];
            iron[Unknown::RadialPlay] * lever * felt(hold, HAND * lever)
        }
        ReadingKind::AxialPlay => iron[Unknown::AxialPlay] * felt(iron[Unknown::PreloadForce], HAND),
        ReadingKind::Runout => iron[Unknown::Runout],
        ReadingKind::QuillShake => iron[Unknown::QuillPlay],
        ReadingKind::Tap(axis) => {
            // A tap is light: the bearings carry little more than their own.
            let compliance = prepared.compliance(iron, TAP);
            let axis = match axis {
                Axis::X => 0,
                Axis::Y => 1,
            };
            Modes::new(&compliance, axis, 0.0, iron).heard()
        }
    }
}
