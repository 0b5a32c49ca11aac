//! Self-feeding: where climb cutting pulls the work along.

use super::force::Engagement;
use super::stability::FeedbackGeometry;
use crate::work::{CutKind, CutSense};

/// Share of the cutter's diameter up to which climb cutting pulls the work along,
/// for a radial over tangential cutting force of `ratio`.
///
/// The mean force along the feed is proportional to the integral of `(Kt cos p +
/// Kr sin p) sin p` from entry to exit, and pulls where that is negative: from
/// the frame of Altintas, *Manufacturing Automation*, 2nd ed. 2012, ch. 2. Edge
/// forces are left out.
pub fn self_feed_limit(ratio: f64) -> f64 {
    let pulls = |width: f64| {
        let engagement = Engagement::new(CutKind::Side, CutSense::Climb, width, 1.0);
        FeedbackGeometry::new(engagement, 1).with(1.0, ratio).feed < 0.0
    };
    // Up to half the diameter every tooth pulls or is yet to; at the whole of it
    // nothing but the radial force is left.
    let (mut pulling, mut pushing) = (0.0, 1.0);
    for _ in 0..40 {
        let middle = 0.5 * (pulling + pushing);
        if pulls(middle) {
            pulling = middle;
        } else {
            pushing = middle;
        }
    }
    pulling
}
