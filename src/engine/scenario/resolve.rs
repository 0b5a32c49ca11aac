//! From what was typed to a case in which every value is valid.

use std::collections::BTreeMap;

use super::readings::{PastCut, USUAL_PULL, readings};
use super::trial::trial;
use super::{Choices, Field, Problem, Scenario};
use crate::decision::{Budget, Case, Trouble, Want};
use crate::machine::{Archetype, Axis, Gibs, Machine, QuillUse, TaperRetention};
use crate::order;
use crate::quantity::{
    Angle, Dimension, Force, Hours, Length, Money, Parsed, Power, Rotation, format_number, items, parse,
};
use crate::readings::Gauges;
use crate::remedies::Settled;
use crate::trial::{Trial, USUALLY_MATTERS};
use crate::work::{
    Cut, CutKind, CutSense, Cutter, CutterKind, EdgeState, Holder, Holding, Material, PartShape, Setup, ToolMaterial,
    Workholding,
};

/// A case and what had to be left out of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Resolved {
    /// The case, without what is in `problems`.
    pub case: Case,
    /// Entries that could not be used; treated as blank.
    pub problems: Vec<Problem>,
    /// The test cuts.
    pub trial: Trial,
    /// Typed values that are used, in base units.
    pub(super) typed: BTreeMap<Field, f64>,
}

/// The values in use: typed ones where they are good, usual ones elsewhere.
pub(super) struct Reader<'a> {
    scenario: &'a Scenario,
    problems: Vec<Problem>,
    pub(super) typed: BTreeMap<Field, f64>,
}

impl<'a> Reader<'a> {
    pub(super) fn typed(&mut self, field: Field) -> Option<f64> {
        self.typed_within(field, field.spec().range, "")
    }

    pub(super) fn typed_within(&mut self, field: Field, range: (f64, f64), because: &'static str) -> Option<f64> {
        let text = self.entry(field)?;
        let value = self.exactly(field, text, range, because)?;
        self.typed.insert(field, value);
        Some(value)
    }

    /// Every number of a list, or none if one of them can't be used.
    pub(super) fn typed_list(&mut self, field: Field, range: (f64, f64), because: &'static str) -> Option<Vec<f64>> {
        let items = items(self.entry(field)?);
        let values: Vec<Option<f64>> = items.iter().map(|text| self.exactly(field, text, range, because)).collect();
        values.into_iter().collect()
    }

    /// A reading and the standard deviation of the margin typed after it, if one
    /// was: it holds the truth 19 times out of 20.
    pub(super) fn measured(
        &mut self,
        field: Field,
        range: (f64, f64),
        because: &'static str,
    ) -> Option<(f64, Option<f64>)> {
        const REACH: f64 = 1.96;
        let text = self.entry(field)?;
        let (value, margin) = self.read(field, text, range, because)?;
        self.typed.insert(field, value);
        Some((value, margin.map(|margin| margin / REACH)))
    }

    /// Leaves out a field that reads well and can't be used beside another.
    pub(super) fn refuse(&mut self, problem: Problem) {
        if let Some(field) = problem.field() {
            self.typed.remove(&field);
        }
        self.problems.push(problem);
    }

