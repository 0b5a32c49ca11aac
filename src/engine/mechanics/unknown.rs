//! What is not known of a machine in a cut, and how it usually is.
//!
//! Every unknown is positive and log-normal: an [`Estimate`] made from typical
//! ranges. One [`Plausible`] machine holds a value for each.

use std::ops::{Index, IndexMut};

use crate::machine::{
    BearingCondition, Gibs, QuillUse, TaperRetention, typical_axial_play, typical_preload, typical_radial_play, usually,
};
use crate::quantity::{Dimension, Estimate};
use crate::work::{CutterKind, EdgeState, Setup};

macro_rules! unknowns {
    ($( $variant:ident = $label:literal $(or $plain:literal)?, $dimension:ident; )+) => {
        /// Something not known for certain.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[repr(usize)]
        pub enum Unknown {
            $(
                #[doc = $label]
                $variant,
            )+
        }

        impl Unknown {
            /// Every unknown.
            pub const ALL: &'static [Unknown] = &[$(Unknown::$variant),+];
            /// How many there are.
            pub const COUNT: usize = Self::ALL.len();

            /// Its name.
            pub fn label(self) -> &'static str {
                match self { $(Unknown::$variant => $label),+ }
            }

            /// The same in the words of the shop, where its name is not.
            pub fn plain(self) -> &'static str {
                match self { $(Unknown::$variant => unknowns!(@plain $label $($plain)?)),+ }
            }

            /// Its dimension; values are in the dimension's base unit.
            pub fn dimension(self) -> Dimension {
                match self { $(Unknown::$variant => Dimension::$dimension),+ }
            }
        }
    };
    (@plain $label:literal) => { $label };
    (@plain $label:literal $plain:literal) => { $plain };
}

unknowns! {
    CutterFactor = "Cutter stiffness against the formula" or "How stiff the cutter really is", Plain;
    Joint = "Holder’s grip, 40 mm (1.6 in) beyond its face" or "How firmly the holder grips the cutter", Stiffness;
    Taper = "Taper joint" or "How firmly the taper sits", Stiffness;
    ShaftFactor = "Shaft stiffness against the formula" or "How stiff the spindle’s shaft really is", Plain;
    BearingFactor = "Bearing stiffness against the formula" or "How stiff the bearings really are", Plain;
    RadialPlay = "Radial play of the front bearing" or "Sideways play of the front bearing", FineLength;
    AxialPlay = "Axial play of the spindle" or "Up-and-down play of the spindle", FineLength;
    PreloadForce = "Bearing preload" or "How hard the bearings are preloaded", Force;
    Quill = "Quill in its bore" or "How firmly the quill sits in its bore", Stiffness;
    Skew = "Spindle’s give towards you against left to right" or "How unevenly the spindle gives, left to right and towards you", Plain;
    QuillPlay = "Shake of the quill", FineLength;
    QuillAxial = "Quill along its axis" or "How firmly the quill is held up and down", Stiffness;
    Build = "How stiffly the frame is built, against its kind" or "How stiffly the frame is built", Plain;
    HeadX = "Head on the column, X" or "How much the head gives, left to right", Stiffness;
    HeadY = "Head on the column, Y" or "How much the head gives, towards you", Stiffness;
    HeadZ = "Head on the column, Z" or "How much the head gives, up and down", Stiffness;
    ColumnX = "Column and base, X" or "How much column and base give, left to right", Stiffness;
    ColumnY = "Column and base, Y" or "How much column and base give, towards you", Stiffness;
    ColumnZ = "Column and base, Z" or "How much column and base give, up and down", Stiffness;
    TableX = "Table and slides, X" or "How much table and slides give, left to right", Stiffness;
    TableY = "Table and slides, Y" or "How much table and slides give, towards you", Stiffness;
    TableZ = "Table and slides, Z" or "How much table and slides give, up and down", Stiffness;
    TablePlay = "Rock of the slides" or "How far the slides rock", FineLength;
    HoldingX = "Workholding, X" or "How much the grip gives, left to right", Stiffness;
    HoldingY = "Workholding, Y" or "How much the grip gives, towards you", Stiffness;
    HoldingZ = "Workholding, Z" or "How much the grip gives, up and down", Stiffness;
    Part = "The part itself" or "How much the part itself gives", Stiffness;
    FrequencyX = "Natural frequency of the frame, X" or "The pitch at which the frame rings, left to right", Frequency;
    FrequencyY = "Natural frequency of the frame, Y" or "The pitch at which the frame rings, towards you", Frequency;
    DampingX = "Damping ratio of the frame, X" or "How soon the frame’s ring dies, left to right", Share;
    DampingY = "Damping ratio of the frame, Y" or "How soon the frame’s ring dies, towards you", Share;
    SpindleMass = "Mass that swings with the spindle nose, kg" or "How much weight swings with the spindle nose", Plain;
    SpindleDamping = "Damping ratio of the spindle" or "How soon the spindle’s ring dies", Share;
    CutterDamping = "Damping ratio of the cutter" or "How soon the cutter’s ring dies", Share;
    TableMass = "Mass that swings with the table, kg" or "How much weight swings with the table", Plain;
    TableDamping = "Damping ratio of the table" or "How soon the table’s ring dies", Share;
    PartMass = "Mass that swings with the part, kg" or "How much weight swings with the part", Plain;
    PartDamping = "Damping ratio of the part" or "How soon the part’s ring dies", Share;
    ForceFactor = "Cutting force against the published coefficient" or "How hard this material is to cut", Plain;
    RadialRatio = "Radial over tangential cutting force" or "How hard the cut pushes the cutter off", Plain;
    AxialRatio = "Axial over tangential cutting force" or "How hard the cut pulls along the spindle", Plain;
    EdgeFactor = "Edge force against the published coefficient" or "How hard the edge rubs and presses", Plain;
    Runout = "Runout at the cutter", FineLength;
    Unsteadiness = "Unsteadiness of the cutting force" or "How much the force varies from tooth to tooth", Share;
    PlayPrint = "Scatter of the tool in its play, against the play" or "How much of the play shows in the surface", Share;
    ChatterUnevenness = "Unevenness of the force in full chatter" or "How uneven the cut is in full chatter", Share;
    ProcessRoughness = "Roughness left by the process itself, Ra" or "The roughness a perfect machine would leave", Roughness;
    RubDamping = "Flank-rubbing coefficient, N/m" or "How much a rubbing flank calms the cut", Plain;
    Friction = "Friction in the grip", Plain;
    ClampForce = "Clamp force", Force;
    Backlash = "Lost motion of the feed screw", FineLength;
    Drag = "Drag of the slides", Force;
    SpindleWeight = "Weight of what turns", Force;
}

