//! Roughness of wall and floor. All lengths in mm.
//!
//! Parts are independent, so Ra adds by squares. Feed marks are geometry; what
//! the process leaves is practice; vibration, play and chatter follow from the
//! machine.

/// Ra of parabolic cusps of height `height`: `4 / (9 sqrt 3)` of it.
pub fn cusp_ra(height: f64) -> f64 {
    4.0 / (9.0 * 3.0_f64.sqrt()) * height
}

/// Height of the cusps a cutter of radius `radius` leaves on a wall at `feed`
/// per mark: `f^2 / (8 R)`. Martellotti, Trans. ASME 63 (1941).
pub fn wall_cusp(feed: f64, radius: f64) -> f64 {
    feed * feed / (8.0 * radius)
}

/// Feed per mark on the wall: one mark per tooth for a true cutter, one per
/// revolution as soon as runout lifts a tooth by more than its own cusp.
pub fn marking_feed(feed: f64, teeth: u32, radius: f64, offset: f64) -> f64 {
    // A tooth lower by f^2/(2R) leaves no mark (circle geometry); blend over
    // that small range.
    let hidden = (offset / (feed * feed / (2.0 * radius))).min(1.0);
    feed * (1.0 + (f64::from(teeth) - 1.0) * hidden)
}

/// Height of the marks of a corner of radius `corner` at `feed` per mark; a
/// sharp corner with the usual two degrees of dish leaves ridges instead.
pub fn floor_cusp(feed: f64, corner: f64) -> f64 {
    const DISH: f64 = 0.035;
    let ridge = feed * DISH;
    if corner <= 0.0 { ridge } else { (feed * feed / (8.0 * corner)).min(ridge) }
}

/// Ra of a triangular profile of height `height`.
pub fn ridge_ra(height: f64) -> f64 {
    height / 4.0
}

/// Ra of a sine of peak-to-valley height `height`.
pub fn sine_ra(height: f64) -> f64 {
    height / std::f64::consts::PI
}

/// How much longer a mode rings from tooth to tooth than one push would make
/// it: root of the sum of squares of the decaying answers to unequal pushes,
/// `1 / sqrt(1 - exp(-2 z w T))`. `passes` is tooth-passing frequency, Hz.
pub fn ringing(damping: f64, frequency: f64, passes: f64) -> f64 {
    let decay = 2.0 * damping * std::f64::consts::TAU * frequency / passes;
    1.0 / (-(-decay).exp_m1()).sqrt()
}

/// Peak-to-valley mark of chatter at `depth` beyond `limit`, for `feed` per
/// tooth: grows from nothing at the limit and stays bounded, since the tooth
/// leaves the cut (Tlusty and Ismail, CIRP Annals 30 (1981)). `mark` scales it.
pub fn chatter_mark(depth: f64, limit: f64, feed: f64, mark: f64) -> f64 {
    mark * feed * (1.0 - limit / depth).max(0.0)
}
