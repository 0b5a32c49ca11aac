//! One plausible machine takes the cut: what comes out.

use std::f64::consts::{FRAC_PI_2, TAU};
use std::sync::Arc;

use super::chain::{Chain, Compliance, Inertia, LoopPart};
use super::force::{CutGeometry, Ends, Engagement, ForceBasis, ForceCoefficients, ForceHistory, HARMONICS};
use super::grip;
use super::modes::{self, Chatter, Modes, Push};
use super::pair::{Cutting, SPEED_BAND};
use super::play::{self, Swing};
use super::stability::FeedbackGeometry;
use super::width::WidthTable;
use super::{Plausible, Unknown, surface};
use crate::machine::Axis;
use crate::quantity::Rotation;
use crate::work::{CutSense, CutterKind, Setup};

/// The bearings to reckon with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bearings {
    /// As they are.
    AsTheyAre,
    /// No compliance and no play: what no purchase can beat.
    Perfect,
}

impl Bearings {
    /// Share of their compliance and play that is there.
    pub(super) fn kept(self) -> f64 {
        match self {
            Bearings::AsTheyAre => 1.0,
            Bearings::Perfect => 0.0,
        }
    }
}

/// What one plausible machine does in the cut. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Roughness Ra of the wall.
    pub wall: f64,
    /// Roughness Ra of the floor.
    pub floor: f64,
    /// Deepest cut without chatter at this speed.
    pub depth_limit: f64,
    /// How far the wall ends up from where it should be.
    pub location: f64,
    /// Travel of the tip across all play.
    pub play_travel: f64,
    /// Stiffness of the weaker direction, N/um.
    pub stiffness: f64,
    /// Safety against slipping; below 1 the part moves.
    pub slip: f64,
    /// The same for lifting or tipping.
    pub lift: f64,
    /// Force that pulls the table along, over what holds it back; above 1 it
    /// snatches.
    pub pull_in: f64,
    /// Mean torque at the cutter, N.m.
    pub torque: f64,
    /// Power needed over power there is.
    pub drive: f64,
    /// Whether the iteration of force, bearing stiffness and engagement settled.
    pub converged: bool,
}

/// How far each part of the loop moves in a cut, play included, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Across the feed.
    pub normal: [f64; 12],
    /// Along the feed.
    pub feed: [f64; 12],
}

/// What of a revolution's forces the rest needs, N. They do not depend on the
/// spindle, so remedies that leave the cut alone share them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutForces {
    /// How the force turns in the plane of the table.
    pub swing: Swing,
    /// Mean along the feed and across it.
    pub mean: (f64, f64),
    /// Peak to peak along the feed, across it and along the axis, zero included.
    pub range: [f64; 3],
    /// Largest magnitude of the same.
    pub largest: [f64; 3],
    /// Largest forward force on the cutter, which pulls the work along.
    pub pull: f64,
    /// Largest lift on the part.
    pub lift: f64,
    /// Force across the feed when the wall is made.
    pub at_wall: f64,
    /// The harmonics of tooth passing across the feed: [`ForceBasis::harmonics`].
    pub harmonics: [[f64; 2]; HARMONICS],
    /// Mean tangential force.
    pub tangential: f64,
}

/// A setup with everything computed that does not depend on the unknowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Prepared {
    /// The setup.
    pub setup: Setup,
    pub(super) chain: Chain,
    geometry: CutGeometry,
    basis: Arc<ForceBasis>,
    pub(super) feedback: FeedbackGeometry,
    width: WidthTable,
    /// Axis (0 for X, 1 for Y) along the feed and across it.
    pub(super) feed: usize,
    pub(super) normal: usize,
    /// Tooth-passing frequency, and the highest there is, Hz.
    pub(super) passes: f64,
    most_passes: f64,
    /// How far the edge trails its tip per depth, in pitches per mm.
    twist: f64,
    /// How teeth push, without the forces.
    pulse: Push,
    /// Cutting speed, m/s.
    pub(super) surface_speed: f64,
    /// Axial force over that of a helix of thirty degrees, for which it is quoted.
    helix_pull: f64,
}

