//! What each remedy does to the machine and the cut.
//!
//! A remedy changes the setup (what is known: direction, stick-out, holder) and
//! a plausible machine (what is not: how stiff the new grip turns out to be).
//! The second uses an [`Effect`]'s standard normal, the same for every remedy
//! that asks for it, so that remedies are compared on common draws.

use super::{RemedyId, Unmet, remedy};
use crate::machine::{
    Axis, BearingCondition, Gibs, Machine, Preload, QuillUse, SpindleBore, SpindleSupport, TaperRetention,
    typical_axial_play, typical_preload, typical_radial_play, usually,
};
use crate::mechanics::{Plausible, Unknown};
use crate::quantity::{Dimension, Estimate, Length, Rotation, UnitSystem, format};
use crate::work::{CutKind, CutSense, CutterKind, EdgeState, Holder, Holding, Setup, Workholding};

/// What is not known about how a remedy turns out: an index into the extra
/// normals of a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(usize)]
#[allow(missing_docs, reason = "names say it")]
pub enum Effect {
    Grip,
    Trueness,
    Seat,
    Play,
    EndPlay,
    Tracks,
    Push,
    BraceX,
    BraceY,
    BraceDamping,
    Quill,
    Slides,
    Clamp,
    Stop,
    Edge,
    Money,
}

impl Effect {
    /// How many there are.
    pub const COUNT: usize = 16;
}

const PRACTICE: &str = "common practice, no source";

fn draw(effects: &[f64], effect: Effect, range: (f64, f64)) -> f64 {
    usually(range, PRACTICE).at(effects[effect as usize])
}

fn from(effects: &[f64], effect: Effect, estimate: Estimate) -> f64 {
    estimate.at(effects[effect as usize])
}

/// Why `id` can't be done in `setup`; none if it can.
pub fn unmet(id: RemedyId, setup: &Setup) -> Option<Unmet> {
    if !applies(id, setup) {
        return Some(Unmet::DoesNotApply);
    }
    if is_so_already(id, setup) {
        return Some(Unmet::AlreadySo);
    }
    match (id, setup.machine.bore) {
        (RemedyId::Drawbar, Some(SpindleBore::Closed)) => Some(Unmet::NotBored),
        (RemedyId::Drawbar, None) => Some(Unmet::BoreUnknown),
        _ => None,
    }
}

fn applies(id: RemedyId, setup: &Setup) -> bool {
    let Setup { machine, cutter, cut, .. } = setup;
    match id {
        RemedyId::ReverseSense => matches!(cut.kind, CutKind::Side | CutKind::Floor),
        RemedyId::ShortenStickOut | RemedyId::StoutCutter => cutter.kind == CutterKind::EndMill,
        RemedyId::ResetPreload => {
            // A spring sets itself; there is no collar or nut to it.
            machine.support != SpindleSupport::PlainBush
                && !matches!(machine.preload, Some(Preload::None | Preload::Spring))
        }
        _ => true,
    }
}

fn is_so_already(id: RemedyId, setup: &Setup) -> bool {
    let Setup { machine, cutter, holding, .. } = setup;
    match id {
        RemedyId::ClampLower => holding.height <= lowest(setup) * 1.1,
        RemedyId::StopAndClamp => holding.kind == Workholding::Plate,
        RemedyId::ShortenStickOut => shortest(setup) > cutter.stick_out * 0.92,
        RemedyId::LockAndSnug => {
            let quill = match machine.quill {
                QuillUse::Absent => true,
                QuillUse::Locked => machine.quill_extension <= DRAWN_IN,
                QuillUse::Free => false,
            };
            quill && machine.gibs == Gibs::Snug
        }
        RemedyId::SlowDown => slower(setup).is_none(),
        RemedyId::SpeedUp => faster(setup).is_none(),
        RemedyId::SharpCutter => cutter.edge == EdgeState::Sharp,
        RemedyId::StoutCutter => {
            let stout = with_stout_cutter(setup).cutter;
            stout.stick_out > cutter.stick_out * 0.92 && stout.diameter <= cutter.diameter
        }
        RemedyId::ColletChuck => cutter.holder != Holder::DrillChuck && cutter.holder != Holder::SetScrew,
        RemedyId::Drawbar => machine.retention == TaperRetention::Drawbar,
        RemedyId::ResetPreload => machine.preload == Some(Preload::Fixed),
        RemedyId::AngularPair => machine.support == SpindleSupport::AngularPair,
        RemedyId::TaperedRollers => machine.support == SpindleSupport::TaperedRoller,
        _ => false,
    }
}

