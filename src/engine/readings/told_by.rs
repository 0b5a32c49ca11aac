//! Which reading tells about which unknown.

use crate::mechanics::Unknown;

/// The field of the reading that tells about `unknown` most directly, if a shop
/// can take one.
pub fn told_by(unknown: Unknown) -> Option<&'static str> {
    use Unknown as U;
    match unknown {
        U::CutterFactor | U::Joint => Some("readings.tip.x"),
        U::Taper | U::ShaftFactor | U::BearingFactor | U::Quill | U::Skew => Some("readings.nose.y"),
        U::RadialPlay => Some("readings.rock.radial"),
        U::AxialPlay => Some("readings.rock.axial"),
        U::QuillPlay => Some("readings.quill"),
        U::Build | U::HeadX | U::ColumnX => Some("readings.head.x"),
        U::HeadY | U::ColumnY => Some("readings.head.y"),
        U::TableX | U::HoldingX => Some("readings.part.x"),
        U::TableY | U::HoldingY | U::Part => Some("readings.part.y"),
        U::FrequencyX | U::SpindleMass | U::TableMass => Some("readings.tap.x"),
        U::FrequencyY => Some("readings.tap.y"),
        U::DampingX | U::SpindleDamping | U::TableDamping => Some("readings.decay.x"),
        U::DampingY => Some("readings.decay.y"),
        U::Runout => Some("readings.runout"),
        U::ProcessRoughness | U::Unsteadiness | U::PlayPrint | U::ChatterUnevenness => Some("readings.past.finish"),
        U::ForceFactor | U::RadialRatio | U::RubDamping => Some("readings.chatter.depth"),
        U::ClampForce => Some("holding.clamp_force"),
        U::Backlash => Some("machine.backlash"),
        _ => None,
    }
}
