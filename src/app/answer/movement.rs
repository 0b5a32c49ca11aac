//! The movement budget: which part owns how much of the movement.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Figure, LoopPart, Share, Spread};
use spindlewise_engine::order;
use spindlewise_engine::quantity::{Dimension, UnitSystem, format_range};

use super::filter::toggles;
use super::sheet::{Sheet, wire_name};
use super::sourced::sourced;
use super::words::percent;
use crate::app::charts::{Linear, loop_picture, share_bar};

/// The direction looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeedView {
    /// Square to the feed: what marks the wall and moves it.
    Across,
    /// With the feed.
    Along,
}

impl FeedView {
    const CHOICES: [(FeedView, &'static str); 2] =
        [(FeedView::Across, "Across the feed"), (FeedView::Along, "Along the feed")];

    fn of(self, share: &Share) -> Spread {
        match self {
            FeedView::Across => share.normal,
            FeedView::Along => share.feed,
        }
    }

    fn caption(self) -> &'static str {
        match self {
            FeedView::Across => "Share of the movement square to the feed, which marks the wall and moves it off size.",
            FeedView::Along => "Share of the movement along the feed, which changes the bite of each tooth.",
        }
    }
}

/// The section.
pub fn section(sheet: &Sheet, feed: RwSignal<FeedView>) -> AnyView {
    let shares = sheet.decision.shares.clone();
    let budget = move || budget(&shares, feed.get());
    view! {
        <section aria-labelledby="movement">
            <h2 id="movement">"What moves"</h2>
            <p class="lead">
                "Push on the cutter and everything from its tip round to the part gives a little, like springs in a row. This is how the movement is shared out."
            </p>
            {toggles("Direction of the movement", &FeedView::CHOICES, feed)}
            {budget}
        </section>
    }
    .into_any()
}

/// Picture and bars for one direction.
fn budget(shares: &[Share], feed: FeedView) -> AnyView {
    let mut spreads: Vec<(LoopPart, Spread)> = shares.iter().map(|share| (share.part, feed.of(share))).collect();
    order::greatest_first(&mut spreads, |(_, spread)| spread.mid);
    let axis = Linear::holding(spreads.iter().map(|(_, share)| share.high).fold(0.0, f64::max));
    let picture = {
        let at = |part| spreads.iter().position(|&(other, _)| other == part);
        loop_picture(|part| at(part).map(|at| (at + 1, spreads[at].1.mid)))
    };
    let bars = spreads.iter().enumerate().map(|(at, &(part, share))| bar(at + 1, part, share, axis)).collect_view();
    let ticks = axis.ticks().map(|tick| view! { <span>{percent(tick)}</span> }).collect_view();
    // Its bars carry their numbers: it needs no table.
    view! {
        <figure class="budget">
            <div>
                {picture}
                <figcaption class="budget-note">
                    {feed.caption()}
                    " Bar: the middle of machines like yours; whisker: eight in ten of them. Middles needn’t add up to 100 %. Hatched both ways: bearings."
                </figcaption>
            </div>
            <div class="budget-bars">
                <ol>{bars}</ol>
                <div class="budget-axis" aria-hidden="true">{ticks}</div>
            </div>
        </figure>
    }
    .into_any()
}

fn bar(number: usize, part: LoopPart, share: Spread, axis: Linear) -> impl IntoView {
    view! {
        <li
            class="budget-row"
            data-share=wire_name(&part)
            data-low=share.low.to_string()
            data-mid=share.mid.to_string()
            data-high=share.high.to_string()
        >
            <span class="balloon" aria-hidden="true">{number}</span>
            <span class="budget-name">{part.label()}</span>
            <span class="budget-figure">
                {sourced(Figure::Share(part), view! { <strong>{percent(share.mid)}</strong> {around(share)} })}
            </span>
            {share_bar(share, part.is_bearing(), axis)}
        </li>
    }
}

/// Its range in brackets, where that says more than its middle.
fn around(share: Spread) -> Option<String> {
    let range = share_range(share);
    (range != percent(share.mid)).then(|| format!(" ({range})"))
}

fn share_range(share: Spread) -> String {
    if share.high < 0.005 {
        return percent(share.high);
    }
    let whole = |share: f64| (100.0 * share).round() / 100.0;
    format_range(whole(share.low), whole(share.high), Dimension::Share, UnitSystem::Metric)
}
