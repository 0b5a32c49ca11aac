//! The surface that is left: each tooth's mark, and the deepest of them.

use super::profile::Profile;

/// One tooth's mark about its deepest point. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Place along the feed.
    pub x: f64,
    /// How far it reaches into the work beyond the ideal surface.
    pub depth: f64,
    /// How that grows along x as the tool moves while it marks.
    pub slope: f64,
}

/// The marks on the wall. A face cut makes none.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// From the tip upwards: the marks of each slice of the helix in order.
    pub slices: Vec<Vec<Mark>>,
    /// Curvature of a mark, 1/mm: that of the tooth's path, a trochoid.
    /// Martellotti, Trans. ASME 63 (1941).
    pub curvature: f64,
    /// Feed per tooth.
    pub feed: f64,
    /// Teeth.
    pub teeth: usize,
}

/// The marks on the floor, along a line in the feed direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// Marks in order.
    pub marks: Vec<Mark>,
    /// Corner radius.
    pub corner: f64,
    /// Dish angle of the end, rad.
    pub dish: f64,
    /// Share of the feed that lies along the tooth's radius where it marks.
    pub lean: f64,
    /// Feed per tooth.
    pub feed: f64,
    /// Teeth.
    pub teeth: usize,
}

/// Grid points in one feed per tooth.
const POINTS: f64 = 24.0;

/// Most revolutions of feed over which one mark is looked for.
const REACH: f64 = 12.0;

impl Wall {
    /// Where the wall of slice `slice` ends up from where it should be, mm: the
    /// mean depth of the marks of the second half, positive where too much is
    /// cut. Surface location error; Schmitz and Mann, Int. J. Mach. Tools Manuf.
    /// 46 (2006).
    pub fn location(&self, slice: usize) -> f64 {
        let marks = second_half(&self.slices[slice]);
        marks.iter().map(|mark| mark.depth).sum::<f64>() / marks.len() as f64
    }

    /// Profile along the feed at slice `slice`, of the second half of the run.
    pub fn profile(&self, slice: usize) -> Profile {
        let marks = second_half(&self.slices[slice]);
        let reach = (2.0 * spread(marks) / self.curvature).sqrt();
        envelope(marks, self.feed, self.teeth, reach, |mark, away| {
            mark.depth + mark.slope * away - 0.5 * self.curvature * away * away
        })
    }
}

impl Floor {
    /// Profile along the feed, of the second half of the run: the corner ahead
    /// of each tooth's lowest point, corner and then dish behind it. The back
    /// of the cutter is taken not to touch.
    pub fn profile(&self) -> Profile {
        let marks = second_half(&self.marks);
        let reach = spread(marks) / (self.dish.max(1e-4) * self.lean);
        envelope(marks, self.feed, self.teeth, reach, |mark, away| {
            let out = away * self.lean;
            mark.depth + mark.slope * away - self.corner_rise(out)
        })
    }

    /// Height (mm) of the edge above its lowest point, `out` (mm) outwards of it.
    fn corner_rise(&self, out: f64) -> f64 {
        if out > self.corner || out > 0.0 && self.corner == 0.0 {
            return f64::INFINITY;
        }
        let bend = self.corner * self.dish.sin();
        let circle = |x: f64| self.corner - (self.corner * self.corner - x * x).sqrt();
        if out >= -bend { circle(out) } else { circle(bend) + (-out - bend) * self.dish.tan() }
    }
}

fn second_half(marks: &[Mark]) -> &[Mark] {
    &marks[marks.len() / 2..]
}

/// From the shallowest mark to the deepest.
fn spread(marks: &[Mark]) -> f64 {
    let (low, high) = marks
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mark| (low.min(mark.depth), high.max(mark.depth)));
    high - low
}

/// What is left when every mark has taken its shape out: heights are those of
/// the material left standing. `reach` is how far from itself a mark can be the
/// deepest.
fn envelope(marks: &[Mark], feed: f64, teeth: usize, reach: f64, shape: impl Fn(&Mark, f64) -> f64) -> Profile {
    let spacing = feed / POINTS;
    let turn = feed * teeth as f64;
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
        return Profile { spacing, heights: Vec::new() };
    };
    // Marks stand evenly, but for how the tool sways along the feed.
    let pace = (last.x - first.x) / (marks.len() - 1).max(1) as f64;
    let sway = marks.iter().enumerate().map(|(i, mark)| (mark.x - first.x - i as f64 * pace).abs()).fold(0.0, f64::max);
    let reach = reach.min(REACH * turn) + 2.0 * (turn + sway);
    // A revolution at each end has not met all its neighbours.
    let (from, to) = (first.x + turn + sway, last.x - turn - sway);
    let count = ((to - from) / spacing).max(0.0) as usize;
    let mut heights = vec![f64::INFINITY; count];
    for mark in marks {
        let index = |x: f64| ((x - from) / spacing).ceil().clamp(0.0, count as f64) as usize;
        for (point, height) in heights.iter_mut().enumerate().take(index(mark.x + reach)).skip(index(mark.x - reach)) {
            let cut = shape(mark, from + point as f64 * spacing - mark.x);
            *height = height.min(-cut);
        }
    }
    Profile { spacing, heights }
}