/// One plausible machine in its cut: a value for every unknown, in base units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plausible(pub [f64; Unknown::COUNT]);

impl Index<Unknown> for Plausible {
    type Output = f64;

    fn index(&self, unknown: Unknown) -> &f64 {
        &self.0[unknown as usize]
    }
}

impl IndexMut<Unknown> for Plausible {
    fn index_mut(&mut self, unknown: Unknown) -> &mut f64 {
        &mut self.0[unknown as usize]
    }
}

/// An estimate for every unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimates([Estimate; Unknown::COUNT]);

impl Estimates {
    /// The plausible machine whose unknowns lie `z` standard deviations (of
    /// their logarithms) from their medians.
    pub fn at(&self, z: &[f64]) -> Plausible {
        Plausible(std::array::from_fn(|i| self.0[i].at(z[i])))
    }

    /// The machine in the middle of every range.
    pub fn middle(&self) -> Plausible {
        self.at(&[0.0; Unknown::COUNT])
    }
}

impl IndexMut<Unknown> for Estimates {
    fn index_mut(&mut self, unknown: Unknown) -> &mut Estimate {
        &mut self.0[unknown as usize]
    }
}

impl Index<Unknown> for Estimates {
    type Output = Estimate;

    fn index(&self, unknown: Unknown) -> &Estimate {
        &self.0[unknown as usize]
    }
}

/// What no formula says, and the simulation does.
const SIMULATED: &str = "from some hundred cuts simulated in time";

const PRACTICE: &str = "common practice, no source";

/// What is usual for every unknown in this setup, before any reading.
pub fn usual(setup: &Setup) -> Estimates {
    Estimates(std::array::from_fn(|i| usual_of(Unknown::ALL[i], setup)))
}

