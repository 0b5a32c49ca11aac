//! What a plausible machine would show on the indicator, or let hear.

use std::cell::RefCell;
use std::f64::consts::{FRAC_1_SQRT_2, LN_10, TAU};

use statrs::function::erf::erfc;

use super::{Place, Reading, ReadingKind};
use crate::machine::Axis;
use crate::mechanics::stability::Mode;
use crate::mechanics::{Bearings, LoopPart, Modes, Outcome, Plausible, Prepared, Unknown};
use crate::work::Surfaces;

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

/// What readings taken in a setup see of a machine.
pub struct Observer<'a> {
    prepared: &'a Prepared,
    /// The setup at the depth of a past cut, if that was another.
    past: Option<Prepared>,
    /// The last cut that was taken: several readings ask about the same.
    last: RefCell<Option<(Plausible, Outcome)>>,
}

impl<'a> Observer<'a> {
    /// Of readings of these kinds taken in the setup of `prepared`.
    pub fn new(prepared: &'a Prepared, kinds: impl IntoIterator<Item = ReadingKind>) -> Self {
        let depth = kinds.into_iter().find_map(|kind| match kind {
            ReadingKind::PastFinish { depth, .. } if depth != prepared.setup.cut.axial_depth => Some(depth),
            _ => None,
        });
        let past = depth.map(|depth| {
            let mut setup = prepared.setup.clone();
            setup.cut.axial_depth = depth;
            prepared.after(&setup)
        });
        Observer { prepared, past, last: RefCell::new(None) }
    }

    /// Of `readings`.
    pub fn of(prepared: &'a Prepared, readings: &[Reading]) -> Self {
        Self::new(prepared, readings.iter().map(|reading| reading.kind))
    }

    /// The reading to expect on this machine, in the base unit of its dimension.
    pub fn expected(&self, kind: ReadingKind, iron: &Plausible) -> f64 {
        let prepared = self.prepared;
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
            ReadingKind::PastFinish { surfaces, .. } => {
                let outcome = self.past.as_ref().map_or_else(|| self.cut(iron), |past| take(past, iron));
                rougher(surfaces, &outcome)
            }
            ReadingKind::Quiet | ReadingKind::Chatters => self.cut(iron).depth_limit,
        }
    }

    /// The cut of the setup on this machine.
    pub fn cut(&self, iron: &Plausible) -> Outcome {
        let mut last = self.last.borrow_mut();
        match &*last {
            Some((known, outcome)) if known == iron => *outcome,
            _ => last.insert((*iron, take(self.prepared, iron))).1,
        }
    }

    /// What the machine would have to show for `reading` to be right: the same as
    /// [`Observer::expected`], but that a ring may be that of any mode, and is
    /// taken to be that of the one nearest in pitch.
    pub fn expected_for(&self, reading: &Reading, iron: &Plausible) -> f64 {
        match reading.kind {
            ReadingKind::Tap(axis) => tapped(axis, self.prepared, iron).nearest(reading.value).frequency,
            kind => self.expected(kind, iron),
        }
    }

    /// Distance of a reading from what a machine would show, in standard errors;
    /// positive when the reading is the larger. A cut that was deeper than the
    /// machine's limit and chattered, or shallower and did not, is no distance off.
    pub fn misfit(&self, reading: &Reading, iron: &Plausible) -> f64 {
        let share = reading.log_sd.hypot(reading.kind.model_error());
        let off = apart(reading.value, self.expected_for(reading, iron), share, reading.blur);
        match reading.kind {
            ReadingKind::Quiet => off.max(0.0),
            ReadingKind::Chatters => off.min(0.0),
            _ => off,
        }
    }

    /// How much less `reading` tells of a machine on which it would show one standard
    /// error less than on this one, as a share: all of it, but for what is blurred.
    pub fn flattening(&self, reading: &Reading, iron: &Plausible) -> f64 {
        if reading.blur == 0.0 {
            return 1.0;
        }
        let share = reading.log_sd.hypot(reading.kind.model_error());
        let tells = |value: f64| value / (share * value).hypot(reading.blur);
        let here = self.expected_for(reading, iron);
        tells(here * (-1.0 / tells(here)).exp()) / tells(here)
    }

    /// A number whose square is minus twice the logarithm of the likelihood of
    /// `reading` on this machine, but for a constant: the misfit of a reading that
    /// may be off either way; of one that says only "more" or "less" the same from
    /// the chance of having heard what was heard.
    pub fn residual(&self, reading: &Reading, iron: &Plausible) -> f64 {
        let sign = match reading.kind {
            ReadingKind::Quiet => 1.0,
            ReadingKind::Chatters => -1.0,
            _ => return self.misfit(reading, iron),
        };
        let beyond = sign * (reading.value / self.expected_for(reading, iron)).ln()
            / reading.log_sd.hypot(reading.kind.model_error());
        sign * (-2.0 * log_chance_below(-beyond)).sqrt()
    }
}

