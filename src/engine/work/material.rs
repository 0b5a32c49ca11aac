//! Materials and their cutting-force coefficients.

use super::{EdgeState, ToolMaterial};
use crate::choice::choices;

choices! {
    /// What is being cut.
    Material: "What are you cutting?" {
        AluminiumSoft => "Aluminium, general (6061, 6082)", "The usual bar and plate.";
        AluminiumHard => "Aluminium, hard (7075)", "Aircraft plate.";
        MildSteel => "Mild steel (1018, S235)", "Cold-rolled or hot-rolled bar.";
        MediumSteel => "Medium carbon steel (1045, C45)", "Tougher bar, shafting.";
        GreyIron => "Grey cast iron", "Castings, machine parts.";
        Brass => "Free-cutting brass", "Yellow rod that makes fine chips.";
    }
}

/// Linear-edge force coefficients: `F = b (K_c h + K_e)` for each direction.
/// Altintas, *Manufacturing Automation*, 2nd ed. 2012, ch. 2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Tangential cutting, N/mm2.
    pub tangential: f64,
    /// Radial cutting over tangential cutting.
    pub radial_ratio: f64,
    /// Axial cutting over tangential cutting, for a 30 degree helix.
    pub axial_ratio: f64,
    /// Tangential edge, N/mm.
    pub edge_tangential: f64,
    /// Radial edge over tangential edge.
    pub edge_radial_ratio: f64,
    /// Where the values come from.
    pub source: &'static str,
}

const COMPILATION: &str = "Chinese J. Mech. Eng. 34 (2021), doi 10.1186/s10033-021-00536-9, table 5 (compilation)";
const VDI: &str = "Kienzle values of VDI 3323 groups as reprinted in a 2017 insert catalogue, fitted over chips of 0.01-0.10 mm; radial and axial shares from memory";

impl Material {
    /// Published coefficients for a sharp tool.
    ///
    /// Published sets for one alloy differ by a factor of two in the tangential
    /// and four in the radial coefficient, so the caller spreads them widely.
    pub fn coefficients(self) -> Coefficients {
        let set = |tangential, radial_ratio, axial_ratio, edge_tangential, edge_radial_ratio, source| Coefficients {
            tangential,
            radial_ratio,
            axial_ratio,
            edge_tangential,
            edge_radial_ratio,
            source,
        };
        match self {
            Material::AluminiumSoft => set(631.0, 0.25, 0.40, 13.0, 0.8, COMPILATION),
            Material::AluminiumHard => set(951.0, 0.28, 0.34, 11.1, 1.0, COMPILATION),
            Material::MildSteel => set(2003.0, 0.40, 0.20, 23.5, 1.1, VDI),
            Material::MediumSteel => set(2265.0, 0.42, 0.20, 28.2, 1.2, VDI),
            Material::GreyIron => set(1676.0, 0.42, 0.20, 18.5, 1.2, VDI),
            Material::Brass => set(1151.0, 0.32, 0.18, 18.9, 1.0, VDI),
        }
    }

    /// Flank-rubbing (process damping) coefficient, N/m, low and high. The
    /// viscous form `F = C (b/v) y'` is that of Tyler and Schmitz, J.
    /// Manufacturing Processes 15 (2013); the values are from memory and wide.
    pub fn process_damping(self) -> (f64, f64) {
        match self {
            Material::AluminiumSoft | Material::AluminiumHard | Material::Brass => (4.0e4, 2.0e5),
            Material::MildSteel | Material::MediumSteel => (1.5e5, 6.0e5),
            Material::GreyIron => (1.2e5, 5.0e5),
        }
    }

    /// Roughness Ra (um) that the process leaves without any vibration: tearing,
    /// built-up edge, edge marks. Common practice, no source.
    pub fn process_roughness(self, edge: EdgeState) -> (f64, f64) {
        let (low, high) = match self {
            Material::AluminiumSoft => (0.4, 1.2),
            Material::AluminiumHard => (0.3, 0.9),
            Material::MildSteel => (0.7, 1.9),
            Material::MediumSteel => (0.6, 1.6),
            Material::GreyIron => (0.7, 1.7),
            Material::Brass => (0.3, 0.8),
        };
        let dulled = match edge {
            EdgeState::Sharp => 1.0,
            EdgeState::Used => 1.3,
            EdgeState::Dull => 2.2,
        };
        (low * dulled, high * dulled)
    }

    /// Usual cutting speed, m/min: low, high. HSS: Carvill, *Mechanical
    /// Engineer's Data Handbook*, p. 187, with common-practice ranges; carbide:
    /// the same, capped to what light machines can use.
    pub fn cutting_speed(self, tool: ToolMaterial) -> (f64, f64) {
        match (self, tool) {
            (Material::AluminiumSoft | Material::AluminiumHard, ToolMaterial::Hss) => (60.0, 120.0),
            (Material::AluminiumSoft | Material::AluminiumHard, ToolMaterial::Carbide) => (100.0, 400.0),
            (Material::MildSteel, ToolMaterial::Hss) => (21.0, 37.0),
            (Material::MildSteel, ToolMaterial::Carbide) => (60.0, 180.0),
            (Material::MediumSteel, ToolMaterial::Hss) => (18.0, 28.0),
            (Material::MediumSteel, ToolMaterial::Carbide) => (50.0, 150.0),
            (Material::GreyIron, ToolMaterial::Hss) => (15.0, 30.0),
            (Material::GreyIron, ToolMaterial::Carbide) => (50.0, 150.0),
            (Material::Brass, ToolMaterial::Hss) => (45.0, 75.0),
            (Material::Brass, ToolMaterial::Carbide) => (80.0, 200.0),
        }
    }

    /// Friction against steel jaws: low, high. Low ends of published dry values;
    /// swarf and oil rule (common practice, no source).
    pub fn jaw_friction(self) -> (f64, f64) {
        match self {
            Material::AluminiumSoft | Material::AluminiumHard => (0.12, 0.25),
            Material::GreyIron => (0.15, 0.20),
            Material::MildSteel | Material::MediumSteel => (0.10, 0.20),
            Material::Brass => (0.10, 0.20),
        }
    }
}