/// A quill this far out counts as drawn in.
const DRAWN_IN: Length = Length::mm(15.0);

/// As low as the grip can come without the cutter meeting it.
fn lowest(setup: &Setup) -> Length {
    setup.cut.axial_depth + Length::mm(3.0)
}

/// The stick-out that still reaches: flutes stay out of the holder, the holder
/// stays clear of the work.
fn shortest(setup: &Setup) -> Length {
    let flutes = setup.cutter.flute_length + Length::mm(2.0);
    longer(flutes, setup.cut.axial_depth + Length::mm(5.0))
}

/// A speed that differs by less is the same, as a ratio.
pub const SAME_SPEED: f64 = 1.05;

/// The speed of [`RemedyId::SpeedUp`]: half as fast again, within the drive and
/// what is usual for edge and machine; `None` where nothing is faster to speak
/// of.
pub fn faster(setup: &Setup) -> Option<Rotation> {
    let now = setup.cut.speed;
    setup.machine.speed_near(now * 1.5, (now * SAME_SPEED, setup.fastest_advised()))
}

/// The speed of [`RemedyId::SlowDown`]: six tenths as fast, or what is usual for
/// edge and machine where that is still too fast, within the drive; the slowest of
/// a drive on which all are too fast; `None` where nothing is slower to speak of.
pub fn slower(setup: &Setup) -> Option<Rotation> {
    let Setup { machine, cut, .. } = setup;
    let advised = setup.fastest_advised();
    let wanted = least(advised, cut.speed * 0.6);
    let below = cut.speed * (1.0 / SAME_SPEED);
    // No step that is still too fast while there is one that is not.
    let within = |most: Rotation| machine.speed_near(wanted, (machine.speeds.0, most));
    within(least(advised * SAME_SPEED, below)).or_else(|| within(below))
}

fn least(a: Rotation, b: Rotation) -> Rotation {
    if a < b { a } else { b }
}

/// "at 540 rpm", or where the drive has steps the step.
fn at_speed(setup: &Setup) -> String {
    let at = if setup.machine.steps.is_empty() { "at" } else { "on the belt step or gear of" };
    // A speed has one unit everywhere.
    format!("{at} {}", format(setup.cut.speed.as_rpm(), Dimension::Rotation, UnitSystem::Metric))
}

