//! Six kinds of light mill and what is typical of each.
//!
//! No published stiffness of light mills or drill presses was found. The ranges
//! are common practice without a source, wide on purpose (10 % to 90 % of
//! machines), and any reading overrides them.

use crate::choice::choices;

choices! {
    /// The kind of machine.
    Archetype: "What kind of machine is it?" {
        BenchDrill => "Benchtop drill press turned mill", "Round column, belt drive, a cross-slide vise or table bolted on.";
        FloorDrill => "Floor drill press turned mill", "Tall round column, table on the column, belts.";
        MiniMill => "Mini mill", "Small dovetail column, variable speed, fits on a shelf.";
        RoundColumn => "Round-column mill-drill", "Heavy head on a thick round column, real mill table.";
        SquareColumn => "Benchtop square-column mill", "Dovetail or box column, gibbed head, real mill table.";
        Knee => "Small knee mill", "Table on a knee, ram or fixed head, quill.";
    }
}

choices! {
    /// A direction of the machine as the operator faces it.
    Axis: "Which way does the table feed?" {
        X => "X: left to right", "The long travel of the table.";
        Y => "Y: towards and away from you", "The cross travel, to and from the column.";
    }
}

/// One value for each direction: X across, Y away from the operator, Z along
/// the spindle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerAxis<T> {
    /// Across the table.
    pub x: T,
    /// Away from the operator, towards the column.
    pub y: T,
    /// Along the spindle.
    pub z: T,
}

/// A typical range: 10 % of machines lie below `.0`, 10 % above `.1`.
pub type Typical = (f64, f64);

/// What is typical of one kind of machine. Stiffness in N/um as felt at the
/// spindle nose, lengths in mm, frequency in Hz, force in N, power in W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypicalMachine {
    /// Column with its base and clamp to the bench.
    pub column: PerAxis<Typical>,
    /// Head casting on the column.
    pub head: PerAxis<Typical>,
    /// Table, saddle, knee or cross-slide with snug gibs.
    pub table: PerAxis<Typical>,
    /// Quill in its bore, locked, drawn in.
    pub quill: Typical,
    /// Loss of Z stiffness in quill rack and feed.
    pub quill_axial: Typical,
    /// Taper joint between spindle and holder, seated and drawn up.
    pub taper: Typical,
    /// Span between the spindle bearings, mm.
    pub span: f64,
    /// Front bearing centre to spindle nose, mm.
    pub overhang: f64,
    /// Spindle diameter between and in front of the bearings, mm.
    pub diameter: f64,
    /// Bore of the front bearing, mm.
    pub bore: f64,
    /// What it usually runs in.
    pub support: super::SpindleSupport,
    /// Natural frequency of head and column, X and Y, Hz.
    pub frequency: (Typical, Typical),
    /// Damping ratio of that mode.
    pub damping: Typical,
    /// Lost motion of the feed screws, mm.
    pub backlash: Typical,
    /// Sliding drag of the table with snug gibs, N.
    pub drag: Typical,
    /// Weight of spindle and what turns with it, N.
    pub spindle_weight: Typical,
    /// Mass of table, vise and part that swings on the slides, kg.
    pub table_mass: Typical,
    /// Motor power on the plate, W.
    pub power: f64,
    /// Slowest and fastest spindle speed, rpm.
    pub speeds: (f64, f64),
}

const fn axes(x: Typical, y: Typical, z: Typical) -> PerAxis<Typical> {
    PerAxis { x, y, z }
}

