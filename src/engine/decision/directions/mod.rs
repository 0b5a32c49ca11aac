//! Which way to feed: every way of the table, with the feed and against it.
//!
//! A structure of springs and masses is the same after half a turn, so feeding
//! the other way along an axis, with the cutter on the other side of the part,
//! feeds the same vibration: no mode tells left from right. What does is a stop,
//! which holds one way only.

mod words;

use serde::Serialize;

use super::evaluate::Evaluation;
use super::fit::most_frequent;
use super::safety::TOLERATED;
use super::{Case, Fit, Prediction, Representative, Spread};
use crate::mechanics::force::{Ends, ForceHistory};
use crate::mechanics::{
    Bearings, CutForces, Driven, ModeGroup, Plausible, Prepared, Unknown, Weakest, self_feed_limit,
};
use crate::order;
use crate::work::{Axis, CutKind, CutSense, Setup, Workholding};

/// Machines on which it is looked at which mode chatters first.
const LOOKED_AT: usize = 256;

/// Which way the table moves along its axis, as the operator faces it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// To the right, or away from the operator.
    Plus,
    /// To the left, or towards the operator.
    Minus,
}

/// A direction of cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
pub struct Heading {
    /// Axis the table feeds along.
    pub axis: Axis,
    /// Which way. With a stop, `Plus` is that in which the cut of the case pushes
    /// the part onto it.
    pub way: Way,
    /// With or against the feed; in a slot, of the side whose wall counts.
    /// `None` in a face cut, half of which is one and half the other.
    pub sense: Option<CutSense>,
}

/// What a stop does for the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stop {
    /// There is none that holds only one way.
    None,
    /// The cut pushes the part against it.
    Against,
    /// The cut pushes the part away from it: friction alone holds.
    Away,
}

/// The mode that chatters first on most machines.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Swings {
    /// What swings.
    pub group: ModeGroup,
    /// Along which axis of the table.
    pub axis: Axis,
    /// Whether that is along the feed; else it is across it.
    pub along_feed: bool,
    /// Share of the machines on which it is the first.
    pub share: f64,
    /// Its frequency on these, Hz.
    pub frequency: Spread,
    /// Its stiffness on these, N/mm.
    pub stiffness: Spread,
    /// How strongly the cut feeds it, over how strongly it feeds a mode at right
    /// angles.
    pub fed: f64,
    /// How soft it is (stiffness times damping), against the same group at right
    /// angles: 2 is twice as soft.
    pub softer: f64,
}

/// The force on the tool over a revolution, on the machine in the middle, N.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Push {
    /// Least and largest along the feed, positive forward.
    pub feed: (f64, f64),
    /// Least and largest across it, positive into the wall; for a slot the wall
    /// that counts, for a face cut the side the teeth run out to.
    pub wall: (f64, f64),
    /// Mean along the feed: positive pulls the table along.
    pub mean_feed: f64,
    /// Share of the largest force across the feed that also acts the other way.
    pub turns: f64,
    /// Angle through which the direction of the force in the plane of the table
    /// swings, rad.
    pub swings: f64,
}

/// One direction of cut and what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Course {
    /// The direction.
    pub heading: Heading,
    /// The direction in a few words.
    pub title: String,
    /// Whether it is the direction of the case.
    pub present: bool,
    /// What to expect.
    pub prediction: Prediction,
    /// The finish of the surface that counts, Ra in mm.
    pub finish: Spread,
    /// Share of the goal reached, mean over the machines, 0 to 1.
    pub quality: f64,
    /// Whether the part may move or the table be snatched.
    pub dangerous: bool,
    /// What chatters first.
    pub swings: Swings,
    /// The force.
    pub push: Push,
    /// The stop, if there is one.
    pub stop: Stop,
    /// Whether the other way along the axis comes out the same.
    pub either_way: bool,
}

/// Every direction, the best first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Directions {
    /// The directions, best first: what is dangerous comes last, the rest by the
    /// share of the goal reached.
    pub courses: Vec<Course>,
    /// Kind of cut.
    pub kind: CutKind,
    /// Radial width over diameter.
    pub width: f64,
    /// That up to which climb cutting pulls the work along, from the force ratio
    /// of the middle machine.
    pub self_feed: f64,
    /// Depth of cut wanted, mm.
    pub depth: f64,
}

impl Directions {
    /// Every direction of cut on the machines of `fit`; forces are shown for
    /// the one in their middle.
    pub fn new(fit: &Fit, middle: &Representative) -> Self {
        let (case, middle) = (&fit.case, middle.iron);
        let cut = &case.setup.cut;
        let stop_side = pushed(Way::Plus, &Prepared::new(&case.setup).forces(&middle));
        let mut courses: Vec<Course> = Vec::new();
        for axis in [cut.axis, other(cut.axis)] {
            for sense in senses(case) {
                for way in [Way::Plus, Way::Minus] {
                    let heading = Heading { axis, way, sense };
                    let present = way == Way::Plus && axis == cut.axis && sense.is_none_or(|sense| sense == cut.sense);
                    // Only a stop tells one way from the other.
                    let twin = courses.last().filter(|_| way == Way::Minus && !one_sided(&case.setup));
                    courses.push(match twin {
                        Some(twin) => {
                            Course { heading, title: heading.title(cut.kind, twin.stop), present, ..twin.clone() }
                        }
                        None => course(fit, heading, present, &middle, stop_side),
                    });
                }
            }
        }
        // Stable: of equals the present direction stays in front.
        order::sort(&mut courses, |a, b| {
            a.dangerous.cmp(&b.dangerous).then(b.quality.total_cmp(&a.quality)).then(b.present.cmp(&a.present))
        });
        Directions {
            courses,
            kind: cut.kind,
            width: cut.radial_width / case.setup.cutter.diameter,
            self_feed: self_feed_limit(middle[Unknown::RadialRatio]),
            depth: cut.axial_depth.as_mm(),
        }
    }

