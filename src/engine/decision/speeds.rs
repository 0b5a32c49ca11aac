//! Which speed: the depth limit at every speed of the drive, on the machines that
//! fit.

use serde::Serialize;

use super::safety::too_fast;
use super::verdict::of_hundred;
use super::{Case, Fit, Representative, Spread};
use crate::mechanics::Bearings;
use crate::mechanics::lobes::{ChartBuilder, Grid};
use crate::mechanics::pair::SPEED_BAND;
use crate::mechanics::{CutForces, Plausible};
use crate::quantity::{Dimension, Rotation, UnitSystem, format, format_number};
use crate::remedies;
use crate::work::Setup;

/// Speeds looked at where the drive has no steps, before they are made round.
const POINTS: usize = 120;

/// Machines that are asked at each of these.
const MACHINES: usize = 256;

/// Share of the machines by which a better speed has to be quieter.
const BETTER: f64 = 0.10;

/// Share of the machines by which a speed that is not better is still a little so.
const LITTLE: f64 = 0.03;

/// Times as long a cut may take at a better speed: nobody runs a mill at a tenth of
/// its speed for some quiet. Common practice, no source.
const LONGEST: f64 = 2.0;

/// Share of the lowest cutting speed usual for an edge, below which it is not slowed
/// down further. Common practice, no source.
const CRAWL: f64 = 0.5;

/// One speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpeedPoint {
    /// Spindle speed, rpm.
    pub speed: f64,
    /// Deepest cut without chatter, mm.
    pub limit: Spread,
    /// Share of the machines that don't chatter at the depth wanted.
    pub quiet: f64,
    /// Whether it is beyond what is usual for the edge or the machine: never
    /// advised.
    pub too_fast: bool,
}

/// A better speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Better {
    /// That speed.
    pub point: SpeedPoint,
    /// Time in the cut against now, at the same feed per tooth.
    pub time: f64,
    /// Whether it is that of a remedy, "Run it slower" or "Run it faster".
    pub remedy: bool,
}

/// Every speed of the drive.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Speeds {
    /// Slowest first: the steps of the drive, or round speeds over its range.
    pub points: Vec<SpeedPoint>,
    /// Whether these are all the speeds there are.
    pub steps: bool,
    /// The speed of the case, on all machines, as the answer has it.
    pub present: SpeedPoint,
    /// Depth of cut wanted, mm.
    pub depth: f64,
    /// The spindle speed at the highest cutting speed usual for this edge, rpm.
    pub top: f64,
    /// The highest speed that is ever advised, rpm: that, or the fastest usual for a
    /// machine of this kind.
    pub advised: f64,
    /// That cutting speed, m/min.
    pub cutting_speed: f64,
    /// A speed at which markedly more machines, ten of a hundred, stay quiet: that
    /// of a remedy if one is so much better, else the nearest; none if there is none.
    pub better: Option<Better>,
    /// The speeds of the remedies "Run it slower" and "Run it faster", where they can
    /// be had, on all machines.
    pub slower: Option<SpeedPoint>,
    /// See `slower`.
    pub faster: Option<SpeedPoint>,
    /// What rubbing makes of the limit at the slower speed, now, and at the faster
    /// one: a factor, the median over the machines. [`crate::mechanics::stability::rubbing_gain`]
    /// says how far to trust it.
    pub rubbing: [Option<f64>; 3],
}

/// A machine under its load.
type Loaded = (Plausible, CutForces);

impl Speeds {
    /// How rubbing is counted, and how far to trust it.
    pub const ON_RUBBING: &str = "The slower the edge, the shorter the waves that chatter cuts, and the harder the flank rubs on them. Where it rubs hard enough, what rings high does not chatter at any depth: that is what lets a slow cutter of high-speed steel cut deep. How hard it rubs is known no better than to a factor of four, so at low speeds the limits spread wide.";

    /// Every speed of the drive on the machines of `fit`.
    pub fn new(fit: &Fit) -> Self {
        let setup = &fit.case.setup;
        let depth = setup.cut.axial_depth.as_mm();
        let steps = !setup.machine.steps.is_empty();
        let [all, some] = [fit.machines().to_vec(), fit.some(MACHINES)].map(|machines| loaded(fit, machines));
        let at = |machines: &[Loaded], speeds: &[f64]| -> Vec<SpeedPoint> {
            let point = |(&speed, limits): (&f64, Vec<f64>)| SpeedPoint {
                speed,
                quiet: limits.iter().filter(|&&limit| limit >= depth).count() as f64 / limits.len() as f64,
                limit: Spread::of(limits),
                too_fast: too_fast(setup, Rotation::rpm(speed)),
            };
            speeds.iter().zip(table(fit, machines, 1.0, speeds)).map(point).collect()
        };
        let wanted = [remedies::slower(setup), Some(setup.cut.speed), remedies::faster(setup)];
        let asked: Vec<f64> = wanted.iter().flatten().map(|speed| speed.as_rpm()).collect();
        let mut found = at(&all, &asked).into_iter();
        let [slower, present, faster] = wanted.map(|speed| speed.and_then(|_| found.next()));
        let rubbing = [slower, present, faster].map(|point| point.map(|point| gain(fit, &some, point.speed)));
        let present = present.expect("the present speed was asked");
        // Steps are few, and those above are among them.
        let points = at(if steps { &all } else { &some }, &speeds(&fit.case));
        Speeds {
            better: better([slower, faster], &points, present, slowest(setup)),
            steps,
            points,
            present,
            depth,
            top: setup.top_speed().as_rpm(),
            advised: setup.fastest_advised().as_rpm(),
            cutting_speed: setup.material.cutting_speed(setup.cutter.material).1,
            slower,
            faster,
            rubbing,
        }
    }

