//! Writes what `tests/python/decision.py` works out again: plausible machines of
//! a few cases, the setup with each remedy in place, and what came of it, into
//! `target/decision-sample.json`.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use serde_json::{Map, Value, json};
use spindlewise_engine::decision::{Budget, Case, Evaluation, Fit, Ground, decide_with};
use spindlewise_engine::machine::{
    Archetype, BearingCondition, Gibs, QuillUse, SpindleSupport, TaperRetention, bearing_size, typical_axial_play,
    typical_preload, typical_radial_play,
};
use spindlewise_engine::mechanics::{Bearings, Outcome, Unknown};
use spindlewise_engine::quantity::Estimate;
use spindlewise_engine::remedies::{Effect, Plan, Price, RemedyId, RemedySet};
use spindlewise_engine::scenario::{Field, Scenario, demo};
use spindlewise_engine::work::{Axis, CutKind, CutSense, CutterKind, EdgeState, Holder, Material, Setup, Workholding};

#[test]
fn a_sample_for_a_second_opinion_holds_what_the_decision_says() {
    let cases: Vec<Value> = [
        written(&demo(), 4096),
        written(&neglected(), 512),
        written(&slot(), 512),
        written(&face(), 512),
        written(&fly_cut(), 512),
    ]
    .into();
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().expect("lies in the target directory");
    let text = serde_json::to_string(&cases).expect("numbers are finite");
    fs::write(target.join("decision-sample.json"), text).expect("the target directory can be written");
}

/// Everything loose that can be: the branches that the demo does not take.
fn neglected() -> Scenario {
    let mut scenario = Scenario::new("neglected, climbing");
    let choices = &mut scenario.choices;
    choices.archetype = Some(Archetype::BenchDrill);
    choices.support = Some(SpindleSupport::TaperedRoller);
    choices.condition = Some(BearingCondition::Shot);
    choices.retention = Some(TaperRetention::Unretained);
    choices.quill = Some(QuillUse::Free);
    choices.gibs = Some(Gibs::Loose);
    choices.material = Some(Material::AluminiumSoft);
    choices.edge = Some(EdgeState::Dull);
    choices.holder = Some(Holder::DrillChuck);
    choices.cut = Some(CutKind::Side);
    choices.workholding = Some(Workholding::HandTight);
    choices.axis = Some(Axis::X);
    choices.sense = Some(CutSense::Climb);
    scenario.set_entry(Field::SizeTolerance, "0.05 mm");
    scenario
}

fn slot() -> Scenario {
    let mut scenario = Scenario::new("slot");
    scenario.choices.archetype = Some(Archetype::SquareColumn);
    scenario.choices.support = Some(SpindleSupport::AngularPair);
    scenario.choices.condition = Some(BearingCondition::Worn);
    scenario.choices.cut = Some(CutKind::Slot);
    scenario.choices.workholding = Some(Workholding::StepClamps);
    scenario.set_entry(Field::Flutes, "2");
    scenario.set_entry(Field::CornerRadius, "0.3 mm");
    scenario
}

fn face() -> Scenario {
    let mut scenario = Scenario::new("face mill");
    scenario.choices.archetype = Some(Archetype::Knee);
    scenario.choices.support = Some(SpindleSupport::PlainBush);
    scenario.choices.cutter = Some(CutterKind::FaceMill);
    scenario.choices.cut = Some(CutKind::Face);
    scenario.choices.workholding = Some(Workholding::Plate);
    scenario
}

fn fly_cut() -> Scenario {
    let mut scenario = Scenario::new("fly cutter");
    scenario.choices.archetype = Some(Archetype::RoundColumn);
    scenario.choices.cutter = Some(CutterKind::FlyCutter);
    scenario.choices.cut = Some(CutKind::Floor);
    scenario.choices.quill = Some(QuillUse::Absent);
    scenario
}

/// A scenario with `draws` machines; checked against the decision on its way out.
fn written(scenario: &Scenario, draws: usize) -> Value {
    let case = scenario.resolve().case;
    let decision = decide_with(&case, draws);
    let fit = Arc::new(Fit::with(&case, draws));
    let ground = Ground::new(Arc::clone(&fit));
    let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
    let perfect = ground.evaluate(RemedySet::NONE, Bearings::Perfect);
    assert_eq!(now.prediction(), decision.now);
    assert_eq!((perfect.prediction(), perfect.change(&now)), (decision.ceiling.prediction, decision.ceiling.change));
    let mut runs =
        vec![run(&case, &now, RemedyId::LeaveAlone, true), run(&case, &perfect, RemedyId::LeaveAlone, false)];
    for appraisal in &decision.appraisals {
        let id = appraisal.remedy;
        if id == RemedyId::LeaveAlone {
            continue;
        }
        let changed = ground.evaluate(id.into(), Bearings::AsTheyAre);
        let possible = appraisal.unmet.is_empty();
        let mut one = run(&case, &changed, id, true);
        if possible {
            assert_eq!(
                (changed.prediction(), changed.change(&now)),
                (appraisal.prediction.clone(), appraisal.change.clone())
            );
            one["appraisal"] = json!(appraisal);
        }
        runs.push(one);
    }
    let sample = &fit.sample;
    let machines: Map<String, Value> = Unknown::ALL
        .iter()
        .map(|&one| (format!("{one:?}"), sample.machines.iter().map(|iron| iron[one]).collect()))
        .collect();
    let extras: Vec<Vec<f64>> =
        (0..Effect::COUNT).map(|effect| (0..draws).map(|index| sample.extra(index)[effect]).collect()).collect();
    let Budget { hour_worth, target_worth, spoil_worth, .. } = &case.budget;
    json!({
        "name": scenario.name,
        "machines": machines,
        "extras": extras,
        "want": {
            "finish": case.want.finish.as_mm(),
            "tolerance": case.want.size_counts.then_some(case.want.tolerance.as_mm()),
            "surfaces": case.want.surfaces,
        },
        "worth": [target_worth.as_amount(), hour_worth.as_amount(), spoil_worth.as_amount()],
        "runs": runs,
        "shares": decision.shares,
        "bearing_share": decision.ceiling.share,
    })
}

