//! Bending of the cutter and of the overhung spindle, mm/N.

use std::f64::consts::PI;

use crate::work::Cutter;

/// Young's modulus of steel, N/mm2.
pub const STEEL: f64 = 206e3;

/// Second moment of area of a round bar, mm4.
pub fn second_moment(diameter: f64) -> f64 {
    PI * diameter.powi(4) / 64.0
}

/// Compliance at the end of a cantilever: `L^3 / (3 E I)`.
pub fn cantilever(length: f64, modulus: f64, diameter: f64) -> f64 {
    length.powi(3) / (3.0 * modulus * second_moment(diameter))
}

/// Compliance at the tip of a bar of two diameters: the outer `thin_length`
/// bends as `thin`, the rest up to `length` as `thick`.
pub fn stepped_cantilever(length: f64, thin_length: f64, modulus: f64, thin: f64, thick: f64) -> f64 {
    let cubed = |l: f64| l.powi(3) / (3.0 * modulus);
    cubed(thin_length) / second_moment(thin) + (cubed(length) - cubed(thin_length)) / second_moment(thick)
}

/// Diameter of a round bar that bends like the fluted part of an end mill, over the
/// cutter's own: Kops and Vo, CIRP Annals 39 (1990).
pub const FLUTED: f64 = 0.8;

/// Compliance of a cutter at its tip.
pub fn cutter(cutter: &Cutter) -> f64 {
    let shank = cutter.shank_diameter().as_mm();
    let fluted = match cutter.kind {
        crate::work::CutterKind::EndMill => FLUTED * cutter.diameter.as_mm(),
        _ => shank,
    };
    stepped_cantilever(
        cutter.stick_out.as_mm(),
        cutter.flute_length.as_mm().min(cutter.stick_out.as_mm()),
        cutter.modulus(),
        fluted,
        shank,
    )
}

/// A spindle in two bearings, loaded beyond its nose. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overhung {
    /// Between the bearings.
    pub span: f64,
    /// Front bearing to nose: the overhanging part that bends.
    pub nose: f64,
    /// Front bearing to where the force acts, at least `nose`.
    pub reach: f64,
    /// Spindle diameter.
    pub diameter: f64,
}

impl Overhung {
    /// Bending of the shaft felt at the load, beyond the nose taken as rigid.
    /// With `reach == nose` it is the textbook `a^2 (L + a) / (3 E I)`.
    pub fn shaft(&self) -> f64 {
        let ei = STEEL * second_moment(self.diameter);
        let (a, reach) = (self.nose.min(self.reach), self.reach);
        let span = reach * reach * self.span / (3.0 * ei);
        let overhang = (reach.powi(3) - (reach - a).powi(3)) / (3.0 * ei);
        span + overhang
    }

    /// How much more the front bearing carries than the load: `1 + a/L`.
    pub fn front_lever(&self) -> f64 {
        1.0 + self.reach / self.span
    }

    /// What the rear bearing carries, over the load: `a/L`.
    pub fn rear_lever(&self) -> f64 {
        self.reach / self.span
    }
}