/// Share of the motor's power that reaches the cutter. Common practice.
const DRIVE_EFFICIENCY: f64 = 0.65;

/// How far (mm) a part shifts when the grip holds nothing back at all; it is
/// reached in proportion to what is missing. Common practice, no source.
const SLIP_STEP: f64 = 0.15;

/// Share of a table's jump that shows on the surface. Common practice, no source.
const SNATCH_MARK: f64 = 0.1;

/// Axial preload (N) holds about three times as much radial load seated: its
/// contact angle is small. Common practice, no source.
pub const RADIAL_HOLD: f64 = 3.0;

impl Prepared {
    /// Prepares `setup`.
    pub fn new(setup: &Setup) -> Self {
        Self::sharing(setup, None)
    }

    /// Prepares `setup`, with what only the geometry of the cut decides taken from
    /// here if that is the same: the slow part of it.
    pub fn after(&self, setup: &Setup) -> Self {
        Self::sharing(setup, Some(self))
    }

    /// Whether the cut of `setup` has the geometry of this one.
    pub fn cuts_like(&self, setup: &Setup) -> bool {
        self.setup.cut.sense == setup.cut.sense && self.geometry == geometry(setup, setup.cut.radial_width.as_mm())
    }

    fn sharing(setup: &Setup, other: Option<&Prepared>) -> Self {
        let Setup { machine, cutter, cut, .. } = setup;
        let geometry = geometry(setup, cut.radial_width.as_mm());
        let other = other.filter(|other| other.cuts_like(setup));
        let (feed, normal) = match cut.axis {
            Axis::X => (0, 1),
            Axis::Y => (1, 0),
        };
        let (teeth, radius) = (f64::from(cutter.flutes), 0.5 * cutter.diameter.as_mm());
        let passes = |speed: Rotation| teeth * speed.as_rpm() / 60.0;
        let twist = cutter.helix.as_rad().tan() / radius * teeth / TAU;
        Prepared {
            setup: setup.clone(),
            chain: Chain::new(setup),
            basis: other
                .map_or_else(|| Arc::new(ForceBasis::new(&geometry, cut.sense)), |other| Arc::clone(&other.basis)),
            feedback: other.map_or_else(
                || FeedbackGeometry::new(geometry.engagement, cutter.flutes),
                |other| other.feedback.clone(),
            ),
            width: other
                .filter(|other| {
                    other.setup.material == setup.material && {
                        let known = &other.setup.cut;
                        known.kind == cut.kind && known.radial_width == cut.radial_width
                    }
                })
                .map_or_else(|| WidthTable::new(setup), |other| other.width.clone()),
            feed,
            normal,
            passes: passes(cut.speed),
            most_passes: passes(cut.speed).max(passes(machine.speeds.1)),
            twist,
            pulse: pulse(&geometry, cut.sense, twist * geometry.depth),
            geometry,
            surface_speed: cut.cutting_speed(cutter.diameter).as_m_per_min() / 60.0,
            helix_pull: cutter.helix.as_rad().tan() / 30.0_f64.to_radians().tan(),
        }
    }

    /// Compliance of the loop under a hand's pull of `force` (N) at the tip.
    pub fn compliance(&self, iron: &Plausible, force: f64) -> Compliance {
        self.chain.compliance(&self.setup, iron, force, 0.0, 1.0)
    }

    /// The same at the bare spindle nose.
    pub fn nose_compliance(&self, iron: &Plausible, force: f64) -> Compliance {
        self.chain.at_nose().compliance(&self.setup, iron, force, 0.0, 1.0)
    }

    /// Movement of the nose over movement in the front bearing.
    pub fn nose_lever(&self) -> f64 {
        self.chain.at_nose().front_lever()
    }

    /// What swings at the tip.
    pub fn inertia(&self) -> Inertia {
        self.chain.inertia
    }

