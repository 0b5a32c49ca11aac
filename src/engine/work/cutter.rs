//! The cutter and what it sits in.

use crate::choice::choices;
use crate::quantity::{Angle, Length};

choices! {
    /// Kind of cutter.
    CutterKind: "What kind of cutter?" {
        EndMill => "End mill", "Cuts with its side and its end.";
        FaceMill => "Face mill with inserts", "Wide, for flat tops.";
        FlyCutter => "Fly cutter", "One tool bit on an arm.";
    }
}

choices! {
    /// What the cutting edge is made of.
    ToolMaterial: "What is the cutter made of?" {
        Hss => "High-speed steel", "Grey, tough, can be very sharp.";
        Carbide => "Carbide", "Heavy and stiff, chips when it chatters.";
    }
}

choices! {
    /// State of the cutting edge.
    EdgeState: "How sharp is it?" {
        Sharp => "Sharp", "New, or shaves a fingernail.";
        Used => "Used", "Cuts, but shines at the edge.";
        Dull => "Dull or chipped", "Squeals, burns, raises burrs.";
    }
}

choices! {
    /// What holds the cutter.
    Holder: "What holds the cutter?" {
        DrillChuck => "Drill chuck", "Three jaws on a taper.";
        ColletChuck => "Collet chuck", "A nut presses a slit collet onto the shank.";
        SetScrew => "Set-screw holder", "A screw bears on a flat of the shank.";
        ShankInTaper => "Collet or shank straight in the spindle taper", "Nothing between, drawn up by the bar.";
    }
}

/// What is typical of a way of holding the cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypicalHolder {
    /// Joint stiffness felt 40 mm beyond the holder's face, N/um: low, high.
    pub stiffness: (f64, f64),
    /// Runout at the cutter, total indicator reading, um: low, high.
    pub runout: (f64, f64),
    /// From spindle nose to the face of the holder, mm.
    pub projection: f64,
}

impl Holder {
    /// Typical values; common practice, no source.
    pub fn typical(self) -> TypicalHolder {
        let (stiffness, runout, projection) = match self {
            Holder::DrillChuck => ((2.0, 10.0), (30.0, 140.0), 65.0),
            Holder::ColletChuck => ((12.0, 45.0), (8.0, 40.0), 50.0),
            Holder::SetScrew => ((12.0, 40.0), (10.0, 50.0), 40.0),
            Holder::ShankInTaper => ((25.0, 100.0), (5.0, 25.0), 8.0),
        };
        TypicalHolder { stiffness, runout, projection }
    }
}

/// A cutter as it stands in the machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutter {
    /// Kind.
    pub kind: CutterKind,
    /// Edge material.
    pub material: ToolMaterial,
    /// Edge state.
    pub edge: EdgeState,
    /// Holder.
    pub holder: Holder,
    /// Cutting diameter.
    pub diameter: Length,
    /// Number of teeth.
    pub flutes: u32,
    /// Tip to holder face.
    pub stick_out: Length,
    /// Length of the flutes, at most the stick-out.
    pub flute_length: Length,
    /// Helix angle; 0 for a fly cutter.
    pub helix: Angle,
    /// Corner radius.
    pub corner_radius: Length,
}

impl Cutter {
    /// Young's modulus of the cutter's body, N/mm2. HSS 210 GPa, carbide 600
    /// GPa; the bodies of face mills and fly cutters are steel.
    pub fn modulus(&self) -> f64 {
        match (self.kind, self.material) {
            (CutterKind::EndMill, ToolMaterial::Carbide) => 600e3,
            _ => 210e3,
        }
    }

    /// Diameter of the part that bends: the shank. Face mills and fly cutters
    /// stand on an arbor.
    pub fn shank_diameter(&self) -> Length {
        match self.kind {
            CutterKind::EndMill => self.diameter,
            CutterKind::FaceMill => Length::mm((self.diameter.as_mm() * 0.4).clamp(12.0, 27.0)),
            CutterKind::FlyCutter => Length::mm((self.diameter.as_mm() * 0.35).clamp(12.0, 20.0)),
        }
    }
}