fn longer(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

fn shorter(a: Length, b: Length) -> Length {
    if a < b { a } else { b }
}

fn with_stout_cutter(setup: &Setup) -> Setup {
    let mut setup = setup.clone();
    let Setup { cut, cutter, machine, .. } = &mut setup;
    // A slot keeps its width; elsewhere a size up is free to choose.
    if cut.kind != CutKind::Slot {
        cutter.diameter = cutter.diameter * 1.25;
        cut.speed = machine.speed_near(cut.speed * 0.8, (machine.speeds.0, cut.speed)).unwrap_or(cut.speed);
    }
    let needed = longer(cutter.diameter * 1.2, cut.axial_depth + Length::mm(2.0));
    cutter.flute_length = shorter(cutter.flute_length, needed);
    cutter.stick_out = shorter(cutter.stick_out, cutter.flute_length + Length::mm(4.0));
    cutter.edge = EdgeState::Sharp;
    setup
}

/// What to do, in this very setup.
pub fn title(id: RemedyId, before: &Setup) -> String {
    let after = change_setup(id, before);
    match id {
        RemedyId::TurnPart => format!(
            "Turn the part ninety degrees, so that the table feeds along {}",
            if after.cut.axis == Axis::X { "X" } else { "Y" }
        ),
        RemedyId::ReverseSense => match after.cut.sense {
            CutSense::Climb => "Cut with the feed (climb) instead of against it".to_owned(),
            CutSense::Conventional => "Cut against the feed (conventional) instead of with it".to_owned(),
        },
        RemedyId::LockAndSnug => lock_and_snug_title(&before.machine).to_owned(),
        RemedyId::SlowDown | RemedyId::SpeedUp if after.cut.speed != before.cut.speed => {
            format!("{} {}", remedy(id).title, at_speed(&after))
        }
        _ => remedy(id).title.to_owned(),
    }
}

/// What of [`RemedyId::LockAndSnug`] is left to do.
fn lock_and_snug_title(machine: &Machine) -> &'static str {
    let out = machine.quill != QuillUse::Absent && machine.quill_extension > DRAWN_IN;
    match (machine.quill == QuillUse::Free, out, machine.gibs == Gibs::Loose) {
        (true, false, true) => "Lock the quill and snug the gibs",
        (true, true, false) => "Lock the quill and draw it in",
        (true, false, false) => "Lock the quill",
        (false, true, true) => "Draw the quill in and snug the gibs",
        (false, true, false) => "Draw the quill in",
        (false, false, true) => "Snug the gibs",
        (true, true, true) | (false, false, false) => remedy(RemedyId::LockAndSnug).title,
    }
}

/// The setup with the remedy in place.
pub fn change_setup(id: RemedyId, before: &Setup) -> Setup {
    let mut setup = before.clone();
    let Setup { machine, cutter, cut, holding, .. } = &mut setup;
    match id {
        RemedyId::LeaveAlone => {}
        RemedyId::TurnPart => {
            cut.axis = match cut.axis {
                Axis::X => Axis::Y,
                Axis::Y => Axis::X,
            }
        }
        RemedyId::ReverseSense => {
            cut.sense = match cut.sense {
                CutSense::Climb => CutSense::Conventional,
                CutSense::Conventional => CutSense::Climb,
            }
        }
        RemedyId::ClampLower => holding.height = shorter(holding.height, longer(holding.height * 0.35, lowest(before))),
        RemedyId::StopAndClamp => holding.kind = better_held(holding),
        RemedyId::ShortenStickOut => cutter.stick_out = shorter(shortest(before), cutter.stick_out),
        RemedyId::LockAndSnug => {
            if machine.quill != QuillUse::Absent {
                machine.quill = QuillUse::Locked;
                machine.quill_extension = shorter(machine.quill_extension, DRAWN_IN);
            }
            machine.gibs = Gibs::Snug;
        }
        RemedyId::SlowDown => cut.speed = slower(before).unwrap_or(cut.speed),
        RemedyId::SpeedUp => cut.speed = faster(before).unwrap_or(cut.speed),
        RemedyId::LighterCut => {
            cut.axial_depth = cut.axial_depth * 0.5;
            cut.length = cut.length * 2.0;
        }
        RemedyId::SharpCutter => cutter.edge = EdgeState::Sharp,
        RemedyId::StoutCutter => setup = with_stout_cutter(before),
        RemedyId::ColletChuck => cutter.holder = Holder::ColletChuck,
        RemedyId::Drawbar => machine.retention = TaperRetention::Drawbar,
        RemedyId::ResetPreload => {}
        RemedyId::BraceColumn => {}
        RemedyId::SameBearings => machine.condition = Some(BearingCondition::Sound),
        RemedyId::AngularPair => convert(machine, SpindleSupport::AngularPair),
        RemedyId::TaperedRollers => convert(machine, SpindleSupport::TaperedRoller),
        RemedyId::AnotherSpindle => {
            convert(machine, SpindleSupport::AngularPair);
            machine.retention = TaperRetention::Drawbar;
            machine.overhang = shorter(machine.overhang, Length::mm(32.0));
            machine.span = longer(machine.span, Length::mm(100.0));
            machine.spindle_diameter = longer(machine.spindle_diameter, Length::mm(30.0));
            machine.bearing_bore = longer(machine.bearing_bore, Length::mm(30.0));
            cutter.holder = Holder::ShankInTaper;
        }
    }
    setup
}

