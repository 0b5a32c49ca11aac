//! One bar of the movement budget, with its whisker.

use crate::app::prelude::*;
use spindlewise_engine::decision::Spread;

use super::hatch::{CROSSED, SLANTED};
use super::scale::Linear;

/// A bar as long as the share's middle and a whisker from its 10 % to its 90 %
/// quantile. Bearings are hatched both ways. The text beside it says the same,
/// so it is hidden from readers.
pub fn share_bar(share: Spread, is_bearing: bool, axis: Linear) -> AnyView {
    let percent = |value| format!("{:.2}%", axis.percent(value));
    let (low, mid, high) = (percent(share.low), percent(share.mid), percent(share.high));
    let hatch = if is_bearing { CROSSED } else { SLANTED };
    let ends = [low.clone(), high.clone()].map(|x| {
        view! { <line class="whisker" x1=x.clone() x2=x y1="30%" y2="70%" /> }
    });
    view! {
        <svg class="share-bar" class:share-bar-bearing=is_bearing aria-hidden="true">
            <line class="bar-track" x1="0" x2="100%" y1="50%" y2="50%" />
            <rect class="bar-body" x="0" y="15%" width=mid.clone() height="70%" />
            <rect class="bar-hatch" x="0" y="15%" width=mid height="70%" fill=hatch />
            <line class="whisker-under" x1=low.clone() x2=high.clone() y1="50%" y2="50%" />
            <line class="whisker" x1=low x2=high y1="50%" y2="50%" />
            {ends}
        </svg>
    }
    .into_any()
}
