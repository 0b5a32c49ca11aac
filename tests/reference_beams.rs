//! Bending of cutter and spindle against published formulas and against the
//! unit-load integral, which the formulas come from.

use approx::assert_relative_eq;
use spindlewise_engine::machine::{SpindleSupport, bearing_size};
use spindlewise_engine::mechanics::bearing::radial_stiffness;
use spindlewise_engine::mechanics::snap::bending_stress;
use spindlewise_engine::mechanics::{LoopPart, Prepared, Unknown, beam, usual};
use spindlewise_engine::scenario::{Field, Scenario};
use spindlewise_engine::work::{CutterKind, Setup, ToolMaterial};

/// Steel in the worked examples, N/mm2.
const STEEL: f64 = 206e3;

fn end_mill(material: ToolMaterial, diameter: f64, stick_out: f64, flutes_long: f64) -> Setup {
    let mut scenario = Scenario::new("cutter");
    scenario.choices.cutter = Some(CutterKind::EndMill);
    scenario.choices.tool_material = Some(material);
    scenario.set_entry(Field::CutterDiameter, format!("{diameter} mm"));
    scenario.set_entry(Field::StickOut, format!("{stick_out} mm"));
    scenario.set_entry(Field::FluteLength, format!("{flutes_long} mm"));
    let resolved = scenario.resolve();
    assert_eq!(resolved.problems, []);
    resolved.case.setup
}

/// Unit-load deflection of a bar held at one end and loaded at the other:
/// integral of `m^2 / (E I)`, by Simpson's rule (exact for a parabola).
fn unit_load(pieces: &[(f64, f64, f64)], moment: impl Fn(f64) -> f64) -> f64 {
    pieces
        .iter()
        .map(|&(from, to, ei)| {
            let squared = |at: f64| moment(at).powi(2);
            (to - from) / 6.0 * (squared(from) + 4.0 * squared(0.5 * (from + to)) + squared(to)) / ei
        })
        .sum()
}

/// Second moment of a round bar and the end-loaded cantilever `L^3 / (3 E I)`:
/// Shigley, Mechanical Engineering Design, table of beams (from memory); 50 mm
/// of 10 mm steel worked by hand.
#[test]
fn cantilever_by_the_textbook() {
    assert_relative_eq!(beam::second_moment(10.0), 490.873_852, max_relative = 1e-8);
    assert_relative_eq!(1.0 / beam::cantilever(50.0, 207e3, 10.0), 2_438.661_296, max_relative = 1e-8);
}

/// Kops and Vo, Determination of the Equivalent Diameter of an End Mill Based on
/// its Compliance, CIRP Annals 39 (1990): the fluted part bends like a bar of
/// 0.8 D. Stiffnesses computed outside this program from `3 E I / L^3` with
/// I = pi (0.8 D)^4 / 64, carbide 600 and high-speed steel 210 kN/mm2.
#[test]
fn end_mills_bend_like_four_fifths_of_their_diameter() {
    use ToolMaterial::{Carbide, Hss};
    for (material, diameter, length, stiffness) in [
        (Carbide, 10.0, 30.0, 13_404.13),
        (Hss, 10.0, 30.0, 4_691.45),
        (Hss, 6.0, 20.0, 2_052.04),
        (Hss, 12.0, 40.0, 4_104.08),
    ] {
        let setup = end_mill(material, diameter, length, length);
        assert_relative_eq!(1.0 / beam::cutter(&setup.cutter), stiffness, max_relative = 2e-6);
    }
}

/// A stepped bar, by the unit-load integral over both diameters (Timoshenko,
/// Strength of Materials, part I; from memory).
#[test]
fn a_short_flute_on_a_full_shank_bends_as_the_stepped_bar() {
    for (length, flutes) in [(46.0, 22.0), (60.0, 10.0), (30.0, 30.0)] {
        let setup = end_mill(ToolMaterial::Hss, 10.0, length, flutes);
        let ei = |diameter: f64| 210e3 * std::f64::consts::PI * f64::powi(diameter, 4) / 64.0;
        let expected = unit_load(&[(0.0, flutes, ei(8.0)), (flutes, length, ei(10.0))], |x| x);
        assert_relative_eq!(beam::cutter(&setup.cutter), expected, max_relative = 1e-12);
    }
}

/// The arbor of a face mill or fly cutter is a steel bar, thinner than what it
/// carries: stiffer than an end mill of the arbor's size would be. The body of a
/// face mill, 40 mm of 50 (ISO 6462, from memory) but for a stub, does not bend.
#[test]
fn arbors_are_solid() {
    for (kind, body) in [(CutterKind::FaceMill, 36.0), (CutterKind::FlyCutter, 0.0)] {
        let mut scenario = Scenario::new("arbor");
        scenario.choices.cutter = Some(kind);
        scenario.set_entry(Field::CutterDiameter, "50 mm");
        scenario.set_entry(Field::StickOut, "45 mm");
        let setup = scenario.resolve().case.setup;
        let shank = setup.cutter.shank_diameter().as_mm();
        assert!(shank < 50.0, "{shank}");
        let bar = unit_load(&[(body, 45.0, 210e3 * beam::second_moment(shank))], |x| x);
        assert_relative_eq!(beam::cutter(&setup.cutter), bar, max_relative = 1e-12);
    }
}

