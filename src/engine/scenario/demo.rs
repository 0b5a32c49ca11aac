//! The demonstration: a made-up machine and a made-up job.

use super::{Choices, Field, Scenario};
use crate::decision::Trouble;
use crate::machine::{Archetype, Gibs, Preload, QuillUse, SpindleSupport, TaperRetention};
use crate::quantity::UnitSystem;
use crate::remedies::Means;
use crate::work::{
    Axis, CutKind, CutSense, CutterKind, EdgeState, Holder, Material, PartShape, ToolMaterial, Workholding,
};

/// A benchtop drill press turned light mill that squares the flank of a mild
/// steel bracket. Everything in it is invented.
pub fn demo() -> Scenario {
    let mut scenario = Scenario::new("Bracket on the bench drill (demo)");
    scenario.units = UnitSystem::Metric;
    scenario.choices = Choices {
        troubles: vec![Trouble::Chatter, Trouble::RoughWall, Trouble::Advised],
        archetype: Some(Archetype::BenchDrill),
        support: Some(SpindleSupport::DeepGroove),
        condition: None,
        preload: Some(Preload::Collar),
        retention: Some(TaperRetention::Drawbar),
        quill: Some(QuillUse::Locked),
        gibs: Some(Gibs::Snug),
        material: Some(Material::MildSteel),
        cutter: Some(CutterKind::EndMill),
        tool_material: Some(ToolMaterial::Hss),
        edge: Some(EdgeState::Used),
        holder: Some(Holder::ColletChuck),
        cut: Some(CutKind::Side),
        workholding: Some(Workholding::BareVise),
        shape: Some(PartShape::Block),
        axis: Some(Axis::Y),
        sense: Some(CutSense::Conventional),
        means: vec![Means::SecondClamp, Means::Press],
        ..Choices::default()
    };
    scenario.set_entries([
        (Field::FinishTarget, "3.2 µm"),
        (Field::CutterDiameter, "10 mm"),
        (Field::Flutes, "4"),
        (Field::StickOut, "60 mm"),
        (Field::FluteLength, "22 mm"),
        (Field::AxialDepth, "1 mm"),
        (Field::RadialWidth, "0.5 mm"),
        (Field::FeedPerTooth, "20 µm"),
        (Field::SpindleSpeed, "1100 rpm"),
        (Field::CutLength, "240 mm"),
        (Field::Parts, "6"),
        (Field::GripHeight, "14 mm"),
        (Field::TipForce, "100 N"),
        (Field::TipX, "0.15 mm"),
        (Field::TipY, "0.18 mm"),
        (Field::HeadForce, "100 N"),
        (Field::HeadY, "0.05 mm"),
        (Field::RockRadial, "7 µm"),
        (Field::MoneyBudget, "150"),
        (Field::HoursBudget, "12 h"),
    ]);
    scenario
}
