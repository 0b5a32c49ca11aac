//! The kinds of quantity the product deals in.

use serde::{Deserialize, Serialize};

use super::units::{self, Unit};

/// The units the user wants to see. What is typed may be in either.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    /// mm, µm, N.
    #[default]
    Metric,
    /// in, thou, lbf.
    Inch,
}

/// A kind of quantity, with its base unit in memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// mm. Sizes of machine, cutter and part.
    Length,
    /// mm as well, but shown in µm or thou: play, deflection, runout, feed per tooth.
    FineLength,
    /// mm as well, but shown in µm or µin: Ra of a surface.
    Roughness,
    /// N.
    Force,
    /// N/µm.
    Stiffness,
    /// N·m.
    Torque,
    /// rad.
    Angle,
    /// rpm.
    Rotation,
    /// m/min.
    CuttingSpeed,
    /// mm/min.
    FeedRate,
    /// Hz.
    Frequency,
    /// W.
    Power,
    /// The user's own currency; no conversion.
    Money,
    /// h.
    Hours,
    /// min.
    Minutes,
    /// ms.
    Milliseconds,
    /// 0 to 1, shown in percent.
    Share,
    /// Whole things: teeth, bearings, passes.
    Count,
    /// A bare number.
    Plain,
}

impl Dimension {
    /// Every dimension.
    pub const ALL: [Self; 19] = [
        Self::Length,
        Self::FineLength,
        Self::Roughness,
        Self::Force,
        Self::Stiffness,
        Self::Torque,
        Self::Angle,
        Self::Rotation,
        Self::CuttingSpeed,
        Self::FeedRate,
        Self::Frequency,
        Self::Power,
        Self::Money,
        Self::Hours,
        Self::Minutes,
        Self::Milliseconds,
        Self::Share,
        Self::Count,
        Self::Plain,
    ];

    /// The unit of a number typed without one, and of most results.
    pub fn default_unit(self, system: UnitSystem) -> &'static Unit {
        let (metric, inch) = match self {
            Self::Length => (&units::MM, &units::INCH),
            Self::FineLength => (&units::UM, &units::THOU),
            Self::Roughness => (&units::UM, &units::MICROINCH),
            Self::Force => (&units::NEWTON, &units::LBF),
            Self::Stiffness => (&units::N_PER_UM, &units::LBF_PER_THOU),
            Self::Torque => (&units::NEWTON_METRE, &units::LBF_FT),
            Self::Angle => (&units::DEGREE, &units::DEGREE),
            Self::Rotation => (&units::RPM, &units::RPM),
            Self::CuttingSpeed => (&units::M_PER_MIN, &units::SFM),
            Self::FeedRate => (&units::MM_PER_MIN, &units::IN_PER_MIN),
            Self::Frequency => (&units::HERTZ, &units::HERTZ),
            Self::Power => (&units::WATT, &units::HORSEPOWER),
            Self::Money => (&units::MONEY, &units::MONEY),
            Self::Hours => (&units::HOUR, &units::HOUR),
            Self::Minutes => (&units::MINUTE, &units::MINUTE),
            Self::Milliseconds => (&units::MILLISECOND, &units::MILLISECOND),
            Self::Share => (&units::PERCENT, &units::PERCENT),
            Self::Count => (&units::COUNT, &units::COUNT),
            Self::Plain => (&units::PLAIN, &units::PLAIN),
        };
        match system {
            UnitSystem::Metric => metric,
            UnitSystem::Inch => inch,
        }
    }

    /// The units accepted for this dimension, the commonest first.
    pub fn units(self) -> &'static [&'static Unit] {
        match self {
            Self::Length | Self::FineLength | Self::Roughness => units::LENGTHS,
            Self::Force => units::FORCES,
            Self::Stiffness => units::STIFFNESSES,
            Self::Torque => units::TORQUES,
            Self::Angle => units::ANGLES,
            Self::Rotation => units::ROTATIONS,
            Self::CuttingSpeed => units::CUTTING_SPEEDS,
            Self::FeedRate => units::FEED_RATES,
            Self::Frequency => units::FREQUENCIES,
            Self::Power => units::POWERS,
            Self::Money => units::MONIES,
            Self::Hours => units::HOURS,
            Self::Minutes => units::MINUTES,
            Self::Milliseconds => units::MILLISECONDS,
            Self::Share => units::SHARES,
            Self::Count => units::COUNTS,
            Self::Plain => units::PLAINS,
        }
    }

    /// What to call it in a sentence, with its article: "a length".
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length | Self::FineLength | Self::Roughness => "a length",
            Self::Force => "a force",
            Self::Stiffness => "a stiffness",
            Self::Torque => "a torque",
            Self::Angle => "an angle",
            Self::Rotation => "a speed of rotation",
            Self::CuttingSpeed => "a cutting speed",
            Self::FeedRate => "a feed rate",
            Self::Frequency => "a frequency",
            Self::Power => "a power",
            Self::Money => "an amount of money",
            Self::Hours | Self::Minutes | Self::Milliseconds => "a time",
            Self::Share => "a share",
            Self::Count => "a count",
            Self::Plain => "a plain number",
        }
    }

    /// What a good entry looks like; every one of them parses.
    pub const fn examples(self) -> [&'static str; 2] {
        match self {
            Self::Length => ["12 thou", "0.3 mm"],
            Self::FineLength => ["0.5 thou", "12 µm"],
            Self::Roughness => ["63 µin", "1.6 µm"],
            Self::Force => ["50 N", "12 lb"],
            Self::Stiffness => ["20 N/µm", "110 lbf/thou"],
            Self::Torque => ["20 N·m", "15 lbf·ft"],
            Self::Angle => ["30°", "0.5 rad"],
            Self::Rotation => ["1200", "1200 rpm"],
            Self::CuttingSpeed => ["30 m/min", "100 sfm"],
            Self::FeedRate => ["120 mm/min", "5 in/min"],
            Self::Frequency => ["85 Hz", "5100 cpm"],
            Self::Power => ["750 W", "1 hp"],
            Self::Money => ["45", "45.50"],
            Self::Hours => ["1.5 h", "90 min"],
            Self::Minutes => ["20 min", "0.5 h"],
            Self::Milliseconds => ["80 ms", "0.08 s"],
            Self::Share => ["15 %", "15"],
            Self::Count => ["2", "4"],
            Self::Plain => ["1.5", "0.3"],
        }
    }
}
