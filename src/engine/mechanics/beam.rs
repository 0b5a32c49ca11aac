//! Bending of the cutter and of the overhung spindle, mm/N.

use std::f64::consts::PI;

use crate::work::{Cutter, CutterKind, ToolMaterial};

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

/// Compliance of a cutter at its tip. The body of a face mill does not bend.
pub fn cutter(cutter: &Cutter) -> f64 {
    let (diameter, stick_out) = (cutter.diameter.as_mm(), cutter.stick_out.as_mm());
    let shank = cutter.shank_diameter().as_mm();
    let (outer, as_thick_as) = match cutter.kind {
        CutterKind::EndMill => (cutter.flute_length.as_mm(), FLUTED * diameter),
        // 40 mm high at 50 mm of diameter (ISO 6462, from memory); all but a stub of
        // the arbor is in it.
        CutterKind::FaceMill => ((0.8 * diameter).min(0.8 * stick_out), f64::INFINITY),
        CutterKind::FlyCutter => (0.0, shank),
    };
    stepped_cantilever(stick_out, outer.min(stick_out), cutter.modulus(), as_thick_as, shank)
}

/// Mass (kg) at its tip that would swing like the cutter: 33/140 of a bar's
/// (Rayleigh's quotient with the bar bent by its tip; Thomson, Theory of Vibration
/// with Applications, section 2.5, from memory), all of a body on an arbor.
pub fn swinging_mass(cutter: &Cutter) -> f64 {
    let diameter = cutter.diameter.as_mm();
    match cutter.kind {
        CutterKind::EndMill => {
            // kg/mm3; usual values, from memory.
            let density = match cutter.material {
                ToolMaterial::Hss => 8.1e-6,
                ToolMaterial::Carbide => 14.4e-6,
            };
            let area = 0.25 * PI * (FLUTED * diameter).powi(2);
            33.0 / 140.0 * density * area * cutter.stick_out.as_mm()
        }
        // What such cutters weigh: about 0.3 kg at 50 mm, 1.3 kg at 80 mm. Common
        // practice, no source.
        CutterKind::FaceMill => 2.6e-6 * diameter.powi(3),
        CutterKind::FlyCutter => 0.9e-6 * diameter.powi(3),
    }
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

    /// Mass (kg) at the load that would swing like a holder that stands `projection`
    /// (mm) out of the nose, and the shaft that bends under it.
    pub fn swinging_mass(&self, projection: f64) -> f64 {
        /// kg/mm3
        const DENSITY: f64 = 7.85e-6;
        /// Holder over spindle diameter. Common practice, no source.
        const STOUTER: f64 = 1.3;
        /// Bow of a bar that a moment bends at one end, over its length and the
        /// slope there: `1 / 3 sqrt 3` (Roark's Formulas for Stress and Strain, from
        /// memory). A bowed bar swings half its mass.
        const BOW: f64 = 0.192;
        let area = 0.25 * PI * self.diameter.powi(2);
        let swung = |at: f64| (at / self.reach).powi(2);
        let holder = STOUTER.powi(2) * projection * swung(self.nose + 0.5 * projection);
        let nose = self.nose / 3.0 * swung(self.nose);
        let shaft = 0.5 * self.span * swung(BOW * self.span);
        DENSITY * area * (holder + nose + shaft)
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