    /// Force coefficients of a plausible cut.
    pub fn coefficients(&self, iron: &Plausible) -> ForceCoefficients {
        use Unknown as U;
        let Setup { material, cutter, cut, .. } = &self.setup;
        let published = material.coefficients();
        let ktc = published.tangential * iron[U::ForceFactor];
        let kte = published.edge_tangential * iron[U::EdgeFactor];
        let pull = iron[U::AxialRatio] * self.helix_pull;
        let thrust = match cutter.kind {
            // The part of the edge that is round pushes up; mean slope 2/pi.
            CutterKind::EndMill => std::f64::consts::FRAC_2_PI * (cutter.corner_radius / cut.axial_depth).min(1.0),
            // Inserts with a lead angle, a bit with a round nose.
            CutterKind::FaceMill | CutterKind::FlyCutter => 0.6,
        };
        ForceCoefficients {
            ktc,
            krc: ktc * iron[U::RadialRatio],
            kac: ktc * pull,
            kte,
            kre: kte * published.edge_radial_ratio,
            kae: 0.0,
            thrust,
        }
    }

    /// Force on the tool over a revolution of the cut as set, without deflection.
    pub fn force_history(&self, iron: &Plausible) -> ForceHistory {
        self.basis.forces(0.5 * iron[Unknown::Runout], &self.coefficients(iron))
    }

    /// Forces of the cut as set, for a plausible machine.
    pub fn forces(&self, iron: &Plausible) -> CutForces {
        let (offset, k) = (0.5 * iron[Unknown::Runout], self.coefficients(iron));
        let history = self.basis.forces(offset, &k);
        let [mean, at_wall] = self.basis.mean_forces(offset, &k);
        let ForceHistory { x, y, z, tangential } = &history;
        let ends = [x, y, z].map(Ends::of);
        CutForces {
            swing: Swing::of(&history, ends, iron[Unknown::SpindleWeight]),
            mean: (mean[0], mean[1]),
            range: ends.map(Ends::range),
            largest: ends.map(Ends::largest),
            pull: ends[0].high,
            lift: ends[2].high,
            at_wall: at_wall[1],
            harmonics: self.basis.harmonics(offset, &k),
            tangential: *tangential,
        }
    }

    /// Whether two setups make the same forces on the same machine.
    pub fn same_forces(&self, other: &Prepared) -> bool {
        self.geometry == other.geometry
            && self.setup.cut.sense == other.setup.cut.sense
            && self.setup.material == other.setup.material
            && self.setup.cutter.kind == other.setup.cutter.kind
            && self.setup.cutter.corner_radius == other.setup.cutter.corner_radius
    }

    /// Whether two setups chatter alike where modes and coefficients are the same.
    pub fn same_feedback(&self, other: &Prepared) -> bool {
        self.feedback == other.feedback
            && self.setup.material == other.setup.material
            && self.passes == other.passes
            && self.most_passes == other.most_passes
            && self.twist == other.twist
            && self.surface_speed == other.surface_speed
    }

    /// What chatters in the cut.
    pub fn chatter(&self, iron: &Plausible, forces: &CutForces) -> Chatter {
        let state = self.state(iron, forces, Bearings::AsTheyAre);
        let [feed, normal] = self.modes(iron, forces, &state);
        Chatter::new(&feed, &normal, &self.cutting(iron))
    }

    /// Deepest cut (mm) that no speed makes chatter, where `chatter` does in this
    /// cut.
    pub fn depth_any_speed(&self, iron: &Plausible, chatter: &Chatter) -> f64 {
        chatter.depth_any_speed(&self.cutting(iron))
    }

    /// Takes the cut on a plausible machine with `forces` as they would be
    /// without deflection.
    pub fn run(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings) -> Outcome {
        self.run_changed(iron, forces, bearings, None)
    }