    /// Which speed is better; or that none is, and why not one that is quieter.
    pub fn better_sentence(&self, units: UnitSystem) -> String {
        let now = rpm(self.present.speed, units);
        let chatter = |point: &SpeedPoint| of_hundred(1.0 - point.quiet);
        if let Some(Better { point, time, remedy }) = &self.better {
            let which = if *remedy { "A better speed" } else { "The nearest better speed" };
            return format!(
                "{which} is {}: {} of 100 machines like yours chatter there, {} do at {now}. The cut then takes {} times as long.",
                rpm(point.speed, units),
                chatter(point),
                chatter(&self.present),
                format_number(*time, 2)
            );
        }
        if self.present.quiet > 1.0 - BETTER {
            let few = chatter(&self.present);
            return format!("No other speed is called for: {few} of 100 machines like yours chatter at {now}.");
        }
        let none = "No speed makes a real difference here";
        let little = |point: &&SpeedPoint| point.quiet >= self.present.quiet + LITTLE;
        let remedies = [self.slower, self.faster];
        let most = remedies.iter().flatten().filter(little).max_by(|a, b| a.quiet.total_cmp(&b.quiet));
        if let Some(point) = most {
            return format!(
                "{none}; {} is a little better: {} of 100 machines like yours chatter there, {} do at {now}.",
                rpm(point.speed, units),
                chatter(point),
                chatter(&self.present)
            );
        }
        match self.points.iter().find(|point| point.too_fast && is_quieter(point, &self.present)) {
            Some(point) => format!(
                "No speed usual for this cutter and machine makes a real difference. {} would, but {}: don’t, unless {} allows it.",
                rpm(point.speed, units),
                self.most(units),
                if self.advised < self.top { "the machine’s maker" } else { "the cutter’s maker" }
            ),
            None => format!("{none}."),
        }
    }

    /// Why no more than [`Speeds::advised`] is, within a sentence.
    fn most(&self, units: UnitSystem) -> String {
        if self.advised < self.top {
            let most = rpm(self.advised, units);
            return format!("machines of this kind do not usually run faster than {most}");
        }
        let usual = format(self.cutting_speed, Dimension::CuttingSpeed, units);
        let most = rpm(10.0 * (self.top / 10.0).round(), units);
        format!("the usual limit of this edge in this material is about {most} ({usual})")
    }

    /// What slowing down does, in a sentence.
    pub fn slower_sentence(&self, units: UnitSystem) -> String {
        let [slow, now, _] = self.rubbing;
        let (Some(point), Some(slow), Some(now)) = (self.slower, slow, now) else {
            return "The drive has nothing slower.".to_owned();
        };
        let [slow, now] = [slow, now].map(|gain| format_number(gain, 2));
        let rubs = if slow == now {
            ", and rubbing flanks damp hardly more than now".to_owned()
        } else {
            format!(", and rubbing flanks allow {slow} times the depth they would without, against {now} times now")
        };
        format!(
            "Slower, {}{rubs}; the same feed per tooth takes {} times as long.",
            self.against(point, units),
            format_number(self.present.speed / point.speed, 2)
        )
    }

    /// What speeding up does, in a sentence.
    pub fn faster_sentence(&self, units: UnitSystem) -> String {
        let goes_faster = self.points.iter().any(|point| point.speed > remedies::SAME_SPEED * self.present.speed);
        match self.faster {
            Some(point) => format!("Faster, {}; {}.", self.against(point, units), self.most(units)),
            None if goes_faster => format!("Faster is not advised: {}.", self.most(units)),
            None => "The drive has nothing faster.".to_owned(),
        }
    }

    fn against(&self, point: SpeedPoint, units: UnitSystem) -> String {
        let (there, now) = (of_hundred(point.quiet), of_hundred(self.present.quiet));
        let speed = rpm(point.speed, units);
        let quiet = match there.cmp(&now) {
            std::cmp::Ordering::Equal => format!("{there} of 100 machines like yours stay quiet, as now"),
            _ => format!("{there} of 100 machines like yours stay quiet, {now} do now"),
        };
        format!("at {speed}, {quiet}")
    }
}

