//! What a plausible machine would show on the indicator, or let hear.

use std::f64::consts::{LN_10, TAU};

use super::{Place, Reading, ReadingKind};
use crate::machine::Axis;
use crate::mechanics::stability::Mode;
use crate::mechanics::{Bearings, LoopPart, Modes, Outcome, Plausible, Prepared, Unknown};

/// Parts that a pull at the place bends, between the place and the table on
/// which the indicator stands. The table's own springs are in none of them: the
/// indicator moves with it.
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
        Place::Nose => &[P::Shaft, P::FrontBearing, P::RearBearing, P::Quill, P::Head, P::Column],
        Place::Head => &[P::Head, P::Column],
        Place::Part => &[P::Holding, P::Part],
    }
}

/// Force of a light tap, N.
const TAP: f64 = 20.0;

/// The reading to expect on this machine, in mm, Hz or ms.
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
            force * parts(place).iter().map(|&part| compliance.of(part)[axis]).sum::<f64>()
        }
        ReadingKind::RadialPlay => iron[Unknown::RadialPlay] * prepared.nose_lever(),
        ReadingKind::AxialPlay => iron[Unknown::AxialPlay],
        ReadingKind::Runout => iron[Unknown::Runout],
        ReadingKind::QuillShake => iron[Unknown::QuillPlay],
        ReadingKind::Tap(axis) => tapped(axis, prepared, iron).heard().frequency,
        ReadingKind::Decay { axis, ring } => {
            let modes = tapped(axis, prepared, iron);
            time_to_a_tenth(ring.map_or_else(|| modes.heard(), |ring| modes.nearest(ring.as_hertz())))
        }
        ReadingKind::PastFinish { .. } => cut(prepared, iron).wall,
        ReadingKind::Quiet | ReadingKind::Chatters => cut(prepared, iron).depth_limit,
    }
}

/// The cut of the setup on this machine.
fn cut(prepared: &Prepared, iron: &Plausible) -> Outcome {
    prepared.run(iron, &prepared.forces(iron), Bearings::AsTheyAre)
}

/// What the machine would have to show for `reading` to be right: the same as
/// [`observe`], but that a ring may be that of any mode, and is taken to be that
/// of the one nearest in pitch.
pub fn observe_for(reading: &Reading, prepared: &Prepared, iron: &Plausible) -> f64 {
    match reading.kind {
        ReadingKind::Tap(axis) => tapped(axis, prepared, iron).nearest(reading.value).frequency,
        kind => observe(kind, prepared, iron),
    }
}

/// Time in which a ring dies to a tenth, ms: `exp(-2 π f ζ t) = 1/10` (Thomson,
/// Theory of Vibration with Applications, section 2.6, from memory).
fn time_to_a_tenth(mode: Mode) -> f64 {
    1e3 * LN_10 / (TAU * mode.frequency * mode.damping)
}

/// The modes that a light tap along `axis` rings: the bearings carry little more
/// than their own.
fn tapped(axis: Axis, prepared: &Prepared, iron: &Plausible) -> Modes {
    let axis = match axis {
        Axis::X => 0,
        Axis::Y => 1,
    };
    Modes::new(&prepared.compliance(iron, TAP), axis, &[], iron)
}