/// Of one unknown. Kept apart: put into the loop above, all of this would be
/// compiled anew for each.
#[inline(never)]
fn usual_of(unknown: Unknown, setup: &Setup) -> Estimate {
    let Setup { machine, material, cutter, cut: _, holding } = setup;
    let frame = machine.archetype.typical();
    let held = holding.kind.typical();
    let holder = cutter.holder.typical();
    let edge = match cutter.edge {
        EdgeState::Sharp => (0.7, 1.3),
        EdgeState::Used => (1.0, 1.9),
        EdgeState::Dull => (1.8, 4.0),
    };
    let typical = |range| usually(range, PRACTICE);
    let fine = |range: (f64, f64)| typical((range.0 * 1e-3, range.1 * 1e-3));
    let typed = |value, spread| Estimate::typed(value, spread).expect("fields accept positive numbers only");
    let coefficients = material.coefficients();

    match unknown {
        Unknown::CutterFactor => {
            usually((0.75, 1.2), "Kops and Vo, CIRP Annals 39 (1990): four fifths of the diameter")
        }
        Unknown::Joint => typical(holder.stiffness),
        Unknown::Taper => {
            // A taper that nothing pulls home rocks.
            let seated = match machine.retention {
                TaperRetention::Drawbar => 1.0,
                TaperRetention::Unretained => 0.4,
            };
            typical((frame.taper.0 * seated, frame.taper.1 * seated))
        }
        Unknown::ShaftFactor => typical((0.6, 1.7)),
        Unknown::BearingFactor => {
            // Worn tracks and loose seats: softer than the formula for a
            // sound bearing in a sound housing.
            let range = match machine.condition {
                Some(BearingCondition::Sound) => (0.5, 1.2),
                Some(BearingCondition::Worn) => (0.3, 1.0),
                Some(BearingCondition::Shot) => (0.1, 0.5),
                None => (0.3, 1.1),
            };
            typical(range)
        }
        Unknown::RadialPlay => typical_radial_play(machine.support, machine.condition, machine.preload),
        Unknown::AxialPlay => typical_axial_play(machine.support, machine.condition, machine.preload),
        Unknown::PreloadForce => typical_preload(machine.support, machine.condition, machine.preload),
        Unknown::Quill => {
            let locked = if machine.quill == QuillUse::Free { 0.5 } else { 1.0 };
            typical((frame.quill.0 * locked, frame.quill.1 * locked))
        }
        // A bore with a slit for its clamp and a slot for its rack is not round.
        Unknown::Skew => typical((0.72, 1.4)),
        Unknown::QuillPlay => fine(match machine.quill {
            QuillUse::Absent => (0.1, 0.5),
            QuillUse::Locked => (1.0, 10.0),
            QuillUse::Free => (8.0, 60.0),
        }),
        Unknown::QuillAxial => typical(frame.quill_axial),
        // One maker's iron is all stout or all light.
        Unknown::Build => typical((0.65, 1.55)),
        Unknown::HeadX => typical(frame.head.x),
        Unknown::HeadY => typical(frame.head.y),
        Unknown::HeadZ => typical(frame.head.z),
        Unknown::ColumnX => typical(frame.column.x),
        Unknown::ColumnY => typical(frame.column.y),
        Unknown::ColumnZ => typical(frame.column.z),
        Unknown::TableX | Unknown::TableY | Unknown::TableZ => {
            let loose = if machine.gibs == Gibs::Loose { 0.5 } else { 1.0 };
            let range = match unknown {
                Unknown::TableX => frame.table.x,
                Unknown::TableY => frame.table.y,
                _ => frame.table.z,
            };
            typical((range.0 * loose, range.1 * loose))
        }
        Unknown::TablePlay => fine(match machine.gibs {
            Gibs::Snug => (1.0, 8.0),
            Gibs::Loose => (15.0, 80.0),
        }),
        Unknown::HoldingX => typical(held.stiffness.0),
        Unknown::HoldingY => typical(held.stiffness.1),
        Unknown::HoldingZ => typical(held.stiffness.2),
        Unknown::Part => typical(holding.shape.stiffness()),
        Unknown::FrequencyX => typical(frame.frequency.0),
        Unknown::FrequencyY => typical(frame.frequency.1),
        Unknown::DampingX | Unknown::DampingY => typical(frame.damping),
        // About half of what turns moves with the nose, and the holder.
        Unknown::SpindleMass => typical((0.05 * frame.spindle_weight.0 + 0.3, 0.07 * frame.spindle_weight.1 + 0.6)),
        Unknown::SpindleDamping | Unknown::TableDamping => typical((0.03, 0.08)),
        Unknown::CutterDamping => typical((0.015, 0.04)),
        Unknown::TableMass => typical(frame.table_mass),
        Unknown::PartMass => typical(holding.shape.swinging_mass()),
        Unknown::PartDamping => typical(holding.shape.damping()),
        Unknown::ForceFactor => usually((0.7, 1.45), coefficients.source),
        Unknown::RadialRatio => {
            usually((coefficients.radial_ratio * 0.65, coefficients.radial_ratio * 1.5), coefficients.source)
        }
        Unknown::AxialRatio => {
            usually((coefficients.axial_ratio * 0.5, coefficients.axial_ratio * 1.6), coefficients.source)
        }
        Unknown::EdgeFactor => typical(edge),
        Unknown::Runout => fine(holder.runout),
        Unknown::Unsteadiness => typical((0.06, 0.22)),
        Unknown::PlayPrint => usually((0.06, 0.32), SIMULATED),
        Unknown::ChatterUnevenness => usually((0.15, 0.6), SIMULATED),
        Unknown::ProcessRoughness => fine(material.process_roughness(cutter.edge)),
        Unknown::RubDamping => usually(material.process_damping(), "values from memory, wide"),
        Unknown::Friction => typical(material.jaw_friction()),
        Unknown::ClampForce => match holding.clamp_force {
            Some(force) => typed(force.as_newton(), 0.2),
            None => typical(held.clamp_force),
        },
        Unknown::Backlash => match machine.backlash {
            Some(backlash) => typed(backlash.as_mm(), 0.1),
            None => typical(frame.backlash),
        },
        Unknown::Drag => {
            let loose = if machine.gibs == Gibs::Loose { 0.4 } else { 1.0 };
            typical((frame.drag.0 * loose, frame.drag.1 * loose))
        }
        Unknown::SpindleWeight => {
            let cutter_weight = if cutter.kind == CutterKind::EndMill { 2.0 } else { 8.0 };
            typical((frame.spindle_weight.0 + cutter_weight, frame.spindle_weight.1 + cutter_weight))
        }
    }
}
