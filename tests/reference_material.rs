//! Cutting coefficients and speeds against published tables.

use approx::assert_relative_eq;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::work::{Coefficients, Material, ToolMaterial};

/// Tangential force per mm of edge, N, at a chip of `h` mm.
fn tangential(k: &Coefficients, h: f64) -> f64 {
    k.tangential * h + k.edge_tangential
}

/// Kienzle, `Ft = b kc1.1 h^(1 - mc)`: VDI 3323 groups 1, 2, 15 and 27 as
/// reprinted in a 2017 insert catalogue. Over chips of 0.01 to 0.10 mm the
/// straight line is nowhere more than 26 % off (at the thin end), and within 5 %
/// at 0.05 mm.
#[test]
fn steels_iron_and_brass_follow_kienzle() {
    for (material, specific, exponent) in [
        (Material::MildSteel, 1350.0, 0.21),
        (Material::MediumSteel, 1500.0, 0.22),
        (Material::GreyIron, 1150.0, 0.20),
        (Material::Brass, 700.0, 0.27),
    ] {
        let k = material.coefficients();
        let kienzle = |h: f64| specific * h.powf(1.0 - exponent);
        for step in 0..=90 {
            let h = 0.01 + 0.001 * f64::from(step);
            assert_relative_eq!(tangential(&k, h), kienzle(h), max_relative = 0.26);
        }
        assert_relative_eq!(tangential(&k, 0.05), kienzle(0.05), max_relative = 0.05);
    }
    // The same law at two points worked by hand.
    assert_relative_eq!(1500.0 * 0.05_f64.powf(-0.21), 2813.89, max_relative = 1e-5);
}

/// Aluminium: milling sets of the compilation in Chinese J. Mech. Eng. 34 (2021),
/// doi 10.1186/s10033-021-00536-9, table 5: 6082-T6 631/13, 7075 with high-speed
/// steel 951/11.1 N/mm2 and N/mm.
#[test]
fn aluminium_follows_the_milling_sets() {
    let soft = Material::AluminiumSoft.coefficients();
    assert_eq!((soft.tangential, soft.edge_tangential), (631.0, 13.0));
    let hard = Material::AluminiumHard.coefficients();
    assert_eq!((hard.tangential, hard.edge_tangential), (951.0, 11.1));
    assert_relative_eq!(hard.radial_ratio, 263.0 / 951.0, max_relative = 0.02);
    assert_relative_eq!(hard.axial_ratio, 323.0 / 951.0, max_relative = 0.02);
    assert_relative_eq!(soft.axial_ratio, 273.0 / 631.0, max_relative = 0.1);
}

/// Radial over tangential force of sharp end mills is 0.2 to 0.5 (the same table;
/// Altintas 2012, from memory).
#[test]
fn radial_force_is_a_part_of_the_tangential() {
    for &material in Material::ALL {
        let k = material.coefficients();
        assert!((0.2..=0.5).contains(&k.radial_ratio), "{material:?}");
        assert!((0.15..=0.45).contains(&k.axial_ratio), "{material:?}");
    }
}

/// High-speed steel, m/min: aluminium 100, mild steel 28, grey iron 20, brass 45
/// (Carvill, Mechanical Engineer's Data Handbook, p. 187) lie in the ranges;
/// carbide runs faster.
#[test]
fn cutting_speeds_hold_the_handbook_values() {
    for (material, speed) in [
        (Material::AluminiumSoft, 100.0),
        (Material::MildSteel, 28.0),
        (Material::GreyIron, 20.0),
        (Material::Brass, 45.0),
    ] {
        let (low, high) = material.cutting_speed(ToolMaterial::Hss);
        assert!((low..=high).contains(&speed), "{material:?}: {low} to {high}");
        let carbide = material.cutting_speed(ToolMaterial::Carbide);
        assert!(carbide.0 > low && carbide.1 > high, "{material:?}");
    }
}
