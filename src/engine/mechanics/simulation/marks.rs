//! The surface that is left: each tooth's mark, and the deepest of them.

use super::profile::Profile;
use super::relief::Relief;
use super::swept::Swept;

/// One tooth's mark about its deepest point. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Place along the feed.
    pub x: f64,
    /// How far it reaches into the work beyond the ideal surface.
    pub depth: f64,
}

/// The marks on the wall. A face cut makes none.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// From the tip upwards: the marks of each slice of the helix in order.
    pub slices: Vec<Vec<Mark>>,
    /// What is left between them.
    pub(super) swept: Swept,
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
pub(super) const POINTS: f64 = 24.0;

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
        let grid = Grid::covered(marks, self.feed, self.teeth);
        Profile { spacing: grid.spacing, heights: self.swept.heights(slice, &grid) }
    }

    /// The wall as a map of heights, `depth` mm high from the tip upwards, of
    /// the second half of the run and at most `length` mm of it. `None` if a
    /// slice has too few marks.
    pub fn relief(&self, depth: f64, length: f64) -> Option<Relief> {
        let slices: Vec<&[Mark]> = self.slices.iter().map(|slice| second_half(slice)).collect();
        let covered = slices.iter().map(|marks| Grid::covered(marks, self.feed, self.teeth));
        let grid = covered.reduce(Grid::shared).filter(|grid| grid.count > 1)?.at_most(length);
        let rows = (0..slices.len()).map(|slice| self.swept.heights(slice, &grid)).collect();
        Some(Relief { spacing: grid.spacing, rise: depth / self.slices.len() as f64, rows })
    }
}

impl Floor {
    /// Profile along the feed, of the second half of the run: the corner ahead
    /// of each tooth's lowest point, corner and then dish behind it. The back
    /// of the cutter is taken not to touch.
    pub fn profile(&self) -> Profile {
        let marks = second_half(&self.marks);
        let grid = Grid::covered(marks, self.feed, self.teeth);
        Profile { spacing: grid.spacing, heights: self.heights(marks, &grid) }
    }

    /// The floor as a map of heights, `width` mm to each side of a line along
    /// the feed and at most `length` mm of it: marks are arcs of `radius` mm,
    /// the cutter's. `None` if there are too few marks.
    pub fn relief(&self, radius: f64, width: f64, length: f64) -> Option<Relief> {
        const ROWS: usize = 33;
        let marks = second_half(&self.marks);
        let width = width.min(0.95 * radius);
        let across = |row: usize| width * (2.0 * row as f64 / (ROWS - 1) as f64 - 1.0);
        let behind = |y: f64| radius - (radius * radius - y * y).sqrt();
        let grid = Grid::covered(marks, self.feed, self.teeth);
        // What an arc hangs behind at the edges has to be covered too.
        let grid = Grid { count: grid.count.checked_sub((behind(width) / grid.spacing).ceil() as usize)?, ..grid };
        let grid = Some(grid).filter(|grid| grid.count > 1)?.at_most(length);
        let row = |row| self.heights(marks, &Grid { from: grid.from + behind(across(row)), ..grid });
        let rise = 2.0 * width / ROWS as f64;
        Some(Relief { spacing: grid.spacing, rise, rows: (0..ROWS).map(row).collect() })
    }

    fn heights(&self, marks: &[Mark], grid: &Grid) -> Vec<f64> {
        let reach = spread(marks) / (self.dish.max(1e-4) * self.lean);
        let reach = grid.reach(marks, reach, self.feed * self.teeth as f64);
        envelope(marks, reach, grid, |mark, away| mark.depth - self.corner_rise(away * self.lean))
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

/// Points along the feed, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Grid {
    pub from: f64,
    pub spacing: f64,
    pub count: usize,
}

impl Grid {
    /// The points whose marks have met all their neighbours: all but a
    /// revolution at each end.
    fn covered(marks: &[Mark], feed: f64, teeth: usize) -> Grid {
        let spacing = feed / POINTS;
        let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
            return Grid { from: 0.0, spacing, count: 0 };
        };
        let margin = feed * teeth as f64 + sway(marks);
        let (from, to) = (first.x + margin, last.x - margin);
        Grid { from, spacing, count: ((to - from) / spacing).max(0.0) as usize }
    }

    fn end(&self) -> f64 {
        self.from + self.spacing * self.count as f64
    }

    /// The points in both.
    fn shared(self, other: Grid) -> Grid {
        let (from, to) = (self.from.max(other.from), self.end().min(other.end()));
        Grid { from, count: ((to - from) / self.spacing).max(0.0) as usize, ..self }
    }

    /// The last `length` mm.
    fn at_most(self, length: f64) -> Grid {
        let count = self.count.min((length / self.spacing) as usize);
        Grid { from: self.end() - self.spacing * count as f64, count, ..self }
    }

    /// How far from itself a mark is looked for, if by its shape it can be the
    /// deepest as far as `reach` away and a turn feeds `turn`.
    fn reach(&self, marks: &[Mark], reach: f64, turn: f64) -> f64 {
        reach.min(REACH * turn) + 2.0 * (turn + sway(marks))
    }
}

/// How far marks lie off an even spacing: the tool sways along the feed.
fn sway(marks: &[Mark]) -> f64 {
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
        return 0.0;
    };
    let pace = (last.x - first.x) / (marks.len() - 1).max(1) as f64;
    marks.iter().enumerate().map(|(i, mark)| (mark.x - first.x - i as f64 * pace).abs()).fold(0.0, f64::max)
}

/// What is left when every mark has taken its shape out: heights are those of
/// the material left standing. `reach` is how far from itself a mark is looked
/// for.
fn envelope(marks: &[Mark], reach: f64, grid: &Grid, shape: impl Fn(&Mark, f64) -> f64) -> Vec<f64> {
    let Grid { from, spacing, count } = *grid;
    let mut heights = vec![f64::INFINITY; count];
    for mark in marks {
        let index = |x: f64| ((x - from) / spacing).ceil().clamp(0.0, count as f64) as usize;
        for (point, height) in heights.iter_mut().enumerate().take(index(mark.x + reach)).skip(index(mark.x - reach)) {
            let cut = shape(mark, from + point as f64 * spacing - mark.x);
            *height = height.min(-cut);
        }
    }
    heights
}