    /// What was typed, if anything.
    fn entry(&self, field: Field) -> Option<&'a str> {
        Some(self.scenario.entry(field)).filter(|text| !text.trim().is_empty())
    }

    /// A value that can't have a margin.
    fn exactly(&mut self, field: Field, text: &str, range: (f64, f64), because: &'static str) -> Option<f64> {
        let (value, margin) = self.read(field, text, range, because)?;
        if margin.is_some() {
            self.problems.push(Problem::NoMargin { field });
            return None;
        }
        Some(value)
    }

    /// The value typed and what follows its "±".
    fn read(
        &mut self,
        field: Field,
        text: &str,
        range: (f64, f64),
        because: &'static str,
    ) -> Option<(f64, Option<f64>)> {
        let spec = field.spec();
        let range = (range.0.max(spec.range.0), range.1.min(spec.range.1));
        let fine = spec.dimension.default_unit(self.scenario.units);
        let Parsed { value, unit, plus_minus: margin, .. } = match parse(text, spec.dimension, fine) {
            Ok(parsed) => parsed,
            Err(error) => {
                self.problems.push(Problem::Unreadable { field, error });
                return None;
            }
        };
        // A hair of slack, so that the limit itself can be typed in any unit.
        let slack = 1e-9 * range.1.abs();
        let believable =
            |value: f64| (range.0 - slack..=range.1 + slack).contains(&value) || spec.still && value == 0.0;
        if !believable(value) {
            // Five thou are often written .005, as they stand on a drawing.
            let whole = Dimension::Length.default_unit(self.scenario.units);
            let number = value / unit.factor;
            let meant =
                (spec.dimension == Dimension::FineLength && *unit == *fine && believable(number * whole.factor))
                    .then(|| whole.after(&format_number(number, 6)));
            self.problems.push(Problem::OutOfRange { field, value, range, because, meant });
            return None;
        }
        if spec.whole && value.fract() != 0.0 {
            self.problems.push(Problem::NotWhole { field, value });
            return None;
        }
        Some((value, margin))
    }
}

impl Scenario {
    /// Reads the scenario. Never fails: an entry that can't be used is treated
    /// as blank and reported.
    pub fn resolve(&self) -> Resolved {
        let mut reader = Reader { scenario: self, problems: Vec::new(), typed: BTreeMap::new() };
        for key in self.entries.keys() {
            if Field::from_key(key).is_none() {
                reader.problems.push(Problem::UnknownKey { key: key.clone() });
            }
        }
        let choices = &self.choices;
        let machine = machine(choices, &mut reader);
        let cutter = cutter(choices, &mut reader);
        let material = choices.material.unwrap_or(Material::MildSteel);
        let cut = cut(choices, &machine, &cutter, material, &mut reader);
        let holding = Holding {
            kind: choices.workholding.unwrap_or(Workholding::BareVise),
            shape: choices.shape.unwrap_or(PartShape::Block),
            // Nobody who does not say otherwise means to mill into the grip.
            height: reader.typed(Field::GripHeight).map_or(clear_of_grip(&cut), Length::mm),
            clamp_force: reader.typed(Field::ClampForce).map(Force::newton),
        };
        let surfaces = Want::surfaces(cut.kind, &choices.troubles);
        let gauges = Gauges {
            division: reader.typed(Field::IndicatorDivision).map_or(Gauges::USUAL.division, Length::mm),
            judged: choices.judged.unwrap_or(Gauges::USUAL.judged),
        };
        let past = PastCut { depth: cut.axial_depth, surfaces };
        let readings = readings(&gauges, past, deepest(&cutter), &mut reader);
        let want = Want {
            finish: Length::mm(reader.typed(Field::FinishTarget).unwrap_or(3.2e-3)),
            tolerance: Length::mm(reader.typed(Field::SizeTolerance).unwrap_or(0.1)),
            size_counts: choices.troubles.contains(&Trouble::OffSize),
            surfaces,
        };
        let budget = Budget {
            money: reader.typed(Field::MoneyBudget).map(Money::amount),
            hours: reader.typed(Field::HoursBudget).map(Hours::h),
            hour_worth: Money::amount(reader.typed(Field::HourWorth).unwrap_or(5.0)),
            target_worth: Money::amount(reader.typed(Field::TargetWorth).unwrap_or(400.0)),
            spoil_worth: Money::amount(reader.typed(Field::SpoilWorth).unwrap_or(200.0)),
        };
        let setup = Setup { machine, material, cutter, cut, holding };
        let (settled, unusable) = Settled::new(&choices.done, &choices.ruled_out, &setup);
        let trial = trial(choices, gauges.judged, &mut reader);
        let mut problems = reader.problems;
        problems.extend(unusable.into_iter().map(|(remedy, unmet)| Problem::CannotBeDone { remedy, unmet }));
        let (means, troubles) = (choices.means.clone(), choices.troubles.clone());
        let told = says_more_than_wishes(choices)
            || !readings.is_empty()
            || !setup.machine.steps.is_empty()
            || !reader.typed.keys().all(|field| is_wish(*field));
        let case = Case { setup, gauges, readings, want, budget, means, settled, troubles, told };
        Resolved { case, problems, trial, typed: reader.typed }
    }
}

