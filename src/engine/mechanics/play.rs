//! Play moves only when the force turns.
//!
//! A load that keeps its direction seats a clearance, and it stays seated. What
//! matters is by how much the direction of the force swings while it is there.

use super::force::{Ends, ForceHistory, STEPS};

/// How the force in the plane of the table swings during a revolution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Angle through which its direction swings, rad: 0 to 2 pi.
    pub angle: f64,
    /// Share of the largest force normal to the wall that also acts the other
    /// way: 0 never reverses, 1 fully alternates.
    pub reversal: f64,
    /// The same along the feed.
    pub feed_reversal: f64,
    /// The same along the axis, with the weight of what turns.
    pub axial_reversal: f64,
    /// Largest force in the plane, N.
    pub peak: f64,
}

impl Swing {
    /// Of `force`, with `weight` (N) pulling the spindle down all the time.
    pub fn of_history(force: &ForceHistory, weight: f64) -> Swing {
        Swing::of(force, [&force.x, &force.y, &force.z].map(Ends::of), weight)
    }

    /// Of `force` with its ends along x, y and z, and `weight` (N) pulling the
    /// spindle down all the time.
    pub fn of(force: &ForceHistory, [x, y, z]: [Ends; 3], weight: f64) -> Swing {
        let (mut peak, mut peak_squared) = ((0.0, 0.0), 0.0);
        for (&x, &y) in force.x.iter().zip(&force.y) {
            let squared = x * x + y * y;
            if squared > peak_squared {
                (peak, peak_squared) = ((x, y), squared);
            }
        }
        // Directions are measured from that of the largest force, and compared
        // by their signed squared cosine: no root, no arctangent until the end.
        // A force under a tenth of the peak does not push anything across.
        let floor = 0.01 * peak_squared;
        let (mut left, mut right) = (1.0, 1.0);
        for step in 0..STEPS {
            let (x, y) = (force.x[step], force.y[step]);
            let squared = x * x + y * y;
            if squared <= floor {
                continue;
            }
            let dot = x * peak.0 + y * peak.1;
            let cosine = dot * dot.abs() / (squared * peak_squared);
            let least = if peak.0 * y - peak.1 * x >= 0.0 { &mut left } else { &mut right };
            *least = if cosine < *least { cosine } else { *least };
        }
        let unsquare = |cosine: f64| cosine.signum() * cosine.abs().sqrt().min(1.0);
        let angle = unsquare(left).acos() + unsquare(right).acos();
        Swing {
            angle,
            reversal: y.reversal(0.0),
            feed_reversal: x.reversal(0.0),
            axial_reversal: z.reversal(weight),
            peak: peak_squared.sqrt(),
        }
    }
}

/// Travel (mm) across a clearance `play` (mm, diametral) when the force swings
/// by `angle` (rad): the chord of the clearance circle.
pub fn travel(play: f64, angle: f64) -> f64 {
    play * (0.5 * angle.min(std::f64::consts::PI)).sin()
}

/// Share of a clearance in which the tool may be when the wall is made: as far as
/// a force that swings by `angle` (rad) takes it, and where no tooth pushes for
/// the share `idle` of the time, as far as it rebounds.
pub fn rattled(angle: f64, idle: f64) -> f64 {
    let turned = travel(1.0, angle);
    turned + (1.0 - turned) * idle
}

/// What is left of a clearance under `force` (N) when something holds it shut
/// up to `hold` (N).
pub fn held(hold: f64, force: f64) -> f64 {
    if force <= 0.0 { 0.0 } else { (1.0 - hold / force).max(0.0) }
}

/// Stiffness left of a contact that has to cross a gap, for an amplitude
/// `amplitude` over half-gap `gap`: first harmonic of a dead zone; Gelb and
/// Vander Velde, *Multiple-Input Describing Functions* (1968).
pub fn dead_zone(gap: f64, amplitude: f64) -> f64 {
    if amplitude <= gap {
        return 0.0;
    }
    let ratio = (gap / amplitude).max(0.0);
    1.0 - std::f64::consts::FRAC_2_PI * (ratio.asin() + ratio * (1.0 - ratio * ratio).sqrt())
}
