//! The stability chart: depth against speed.

use std::ops::ControlFlow;

use super::limit::bisect;
use super::{Limit, Milling, Verdict, characteristic};

/// A depth at which stability changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Axial depth, mm.
    pub depth: f64,
    /// What the cut is above it.
    pub above: Verdict,
}

/// One speed of the chart: stable from zero up to the first crossing, and then
/// by turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Spindle speed, rpm.
    pub speed: f64,
    /// Every change of stability, from shallow to deep.
    pub crossings: Vec<Crossing>,
}

impl Column {
    /// The smallest depth that chatters; `None` where none in the chart does.
    pub fn first_limit(&self) -> Option<Limit> {
        self.crossings.iter().find_map(|crossing| match crossing.above {
            Verdict::Unstable(loss) => Some(Limit { depth: crossing.depth, loss }),
            Verdict::Stable => None,
        })
    }

    /// Whether a cut at `depth` mm is stable.
    pub fn verdict(&self, depth: f64) -> Verdict {
        let below = self.crossings.iter().take_while(|crossing| crossing.depth <= depth);
        below.last().map_or(Verdict::Stable, |crossing| crossing.above)
    }
}

/// The chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// One column for each speed, in the order asked for.
    pub columns: Vec<Column>,
}

/// Depths at which each speed is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Deepest cut, mm.
    pub deepest: f64,
    /// Evenly spaced depths, at least one. What is stable or unstable for less
    /// than the space between two can be missed.
    pub depths: u32,
}

/// Parts of the space between two depths to which a change is located.
const REFINEMENT: f64 = 128.0;

/// One speed (rpm) of the chart; depths are exact to a thousandth.
pub fn column(milling: &Milling, speed: f64, grid: Grid) -> Column {
    let space = grid.deepest / f64::from(grid.depths);
    let mut verdict = |depth: f64| characteristic::drawn_verdict(milling, speed, depth);
    let mut crossings = Vec::new();
    let (mut last_depth, mut last) = (0.0, Verdict::Stable);
    for row in 1..=grid.depths {
        let depth = f64::from(row) * space;
        let here = verdict(depth);
        let ends = match (last, here) {
            (Verdict::Stable, Verdict::Unstable(loss)) => Some(([last_depth, depth], loss)),
            (Verdict::Unstable(loss), Verdict::Stable) => Some(([depth, last_depth], loss)),
            _ => None,
        };
        if let Some((ends, loss)) = ends {
            let (depth, loss) = bisect(ends, loss, space / REFINEMENT, &mut verdict);
            let above = if here.is_stable() { Verdict::Stable } else { Verdict::Unstable(loss) };
            crossings.push(Crossing { depth, above });
        }
        (last_depth, last) = (depth, here);
    }
    Column { speed, crossings }
}

/// A chart in the making: a few columns at a time, so that whoever draws it can
/// show how far it is, and drop it.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartBuilder {
    milling: Milling,
    speeds: Vec<f64>,
    grid: Grid,
    columns: Vec<Column>,
}

impl ChartBuilder {
    /// A chart of `milling` at `speeds` (rpm), with nothing done yet.
    pub fn new(milling: Milling, speeds: Vec<f64>, grid: Grid) -> Self {
        let columns = Vec::with_capacity(speeds.len());
        ChartBuilder { milling, speeds, grid, columns }
    }

    /// Does up to `count` columns more; whether any are left to do.
    pub fn advance(&mut self, count: usize) -> bool {
        let done = self.columns.len();
        let next = self.speeds[done..].iter().take(count);
        self.columns.extend(next.map(|&speed| column(&self.milling, speed, self.grid)));
        self.columns.len() < self.speeds.len()
    }

    /// How many of how many columns are done.
    pub fn progress(&self) -> (usize, usize) {
        (self.columns.len(), self.speeds.len())
    }

    /// The columns done so far, in the order of the speeds.
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// The range of depths.
    pub fn grid(&self) -> Grid {
        self.grid
    }

    /// The chart as far as it is done.
    pub fn into_chart(self) -> Chart {
        Chart { columns: self.columns }
    }
}

/// The chart at `speeds` (rpm). `progress` hears how many of how many speeds are
/// done before each, and once at the end; where it breaks off there is no chart.
pub fn chart(
    milling: &Milling,
    speeds: &[f64],
    grid: Grid,
    progress: &mut dyn FnMut(usize, usize) -> ControlFlow<()>,
) -> ControlFlow<(), Chart> {
    let mut builder = ChartBuilder::new(*milling, speeds.to_vec(), grid);
    loop {
        let (done, all) = builder.progress();
        progress(done, all)?;
        if done == all {
            return ControlFlow::Continue(builder.into_chart());
        }
        builder.advance(1);
    }
}
