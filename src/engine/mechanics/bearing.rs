//! Radial stiffness of spindle bearings under load.
//!
//! Palmgren's deflection formulas (both raceways), N and mm: ball
//! `4.36e-4 (Q^2/Dw)^(1/3)`, roller `7.68e-5 Q^0.9/l^0.8`; Palmgren, *Ball and
//! Roller Bearing Engineering*. They soften with load, so stiffness belongs to
//! an operating point.

use crate::machine::{BearingSize, SpindleSupport};

/// Load of the heaviest ball over the mean, `Q = 5 F / (Z cos a)`, for a
/// bearing with the usual clearance (Palmgren; Harris).
const LOAD_SHARE: f64 = 5.0;

/// The same for rollers without clearance.
const ROLLER_SHARE: f64 = 4.08;

/// Contact angle of the angular contact pairs considered, rad: 25 degrees.
const CONTACT_ANGLE: f64 = 0.436_332;

/// Radial stiffness of a preloaded plain bush, N/mm; common practice, no source.
const BUSH: f64 = 60_000.0;

/// The cube root of a positive number, to 1e-14: several times faster than the
/// library's, and bearings are asked for it most of all.
fn cube_root(value: f64) -> f64 {
    // A third of the exponent, to 3.3 %; each of Halley's steps cubes the error.
    const THIRD_OF_BIAS: u64 = 0x2a9f_7893_0000_0000;
    let mut root = f64::from_bits(value.to_bits() / 3 + THIRD_OF_BIAS);
    for _ in 0..2 {
        let cube = root * root * root;
        root *= (cube + 2.0 * value) / (2.0 * cube + value);
    }
    root
}

/// Radial deflection (mm) of a deep groove ball bearing under `force` (N).
pub fn ball_deflection(size: &BearingSize, force: f64) -> f64 {
    let ball = size.balls;
    let heaviest = LOAD_SHARE * force / ball.count;
    4.36e-4 * cube_root(heaviest * heaviest / ball.diameter)
}

/// Axial deflection (mm) of an angular contact bearing with contact angle
/// `angle` (rad) under `force` (N).
pub fn ball_axial_deflection(size: &BearingSize, angle: f64, force: f64) -> f64 {
    let ball = size.balls;
    let each = force / (ball.count * angle.sin());
    4.36e-4 * cube_root(each * each / ball.diameter) / angle.sin()
}

/// Radial deflection (mm) of a roller bearing under `force` (N).
pub fn roller_deflection(size: &BearingSize, force: f64) -> f64 {
    let (count, length) = size.rollers;
    let heaviest = ROLLER_SHARE * force / count;
    7.68e-5 * heaviest.powf(0.9) / length.powf(0.8)
}

/// Axial stiffness (N/mm) of a pair preloaded against each other by `preload`
/// (N): three times preload over deflection, one bearing stiffening while the
/// other softens.
pub fn pair_axial_stiffness(size: &BearingSize, angle: f64, preload: f64) -> f64 {
    3.0 * preload / ball_axial_deflection(size, angle, preload)
}

/// How the radial stiffness of a support grows with its load: by a power, in all
/// of these formulas, so what the size of the bearing decides is worked out once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RadialLaw {
    support: SpindleSupport,
    /// Stiffness under one newton, N/mm.
    at_one: f64,
}

impl RadialLaw {
    /// Of a support with bearings of this size.
    pub fn new(support: SpindleSupport, size: &BearingSize) -> Self {
        let at_one = match support {
            SpindleSupport::DeepGroove => 1.5 / ball_deflection(size, 1.0),
            SpindleSupport::AngularPair => {
                let (sin, cos) = CONTACT_ANGLE.sin_cos();
                pair_axial_stiffness(size, CONTACT_ANGLE, 1.0) * cos * cos / (2.0 * sin * sin)
            }
            SpindleSupport::TaperedRoller => 1.0 / (0.9 * roller_deflection(size, 1.0)),
            SpindleSupport::PlainBush => BUSH,
        };
        RadialLaw { support, at_one }
    }

    /// Radial stiffness (N/mm) under a radial `load` (N) and an axial `preload`
    /// (N), the slope at that load.
    pub fn stiffness(&self, load: f64, preload: f64) -> f64 {
        // An unloaded contact has no stiffness in these formulas; a spindle's own
        // weight keeps a few newtons on.
        let load = load.max(5.0);
        // A light push settles the balls at a small contact angle and acts like
        // added radial load.
        let loaded = || (load * load + 4.0 * preload * preload).sqrt();
        let grown = match self.support {
            SpindleSupport::DeepGroove => cube_root(loaded()),
            // Beyond what preload can hold, the load itself sets the contact.
            SpindleSupport::AngularPair => cube_root(preload.max(0.3 * load)),
            SpindleSupport::TaperedRoller => loaded().powf(0.1),
            SpindleSupport::PlainBush => 1.0,
        };
        self.at_one * grown
    }
}

/// [`RadialLaw::stiffness`] of a support with bearings of this size.
pub fn radial_stiffness(support: SpindleSupport, size: &BearingSize, load: f64, preload: f64) -> f64 {
    RadialLaw::new(support, size).stiffness(load, preload)
}

/// Axial stiffness (N/mm) of a support under an axial `load` and `preload`, N.
pub fn axial_stiffness(support: SpindleSupport, size: &BearingSize, load: f64, preload: f64) -> f64 {
    let kept = (preload * preload + load * load).sqrt().max(5.0);
    match support {
        // A deep groove ball bearing takes thrust at about ten degrees, set by
        // its clearance.
        SpindleSupport::DeepGroove => {
            let angle = 0.18;
            1.5 * kept / ball_axial_deflection(size, angle, kept)
        }
        SpindleSupport::AngularPair => pair_axial_stiffness(size, CONTACT_ANGLE, kept),
        // Line contact at about fifteen degrees: stiffer than its radial share
        // by the slope alone would say; the radial value is the cautious one.
        SpindleSupport::TaperedRoller => radial_stiffness(support, size, kept, preload) * 0.5,
        SpindleSupport::PlainBush => 40_000.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the library's.
    #[test]
    fn cube_roots() {
        for value in (-300..300).map(|step| 1.26_f64.powi(step)) {
            let (root, library) = (cube_root(value), value.cbrt());
            assert!((root / library - 1.0).abs() < 1e-14, "{value}: {root} {library}");
        }
    }
}