/// What is usual for the height of a cut above the grip: ten millimetres, and three
/// more than it is deep. Common practice, no source.
fn clear_of_grip(cut: &Cut) -> Length {
    Length::mm((cut.axial_depth.as_mm() + 3.0).max(10.0))
}

/// Whether anything was answered but what is wanted and what is at hand for it.
fn says_more_than_wishes(choices: &Choices) -> bool {
    let Choices { troubles, means, done, ruled_out, changed, evidence, turns, .. } = choices.clone();
    *choices != Choices { troubles, means, done, ruled_out, changed, evidence, turns, ..Choices::default() }
}

/// Whether a number says what is wanted, what is at hand for it, or what came of it.
fn is_wish(field: Field) -> bool {
    let key = field.spec().key;
    ["want.", "means.", "trial."].iter().any(|of| key.starts_with(of))
}

fn machine(choices: &Choices, reader: &mut Reader<'_>) -> Machine {
    let archetype = choices.archetype.unwrap_or(Archetype::BenchDrill);
    let typical = archetype.typical();
    let quill = choices.quill.unwrap_or(match archetype {
        Archetype::MiniMill => QuillUse::Absent,
        _ => QuillUse::Free,
    });
    let slowest = reader.typed(Field::SlowestSpeed);
    let fastest =
        reader.typed_within(Field::FastestSpeed, (slowest.unwrap_or(0.0), f64::MAX), "not below the slowest speed");
    let drive = (slowest.unwrap_or(0.0), fastest.unwrap_or(f64::MAX));
    let steps = reader.typed_list(Field::SpeedSteps, drive, "within the slowest and fastest speed you gave");
    let steps = in_order(steps.unwrap_or_default());
    let slowest = slowest.or(steps.first().copied()).unwrap_or(typical.speeds.0.min(fastest.unwrap_or(f64::MAX)));
    let fastest = fastest.or(steps.last().copied()).unwrap_or(typical.speeds.1).max(slowest);
    let extension = reader.typed(Field::QuillExtension);
    Machine {
        archetype,
        support: choices.support.unwrap_or(typical.support),
        condition: choices.condition,
        preload: choices.preload,
        retention: choices.retention.unwrap_or(match archetype {
            Archetype::BenchDrill | Archetype::FloorDrill => TaperRetention::Unretained,
            _ => TaperRetention::Drawbar,
        }),
        retention_told: choices.retention.is_some(),
        bore: choices.bore,
        quill,
        quill_extension: match quill {
            QuillUse::Absent => Length::ZERO,
            _ => Length::mm(extension.unwrap_or(30.0)),
        },
        gibs: choices.gibs.unwrap_or(Gibs::Snug),
        span: Length::mm(reader.typed(Field::Span).unwrap_or(typical.span)),
        overhang: Length::mm(reader.typed(Field::Overhang).unwrap_or(typical.overhang)),
        spindle_diameter: Length::mm(reader.typed(Field::SpindleDiameter).unwrap_or(typical.diameter)),
        bearing_bore: Length::mm(reader.typed(Field::BearingBore).unwrap_or(typical.bore)),
        backlash: reader.typed(Field::Backlash).map(Length::mm),
        power: Power::watt(reader.typed(Field::Power).unwrap_or(typical.power)),
        speeds: (Rotation::rpm(slowest), Rotation::rpm(fastest)),
        steps: steps.into_iter().map(Rotation::rpm).collect(),
    }
}