    /// [`Self::run`]; `before` is what chattered in the same cut on the same
    /// machine before some change ([`Self::same_feedback`]), and saves time only.
    pub fn run_changed(
        &self,
        iron: &Plausible,
        forces: &CutForces,
        bearings: Bearings,
        before: Option<&Chatter>,
    ) -> Outcome {
        use Unknown as U;
        let Setup { machine, cutter, cut, holding, .. } = &self.setup;
        let swing = forces.swing;
        let state = self.state(iron, forces, bearings);
        let State { keep, gaps, settled: Settled { scale, compliance, converged, .. } } = &state;
        let [_, normal_range, axial_range] = forces.range.map(|range| range * scale);
        let travels = state.travels(&swing);
        let play_travel: f64 = travels.iter().map(|(_, travel)| travel).sum();

        let [feed_modes, normal_modes] = self.modes(iron, forces, &state);
        let cutting = self.cutting(iron);
        let depth_limit = modes::chatter_limit(&feed_modes, &normal_modes, &cutting, before);
        let depth = cut.axial_depth.as_mm();
        let unsteadiness = iron[U::Unsteadiness];
        let follows = |modes: &Modes| modes.following(self.pulse.length, self.passes);
        let back = cutting.feedback.feed * follows(&feed_modes) + cutting.feedback.normal * follows(&normal_modes);
        let evened = surface::evened(depth * back / self.pulse.length);
        let chatter = surface::chatter_unevenness(depth, depth_limit, iron[U::ChatterUnevenness]);

        let load = grip::Load {
            feed: forces.largest[0] * scale,
            normal: forces.largest[1] * scale,
            lift: forces.lift * scale,
            height: holding.height.as_mm(),
        };
        let margin = grip::margin(holding.kind, iron[U::ClampForce], iron[U::Friction], &load);
        let slipped = SLIP_STEP * (1.0 - margin.slip).max(0.0);

        // Snatching: the table jumps across the screw's lost motion.
        let pull_in = forces.pull * scale / iron[U::Drag];
        let jump = if pull_in > 1.0 { iron[U::Backlash] * (1.0 - 1.0 / pull_in) } else { 0.0 };

        let pushed = scale * normal_modes.deflection(forces.mean.1, &forces.harmonics, self.passes);
        let radius = 0.5 * cutter.diameter.as_mm();
        let push =
            Push { mean: forces.mean.1 * scale, range: normal_range, at_wall: forces.at_wall * scale, ..self.pulse };
        let kept = surface::damping_left(depth, depth_limit);
        let mut scatter = (evened * unsteadiness * normal_modes.scatter(&push, kept, self.passes)).powi(2);
        if chatter > 0.0 {
            // A tooth that leaves the cut lets go at once.
            let push = Push { abrupt: 1.0, ..push };
            scatter += (evened * chatter * normal_modes.scatter(&push, 1.0, self.passes)).powi(2);
        }
        let rattled = play::rattled(swing.angle, 1.0 - self.pulse.length);
        let [bearing, quill, _] = gaps.map(|(_, gap)| rattled * gap);
        let [_, _, table] = travels.map(|(_, travel)| travel);
        let rattle = iron[U::PlayPrint] * (bearing + quill + table);
        let scatter = (scatter + rattle * rattle).sqrt();

        let feed = cut.feed_per_tooth.as_mm();
        let mark = |scatter| surface::marking_feed(feed, cutter.flutes, radius, 0.5 * iron[U::Runout], scatter);
        let both = [iron[U::ProcessRoughness], surface::ridge_ra(SNATCH_MARK * jump), surface::ridge_ra(slipped)];
        let wall = [
            surface::cusp_ra(surface::wall_cusp(mark(scatter), radius)),
            surface::scatter_ra(scatter, mark(scatter), radius),
        ];
        // The axial force hops the spindle across its end play when it turns.
        let hop = keep
            * play::travel(iron[U::AxialPlay], std::f64::consts::PI * swing.axial_reversal)
            * play::held(iron[U::PreloadForce], forces.largest[2] * scale);
        let floor = [
            surface::cusp_ra(surface::floor_cusp(mark(0.0), cutter.corner_radius.as_mm())),
            surface::ridge_ra(
                (unsteadiness * unsteadiness + chatter * chatter).sqrt() * axial_range * compliance.total(2),
            ),
            surface::ridge_ra(hop),
        ];
        let roughness = |own: &[f64]| both.iter().chain(own).map(|part| part * part).sum::<f64>().sqrt();

        Outcome {
            wall: roughness(&wall),
            floor: roughness(&floor),
            depth_limit,
            location: pushed.abs() + 0.5 * play_travel + slipped,
            play_travel,
            stiffness: 1e-3 / feed_modes.compliance().max(normal_modes.compliance()),
            slip: margin.slip,
            lift: margin.lift,
            pull_in,
            torque: forces.tangential * scale * radius * 1e-3,
            drive: forces.tangential * scale * self.surface_speed / (DRIVE_EFFICIENCY * machine.power.as_watt()),
            converged: *converged,
        }
    }

