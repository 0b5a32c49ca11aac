//! How much better or worse, on an axis with "as now" in the middle.

use crate::app::prelude::*;
use spindlewise_engine::decision::Spread;

use super::scale::Ratio;

/// A change drawn on a strip, as "so many times as good".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// From 10 % to 90 %, above 1 where it is better.
    pub better: Spread,
    /// Whether it is drawn solid (finish) or open (depth).
    pub solid: bool,
}

impl Interval {
    /// Of a quantity that is better when it is larger.
    pub fn of_larger(change: Spread) -> Self {
        Interval { better: change, solid: false }
    }

    /// Of a quantity that is better when it is smaller.
    pub fn of_smaller(Spread { low, mid, high }: Spread) -> Self {
        let better = Spread { low: 1.0 / high, mid: 1.0 / mid, high: 1.0 / low };
        Interval { better, solid: true }
    }

    /// The ratios an axis has to hold.
    pub fn ends(self) -> [f64; 2] {
        [self.better.low, self.better.high]
    }
}

/// Intervals one below the other on one axis. The text beside it says the
/// same, so it is hidden from readers.
pub fn strip(intervals: Vec<Interval>, axis: Ratio) -> AnyView {
    let rows = intervals.len().max(1) as f64;
    let lines = intervals
        .into_iter()
        .enumerate()
        .map(|(row, interval)| line(interval, axis, 100.0 * (row as f64 + 0.5) / rows))
        .collect_view();
    view! {
        <svg class="strip" aria-hidden="true">
            <line class="strip-edge" x1="0" x2="0" y1="0" y2="100%" />
            <line class="strip-now" x1="50%" x2="50%" y1="0" y2="100%" />
            <line class="strip-edge" x1="100%" x2="100%" y1="0" y2="100%" />
            {lines}
        </svg>
    }
    .into_any()
}

fn line(Interval { better, solid }: Interval, axis: Ratio, y: f64) -> AnyView {
    let place = |value| format!("{:.2}%", axis.percent(value));
    let y = format!("{y:.2}%");
    let arrows = [better.low, better.high].into_iter().filter(|&end| axis.is_beyond(end)).map(|end| {
        let outline = if end > 1.0 { "M-8 -6L0 0L-8 6" } else { "M8 -6L0 0L8 6" };
        view! { <svg class="strip-at" x=place(end) y=y.clone()><path class="strip-arrow" d=outline /></svg> }
    });
    let arrows = arrows.collect_view();
    let dot = if solid {
        view! { <circle class="strip-solid" r="6" /> }.into_any()
    } else {
        view! { <path class="strip-open" d="M0 -8L8 0L0 8L-8 0z" /> }.into_any()
    };
    view! {
        <line class="strip-line" x1=place(better.low) x2=place(better.high) y1=y.clone() y2=y.clone() />
        {arrows}
        <svg class="strip-at" x=place(better.mid) y=y>{dot}</svg>
    }
    .into_any()
}
