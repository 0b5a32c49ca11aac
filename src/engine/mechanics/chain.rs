//! The loop of springs between cutter tip and work, in three directions.
//!
//! Springs in series: compliances add, `1/k = sum 1/k_i`, and a part's share of
//! the motion is its compliance over the sum. What a part can give is its share.

use serde::{Deserialize, Serialize};

use super::beam::{self, Overhung};
use super::bearing::{RadialLaw, axial_stiffness};
use super::{Plausible, Unknown};
use crate::machine::{BearingSize, QuillUse, bearing_size};
use crate::work::{PartShape, Setup};

/// A part of the loop between cutter tip and work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "labels say it")]
pub enum LoopPart {
    Cutter,
    HolderJoint,
    Taper,
    Shaft,
    FrontBearing,
    RearBearing,
    Quill,
    Head,
    Column,
    Table,
    Holding,
    Part,
}

impl LoopPart {
    /// Every part, from the tip round to the work.
    pub const ALL: [LoopPart; 12] = [
        LoopPart::Cutter,
        LoopPart::HolderJoint,
        LoopPart::Taper,
        LoopPart::Shaft,
        LoopPart::FrontBearing,
        LoopPart::RearBearing,
        LoopPart::Quill,
        LoopPart::Head,
        LoopPart::Column,
        LoopPart::Table,
        LoopPart::Holding,
        LoopPart::Part,
    ];

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            LoopPart::Cutter => "Cutter",
            LoopPart::HolderJoint => "Holder",
            LoopPart::Taper => "Taper",
            LoopPart::Shaft => "Spindle shaft",
            LoopPart::FrontBearing => "Front bearing",
            LoopPart::RearBearing => "Rear bearing",
            LoopPart::Quill => "Quill",
            LoopPart::Head => "Head",
            LoopPart::Column => "Column and base",
            LoopPart::Table => "Table and slides",
            LoopPart::Holding => "Workholding",
            LoopPart::Part => "The part",
        }
    }

    /// Whether new bearings could remove its share.
    pub fn is_bearing(self) -> bool {
        matches!(self, LoopPart::FrontBearing | LoopPart::RearBearing)
    }
}

/// Compliance of every part felt at the tip along X, Y and Z, mm/N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compliance(pub [[f64; 3]; 12]);

impl Compliance {
    /// Of one part.
    pub fn of(&self, part: LoopPart) -> [f64; 3] {
        self.0[part as usize]
    }

    /// Of the whole loop along `axis` (0, 1, 2 for X, Y, Z).
    pub fn total(&self, axis: usize) -> f64 {
        self.0.iter().map(|part| part[axis]).sum()
    }

    /// A part's share of the motion along `axis`, 0 to 1.
    pub fn share(&self, part: LoopPart, axis: usize) -> f64 {
        self.of(part)[axis] / self.total(axis)
    }
}

/// What swings at the tip, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inertia {
    /// Mass of the cutter as its tip feels it, kg.
    pub cutter: f64,
    /// The same of the holder and the shaft that bends under it.
    pub holder: f64,
    /// Share of the mass at the spindle nose that the tip, further out, feels.
    pub nose: f64,
}

impl Inertia {
    /// Mass of the spindle as the tip feels it, kg.
    pub fn spindle(self, iron: &Plausible) -> f64 {
        self.nose * iron[Unknown::SpindleMass]
    }
}

/// The geometry of the loop: everything about it that is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// Bending of the cutter by the formula, mm/N.
    cutter: f64,
    pub(super) inertia: Inertia,
    /// Share of the holder joint's compliance at this stick-out.
    joint_lever: f64,
    /// The same for the taper, further up.
    taper_lever: f64,
    /// Spindle and bearings with the load at the tip.
    pub(super) spindle: Overhung,
    /// Size of the bearings.
    pub(super) bearing: BearingSize,
    /// How they stiffen under load.
    radial: RadialLaw,
    /// Share of the quill's compliance at its extension.
    quill_lever: f64,
    has_quill: bool,
    /// Share of the holding's compliance at the height of the cut.
    holding_lever: f64,
    part_height: f64,
}

/// Where joints are quoted: felt this far (mm) beyond their face.
const JOINT_REFERENCE: f64 = 40.0;

/// A joint gives half by shifting and half by tilting at its reference; tilting
/// grows with the square of the lever. Common practice, no source.
fn lever(length: f64, reference: f64) -> f64 {
    let ratio = length / reference;
    0.5 + 0.5 * ratio * ratio
}

/// A spring of the spindle in its seats along X and Y: uneven, but as stiff as
/// `soft` (mm/N) in the middle.
fn skewed(soft: f64, iron: &Plausible) -> [f64; 2] {
    let skew = iron[Unknown::Skew].sqrt();
    [soft / skew, soft * skew]
}

