//! Which speed: the depth limit at every speed of the drive, on the machines that
//! fit.

use serde::Serialize;

use super::safety::too_fast;
use super::verdict::of_hundred;
use super::{Case, Fit, Representative, Spread};
use crate::mechanics::Bearings;
use crate::mechanics::lobes::{ChartBuilder, Grid};
use crate::mechanics::{CutForces, Plausible};
use crate::quantity::{Dimension, Rotation, UnitSystem, format};

/// Speeds looked at where the drive has no steps.
const POINTS: usize = 120;

/// Machines that are asked at every speed.
const MACHINES: usize = 256;

/// Share of the machines by which a better speed has to be quieter.
const BETTER: f64 = 0.10;

/// What "slower" and "faster" stand for where the drive has no steps.
const SLOWER: f64 = 0.7;
const FASTER: f64 = 1.4;

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
}

/// Every speed of the drive.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Speeds {
    /// Slowest first: the steps of the drive, or even ratios over its range.
    pub points: Vec<SpeedPoint>,
    /// Whether these are all the speeds there are.
    pub steps: bool,
    /// The speed of the case.
    pub present: SpeedPoint,
    /// Depth of cut wanted, mm.
    pub depth: f64,
    /// The spindle speed at the highest cutting speed usual for this edge, rpm.
    pub top: f64,
    /// That cutting speed, m/min.
    pub cutting_speed: f64,
    /// The nearest speed at which markedly more machines, ten of a hundred, stay
    /// quiet; none if there is none.
    pub better: Option<Better>,
    /// A speed slower than now, and one faster, if the drive has them.
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
    /// Every speed of the drive on the machines of `fit`.
    pub fn new(fit: &Fit) -> Self {
        let case = &fit.case;
        let setup = &case.setup;
        let now = setup.cut.speed;
        let speeds = speeds(case);
        let machines: Vec<Loaded> =
            fit.some(MACHINES).into_iter().map(|iron| (iron, fit.prepared.forces(&iron))).collect();
        let drive = setup.machine.speeds;
        // An edge or belt that lets nothing slower or faster leaves the present.
        let reach = |ratio: f64, range: (Rotation, Rotation)| {
            let to = setup.machine.speed_near(now * ratio, range)?;
            ((to / now).ln().abs() > 0.02).then(|| to.as_rpm())
        };
        let slower = reach(SLOWER, (drive.0, now));
        let faster = reach(FASTER, (now, drive.1));

        let mut asked = speeds.clone();
        asked.push(now.as_rpm());
        asked.extend(slower);
        asked.extend(faster);
        let limits = table(fit, &machines, 1.0, &asked);
        let depth = setup.cut.axial_depth.as_mm();
        let mut all = asked.iter().zip(limits).map(|(&speed, limits)| SpeedPoint {
            speed,
            quiet: limits.iter().filter(|&&limit| limit >= depth).count() as f64 / limits.len() as f64,
            limit: Spread::of(limits),
            too_fast: too_fast(setup, Rotation::rpm(speed)),
        });
        let points: Vec<SpeedPoint> = all.by_ref().take(speeds.len()).collect();
        let present = all.next().expect("the present speed was asked");
        let slower = slower.and_then(|_| all.next());
        let faster = faster.and_then(|_| all.next());
        let rubbing = [slower, Some(present), faster].map(|point| point.map(|point| gain(fit, &machines, point.speed)));
        Speeds {
            better: better(&points, present),
            steps: !setup.machine.steps.is_empty(),
            points,
            present,
            depth,
            top: setup.top_speed().as_rpm(),
            cutting_speed: setup.material.cutting_speed(setup.cutter.material).1,
            slower,
            faster,
            rubbing,
        }
    }

    /// What slowing down does, in a sentence.
    pub fn slower_sentence(&self, units: UnitSystem) -> String {
        let [slow, now, _] = self.rubbing;
        let (Some(point), Some(slow), Some(now)) = (self.slower, slow, now) else {
            return "The drive has nothing slower.".to_owned();
        };
        let rubs = if slow > now + 0.02 {
            format!(
                ", and rubbing flanks damp more: {slow:.2} times the depth they would allow without, against {now:.2} now (never more than 3 times is counted, and less than all of it while fewer than ten waves fit between two teeth)"
            )
        } else {
            ", and rubbing flanks damp hardly more than now".to_owned()
        };
        format!(
            "Slower, {}{rubs}; the same feed per tooth takes {:.1} times as long.",
            self.against(point, units),
            self.present.speed / point.speed
        )
    }

    /// What speeding up does, in a sentence.
    pub fn faster_sentence(&self, units: UnitSystem) -> String {
        let Some(point) = self.faster else { return "The drive has nothing faster.".to_owned() };
        let edge = if !point.too_fast {
            String::new()
        } else if point.speed > self.top {
            let usual = format(self.cutting_speed, Dimension::CuttingSpeed, units);
            format!(
                "; but that is beyond {usual}, the usual limit of this edge in this material: don\u{2019}t, unless the cutter\u{2019}s maker allows it"
            )
        } else {
            "; but machines of this kind do not usually run that fast: don\u{2019}t, unless the maker of yours allows it"
                .to_owned()
        };
        format!("Faster, {}{edge}.", self.against(point, units))
    }

    fn against(&self, point: SpeedPoint, units: UnitSystem) -> String {
        let (there, now) = (of_hundred(point.quiet), of_hundred(self.present.quiet));
        let speed = format(point.speed, Dimension::Rotation, units);
        let quiet = match there.cmp(&now) {
            std::cmp::Ordering::Equal => format!("{there} of 100 machines like yours stay quiet, as now"),
            _ => format!("{there} of 100 machines like yours stay quiet, {now} do now"),
        };
        format!("at {speed}, {quiet}")
    }
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
    (0..POINTS).map(|i| slow * (fast / slow).powf(i as f64 / last)).collect()
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

fn better(points: &[SpeedPoint], present: SpeedPoint) -> Option<Better> {
    let away = |point: &SpeedPoint| (point.speed / present.speed).ln().abs();
    points
        .iter()
        .filter(|point| !point.too_fast && point.quiet >= present.quiet + BETTER)
        .min_by(|a, b| away(a).total_cmp(&away(b)))
        .map(|&point| Better { point, time: present.speed / point.speed })
}

impl Representative {
    /// The exact chart of the group that chatters first, at `speeds` (rpm), to
    /// `deepest` (mm), column by column. Rubbing is not in it, and neither are the
    /// other groups.
    pub fn chart(&self, bearings: Bearings, speeds: Vec<f64>, deepest: f64) -> ChartBuilder {
        /// Depths looked at in a column.
        const DEPTHS: u32 = 100;
        ChartBuilder::new(self.lobes(bearings), speeds, Grid { deepest, depths: DEPTHS })
    }
}