fn convert(machine: &mut Machine, support: SpindleSupport) {
    machine.support = support;
    machine.condition = Some(BearingCondition::Sound);
    machine.preload = Some(Preload::Nut);
}

fn better_held(holding: &Holding) -> Workholding {
    match holding.kind {
        Workholding::BareVise | Workholding::Angled | Workholding::ViseStop => Workholding::ViseStop,
        Workholding::HandTight | Workholding::StepClamps => Workholding::StepClamps,
        Workholding::Plate => Workholding::Plate,
    }
}

/// What the remedy does to one plausible machine; `before` is the setup without
/// it, `effects` are the machine's [`Effect`] normals.
pub fn change_machine(id: RemedyId, before: &Setup, iron: &mut Plausible, effects: &[f64]) {
    use Unknown as U;
    match id {
        RemedyId::LeaveAlone
        | RemedyId::TurnPart
        | RemedyId::ReverseSense
        | RemedyId::ShortenStickOut
        | RemedyId::LighterCut => {}
        RemedyId::SlowDown | RemedyId::SpeedUp => {
            // Built-up edge fades with cutting speed; common practice.
            let after = change_setup(id, before).cut.speed / before.cut.speed;
            iron[U::ProcessRoughness] *= after.powf(-0.2);
        }
        RemedyId::ClampLower => iron[U::ClampForce] *= draw(effects, Effect::Clamp, (1.1, 1.7)),
        RemedyId::StopAndClamp => hold_better(before, iron, effects),
        RemedyId::LockAndSnug => lock_and_snug(before, iron, effects),
        RemedyId::SharpCutter | RemedyId::StoutCutter => sharpen(before, iron, effects),
        RemedyId::ColletChuck => hold_cutter(Holder::ColletChuck, iron, effects),
        RemedyId::Drawbar => iron[U::Taper] *= draw(effects, Effect::Seat, (1.5, 3.5)),
        RemedyId::ResetPreload => {
            // Adjustment takes up clearance, but can't mend a worn track.
            let (kept, push) = match before.machine.condition {
                Some(BearingCondition::Shot) => ((0.6, 0.95), (2.0, 12.0)),
                Some(BearingCondition::Worn) => ((0.25, 0.8), (10.0, 60.0)),
                Some(BearingCondition::Sound) | None => ((0.15, 0.6), (30.0, 120.0)),
            };
            let kept = draw(effects, Effect::Play, kept).min(1.0);
            iron[U::RadialPlay] *= kept;
            iron[U::AxialPlay] *= kept;
            iron[U::PreloadForce] = iron[U::PreloadForce].max(draw(effects, Effect::Push, push));
        }
        RemedyId::BraceColumn => {
            // The frame swings faster as it gets stiffer.
            let axes = [
                (U::ColumnX, U::HeadX, U::FrequencyX, Effect::BraceX),
                (U::ColumnY, U::HeadY, U::FrequencyY, Effect::BraceY),
            ];
            for (column, head, frequency, effect) in axes {
                let stiffness = |iron: &Plausible| 1.0 / (1.0 / iron[column] + 1.0 / iron[head]);
                let loose = stiffness(iron);
                iron[column] *= draw(effects, effect, (1.25, 2.4));
                iron[frequency] *= (stiffness(iron) / loose).sqrt();
            }
            let damping = draw(effects, Effect::BraceDamping, (1.0, 1.35));
            iron[U::DampingX] *= damping;
            iron[U::DampingY] *= damping;
        }
        RemedyId::SameBearings => new_bearings(before, before.machine.support, before.machine.preload, iron, effects),
        RemedyId::AngularPair => new_bearings(before, SpindleSupport::AngularPair, Some(Preload::Nut), iron, effects),
        RemedyId::TaperedRollers => {
            new_bearings(before, SpindleSupport::TaperedRoller, Some(Preload::Nut), iron, effects);
        }
        RemedyId::AnotherSpindle => {
            new_bearings(before, SpindleSupport::AngularPair, Some(Preload::Nut), iron, effects);
            hold_cutter(Holder::ShankInTaper, iron, effects);
            iron[U::Taper] = draw(effects, Effect::Seat, (30.0, 120.0));
        }
    }
}

