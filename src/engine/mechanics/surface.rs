//! Roughness of wall and floor. All lengths in mm.
//!
//! Parts are independent, so Ra adds by squares. Feed marks are geometry; what
//! the process leaves is practice; vibration, play and chatter follow from the
//! machine: they scatter the depths of the marks, and of neighbouring marks the
//! deepest wins. Constants said to be fitted are fitted to the cut simulated in
//! time, and the error that is left is held in `tests/reference_finish.rs`.

/// Ra of parabolic cusps of height `height`: `4 / (9 sqrt 3)` of it.
pub fn cusp_ra(height: f64) -> f64 {
    4.0 / (9.0 * 3.0_f64.sqrt()) * height
}

/// Height of the cusps a cutter of radius `radius` leaves on a wall at `feed`
/// per mark: `f^2 / (8 R)`. Martellotti, Trans. ASME 63 (1941).
pub fn wall_cusp(feed: f64, radius: f64) -> f64 {
    feed * feed / (8.0 * radius)
}

/// Times the scatter by which a tooth has to lie lower than another to leave no
/// mark. Fitted to the simulated cut.
const SCATTERS_TO_HIDE: f64 = 5.0;

/// Feed per mark on the wall: one mark per tooth for a true cutter, one per
/// revolution as soon as runout lifts a tooth by more than its own cusp and by
/// more than marks scatter (`scatter`, standard deviation of their depth).
pub fn marking_feed(feed: f64, teeth: u32, radius: f64, offset: f64, scatter: f64) -> f64 {
    // A tooth lower by f^2/(2R) leaves no mark (circle geometry); blend over
    // that small range.
    let hidden = (offset / (feed * feed / (2.0 * radius) + SCATTERS_TO_HIDE * scatter)).min(1.0);
    feed * (1.0 + (f64::from(teeth) - 1.0) * hidden)
}

/// Ra that marks `feed` apart leave on the wall when their depths scatter by
/// `scatter` (standard deviation), without their cusps.
///
/// Marks far apart for their depth, by `f^2 / (R s)`, all show, and Ra is the
/// mean size of a normal scatter. Of marks close together the deepest cut away
/// the others: a wall that chatters by a hundredth is not rough by a hundredth.
///
/// A tool that swings lingers where it turns back: the share of marks within `d`
/// of the deepest goes as `sqrt(d / s)`, so they are `f sqrt(s / d)` apart, and
/// what stands between them, the square of that over `R`, is as high as `d` where
/// `d = s sqrt(f^2 / (R s))`.
pub fn scatter_ra(scatter: f64, feed: f64, radius: f64) -> f64 {
    if scatter <= 0.0 {
        return 0.0;
    }
    let shown = feed / (radius * scatter).sqrt();
    std::f64::consts::FRAC_2_PI.sqrt() * scatter * shown / (1.0 + shown)
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

/// Root mean square of what still rings, over the amplitude of one push, when a
/// push of random strength comes every `1 / passes` (passes in Hz) and the last
/// one was `since` of that time ago.
pub fn ringing(damping: f64, frequency: f64, passes: f64, since: f64) -> f64 {
    let decay = 2.0 * damping * std::f64::consts::TAU * frequency / passes;
    // Even a decay of a thousandth leaves thirteen digits of the difference.
    (0.5 * (-decay * since).exp() / (1.0 - (-decay).exp())).sqrt()
}

/// Share of its own damping that a mode keeps at `depth` in a cut that chatters
/// from `limit` on: the cut takes away the more the deeper it is, all at the
/// limit. Beyond it a tooth that leaves the cut keeps some.
pub fn damping_left(depth: f64, limit: f64) -> f64 {
    /// Fitted to the simulated cut.
    const LEAST: f64 = 0.1;
    (1.0 - depth / limit).max(LEAST)
}

/// Unevenness that is left of a force whose chip gives way: `gain` is how much of
/// its own movement a tooth takes out of its chip again.
///
/// What one pass bends the tool too little is cut by the next: with a force uneven
/// by e, `u = gain ((1 + e) f - u + before)`, so of what a force that didn't
/// depend on the chip would scatter, `1 / sqrt(1 + 2 gain)` is left: the variance of
/// a first-order autoregression (Box and Jenkins, Time Series Analysis, ch. 3).
pub fn evened(gain: f64) -> f64 {
    1.0 / (1.0 + 2.0 * gain.max(0.0)).sqrt()
}

/// Unevenness of the force from tooth to tooth in chatter, at `depth` beyond
/// `limit`: grows as the root of the overshoot, as amplitudes do beyond the onset
/// of a self-excited vibration (Guckenheimer and Holmes, Nonlinear Oscillations,
/// 1983, ch. 3; from memory), and stays bounded, since the tooth leaves the cut
/// (Tlusty and Ismail, CIRP Annals 30 (1981)). `most` is what it grows to.
pub fn chatter_unevenness(depth: f64, limit: f64, most: f64) -> f64 {
    most * (1.0 - limit / depth).max(0.0).sqrt()
}