fn rpm(speed: f64, units: UnitSystem) -> String {
    format(speed, Dimension::Rotation, units)
}

/// The machines with the forces of the cut on each.
fn loaded(fit: &Fit, machines: Vec<Plausible>) -> Vec<Loaded> {
    machines.into_iter().map(|iron| (iron, fit.prepared.forces(&iron))).collect()
}

/// The speeds to look at, rpm, slowest first.
fn speeds(case: &Case) -> Vec<f64> {
    let machine = &case.setup.machine;
    if !machine.steps.is_empty() {
        return machine.steps.iter().map(|speed| speed.as_rpm()).collect();
    }
    let (slow, fast) = (machine.speeds.0.as_rpm(), machine.speeds.1.as_rpm());
    if slow == fast {
        return vec![slow];
    }
    let last = POINTS as f64 - 1.0;
    let even = (0..POINTS).map(|i| Rotation::rpm(slow * (fast / slow).powf(i as f64 / last)));
    let round = even.filter_map(|speed| machine.speed_near(speed, machine.speeds)).map(Rotation::as_rpm);
    // The ends of the drive can be set as they are.
    let mut speeds: Vec<f64> = std::iter::once(slow).chain(round).chain([fast]).collect();
    speeds.dedup();
    speeds
}

/// The limits of every machine, speed by speed.
fn table(fit: &Fit, machines: &[Loaded], rubbing: f64, speeds: &[f64]) -> Vec<Vec<f64>> {
    let rows: Vec<Vec<f64>> =
        machines.iter().map(|(iron, forces)| fit.prepared.limits_at(iron, forces, rubbing, speeds)).collect();
    (0..speeds.len()).map(|at| rows.iter().map(|row| row[at]).collect()).collect()
}

/// What rubbing makes of the limit at `speed`: the median factor.
fn gain(fit: &Fit, machines: &[Loaded], speed: f64) -> f64 {
    let limits = |rubbing: f64| table(fit, machines, rubbing, &[speed]).swap_remove(0);
    Spread::of(limits(1.0).iter().zip(limits(0.0)).map(|(with, without)| with / without).collect()).mid
}

fn is_quieter(point: &SpeedPoint, present: &SpeedPoint) -> bool {
    point.quiet >= present.quiet + BETTER
}

/// The slowest speed to go down to, rpm.
fn slowest(setup: &Setup) -> f64 {
    let (low, high) = setup.material.cutting_speed(setup.cutter.material);
    CRAWL * low / high * setup.top_speed().as_rpm()
}

/// Of the speeds of remedies the quietest that is markedly quieter than now, else
/// the nearest that is; none of them a crawl, below `slowest` or so slow that the cut
/// takes far longer.
fn better(
    remedies: [Option<SpeedPoint>; 2],
    points: &[SpeedPoint],
    present: SpeedPoint,
    slowest: f64,
) -> Option<Better> {
    let away = |point: &SpeedPoint| (point.speed / present.speed).ln().abs();
    let least = (present.speed / LONGEST).max(slowest).min(present.speed);
    let good = |point: &&SpeedPoint| !point.too_fast && point.speed >= least && is_quieter(point, &present);
    let remedy = remedies.iter().flatten().filter(good).max_by(|a, b| a.quiet.total_cmp(&b.quiet));
    let nearest = || points.iter().filter(good).min_by(|a, b| away(a).total_cmp(&away(b)));
    let point = *remedy.or_else(nearest)?;
    Some(Better { point, time: present.speed / point.speed, remedy: remedy.is_some() })
}

/// What can be held of exact limits (speed in rpm, depth in mm, slowest first): at
/// each speed the least within the band of speeds that a drive wanders through, as
/// the closed form takes it. A drive can't be kept in the gap between two lobes.
pub fn held(limits: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let least = |&(speed, _): &(f64, f64)| {
        let near = |&&(other, _): &&(f64, f64)| (other / speed).ln().abs() <= SPEED_BAND;
        (speed, limits.iter().filter(near).fold(f64::INFINITY, |least, &(_, depth)| least.min(depth)))
    };
    limits.iter().map(least).collect()
}

impl Representative {
    /// The exact chart of the group that chatters first, at `speeds` (rpm), to
    /// `deepest` (mm), column by column. Rubbing is in it as at the speed set; the
    /// other groups are not.
    pub fn chart(&self, bearings: Bearings, speeds: Vec<f64>, deepest: f64) -> ChartBuilder {
        /// Depths looked at in a column.
        const DEPTHS: u32 = 100;
        ChartBuilder::new(self.lobes(bearings), speeds, Grid { deepest, depths: DEPTHS })
    }
}