/// What came of one remedy.
fn run(case: &Case, evaluation: &Evaluation, id: RemedyId, bearings: bool) -> Value {
    let column = |of: fn(&Outcome) -> f64| evaluation.outcomes.iter().map(of).collect::<Vec<f64>>();
    let price = Price::new(id.into(), &case.means);
    json!({
        "remedy": id,
        "bearings": f64::from(bearings),
        "setup": setup(Plan::new(id.into(), &case.setup).setup()),
        "price": { "money": price.money, "hours": price.hours, "spoil": price.spoil },
        "prediction": evaluation.prediction(),
        "quality": evaluation.quality,
        "outcomes": {
            "wall": column(|o| o.wall),
            "floor": column(|o| o.floor),
            "depth_limit": column(|o| o.depth_limit),
            "location": column(|o| o.location),
            "play_travel": column(|o| o.play_travel),
            "stiffness": column(|o| o.stiffness),
            "slip": column(|o| o.slip),
            "lift": column(|o| o.lift),
            "pull_in": column(|o| o.pull_in),
            "torque": column(|o| o.torque),
            "drive": column(|o| o.drive),
            "converged": column(|o| f64::from(o.converged)),
        },
    })
}

/// What the mechanics needs to know of a setup; lengths in mm.
fn setup(setup: &Setup) -> Value {
    let Setup { machine, material, cutter, cut, holding } = setup;
    let of = |estimate: Estimate| (estimate.median(), estimate.log_sd());
    let set = (machine.support, machine.condition, machine.preload);
    let bearing = bearing_size(machine.bearing_bore.as_mm());
    let published = material.coefficients();
    let (holder, held) = (cutter.holder.typical(), holding.kind.typical());
    json!({
        "machine": {
            "support": machine.support,
            "condition": machine.condition,
            "radial_play": of(typical_radial_play(set.0, set.1, set.2)),
            "axial_play": of(typical_axial_play(set.0, set.1, set.2)),
            "preload": of(typical_preload(set.0, set.1, set.2)),
            "balls": (bearing.balls.count, bearing.balls.diameter),
            "rollers": bearing.rollers,
            "quill": machine.quill,
            "quill_extension": machine.quill_extension.as_mm(),
            "gibs": machine.gibs,
            "span": machine.span.as_mm(),
            "overhang": machine.overhang.as_mm(),
            "spindle_diameter": machine.spindle_diameter.as_mm(),
            "power": machine.power.as_watt(),
        },
        "material": {
            "tangential": published.tangential,
            "edge_tangential": published.edge_tangential,
            "edge_radial_ratio": published.edge_radial_ratio,
            "process_roughness": material.process_roughness(cutter.edge),
        },
        "cutter": {
            "kind": cutter.kind,
            "material": cutter.material,
            "diameter": cutter.diameter.as_mm(),
            "shank": cutter.shank_diameter().as_mm(),
            "modulus": cutter.modulus(),
            "teeth": cutter.flutes,
            "stick_out": cutter.stick_out.as_mm(),
            "flute_length": cutter.flute_length.as_mm(),
            "helix": cutter.helix.as_rad(),
            "corner_radius": cutter.corner_radius.as_mm(),
            "projection": holder.projection,
            "grip": holder.stiffness,
            "runout": holder.runout,
        },
        "cut": {
            "kind": cut.kind,
            "sense": cut.sense,
            "axis": cut.axis,
            "depth": cut.axial_depth.as_mm(),
            "width": cut.radial_width.as_mm(),
            "feed": cut.feed_per_tooth.as_mm(),
            "speed": cut.speed.as_rpm(),
            "minutes": cut.minutes(cutter.flutes),
        },
        "holding": {
            "kind": holding.kind,
            "shape": holding.shape,
            "height": holding.height.as_mm(),
            "stiffness": held.stiffness,
            "clamp_force": held.clamp_force,
            "stop": held.stop,
        },
    })
}
