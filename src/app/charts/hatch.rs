//! The hatchings, as on a workshop drawing. Put once on a page that has charts.

use crate::app::prelude::*;

/// Fill of a bearing: lines both ways.
pub const CROSSED: &str = "url(#hatch-crossed)";
/// Fill of any other part: lines one way.
pub const SLANTED: &str = "url(#hatch-slanted)";

/// The definitions that [`CROSSED`] and [`SLANTED`] point to.
pub fn hatches() -> impl IntoView {
    view! {
        <svg class="hatches" aria-hidden="true" width="0" height="0">
            <defs>
                <pattern id="hatch-crossed" width="6" height="6" patternUnits="userSpaceOnUse">
                    <path class="hatch-crossed" d="M-1 5L5 -1M1 7L7 1M-1 1L5 7M1 -1L7 5" />
                </pattern>
                <pattern id="hatch-slanted" width="7" height="7" patternUnits="userSpaceOnUse">
                    <path class="hatch-slanted" d="M-1 6L6 -1M1 8L8 1" />
                </pattern>
            </defs>
        </svg>
    }
}