/// Slowest first, each once.
fn in_order(mut speeds: Vec<f64>) -> Vec<f64> {
    order::ascending(&mut speeds);
    speeds.dedup();
    speeds
}

fn cutter(choices: &Choices, reader: &mut Reader<'_>) -> Cutter {
    let kind = choices.cutter.unwrap_or(CutterKind::EndMill);
    let usual = match kind {
        CutterKind::EndMill => (10.0, 4.0, 30.0, 30.0),
        CutterKind::FaceMill => (40.0, 4.0, 45.0, 0.0),
        CutterKind::FlyCutter => (50.0, 1.0, 50.0, 0.0),
    };
    let material = choices.tool_material.unwrap_or(match kind {
        CutterKind::FaceMill => ToolMaterial::Carbide,
        _ => ToolMaterial::Hss,
    });
    let diameter = reader.typed(Field::CutterDiameter).unwrap_or(usual.0);
    let stick_out = reader.typed(Field::StickOut).unwrap_or(match kind {
        CutterKind::EndMill => (3.0 * diameter).clamp(12.0, 60.0),
        _ => usual.2,
    });
    let flute_length = reader
        .typed_within(Field::FluteLength, (0.0, stick_out), "not more than the stick-out")
        .unwrap_or(match kind {
            CutterKind::EndMill => (2.2 * diameter).min(stick_out),
            _ => (0.2 * stick_out).max(5.0).min(stick_out),
        });
    let corner_radius = reader
        .typed_within(Field::CornerRadius, (0.0, diameter / 2.0), "not more than half the cutter’s diameter")
        .unwrap_or(if kind == CutterKind::EndMill { 0.0 } else { 0.8 });
    Cutter {
        kind,
        material,
        edge: choices.edge.unwrap_or(EdgeState::Used),
        holder: choices.holder.unwrap_or(match choices.archetype {
            Some(Archetype::BenchDrill | Archetype::FloorDrill) | None => Holder::DrillChuck,
            Some(_) => Holder::ColletChuck,
        }),
        diameter: Length::mm(diameter),
        flutes: reader.typed(Field::Flutes).unwrap_or(usual.1) as u32,
        stick_out: Length::mm(stick_out),
        flute_length: Length::mm(flute_length),
        helix: reader.typed(Field::Helix).map_or(Angle::deg(usual.3), Angle::rad),
        corner_radius: Length::mm(corner_radius),
    }
}

fn cut(choices: &Choices, machine: &Machine, cutter: &Cutter, material: Material, reader: &mut Reader<'_>) -> Cut {
    let kind = choices.cut.unwrap_or(match cutter.kind {
        CutterKind::EndMill => CutKind::Side,
        _ => CutKind::Face,
    });
    let diameter = cutter.diameter.as_mm();
    let width = reader.typed_within(Field::RadialWidth, (0.0, diameter), "not more than the cutter’s diameter");
    let radial_width = match kind {
        // A slot is as wide as the cutter, whatever else was typed.
        CutKind::Slot => diameter,
        CutKind::Side => width.unwrap_or(0.05 * diameter),
        CutKind::Face | CutKind::Floor => width.unwrap_or(0.6 * diameter),
    };
    let deepest = deepest(cutter);
    let axial_depth = reader.typed_within(Field::AxialDepth, (0.0, deepest), EDGES).unwrap_or(match kind {
        CutKind::Side => (0.1 * diameter).min(deepest),
        CutKind::Slot => (0.06 * diameter).min(deepest),
        CutKind::Face | CutKind::Floor => 0.3_f64.min(deepest),
    });
    let (slow, fast) = material.cutting_speed(cutter.material);
    let speed = reader.typed(Field::SpindleSpeed).unwrap_or_else(|| {
        let wanted = Rotation::rpm((slow * fast).sqrt() * 1000.0 / (core::f64::consts::PI * diameter));
        machine.speed_near(wanted, machine.speeds).unwrap_or(machine.speeds.0).as_rpm()
    });
    let feed_per_tooth = reader
        .typed_within(Field::FeedPerTooth, (0.0, diameter / 4.0), "not more than a quarter of the cutter’s diameter")
        .unwrap_or((0.004 * diameter).clamp(0.01, 0.08));
    Cut {
        kind,
        axial_depth: Length::mm(axial_depth),
        radial_width: Length::mm(radial_width),
        feed_per_tooth: Length::mm(feed_per_tooth),
        speed: Rotation::rpm(speed),
        axis: choices.axis.unwrap_or(Axis::X),
        sense: choices.sense.unwrap_or(CutSense::Conventional),
        length: Length::mm(reader.typed(Field::CutLength).unwrap_or(200.0)),
        parts: reader.typed(Field::Parts).unwrap_or(5.0) as u32,
    }
}