    /// How far each part moves in the cut.
    pub fn motion(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings) -> Motion {
        let state = self.state(iron, forces, bearings);
        let Settled { scale, compliance, .. } = &state.settled;
        let parts = |axis: usize, range: f64| {
            let mut parts = compliance.0.map(|part| part[axis] * range * scale);
            for (part, travel) in state.travels(&forces.swing) {
                parts[part as usize] += travel;
            }
            parts
        };
        let [feed, normal, _] = forces.range;
        Motion { normal: parts(self.normal, normal), feed: parts(self.feed, feed) }
    }

    /// Force, stiffness and clearances as they settle in the cut.
    pub(super) fn state(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings) -> State {
        use Unknown as U;
        let keep = bearings.kept();
        let settled = self.settle(iron, forces, keep);
        let peak = forces.swing.peak * settled.scale;
        let lever = self.chain.front_lever();
        let held_bearing = play::held(RADIAL_HOLD * iron[U::PreloadForce], peak * lever);
        let gaps = [
            (LoopPart::FrontBearing, keep * iron[U::RadialPlay] * held_bearing * lever),
            (LoopPart::Quill, iron[U::QuillPlay]),
            (LoopPart::Table, iron[U::TablePlay] * play::held(iron[U::Drag], peak)),
        ];
        State { keep, gaps, settled }
    }

    /// Modes along the feed and across it; play that is crossed leaves its part
    /// only some of its stiffness.
    pub(super) fn modes(&self, iron: &Plausible, forces: &CutForces, state: &State) -> [Modes; 2] {
        let Settled { scale, compliance, .. } = &state.settled;
        let swing = &forces.swing;
        let ways = [(self.feed, swing.feed_reversal, forces.range[0]), (self.normal, swing.reversal, forces.range[1])];
        ways.map(|(axis, reversal, range)| {
            let slack = state
                .gaps
                .map(|(part, gap)| (part, play_slack(0.5 * gap, compliance.of(part)[axis], reversal, range * scale)));
            Modes::new(compliance, self.chain.inertia, axis, &slack, iron)
        })
    }

    /// The cut as chatter sees it.
    pub(super) fn cutting(&self, iron: &Plausible) -> Cutting<'_> {
        let k = self.coefficients(iron);
        Cutting {
            geometry: &self.feedback,
            coefficients: [k.ktc, k.krc],
            feedback: self.feedback.with(k.ktc, k.krc),
            contact: self.feedback.contact(),
            rubbing: iron[Unknown::RubDamping],
            speed: self.surface_speed,
            passes: self.passes,
            band: SPEED_BAND,
            most_passes: self.most_passes,
            twist: self.twist,
        }
    }

    /// Force loads the bearings, loaded bearings are stiffer, the tip gives way,
    /// the width of cut changes, and so the force: goes round until it settles.
    fn settle(&self, iron: &Plausible, forces: &CutForces, keep: f64) -> Settled {
        /// Two rounds that agree within this share have settled.
        const SETTLED: f64 = 1e-4;
        const ROUNDS: usize = 30;
        // Force that pushes the cutter away from the wall it makes.
        let away = match self.setup.cut.sense {
            CutSense::Conventional => -forces.mean.1,
            CutSense::Climb => forces.mean.1,
        };
        let (radial, axial) = (forces.swing.peak, forces.largest[2]);
        let mut compliance = self.chain.but_for_bearings(iron);
        let rigid = compliance.total(self.normal);
        let nominal = self.setup.cut.radial_width.as_mm();
        // What comes back of `scale`, less that itself, and the width it leaves.
        let mut round = |scale: f64| {
            let bearings = self.chain.load_across(&mut compliance, iron, radial * scale, keep);
            let width = nominal - away * scale * (rigid + bearings[self.normal]);
            (self.width.force_ratio(width) - scale, width)
        };
        let mut scale = 1.0;
        let (mut miss, mut width) = round(scale);
        let mut slope = -1.0;
        let mut rounds = 0;
        // Secant steps.
        while miss.abs() >= SETTLED && rounds < ROUNDS {
            let to = (scale - miss / slope).clamp(0.5 * scale, 2.0 * scale).min(2.0);
            let step = to - scale;
            let after;
            (after, width) = round(to);
            // What comes back falls as what goes in grows; keep the slope so.
            slope = if step == 0.0 { -1.0 } else { ((after - miss) / step).min(-0.2) };
            (scale, miss) = (to, after);
            rounds += 1;
        }
        // Nothing so far depends on the stiffness along the spindle.
        self.chain.load_along(&mut compliance, &self.setup, iron, axial * scale, keep);
        Settled { scale, width, compliance, converged: miss.abs() < SETTLED }
    }
}

