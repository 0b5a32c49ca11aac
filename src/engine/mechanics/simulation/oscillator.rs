//! What moves under a force: oscillators stepped exactly, and free bodies.
//!
//! Over one step the force is taken as linear in time. The state is first
//! carried on under the force as it was (prediction), the force at the end
//! follows from that, and its change is added (correction): one evaluation of
//! the force per step, second order, exact for whatever force is linear.

use std::f64::consts::TAU;

use super::input::OrientedMode;

/// One degree of freedom. Lengths mm, force N, time s, mass N s2/mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Oscillator {
    pub direction: [f64; 3],
    /// Displacement and velocity.
    pub at: f64,
    pub velocity: f64,
    /// Force at the start of the step.
    force: f64,
    /// Transition over a step without force.
    free: [[f64; 2]; 2],
    /// What the force at the start does if it stays, and what its change adds.
    steady: [f64; 2],
    change: [f64; 2],
}

impl Oscillator {
    /// A mode, with step `dt`: matrix exponential of the damped oscillator (any
    /// text on vibration), with the exact response to a ramp.
    pub fn mode(mode: &OrientedMode, dt: f64) -> Self {
        let OrientedMode { stiffness, damping, frequency, direction } = *mode;
        let natural = TAU * frequency;
        let decay = damping * natural;
        let ringing = natural * (1.0 - damping * damping).sqrt();
        let (sin, cos) = (ringing * dt).sin_cos();
        let left = (-decay * dt).exp();
        let free = [
            [left * (cos + decay / ringing * sin), left * sin / ringing],
            [-left * natural * natural / ringing * sin, left * (cos - decay / ringing * sin)],
        ];
        let carry = |at: f64, velocity: f64| free.map(|row| row[0] * at + row[1] * velocity);
        let steady = {
            let [at, velocity] = carry(-1.0 / stiffness, 0.0);
            [at + 1.0 / stiffness, velocity]
        };
        // Under `t/dt` the particular solution is `(t/dt - 2 z / (w dt)) / k`.
        let slope = 1.0 / (stiffness * dt);
        let lag = 2.0 * damping / natural * slope;
        let change = {
            let [at, velocity] = carry(lag, -slope);
            [at + 1.0 / stiffness - lag, velocity + slope]
        };
        Oscillator { direction, at: 0.0, velocity: 0.0, force: 0.0, free, steady, change }
    }

    /// A free body of `mass` (kg): velocity Verlet, which neither gains nor
    /// loses energy on a spring.
    pub fn body(mass: f64, direction: [f64; 3], dt: f64) -> Self {
        let kick = dt / (mass * 1e-3);
        Oscillator {
            direction,
            at: 0.0,
            velocity: 0.0,
            force: 0.0,
            free: [[1.0, dt], [0.0, 1.0]],
            steady: [0.5 * dt * kick, kick],
            change: [0.0, 0.5 * kick],
        }
    }

    /// Puts it at rest somewhere under a force that keeps it there.
    pub fn rest(&mut self, at: f64, force: f64) {
        (self.at, self.velocity, self.force) = (at, 0.0, force);
    }

    #[inline]
    pub fn predict(&mut self) {
        let (at, velocity) = (self.at, self.velocity);
        self.at = self.free[0][0] * at + self.free[0][1] * velocity + self.steady[0] * self.force;
        self.velocity = self.free[1][0] * at + self.free[1][1] * velocity + self.steady[1] * self.force;
    }

    #[inline]
    pub fn correct(&mut self, force: f64) {
        let change = force - self.force;
        self.at += self.change[0] * change;
        self.velocity += self.change[1] * change;
        self.force = force;
    }

    #[inline]
    pub fn share(&self, force: &[f64; 3]) -> f64 {
        self.direction[0] * force[0] + self.direction[1] * force[1] + self.direction[2] * force[2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn mode() -> OrientedMode {
        OrientedMode { stiffness: 2000.0, damping: 0.03, frequency: 150.0, direction: [1.0, 0.0, 0.0] }
    }

    /// Free decay: `x = exp(-z w t) cos(w_d t)` with the matching velocity; Rao,
    /// *Mechanical Vibrations*, free vibration with viscous damping (from memory).
    #[test]
    fn free_decay_is_exact() {
        let dt = 1e-4;
        let mut own = Oscillator::mode(&mode(), dt);
        let natural = TAU * 150.0;
        let ringing = natural * (1.0_f64 - 0.03 * 0.03).sqrt();
        (own.at, own.velocity) = (1.0, -0.03 * natural);
        for step in 1..=5000 {
            own.predict();
            own.correct(0.0);
            let t = f64::from(step) * dt;
            assert_relative_eq!(own.at, (-0.03 * natural * t).exp() * (ringing * t).cos(), epsilon = 1e-11);
        }
    }

    /// A ramp of force is followed exactly: after the ringing has died away,
    /// `x = (F(t) - 2 z F'/w) / k`.
    #[test]
    fn a_ramp_is_exact() {
        let dt = 1e-4;
        let mut own = Oscillator::mode(&mode(), dt);
        let (rate, natural) = (50.0, TAU * 150.0);
        for step in 1..=20_000 {
            own.predict();
            own.correct(rate * f64::from(step) * dt);
        }
        assert_relative_eq!(own.at, (rate * 2.0 - 2.0 * 0.03 * rate / natural) / 2000.0, max_relative = 1e-10);
        assert_relative_eq!(own.velocity, rate / 2000.0, max_relative = 1e-8);
    }

    /// A body thrown up: constant acceleration.
    #[test]
    fn a_free_body_falls() {
        let dt = 1e-3;
        let mut body = Oscillator::body(2.0, [0.0, 0.0, 1.0], dt);
        body.rest(0.0, -8.0);
        body.velocity = 100.0;
        for _ in 0..500 {
            body.predict();
            body.correct(-8.0);
        }
        // 8 N on 2 kg: 4000 mm/s2.
        assert_relative_eq!(body.at, 100.0 * 0.5 - 0.5 * 4000.0 * 0.25, max_relative = 1e-9);
        assert_relative_eq!(body.velocity, 100.0 - 4000.0 * 0.5, max_relative = 1e-9);
    }
}