fn new_bearings(
    before: &Setup,
    support: SpindleSupport,
    preload: Option<Preload>,
    iron: &mut Plausible,
    effects: &[f64],
) {
    use Unknown as U;
    let sound = Some(BearingCondition::Sound);
    iron[U::RadialPlay] = from(effects, Effect::Play, typical_radial_play(support, sound, preload));
    iron[U::AxialPlay] = from(effects, Effect::EndPlay, typical_axial_play(support, sound, preload));
    iron[U::PreloadForce] = from(effects, Effect::Push, typical_preload(support, sound, preload));
    // Seats in an old housing stay what they are: new tracks help only where
    // the old ones were worn, and by as much as they were.
    let factor = draw(effects, Effect::Tracks, (0.5, 1.2));
    iron[U::BearingFactor] = if before.machine.condition == sound { iron[U::BearingFactor] } else { factor };
}

fn hold_cutter(holder: Holder, iron: &mut Plausible, effects: &[f64]) {
    let typical = holder.typical();
    iron[Unknown::Joint] = draw(effects, Effect::Grip, typical.stiffness);
    let runout = draw(effects, Effect::Trueness, typical.runout);
    iron[Unknown::Runout] = runout * 1e-3;
}

fn sharpen(before: &Setup, iron: &mut Plausible, effects: &[f64]) {
    let now = before.material.process_roughness(before.cutter.edge);
    let sharp = before.material.process_roughness(EdgeState::Sharp);
    iron[Unknown::ProcessRoughness] *= sharp.0 / now.0;
    // Never duller than it was.
    iron[Unknown::EdgeFactor] = iron[Unknown::EdgeFactor].min(draw(effects, Effect::Edge, (0.7, 1.3)));
}

fn lock_and_snug(before: &Setup, iron: &mut Plausible, effects: &[f64]) {
    use Unknown as U;
    let machine = &before.machine;
    if machine.quill == QuillUse::Free {
        iron[U::Quill] *= 2.0;
        iron[U::QuillPlay] = iron[U::QuillPlay].min(draw(effects, Effect::Quill, (1e-3, 10e-3)));
    }
    if machine.gibs == Gibs::Loose {
        for unknown in [U::TableX, U::TableY, U::TableZ] {
            iron[unknown] *= 2.0;
        }
        iron[U::TablePlay] = iron[U::TablePlay].min(draw(effects, Effect::Slides, (1e-3, 8e-3)));
        iron[U::Drag] *= 2.5;
    }
}

fn hold_better(before: &Setup, iron: &mut Plausible, effects: &[f64]) {
    use Unknown as U;
    let after = better_held(&before.holding);
    if after == before.holding.kind {
        // One more clamp of the same sort.
        for unknown in [U::HoldingX, U::HoldingY, U::HoldingZ] {
            iron[unknown] *= draw(effects, Effect::Stop, (1.15, 1.7));
        }
        iron[U::ClampForce] *= draw(effects, Effect::Clamp, (1.2, 1.8));
        return;
    }
    let typical = after.typical();
    let (x, y, z) = typical.stiffness;
    for (unknown, range) in [(U::HoldingX, x), (U::HoldingY, y), (U::HoldingZ, z)] {
        iron[unknown] = iron[unknown].max(draw(effects, Effect::Stop, range));
    }
    iron[U::ClampForce] = iron[U::ClampForce].max(draw(effects, Effect::Clamp, typical.clamp_force));
}
