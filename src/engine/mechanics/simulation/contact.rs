//! Contacts: a spindle in its clearances, work in its holding.

use super::input::{Clearance, Grip, Holding, LooseSpindle};

impl Clearance {
    /// Force (N) with which the contact pushes back at a distance `out` (mm,
    /// not negative) from the middle: seated up to the hold, then across the gap
    /// against the preload alone, then on the far side of it.
    pub fn push(&self, out: f64) -> f64 {
        (self.stiffness * out).min(self.hold) + self.stiffness * (out - self.gap - self.hold / self.stiffness).max(0.0)
    }

    /// How far (mm) from the middle a steady `force` (N, not negative) keeps it.
    pub fn rest(&self, force: f64) -> f64 {
        force / self.stiffness + if force > self.hold || self.hold == 0.0 && force > 0.0 { self.gap } else { 0.0 }
    }

    /// Elastic energy (N mm) stored at `out` (mm).
    pub fn energy(&self, out: f64) -> f64 {
        let seated = self.hold / self.stiffness;
        let inner = out.min(seated);
        let crossing = (out - seated).max(0.0);
        let beyond = (out - seated - self.gap).max(0.0);
        0.5 * self.stiffness * inner * inner + self.hold * crossing + 0.5 * self.stiffness * beyond * beyond
    }

    /// Damping constant (N s/mm) of a `mass` (kg) on the closed contact.
    fn dashpot(&self, mass: f64) -> f64 {
        2.0 * self.damping * (self.stiffness * mass * 1e-3).sqrt()
    }
}

/// As `hypot`, without its care for numbers beyond anything here, which is slow.
#[inline]
fn length(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// The two clearances of a spindle, ready for stepping.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bearings {
    radial: Contact,
    axial: Contact,
    pub bias: [f64; 3],
}

#[derive(Clone, Copy, Debug)]
struct Contact {
    law: Clearance,
    dashpot: f64,
}

impl Contact {
    fn new(law: Clearance, mass: f64) -> Self {
        Contact { law, dashpot: law.dashpot(mass) }
    }

    fn seated(&self, out: f64) -> bool {
        self.law.stiffness * out < self.law.hold
    }

    fn closed(&self, out: f64) -> bool {
        out > self.law.gap + self.law.hold / self.law.stiffness
    }

    /// Force back towards the middle on a body `out` from it, moving outwards at
    /// `speed`.
    fn back(&self, out: f64, speed: f64) -> f64 {
        let spring = self.law.push(out);
        if self.seated(out) {
            // Both sides are in contact: damping works either way.
            spring + self.dashpot * speed
        } else if self.closed(out) {
            (spring + self.dashpot * speed).max(0.0)
        } else {
            spring
        }
    }
}

impl Bearings {
    pub fn new(spindle: &LooseSpindle) -> Self {
        Bearings {
            radial: Contact::new(spindle.radial, spindle.mass),
            axial: Contact::new(spindle.axial, spindle.mass),
            bias: spindle.bias,
        }
    }

    /// Where the bias alone keeps the spindle.
    pub fn rest(&self) -> [f64; 3] {
        let [x, y, z] = self.bias;
        let side = length(x, y);
        let out = self.radial.law.rest(side);
        let (x, y) = if side > 0.0 { (x / side * out, y / side * out) } else { (0.0, 0.0) };
        [x, y, z.signum() * self.axial.law.rest(z.abs())]
    }

    /// Whether the spindle touches nothing radially.
    pub fn loose(&self, at: [f64; 3]) -> bool {
        let out = length(at[0], at[1]);
        !self.radial.seated(out) && !self.radial.closed(out)
    }

    /// Force (N) of bearings and bias on the spindle.
    #[inline]
    pub fn force(&self, at: [f64; 3], velocity: [f64; 3]) -> [f64; 3] {
        let mut force = self.bias;
        let out = length(at[0], at[1]);
        if out > 0.0 {
            let (x, y) = (at[0] / out, at[1] / out);
            let speed = velocity[0] * x + velocity[1] * y;
            let back = self.radial.back(out, speed);
            force[0] -= back * x;
            force[1] -= back * y;
            // In contact the oil between drags sideways as well: without it the
            // spindle would whirl round its clearance for ever.
            if self.radial.seated(out) || self.radial.closed(out) {
                force[0] -= self.radial.dashpot * (velocity[0] - speed * x);
                force[1] -= self.radial.dashpot * (velocity[1] - speed * y);
            }
        }
        let side = at[2].signum();
        force[2] -= side * self.axial.back(at[2].abs(), velocity[2] * side);
        force
    }
}