    /// The best direction.
    pub fn best(&self) -> &Course {
        &self.courses[0]
    }

    /// The worst direction.
    pub fn worst(&self) -> &Course {
        &self.courses[self.courses.len() - 1]
    }

    /// The direction of the case; which way along the axis is not asked for.
    pub fn present(&self) -> &Course {
        self.courses.iter().find(|course| course.present).expect("the present direction is one of them")
    }
}

fn other(axis: Axis) -> Axis {
    match axis {
        Axis::X => Axis::Y,
        Axis::Y => Axis::X,
    }
}

/// The senses that make a difference, the present one first.
fn senses(case: &Case) -> Vec<Option<CutSense>> {
    match (case.setup.cut.kind, case.setup.cut.sense) {
        (CutKind::Face, _) => vec![None],
        (_, CutSense::Climb) => vec![Some(CutSense::Climb), Some(CutSense::Conventional)],
        (_, CutSense::Conventional) => vec![Some(CutSense::Conventional), Some(CutSense::Climb)],
    }
}

/// Whether the holding has a stop, which holds one way only; screws hold both
/// ways.
fn one_sided(setup: &Setup) -> bool {
    setup.holding.kind == Workholding::ViseStop
}

/// Which way along its axis the cut mainly pushes the work while the table moves
/// `way`: a force that pulls the tool forward pulls the work along with the table,
/// one that pushes the tool back pushes the work against the table's way.
fn pushed(way: Way, forces: &CutForces) -> Way {
    let (forward, back) = (forces.pull, forces.range[0] - forces.pull);
    match (way, forward > back) {
        (way, true) => way,
        (Way::Plus, false) => Way::Minus,
        (Way::Minus, false) => Way::Plus,
    }
}

fn course(fit: &Fit, heading: Heading, present: bool, middle: &Plausible, stop_side: Way) -> Course {
    let mut setup = fit.case.setup.clone();
    setup.cut.axis = heading.axis;
    setup.cut.sense = heading.sense.unwrap_or(setup.cut.sense);
    let stop = match one_sided(&setup) {
        false => Stop::None,
        true if pushed(heading.way, &Prepared::new(&setup).forces(middle)) == stop_side => Stop::Against,
        true => Stop::Away,
    };
    if stop == Stop::Away {
        // The jaws alone: nothing else depends on the kind once a machine is
        // given.
        setup.holding.kind = Workholding::BareVise;
    }
    let prepared = Prepared::new(&setup);
    let goal = fit.goal;
    let run = |iron: &Plausible| {
        let forces = prepared.forces(iron);
        let outcome = prepared.run(iron, &forces, Bearings::AsTheyAre);
        (outcome, prepared.snaps(&forces, &outcome))
    };
    let evaluation = Evaluation::of(fit.machines().iter().map(run).collect(), &setup, fit.wanted, goal);
    let finish = Spread::of(evaluation.outcomes.iter().map(|outcome| goal.roughness(outcome)).collect());
    let prediction = evaluation.prediction();
    Course {
        heading,
        title: heading.title(setup.cut.kind, stop),
        present,
        finish,
        quality: super::weigh::mean(&evaluation.quality),
        dangerous: [prediction.slip, prediction.lift, prediction.pull_in].into_iter().any(|share| share > TOLERATED),
        prediction,
        swings: swings(&prepared, &fit.some(LOOKED_AT)),
        push: push(&prepared, middle),
        stop,
        either_way: stop == Stop::None,
    }
}

fn swings(prepared: &Prepared, machines: &[Plausible]) -> Swings {
    let first = |iron: &Plausible| prepared.weakest(iron, &prepared.forces(iron), Bearings::AsTheyAre);
    let all: Vec<Weakest> = machines.iter().map(first).collect();
    let which = |one: &Weakest| (one.group, one.along_feed);
    let usual = most_frequent(all.iter().map(which)).expect("a sample is never empty");
    let those: Vec<&Weakest> = all.iter().filter(|one| which(one) == usual).collect();
    let spread = |of: fn(&Weakest) -> f64| Spread::of(those.iter().map(|one| of(one)).collect());
    let Weakest { group, axis, along_feed, .. } = *those[0];
    Swings {
        group,
        axis,
        along_feed,
        share: those.len() as f64 / all.len() as f64,
        frequency: spread(|one| one.own.mode.frequency),
        stiffness: spread(|one| one.own.mode.stiffness),
        fed: spread(|one| (one.own.feedback / one.beside.feedback).abs()).mid,
        softer: spread(|one| damped(&one.beside) / damped(&one.own)).mid,
    }
}

/// What a mode resists with at its resonance.
fn damped(one: &Driven) -> f64 {
    one.mode.stiffness * one.mode.damping
}

fn push(prepared: &Prepared, iron: &Plausible) -> Push {
    let history = prepared.force_history(iron);
    let [x, y] = [&history.x, &history.y].map(Ends::of);
    // The wall lies at +y against the feed, at -y with it.
    let wall = match prepared.setup.cut.sense {
        CutSense::Conventional => (y.low, y.high),
        CutSense::Climb => (-y.high, -y.low),
    };
    Push {
        feed: (x.low, x.high),
        wall,
        mean_feed: ForceHistory::mean(&history.x),
        turns: y.reversal(0.0),
        swings: prepared.forces(iron).swing.angle,
    }
}