/// The overhung spindle, F 100 N, a 60, L 120, d 20 mm, steel, both bearings
/// 1e5 N/mm: shaft 0.013 350 5, front 0.002 25, rear 0.000 25, in all 0.015 850 5
/// mm. Formula by statics; the same form in Slocum, Precision Machine Design
/// (1992), and Weck, Machine Tools (from memory). Figures computed outside this
/// program.
#[test]
fn overhung_spindle_and_its_parts() {
    let spindle = beam::Overhung { span: 120.0, nose: 60.0, reach: 60.0, diameter: 20.0 };
    let force = 100.0;
    let shaft = force * spindle.shaft();
    let front = force * spindle.front_lever().powi(2) / 1e5;
    let rear = force * spindle.rear_lever().powi(2) / 1e5;
    assert_relative_eq!(shaft, 0.013_350_5, max_relative = 3e-6);
    assert_relative_eq!(front, 0.002_25, max_relative = 1e-12);
    assert_relative_eq!(rear, 0.000_25, max_relative = 1e-12);
    assert_relative_eq!(shaft + front + rear, 0.015_850_5, max_relative = 3e-6);
}

/// The same spindle inside the loop: what a pull at the bare nose bends.
#[test]
fn the_loop_holds_the_same_spindle() {
    let mut scenario = Scenario::new("spindle");
    // A bush does not stiffen with load, so its factor sets it to 1e5 N/mm.
    scenario.choices.support = Some(SpindleSupport::PlainBush);
    scenario.set_entries([(Field::Span, "120 mm"), (Field::Overhang, "60 mm"), (Field::SpindleDiameter, "20 mm")]);
    let setup = scenario.resolve().case.setup;
    let mut iron = usual(&setup).middle();
    iron[Unknown::ShaftFactor] = 1.0;
    iron[Unknown::Skew] = 1.0;
    let bush = radial_stiffness(
        SpindleSupport::PlainBush,
        &bearing_size(setup.machine.bearing_bore.as_mm()),
        100.0,
        iron[Unknown::PreloadForce],
    );
    iron[Unknown::BearingFactor] = 1e5 / bush;
    let compliance = Prepared::new(&setup).nose_compliance(&iron, 100.0);
    for axis in [0, 1] {
        let moved = |part| 100.0 * compliance.of(part)[axis];
        assert_relative_eq!(moved(LoopPart::Shaft), 0.013_350_5, max_relative = 3e-6);
        assert_relative_eq!(moved(LoopPart::FrontBearing), 0.002_25, max_relative = 1e-9);
        assert_relative_eq!(moved(LoopPart::RearBearing), 0.000_25, max_relative = 1e-9);
        assert_eq!(moved(LoopPart::Cutter), 0.0);
    }
}

/// With the load beyond the nose, against the unit-load integral: span
/// `m = a z / L`, overhang `m = a - z` as far as the nose, rigid beyond.
#[test]
fn a_long_holder_bends_only_the_spindle() {
    for (span, nose, reach, diameter) in
        [(90.0, 32.0, 143.0, 20.0), (120.0, 60.0, 60.0, 20.0), (170.0, 32.0, 70.0, 35.0)]
    {
        let spindle = beam::Overhung { span, nose, reach, diameter };
        let ei = STEEL * std::f64::consts::PI * diameter.powi(4) / 64.0;
        let expected =
            unit_load(&[(0.0, span, ei)], |z| reach * z / span) + unit_load(&[(0.0, nose, ei)], |z| reach - z);
        assert_relative_eq!(spindle.shaft(), expected, max_relative = 1e-12);
    }
}

/// Bending stress `32 M / (pi d^3)` (any textbook). 100 N in the middle of 4 mm of
/// depth: flutes of 20 mm and 8 mm (four fifths of 10: Kops and Vo, CIRP Annals 39
/// (1990)) have 18 mm of arm, 35.81 N/mm2; the shank of 10 mm at the holder 48 mm,
/// 48.89 N/mm2. Flutes that reach the holder: 48 mm on 8 mm, 95.49 N/mm2.
#[test]
fn a_cutter_bends_most_where_its_flutes_end_or_at_the_holder() {
    let stress = |stick_out, flutes_long| {
        bending_stress(&end_mill(ToolMaterial::Hss, 10.0, stick_out, flutes_long).cutter, 4.0, 100.0)
    };
    assert_relative_eq!(stress(50.0, 20.0), 48.89, max_relative = 1e-3);
    assert_relative_eq!(stress(24.0, 20.0), 35.81, max_relative = 1e-3);
    assert_relative_eq!(stress(50.0, 50.0), 95.49, max_relative = 1e-3);
}