/// The slider in series with the springs of the holding: Coulomb friction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slider {
    stiffness: [f64; 3],
    friction: f64,
    /// The first axis that can slip.
    first: usize,
    grip: Grip,
    /// How far it has slipped, as the tool sees it, mm; z is lift.
    pub slipped: [f64; 3],
}

impl Slider {
    pub fn new(holding: &Holding) -> Self {
        let Holding { stiffness, friction, stop, grip, .. } = *holding;
        Slider { stiffness, friction, first: usize::from(stop), grip, slipped: [0.0; 3] }
    }

    /// Lets what is held at `at` slip and lift as far as it must, and gives the
    /// force (N) that the slipped springs add to those that stayed where they
    /// were.
    ///
    /// Coordinates are the tool's against the work, so the work is lifted where
    /// z is positive; below its seat the table carries it.
    #[inline]
    pub fn force(&mut self, at: [f64; 3]) -> [f64; 3] {
        let k = self.stiffness;
        let mut pull: [f64; 3] = std::array::from_fn(|i| k[i] * (at[i] - self.slipped[i]));
        // What a stop takes, friction need not.
        pull[..self.first].fill(0.0);
        match self.grip {
            Grip::Jaws => {
                let lift = pull[2].max(0.0);
                let all = (pull[0] * pull[0] + pull[1] * pull[1] + lift * lift).sqrt();
                if all > self.friction {
                    self.slip_to(at, pull, self.friction / all);
                    let held = lift * self.friction / all;
                    self.slipped[2] = (at[2] - held / k[2]).max(self.slipped[2]);
                }
            }
            Grip::Clamps(force) => {
                self.slipped[2] = (at[2] - force / k[2]).max(0.0);
                let pressed = (1.0 - k[2] * at[2] / force).max(0.0);
                let limit = if force > 0.0 { self.friction * pressed } else { 0.0 };
                let all = length(pull[0], pull[1]);
                if all > limit {
                    self.slip_to(at, pull, limit / all);
                }
            }
        }
        std::array::from_fn(|i| k[i] * self.slipped[i])
    }

