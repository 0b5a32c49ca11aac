//! Small marks that say by their shape where something stands.

use crate::app::prelude::*;

/// What a mark says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A star: before all others.
    Star,
    /// A tick.
    Tick,
    /// A coin.
    Coin,
    /// Two waves: about the same.
    Waves,
    /// A cross.
    Cross,
    /// A question mark.
    Question,
    /// A barred circle.
    Barred,
    /// A triangle with a stroke: take care.
    Caution,
}

impl Mark {
    fn outline(self) -> &'static str {
        match self {
            Mark::Star => "M12 2l3 7 7.5.6-5.7 5 1.8 7.4L12 18l-6.6 4 1.8-7.4-5.7-5L9 9z",
            Mark::Tick => "M3 13l6 6L21 5",
            Mark::Coin => "M21 12a9 9 0 1 1-18 0a9 9 0 1 1 18 0zM12 7v10M8.5 12h7",
            Mark::Waves => "M3 9c3-4 6-4 9 0s6 4 9 0M3 16c3-4 6-4 9 0s6 4 9 0",
            Mark::Cross => "M5 5l14 14M19 5L5 19",
            Mark::Question => "M7 8c0-6 10-6 10 0c0 4-5 3.5-5 7M12 19.5v1.5",
            Mark::Barred => "M21 12a9 9 0 1 1-18 0a9 9 0 1 1 18 0zM5.7 5.7l12.6 12.6",
            Mark::Caution => "M12 3L22 21H2zM12 9v6M12 17.5v1.5",
        }
    }
}

/// Draws a mark as large as the text beside it, which says the same.
pub fn mark(mark: Mark) -> impl IntoView {
    let class = if mark == Mark::Star { "glyph glyph-solid" } else { "glyph" };
    view! {
        <svg class=class viewBox="0 0 24 24" aria-hidden="true">
            <path d=mark.outline() />
        </svg>
    }
}
