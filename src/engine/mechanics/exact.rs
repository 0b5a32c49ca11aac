//! One plausible machine in its cut as the fuller methods want it.
//!
//! [`Prepared::run`] takes the cut in closed form. [`Prepared::simulation`] and
//! [`Prepared::lobes`] hand the same machine, under the same load, to
//! [`simulation`](super::simulation) and [`lobes`](super::lobes): the same
//! springs, masses, clearances and coefficients, so that a picture shows the
//! machine whose figures stand beside it.
//!
//! Which part becomes what (x along the feed, y across it, z out of the
//! spindle):
//!
//! | group | in the simulation |
//! |---|---|
//! | cutter, nose | one mode in each direction across them, slowed down to what can be stepped |
//! | spindle | a body in the clearances of bearings and quill, on their springs |
//! | frame, table | one mode in each direction |
//! | part | a body on the springs of grip and part, which friction or clamps hold |
//!
//! The edge force comes and goes with contact there. Where chips are thinner than
//! the tip gives way under it, teeth leave the work at depths the closed form
//! still calls stable: it says when small vibrations die out, and knows no edge.
//!
//! Rock of the slides is taken as in closed form: it softens the table as far
//! as the force reverses. Tipping, the drive and the feed screw are not in the
//! simulation; the table does not jump there.

use std::f64::consts::{FRAC_PI_2, PI};

use super::cutting::{Bearings, CutForces, Prepared, RADIAL_HOLD, Settled, State, geometry};
use super::demonstration::{PlayAndSwing, play_and_swing};
use super::force::CutGeometry;
use super::lobes;
use super::modes::{ModeGroup, Modes, chatter_limit, pairs};
use super::pair::Cutting;
use super::simulation::{
    Clearance, Grip, Holding, Invalid, LooseSpindle, Milling, OrientedMode, Run, Simulation, Structure, runout,
};
use super::stability::{DEPTH_CAP, Mode, depth_limit, rubbing_damping};
use super::{Plausible, Unknown};
use crate::machine::{Axis, QuillUse};
use crate::work::{CutKind, Setup, Workholding};

/// Dish of the cutter's end, rad: the usual two degrees (common practice, no
/// source).
const DISH: f64 = 0.035;

/// Least share of the set width that is left when the tip gives way: a cut that
/// is pushed off altogether would have nothing to show.
const LEAST_WIDTH: f64 = 0.05;

/// A mode and how the cut drives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driven {
    /// Its stiffness (N/mm), damping ratio and frequency (Hz) in the cut.
    pub mode: Mode,
    /// How strongly the cut feeds it, N/mm2: [`super::stability::Feedback`].
    pub feedback: f64,
}

impl Driven {
    /// The depth (mm) it allows by itself at any speed.
    fn least(&self) -> f64 {
        depth_limit(self.mode, self.feedback)
    }
}

/// The mode that chatters first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// What swings.
    pub group: ModeGroup,
    /// Along which axis of the table.
    pub axis: Axis,
    /// Whether that is along the feed; else it is across it.
    pub along_feed: bool,
    /// Depth (mm) from which the group chatters at this speed.
    pub limit: f64,
    /// The mode.
    pub own: Driven,
    /// That of the same group at right angles.
    pub beside: Driven,
}

/// A machine that has settled under the load of its cut.
struct Loaded {
    state: State,
    /// Along the feed and across it.
    modes: [Modes; 2],
}

impl Prepared {
    fn loaded(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings) -> Loaded {
        let state = self.state(iron, forces, bearings);
        let modes = self.modes(iron, forces, &state);
        Loaded { state, modes }
    }

    /// The mode that chatters first in this cut.
    pub fn weakest(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings) -> Weakest {
        self.weakest_of(iron, &self.loaded(iron, forces, bearings).modes)
    }