    /// Slides in the plane until only `share` of the pull is left.
    fn slip_to(&mut self, at: [f64; 3], pull: [f64; 3], share: f64) {
        for i in self.first..2 {
            self.slipped[i] = at[i] - share * pull[i] / self.stiffness[i];
        }
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use approx::assert_relative_eq;

    use super::super::oscillator::Oscillator;
    use super::*;
    use crate::mechanics::play::dead_zone;

    /// Swings in a clearance without damping from rest at `amplitude`; gives the
    /// mean period and the largest share of energy gained or lost.
    fn rattle(gap: f64, amplitude: f64) -> (f64, f64) {
        let law = Clearance { gap, stiffness: 40_000.0, damping: 0.0, hold: 0.0 };
        let bearings = Bearings::new(&LooseSpindle { mass: 4.0, radial: law, axial: law, bias: [0.0; 3] });
        let natural = (law.stiffness / 4e-3_f64).sqrt();
        let dt = TAU / natural / 50.0;
        let mut body = Oscillator::body(4.0, [1.0, 0.0, 0.0], dt);
        let force = |body: &Oscillator| bearings.force([body.at, 0.0, 0.0], [body.velocity, 0.0, 0.0])[0];
        body.at = amplitude;
        body.rest(amplitude, force(&body));
        let energy = |body: &Oscillator| law.energy(body.at.abs()) + 0.5 * 4e-3 * body.velocity * body.velocity;
        let start = energy(&body);
        let (mut crossings, mut drift) = (Vec::new(), 0.0_f64);
        for step in 0..200_000 {
            let before = body.at;
            body.predict();
            body.correct(force(&body));
            if before < 0.0 && body.at >= 0.0 {
                crossings.push((f64::from(step) + before / (before - body.at)) * dt);
            }
            drift = drift.max((energy(&body) / start - 1.0).abs());
        }
        let period = (crossings[crossings.len() - 1] - crossings[0]) / (crossings.len() - 1) as f64;
        (period * natural, drift)
    }

    /// Free swing in a dead zone: half a period of the contact on each side and
    /// two flights across at the speed of leaving it, `w T = 2 pi + 4 g / (A -
    /// g)`, by hand; and, within 6 %, what the describing function of Gelb and
    /// Vander Velde (1968) says, `w T = 2 pi / sqrt(k_eq / k)`. Energy stays.
    #[test]
    fn a_rattling_spindle_keeps_time_and_energy() {
        for (gap, amplitude) in [(0.0, 0.01), (0.002, 0.01), (0.005, 0.01), (0.0065, 0.01)] {
            let (period, drift) = rattle(gap, amplitude);
            assert_relative_eq!(period, TAU + 4.0 * gap / (amplitude - gap), max_relative = 0.01);
            let described = TAU / dead_zone(gap, amplitude).sqrt();
            assert_relative_eq!(period, described, max_relative = 0.06);
            assert!(drift < 0.02, "{gap}: {drift}");
        }
    }

    /// A contact pushes or lets go; it never pulls.
    #[test]
    fn a_contact_never_pulls() {
        let law = Clearance { gap: 0.01, stiffness: 40_000.0, damping: 0.5, hold: 0.0 };
        let contact = Contact::new(law, 4.0);
        for out in [0.0, 0.005, 0.0101, 0.02] {
            for speed in [-100.0, -1.0, 0.0, 1.0, 100.0] {
                let back = contact.back(out, speed);
                assert!(back >= 0.0 && (out > 0.01 || back == 0.0), "{out} {speed}: {back}");
            }
        }
    }

    fn holding(grip: Grip) -> Slider {
        let stop = false;
        Slider::new(&Holding { mass: 2.0, stiffness: [1000.0; 3], damping: 0.05, friction: 100.0, stop, grip })
    }

    /// What the springs hold back with: `k (at - slipped)`.
    fn held(slider: &Slider, at: [f64; 3]) -> [f64; 3] {
        std::array::from_fn(|i| slider.stiffness[i] * (at[i] - slider.slipped[i]))
    }

    /// Coulomb friction: nothing slips below the limit, the limit is held beyond
    /// it, and on the way back the slip stays (Jenkins element; any text on
    /// contact mechanics).
    #[test]
    fn slips_at_the_limit_and_stays_slipped() {
        for grip in [Grip::Jaws, Grip::Clamps(500.0)] {
            let mut slider = holding(grip);
            assert_eq!(slider.force([0.06, 0.07, 0.0]), [0.0; 3]);
            slider.force([0.3, 0.4, 0.0]);
            let [x, y, z] = held(&slider, [0.3, 0.4, 0.0]);
            assert_relative_eq!(x, 60.0, max_relative = 1e-12);
            assert_relative_eq!(y, 80.0, max_relative = 1e-12);
            assert_eq!(z, 0.0);
            let slipped = slider.slipped;
            slider.force([0.27, 0.33, 0.0]);
            assert_eq!(slider.slipped, slipped);
        }
    }

    /// Against a stop nothing moves along x, and all friction is left for y.
    #[test]
    fn a_stop_takes_its_own_direction() {
        let stopped =
            Holding { mass: 2.0, stiffness: [1000.0; 3], damping: 0.05, friction: 100.0, stop: true, grip: Grip::Jaws };
        let mut slider = Slider::new(&stopped);
        assert_eq!(slider.force([5.0, 0.09, 0.0]), [0.0; 3]);
        slider.force([5.0, 0.15, 0.0]);
        assert_eq!(slider.slipped[0], 0.0);
        assert_relative_eq!(slider.slipped[1], 0.05, max_relative = 1e-12);
    }

    #[test]
    fn jaws_let_work_creep_up_and_clamps_let_it_settle() {
        let mut jaws = holding(Grip::Jaws);
        jaws.force([0.0, 0.0, 0.15]);
        assert_relative_eq!(jaws.slipped[2], 0.05, max_relative = 1e-12);
        jaws.force([0.0, 0.0, 0.0]);
        assert_relative_eq!(jaws.slipped[2], 0.05, max_relative = 1e-12);

        let mut clamps = holding(Grip::Clamps(300.0));
        clamps.force([0.0, 0.0, 0.4]);
        assert_relative_eq!(clamps.slipped[2], 0.1, max_relative = 1e-12);
        assert_relative_eq!(held(&clamps, [0.0, 0.0, 0.4])[2], 300.0, max_relative = 1e-12);
        clamps.force([0.0, 0.0, 0.1]);
        assert_eq!(clamps.slipped[2], 0.0);
    }

    /// Half the clamp force lifted away leaves half the friction.
    #[test]
    fn what_is_lifted_slips_sooner() {
        let mut clamps = holding(Grip::Clamps(300.0));
        clamps.force([0.2, 0.0, 0.15]);
        assert_relative_eq!(held(&clamps, [0.2, 0.0, 0.15])[0], 50.0, max_relative = 1e-12);
    }
}