/// Deepest cut the edges allow, mm.
fn deepest(cutter: &Cutter) -> f64 {
    match cutter.kind {
        CutterKind::EndMill => cutter.flute_length.as_mm(),
        CutterKind::FaceMill | CutterKind::FlyCutter => 10.0,
    }
}

/// Why no cut is deeper than [`deepest`].
pub(super) const EDGES: &str = "not more than the edges are long";

impl Resolved {
    /// Whether a number that can be used was typed for `field`.
    pub fn is_typed(&self, field: Field) -> bool {
        self.typed.contains_key(&field)
    }

    /// The value in use for `field`, in its base unit: what was typed, or what
    /// is usual; `None` where blank simply means "not taken" or "no limit".
    pub fn in_use(&self, field: Field) -> Option<f64> {
        if let Some(&typed) = self.typed.get(&field) {
            return Some(typed);
        }
        let Case { setup, want, budget, .. } = &self.case;
        let Setup { machine, cutter, cut, holding, .. } = setup;
        Some(match field {
            Field::FinishTarget => want.finish.as_mm(),
            Field::SizeTolerance => want.tolerance.as_mm(),
            Field::QuillExtension => machine.quill_extension.as_mm(),
            Field::Span => machine.span.as_mm(),
            Field::Overhang => machine.overhang.as_mm(),
            Field::SpindleDiameter => machine.spindle_diameter.as_mm(),
            Field::BearingBore => machine.bearing_bore.as_mm(),
            Field::Power => machine.power.as_watt(),
            Field::SlowestSpeed => machine.speeds.0.as_rpm(),
            Field::FastestSpeed => machine.speeds.1.as_rpm(),
            Field::IndicatorDivision => self.case.gauges.division.as_mm(),
            Field::TipForce | Field::NoseForce | Field::HeadForce | Field::PartForce => USUAL_PULL,
            Field::PastDepth => cut.axial_depth.as_mm(),
            Field::CutterDiameter => cutter.diameter.as_mm(),
            Field::Flutes => f64::from(cutter.flutes),
            Field::StickOut => cutter.stick_out.as_mm(),
            Field::FluteLength => cutter.flute_length.as_mm(),
            Field::Helix => cutter.helix.as_rad(),
            Field::CornerRadius => cutter.corner_radius.as_mm(),
            Field::AxialDepth => cut.axial_depth.as_mm(),
            Field::RadialWidth => cut.radial_width.as_mm(),
            Field::FeedPerTooth => cut.feed_per_tooth.as_mm(),
            Field::SpindleSpeed => cut.speed.as_rpm(),
            Field::CutLength => cut.length.as_mm(),
            Field::Parts => f64::from(cut.parts),
            Field::GripHeight => holding.height.as_mm(),
            Field::HourWorth => budget.hour_worth.as_amount(),
            Field::TargetWorth => budget.target_worth.as_amount(),
            Field::SpoilWorth => budget.spoil_worth.as_amount(),
            Field::TrialMatters => USUALLY_MATTERS,
            _ => return None,
        })
    }
}