/// How the teeth of a cut push, without the forces; `lag` is how far the upper
/// end of the edge trails its tip, in pitches.
fn pulse(geometry: &CutGeometry, sense: CutSense, lag: f64) -> Push {
    let Engagement { start, exit } = geometry.engagement;
    let length = ((exit - start) * f64::from(geometry.teeth) / TAU + lag).min(1.0);
    // The chip is thickest at the end away from the wall, and as thick as it gets
    // unless the cutter is engaged beyond its middle.
    let (thick_end, before, since) = match sense {
        CutSense::Conventional => (exit, 0.5 * lag.min(1.0), 1.0 - length),
        CutSense::Climb => (start, length, length),
    };
    let thickest = if start <= FRAC_PI_2 && exit >= FRAC_PI_2 { 1.0 } else { start.sin().max(exit.sin()) };
    Push { mean: 0.0, range: 0.0, at_wall: 0.0, length, before, since, abrupt: (thick_end.sin() / thickest).max(0.0) }
}

/// The cut of a setup, taken `width` (mm) wide.
pub(super) fn geometry(setup: &Setup, width: f64) -> CutGeometry {
    let Setup { cutter, cut, .. } = setup;
    let diameter = cutter.diameter.as_mm();
    CutGeometry {
        diameter,
        teeth: cutter.flutes,
        helix: cutter.helix.as_rad(),
        depth: cut.axial_depth.as_mm(),
        feed: cut.feed_per_tooth.as_mm(),
        engagement: Engagement::new(cut.kind, cut.sense, width, diameter),
    }
}

/// What the rest of a cut is worked out from.
pub(super) struct State {
    /// Share of the bearings' compliance and play that there is.
    pub(super) keep: f64,
    /// Clearances at the tip that nothing holds shut, mm.
    gaps: [(LoopPart, f64); 3],
    pub(super) settled: Settled,
}

impl State {
    /// Play: each clearance is crossed as far as the force swings, mm.
    fn travels(&self, swing: &Swing) -> [(LoopPart, f64); 3] {
        self.gaps.map(|(part, gap)| (part, play::travel(gap, swing.angle)))
    }
}

/// The state at which force, stiffness and engagement agree.
pub(super) struct Settled {
    /// Force over the force without deflection.
    pub(super) scale: f64,
    /// Radial width that is left to cut, mm; where the kind of cut lets it change.
    pub(super) width: f64,
    pub(super) compliance: Compliance,
    converged: bool,
}

/// Compliance (mm/N) that crossing a half-gap `gap` (mm) adds to a part of
/// compliance `part` when the share `reversal` of a force swing `range` (N)
/// turns round.
fn play_slack(gap: f64, part: f64, reversal: f64, range: f64) -> f64 {
    if gap <= 0.0 || reversal <= 0.0 || part <= 0.0 {
        return 0.0;
    }
    let left = play::dead_zone(gap, gap + 0.5 * range * part).max(0.1);
    part * reversal * (1.0 / left - 1.0)
}