impl Archetype {
    /// What is typical of this kind of machine.
    pub fn typical(self) -> TypicalMachine {
        use super::SpindleSupport as S;
        match self {
            Archetype::BenchDrill => TypicalMachine {
                column: axes((3.0, 12.0), (2.5, 9.0), (4.0, 15.0)),
                head: axes((6.0, 25.0), (8.0, 30.0), (10.0, 40.0)),
                table: axes((6.0, 25.0), (5.0, 22.0), (4.0, 16.0)),
                quill: (6.0, 25.0),
                quill_axial: (4.0, 15.0),
                taper: (15.0, 60.0),
                span: 90.0,
                overhang: 32.0,
                diameter: 22.0,
                bore: 17.0,
                support: S::DeepGroove,
                frequency: ((35.0, 90.0), (30.0, 80.0)),
                damping: (0.03, 0.08),
                backlash: (0.05, 0.3),
                drag: (30.0, 120.0),
                spindle_weight: (6.0, 15.0),
                table_mass: (4.0, 12.0),
                power: 370.0,
                speeds: (500.0, 3000.0),
            },
            Archetype::FloorDrill => TypicalMachine {
                column: axes((2.5, 9.0), (2.0, 7.0), (4.0, 14.0)),
                head: axes((8.0, 30.0), (8.0, 30.0), (10.0, 40.0)),
                table: axes((4.0, 16.0), (3.0, 13.0), (3.0, 12.0)),
                quill: (8.0, 30.0),
                quill_axial: (5.0, 18.0),
                taper: (20.0, 80.0),
                span: 110.0,
                overhang: 36.0,
                diameter: 26.0,
                bore: 20.0,
                support: S::DeepGroove,
                frequency: ((25.0, 70.0), (20.0, 60.0)),
                damping: (0.03, 0.08),
                backlash: (0.05, 0.3),
                drag: (40.0, 150.0),
                spindle_weight: (10.0, 25.0),
                table_mass: (4.0, 12.0),
                power: 550.0,
                speeds: (200.0, 3000.0),
            },
            Archetype::MiniMill => TypicalMachine {
                column: axes((5.0, 18.0), (4.0, 14.0), (8.0, 28.0)),
                head: axes((8.0, 30.0), (10.0, 35.0), (10.0, 40.0)),
                table: axes((10.0, 40.0), (10.0, 35.0), (15.0, 60.0)),
                quill: (20.0, 80.0),
                quill_axial: (8.0, 30.0),
                taper: (25.0, 100.0),
                span: 90.0,
                overhang: 30.0,
                diameter: 30.0,
                bore: 30.0,
                support: S::DeepGroove,
                frequency: ((50.0, 130.0), (40.0, 110.0)),
                damping: (0.03, 0.08),
                backlash: (0.05, 0.25),
                drag: (40.0, 150.0),
                spindle_weight: (12.0, 30.0),
                table_mass: (6.0, 15.0),
                power: 400.0,
                speeds: (100.0, 2500.0),
            },
            Archetype::RoundColumn => TypicalMachine {
                column: axes((7.0, 25.0), (8.0, 28.0), (12.0, 45.0)),
                head: axes((10.0, 40.0), (15.0, 55.0), (20.0, 80.0)),
                table: axes((15.0, 60.0), (12.0, 50.0), (20.0, 80.0)),
                quill: (12.0, 50.0),
                quill_axial: (8.0, 30.0),
                taper: (30.0, 120.0),
                span: 150.0,
                overhang: 35.0,
                diameter: 30.0,
                bore: 30.0,
                support: S::TaperedRoller,
                frequency: ((45.0, 120.0), (45.0, 120.0)),
                damping: (0.03, 0.08),
                backlash: (0.05, 0.3),
                drag: (60.0, 250.0),
                spindle_weight: (25.0, 60.0),
                table_mass: (15.0, 40.0),
                power: 1100.0,
                speeds: (100.0, 2500.0),
            },
            Archetype::SquareColumn => TypicalMachine {
                column: axes((12.0, 45.0), (10.0, 40.0), (20.0, 80.0)),
                head: axes((15.0, 60.0), (18.0, 70.0), (25.0, 100.0)),
                table: axes((18.0, 70.0), (15.0, 60.0), (25.0, 100.0)),
                quill: (15.0, 60.0),
                quill_axial: (10.0, 40.0),
                taper: (30.0, 120.0),
                span: 120.0,
                overhang: 32.0,
                diameter: 30.0,
                bore: 30.0,
                support: S::AngularPair,
                frequency: ((60.0, 160.0), (55.0, 140.0)),
                damping: (0.03, 0.08),
                backlash: (0.03, 0.2),
                drag: (60.0, 250.0),
                spindle_weight: (20.0, 45.0),
                table_mass: (15.0, 40.0),
                power: 1100.0,
                speeds: (100.0, 3000.0),
            },
            Archetype::Knee => TypicalMachine {
                column: axes((18.0, 70.0), (18.0, 70.0), (30.0, 120.0)),
                head: axes((20.0, 80.0), (25.0, 90.0), (30.0, 120.0)),
                table: axes((18.0, 75.0), (15.0, 60.0), (25.0, 100.0)),
                quill: (18.0, 70.0),
                quill_axial: (12.0, 45.0),
                taper: (40.0, 160.0),
                span: 170.0,
                overhang: 32.0,
                diameter: 35.0,
                bore: 35.0,
                support: S::AngularPair,
                frequency: ((50.0, 140.0), (45.0, 130.0)),
                damping: (0.03, 0.08),
                backlash: (0.05, 0.25),
                drag: (100.0, 400.0),
                spindle_weight: (40.0, 90.0),
                table_mass: (30.0, 90.0),
                power: 1500.0,
                speeds: (80.0, 2800.0),
            },
        }
    }
}
