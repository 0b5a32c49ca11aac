//! Whether the cutter snaps.

use std::f64::consts::PI;

use super::beam::FLUTED;
use super::{CutForces, Outcome, Prepared};
use crate::work::{Cutter, CutterKind, ToolMaterial};

/// Share of its strength in a steady bend that a cutter bears in use: flutes are
/// notches, and the load comes and goes with every tooth. Common practice, no
/// source: cutters break at a third to a half of it; the half, so that only what is
/// likely is warned of.
const USABLE: f64 = 0.5;

/// No end mill has a thinner shank than this, mm. Common practice, no source.
const THINNEST_SHANK: f64 = 3.0;

/// Strength in a steady bend (transverse rupture strength), N/mm2: the middle of
/// 3500 to 4500 for hardened high-speed steel of the grade M2, and of 2500 to 4000
/// for fine-grained carbide; from memory.
fn strength(material: ToolMaterial) -> f64 {
    match material {
        ToolMaterial::Hss => 4000.0,
        ToolMaterial::Carbide => 3250.0,
    }
}

/// Largest bending stress (N/mm2) in an end mill that `force` (N) pushes aside over
/// `depth` (mm): a beam clamped in the holder and loaded in the middle of the depth
/// (any textbook), where its flutes end and at the face of the holder.
pub fn bending_stress(cutter: &Cutter, depth: f64, force: f64) -> f64 {
    let at = |from_tip: f64, diameter: f64| 32.0 * force * (from_tip - 0.5 * depth) / (PI * diameter.powi(3));
    let (flutes, diameter) = (cutter.flute_length.as_mm(), cutter.diameter.as_mm());
    let stick_out = cutter.stick_out.as_mm();
    // Flutes that reach into the holder are all there is to hold.
    let at_holder = if flutes < stick_out { diameter.max(THINNEST_SHANK) } else { FLUTED * diameter };
    at(flutes, FLUTED * diameter).max(at(stick_out, at_holder))
}

impl Prepared {
    /// Bending stress of the cutter in the cut over what it bears; above 1 it may
    /// snap. `outcome` is what `forces` came to. Face mills and fly cutters stand on
    /// an arbor: 0.
    pub fn snaps(&self, forces: &CutForces, outcome: &Outcome) -> f64 {
        let cutter = &self.setup.cutter;
        if cutter.kind != CutterKind::EndMill {
            return 0.0;
        }
        // Force in the cut over force without deflection: torque goes with it.
        let torque = 0.5e-3 * cutter.diameter.as_mm() * forces.tangential;
        let force = forces.swing.peak * outcome.torque / torque;
        let depth = self.setup.cut.axial_depth.as_mm();
        bending_stress(cutter, depth, force) / (USABLE * strength(cutter.material))
    }
}