    /// Deepest cut (mm) without chatter at each of `speeds` (rpm), all else as set;
    /// `rubbing` scales what the flank's rubbing damps.
    pub fn limits_at(&self, iron: &Plausible, forces: &CutForces, rubbing: f64, speeds: &[f64]) -> Vec<f64> {
        let [feed, normal] = self.loaded(iron, forces, Bearings::AsTheyAre).modes;
        let limit = |&rpm: &f64| chatter_limit(&feed, &normal, &self.cutting_at(iron, rubbing, rpm), None);
        speeds.iter().map(limit).collect()
    }

    /// The cut at `rpm`, all else as set; `rubbing` scales what the flank's
    /// rubbing damps.
    fn cutting_at(&self, iron: &Plausible, rubbing: f64, rpm: f64) -> Cutting<'_> {
        let cutter = &self.setup.cutter;
        let as_set = self.cutting(iron);
        Cutting {
            rubbing: rubbing * as_set.rubbing,
            speed: PI * cutter.diameter.as_mm() * rpm / 60e3,
            passes: f64::from(cutter.flutes) * rpm / 60.0,
            ..as_set
        }
    }

    /// The group with the lowest limit, and of its two modes the one that the cut
    /// drives harder for what it resists.
    fn weakest_of(&self, iron: &Plausible, modes: &[Modes; 2]) -> Weakest {
        let cutting = self.cutting(iron);
        let [feed, normal] = modes;
        let limits = pairs(feed, normal).map(|pair| pair.limit(&cutting, DEPTH_CAP));
        let group = ModeGroup::ALL.into_iter().min_by(|&a, &b| limits[a as usize].total_cmp(&limits[b as usize]));
        let group = group.expect("some groups");
        let driven = [0, 1].map(|side| Driven {
            mode: modes[side].groups()[group as usize],
            feedback: [cutting.feedback.feed, cutting.feedback.normal][side],
        });
        let along_feed = driven[0].least() <= driven[1].least();
        let [own, beside] = if along_feed { driven } else { [driven[1], driven[0]] };
        let axis = if along_feed == (self.feed == 0) { Axis::X } else { Axis::Y };
        Weakest { group, axis, along_feed, limit: limits[group as usize], own, beside }
    }

    /// The stability lobes of the modes of `group` along the feed and across it,
    /// for the cut as set. What rubbing damps at the limit of the group is counted
    /// into the modes, at every depth and speed alike.
    pub fn lobes(&self, iron: &Plausible, forces: &CutForces, bearings: Bearings, group: ModeGroup) -> lobes::Milling {
        let k = self.coefficients(iron);
        let CutGeometry { engagement, teeth, helix, diameter, .. } =
            geometry(&self.setup, self.setup.cut.radial_width.as_mm());
        let [feed, normal] = self.loaded(iron, forces, bearings).modes;
        let pair = pairs(&feed, &normal)[group as usize];
        let limit = pair.limit(&self.cutting(iron), DEPTH_CAP);
        let [feed, normal] = self.rubbed(iron, pair.0, limit);
        let modes = [(feed, 0.0), (normal, FRAC_PI_2)];
        lobes::Milling {
            engagement,
            teeth,
            helix,
            diameter,
            ktc: k.ktc,
            krc: k.krc,
            modes: lobes::Freedom::Two(modes.map(|(mode, direction)| lobes::OrientedMode { mode, direction })),
        }
    }

    /// The cut in time.
    ///
    /// # Errors
    /// [`Invalid`] where the machine lies beyond what can be simulated, or `run`
    /// is too long for it.
    pub fn simulation(
        &self,
        iron: &Plausible,
        forces: &CutForces,
        bearings: Bearings,
        run: Run,
    ) -> Result<Simulation, Invalid> {
        let loaded = self.loaded(iron, forces, bearings);
        Simulation::new(self.milling(iron, &loaded.state.settled), self.structure(iron, forces, &loaded), run)
    }

    /// The machine's own spindle, bearings and play under a load as large as that
    /// of its cut: one that keeps its direction, and one that turns.
    ///
    /// # Errors
    /// [`Invalid`] where the spindle lies beyond what can be simulated.
    pub fn play_and_swing(&self, iron: &Plausible, forces: &CutForces) -> Result<PlayAndSwing, Invalid> {
        let loaded = self.loaded(iron, forces, Bearings::AsTheyAre);
        let load = forces.swing.peak * loaded.state.settled.scale;
        let spindle = self.spindle(iron, load, &loaded).expect("bearings as they are can rattle");
        play_and_swing(spindle, load)
    }

    /// Width (mm) that is cut once the tip has given way.
    fn settled_width(&self, settled: &Settled) -> f64 {
        let Setup { cutter, cut, .. } = &self.setup;
        let set = cut.radial_width.as_mm();
        match cut.kind {
            CutKind::Slot | CutKind::Face => set,
            CutKind::Side | CutKind::Floor => settled.width.clamp(LEAST_WIDTH * set, cutter.diameter.as_mm()),
        }
    }

    fn milling(&self, iron: &Plausible, settled: &Settled) -> Milling {
        let Setup { cutter, cut, .. } = &self.setup;
        Milling {
            geometry: geometry(&self.setup, self.settled_width(settled)),
            sense: cut.sense,
            coefficients: self.coefficients(iron),
            speed: cut.speed.as_rpm(),
            offsets: runout(0.5 * iron[Unknown::Runout], 0.0, cutter.flutes),
            lengths: Vec::new(),
            corner: cutter.corner_radius.as_mm(),
            dish: DISH,
            // In the damping of what swings.
            rubbing: 0.0,
            unsteadiness: 0.0,
        }
    }

    fn structure(&self, iron: &Plausible, forces: &CutForces, loaded: &Loaded) -> Structure {
        let of = |group| self.stepped(iron, loaded, group);
        let across = |[x, y]: [Mode; 2]| [oriented(x, 0), oriented(y, 1)];
        let mut modes = Vec::new();
        for group in [ModeGroup::Cutter, ModeGroup::Nose] {
            modes.extend(across(of(group)));
        }
        for group in [ModeGroup::Frame, ModeGroup::Table] {
            modes.extend(across(of(group)));
            modes.push(oriented(self.along_axis(loaded, group), 2));
        }
        let spindle = self.spindle(iron, forces.swing.peak * loaded.state.settled.scale, loaded);
        if spindle.is_none() {
            modes.extend(across(of(ModeGroup::Spindle)));
        }
        let holding = self.holding(iron, loaded, of(ModeGroup::Part));
        Structure { modes, spindle, holding: Some(holding) }
    }

    /// The modes of `group` along and across the feed as they can be stepped: with
    /// what rubbing damps, and slowed down by more mass than they have, so that
    /// steps needn't be finer than anything else asks for (mass scaling, usual where
    /// motion is stepped).
    fn stepped(&self, iron: &Plausible, loaded: &Loaded, group: ModeGroup) -> [Mode; 2] {
        /// Hz.
        const FASTEST: f64 = 1000.0;
        let modes = loaded.modes.map(|modes| modes.groups()[group as usize]);
        self.rubbed(iron, modes, self.setup.cut.axial_depth.as_mm())
            .map(|mode| Mode { frequency: mode.frequency.min(FASTEST), ..mode })
    }

    /// Modes along and across the feed with what rubbing damps at `depth` (mm).
    fn rubbed(&self, iron: &Plausible, [feed, normal]: [Mode; 2], depth: f64) -> [Mode; 2] {
        /// A damping ratio with which nothing rings.
        const DEAD: f64 = 0.7;
        let contact = self.feedback.contact();
        let rubbed = |mode: Mode, contact: f64| {
            let rubs = depth * rubbing_damping(mode, contact * iron[Unknown::RubDamping], self.surface_speed);
            Mode { damping: (mode.damping + rubs).min(DEAD), ..mode }
        };
        [rubbed(feed, contact.feed), rubbed(normal, contact.normal)]
    }

    /// Compliance (mm/N) of a group along the spindle.
    fn axial(&self, loaded: &Loaded, group: ModeGroup) -> f64 {
        group.parts().iter().map(|&part| loaded.state.settled.compliance.of(part)[2]).sum()
    }

    /// A group along the spindle: its springs, with the mass that its other two
    /// modes swing.
    fn along_axis(&self, loaded: &Loaded, group: ModeGroup) -> Mode {
        let [x, y] = loaded.modes.map(|modes| modes.groups()[group as usize]);
        let stiffness = 1.0 / self.axial(loaded, group);
        let unit = |mode: Mode| mode.frequency / mode.stiffness.sqrt();
        Mode { stiffness, damping: (x.damping * y.damping).sqrt(), frequency: (unit(x) * unit(y) * stiffness).sqrt() }
    }

    /// The spindle as a body in its clearances under a load of `peak` (N);
    /// `None` where nothing is left that could rattle.
    fn spindle(&self, iron: &Plausible, peak: f64, loaded: &Loaded) -> Option<LooseSpindle> {
        use Unknown as U;
        let compliance = &loaded.state.settled.compliance;
        let quill = self.setup.machine.quill != QuillUse::Absent;
        if loaded.state.keep == 0.0 && !quill {
            return None;
        }
        // A clearance is round, and so are its springs here.
        let way =
            |axis: usize| -> f64 { ModeGroup::Spindle.parts().iter().map(|&part| compliance.of(part)[axis]).sum() };
        let radial = (way(self.feed) * way(self.normal)).sqrt();
        let lever = self.chain.front_lever();
        let hold = RADIAL_HOLD * iron[U::PreloadForce] / lever;
        let bearings = 0.5 * loaded.state.keep * iron[U::RadialPlay] * lever;
        let shake = if quill { 0.5 * iron[U::QuillPlay] } else { 0.0 };
        // Bearings that stay seated leave the quill's shake, which nothing holds.
        let seated = hold >= peak;
        let (gap, hold) = if seated { (shake, 0.0) } else { (bearings + shake, loaded.state.keep * hold) };
        let [x, y] = self.stepped(iron, loaded, ModeGroup::Spindle);
        let damping = iron[U::SpindleDamping];
        Some(LooseSpindle {
            mass: self.chain.inertia.spindle(iron),
            radial: Clearance { gap, stiffness: 1.0 / radial, damping: (x.damping * y.damping).sqrt(), hold },
            axial: Clearance {
                gap: 0.5 * loaded.state.keep * iron[U::AxialPlay],
                stiffness: 1.0 / self.axial(loaded, ModeGroup::Spindle),
                damping,
                hold: loaded.state.keep * iron[U::PreloadForce],
            },
            bias: [0.0, 0.0, iron[U::SpindleWeight]],
        })
    }

    fn holding(&self, iron: &Plausible, loaded: &Loaded, [x, y]: [Mode; 2]) -> Holding {
        use Unknown as U;
        let kind = self.setup.holding.kind;
        let clamp = iron[U::ClampForce];
        Holding {
            mass: iron[U::PartMass],
            stiffness: [x.stiffness, y.stiffness, 1.0 / self.axial(loaded, ModeGroup::Part)],
            damping: (x.damping * y.damping).sqrt(),
            friction: 2.0 * iron[U::Friction] * clamp,
            stop: kind.typical().stop,
            grip: match kind {
                Workholding::StepClamps | Workholding::Plate => Grip::Clamps(clamp),
                _ => Grip::Jaws,
            },
        }
    }
}

fn oriented(mode: Mode, axis: usize) -> OrientedMode {
    let Mode { stiffness, damping, frequency } = mode;
    OrientedMode {
        stiffness,
        damping,
        frequency,
        direction: std::array::from_fn(|i| if i == axis { 1.0 } else { 0.0 }),
    }
}