impl Chain {
    /// The loop of a setup.
    pub fn new(setup: &Setup) -> Self {
        let Setup { machine, cutter, holding, .. } = setup;
        let projection = cutter.holder.typical().projection;
        let (stick_out, overhang, span) = (cutter.stick_out.as_mm(), machine.overhang.as_mm(), machine.span.as_mm());
        let height = holding.height.as_mm();
        let reach = overhang + projection + stick_out;
        // A quill is a bar in a bush: further out, more lever. Guided length
        // about that of the bearing span.
        let quill_ratio = 1.0 + machine.quill_extension / machine.span;
        let bearing = bearing_size(machine.bearing_bore.as_mm());
        let spindle = Overhung { span, nose: overhang, reach, diameter: machine.spindle_diameter.as_mm() };
        Chain {
            cutter: beam::cutter(cutter),
            inertia: Inertia {
                cutter: beam::swinging_mass(cutter),
                holder: spindle.swinging_mass(projection),
                // Spindle and quill rock about their upper end: what swings at the
                // nose moves less than the tip.
                nose: ((span + overhang) / (span + reach)).powi(2),
            },
            joint_lever: lever(stick_out, JOINT_REFERENCE),
            taper_lever: lever(projection + stick_out, 2.0 * JOINT_REFERENCE),
            spindle,
            radial: RadialLaw::new(machine.support, &bearing),
            bearing,
            quill_lever: quill_ratio * quill_ratio,
            has_quill: machine.quill != QuillUse::Absent,
            holding_lever: lever(height, 15.0),
            part_height: match holding.shape {
                PartShape::Block => 1.0,
                // A plate or wall bends with the cube of what stands free.
                _ => (height / 15.0).powi(3).clamp(0.2, 8.0),
            },
        }
    }

    /// The loop as felt at the bare spindle nose: no cutter, no holder.
    pub fn at_nose(&self) -> Chain {
        Chain {
            cutter: 0.0,
            joint_lever: 0.0,
            taper_lever: 0.0,
            spindle: Overhung { reach: self.spindle.nose, ..self.spindle },
            ..self.clone()
        }
    }

    /// The loop's lever from the front bearing to the tip.
    pub fn front_lever(&self) -> f64 {
        self.spindle.front_lever()
    }

    /// Compliance of a plausible machine while its bearings are loaded by
    /// `radial` and `axial` (N at the tip). `bearings` scales the bearings'
    /// compliance: 1 as they are, 0 perfect.
    pub fn compliance(&self, setup: &Setup, iron: &Plausible, radial: f64, axial: f64, bearings: f64) -> Compliance {
        let mut compliance = self.but_for_bearings(iron);
        self.load_across(&mut compliance, iron, radial, bearings);
        self.load_along(&mut compliance, setup, iron, axial, bearings);
        compliance
    }

    /// The same with bearings that do not give.
    pub fn but_for_bearings(&self, iron: &Plausible) -> Compliance {
        use Unknown as U;
        let soft = |stiffness: f64| 1e-3 / stiffness; // N/um to mm/N
        let built = |unknown: Unknown| soft(iron[unknown] * iron[U::Build]);
        let quill = if self.has_quill { self.quill_lever * soft(iron[U::Quill]) } else { 0.0 };
        let quill_axial = if self.has_quill { soft(iron[U::QuillAxial]) } else { 0.0 };
        let lateral = |value: f64| [value, value, 0.0];
        let [quill_x, quill_y] = skewed(quill, iron);
        let held = self.holding_lever;
        let part = self.part_height * soft(iron[U::Part]);
        let mut all = [[0.0; 3]; 12];
        let mut set = |part: LoopPart, value: [f64; 3]| all[part as usize] = value;
        set(LoopPart::Cutter, lateral(self.cutter / iron[U::CutterFactor]));
        set(LoopPart::HolderJoint, lateral(self.joint_lever * soft(iron[U::Joint])));
        set(LoopPart::Taper, lateral(self.taper_lever * soft(iron[U::Taper])));
        set(LoopPart::Shaft, lateral(self.spindle.shaft() / iron[U::ShaftFactor]));
        set(LoopPart::Quill, [quill_x, quill_y, quill_axial]);
        set(LoopPart::Head, [built(U::HeadX), built(U::HeadY), built(U::HeadZ)]);
        set(LoopPart::Column, [built(U::ColumnX), built(U::ColumnY), built(U::ColumnZ)]);
        set(LoopPart::Table, [built(U::TableX), built(U::TableY), built(U::TableZ)]);
        set(
            LoopPart::Holding,
            [held * soft(iron[U::HoldingX]), held * soft(iron[U::HoldingY]), soft(iron[U::HoldingZ])],
        );
        set(LoopPart::Part, [part; 3]);
        Compliance(all)
    }

    /// Sets the bearings' compliance across the spindle to that under `radial`
    /// (N at the tip); all else stays. Returns their sum along X and Y.
    pub fn load_across(&self, of: &mut Compliance, iron: &Plausible, radial: f64, bearings: f64) -> [f64; 2] {
        let ends =
            [(LoopPart::FrontBearing, self.spindle.front_lever()), (LoopPart::RearBearing, self.spindle.rear_lever())];
        let mut sum = [0.0; 2];
        for (part, lever) in ends {
            let stiffness = self.radial.stiffness(lever * radial, iron[Unknown::PreloadForce]);
            let soft = bearings * lever * lever / (stiffness * iron[Unknown::BearingFactor]);
            let [x, y, _] = &mut of.0[part as usize];
            [*x, *y] = skewed(soft, iron);
            sum = [sum[0] + *x, sum[1] + *y];
        }
        sum
    }

    /// Sets the bearings' compliance along the spindle to that under `axial` (N);
    /// all else stays.
    pub fn load_along(&self, of: &mut Compliance, setup: &Setup, iron: &Plausible, axial: f64, bearings: f64) {
        let (support, preload) = (setup.machine.support, iron[Unknown::PreloadForce]);
        let thrust = axial_stiffness(support, &self.bearing, axial.abs(), preload) * iron[Unknown::BearingFactor];
        of.0[LoopPart::FrontBearing as usize][2] = bearings / thrust;
    }
}