/// How far `read` is from `expected`, in standard errors, where the error is the
/// share `share` of what there is to read and `blur` besides (Rocke and Lorenzato,
/// Technometrics 37 (1995)).
///
/// The generalised logarithm, on which that error is as wide everywhere: far above
/// `blur` the logarithm, so that shares count, and far below it a straight line, so
/// that a needle that hardly moved says "hardly at all" and not "by how much". It
/// rises throughout: less to be read never speaks for a softer machine.
fn apart(read: f64, expected: f64, share: f64, blur: f64) -> f64 {
    if blur == 0.0 {
        (read / expected).ln() / share
    } else {
        in_errors(read, share, blur) - in_errors(expected, share, blur)
    }
}

/// `value` on the scale on which its error, the share `share` of it and `blur`
/// besides, is one everywhere: the generalised logarithm.
pub fn in_errors(value: f64, share: f64, blur: f64) -> f64 {
    (if blur == 0.0 { value.ln() } else { (share * value / blur).asinh() }) / share
}

/// Logarithm of the standard normal distribution function. Beyond where that
/// vanishes by Laplace's continued fraction (Abramowitz and Stegun 26.2.14).
fn log_chance_below(z: f64) -> f64 {
    if z > -30.0 {
        return (0.5 * erfc(-z * FRAC_1_SQRT_2)).ln();
    }
    let x = -z;
    -0.5 * x * x - (x + 1.0 / (x + 2.0 / x)).ln() - 0.5 * TAU.ln()
}

/// The reading to expect, if it is one of the cut of the setup, from what that does.
pub fn told_by_cut(kind: ReadingKind, outcome: &Outcome) -> Option<f64> {
    match kind {
        ReadingKind::PastFinish { surfaces, .. } => Some(rougher(surfaces, outcome)),
        ReadingKind::Quiet | ReadingKind::Chatters => Some(outcome.depth_limit),
        _ => None,
    }
}

fn rougher(surfaces: Surfaces, outcome: &Outcome) -> f64 {
    surfaces.rougher(outcome.wall, outcome.floor)
}

/// The cut of the setup on this machine.
fn take(prepared: &Prepared, iron: &Plausible) -> Outcome {
    prepared.run(iron, &prepared.forces(iron), Bearings::AsTheyAre)
}

/// [`Observer::expected`] of one reading on one machine.
pub fn observe(kind: ReadingKind, prepared: &Prepared, iron: &Plausible) -> f64 {
    Observer::new(prepared, [kind]).expected(kind, iron)
}

/// [`Observer::misfit`] of one reading on one machine.
pub fn misfit(reading: &Reading, prepared: &Prepared, iron: &Plausible) -> f64 {
    Observer::of(prepared, &[*reading]).misfit(reading, iron)
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
    Modes::new(&prepared.compliance(iron, TAP), prepared.inertia(), axis, &[], iron)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// The standard error at a value is by which the distance grows per unit there:
    /// `hypot(share value, blur)` (Rocke and Lorenzato, Technometrics 37 (1995)), from
    /// far below the blur to far above it; without a blur it is the share alone.
    #[test]
    fn the_error_is_a_share_and_a_blur() {
        let (share, blur) = (0.1, 4e-3);
        for value in [0.0, 1e-3, 4e-3, 40e-3, 0.4, 4.0_f64] {
            let step = 1e-6;
            let error = step / (apart(value + step, value, share, blur));
            assert_relative_eq!(error, (share * value).hypot(blur), max_relative = 1e-3);
        }
        assert_relative_eq!(apart(1.2, 1.0, share, 0.0), 1.2_f64.ln() / share, max_relative = 1e-12);
        assert_relative_eq!(apart(1.2, 1.0, share, 1e-6), 1.2_f64.ln() / share, max_relative = 1e-6);
    }

    /// Values of scipy.special.log_ndtr.
    #[test]
    fn the_logarithm_of_a_small_chance() {
        for (z, expected) in
            [(-1.0, -1.841_021_645_009_264), (-5.0, -15.064_998_393_988_725), (-40.0, -804.608_442_013_753_8)]
        {
            assert_relative_eq!(log_chance_below(z), expected, max_relative = 1e-7);
        }
    }
}
