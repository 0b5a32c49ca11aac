//! Grades of roughness: the figures that drawings and specimens give.

use super::UnitSystem;
use super::units::MICROINCH;

/// Every grade, Ra in mm: each about twice the one before (ISO 1302, from memory).
pub const GRADES: [f64; 12] =
    [0.000_025, 0.000_05, 0.000_1, 0.000_2, 0.000_4, 0.000_8, 0.001_6, 0.003_2, 0.006_3, 0.012_5, 0.025, 0.05];

/// What the same grades are called in microinches, up to 2 % off (ASME B46.1, from
/// memory).
const IN_MICROINCHES: [f64; 12] = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0];

/// A roughness (mm) that is a grade in either system, as `system` calls it; any
/// other as it is.
pub(super) fn nominal(roughness: f64, system: UnitSystem) -> f64 {
    let is = |grade: f64| (roughness / grade - 1.0).abs() < 1e-9;
    let inches = IN_MICROINCHES.map(|number| number * MICROINCH.factor);
    let called = GRADES.into_iter().zip(inches).find(|&(metric, inch)| is(metric) || is(inch));
    called.map_or(roughness, |(metric, inch)| match system {
        UnitSystem::Metric => metric,
        UnitSystem::Inch => inch,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_names_of_a_grade_mean_the_same() {
        for (metric, number) in GRADES.into_iter().zip(IN_MICROINCHES) {
            let inch = nominal(metric, UnitSystem::Inch);
            assert!((inch / metric - 1.0).abs() < 0.02, "{metric} mm, {number} µin");
            assert_eq!(nominal(inch, UnitSystem::Metric), metric);
        }
        assert_eq!(nominal(0.003, UnitSystem::Inch), 0.003);
    }
}
