//! A probability as a hundred small marks: a count is read better than a
//! percentage (Gigerenzer & Hoffrage 1995, Psychological Review 102, 684).

use std::fmt::Write;

use crate::app::prelude::*;

const STEP: f64 = 10.0;

/// A ten by ten field with `count` of its marks solid squares and the rest
/// small rings; once on a page. `meaning` says what is counted. None or all of
/// them are no picture: the words say it.
pub fn hundred(count: u32, meaning: String) -> Option<AnyView> {
    let (solid, open) = marks(count);
    (1..100).contains(&count).then(|| {
        view! {
            <svg class="hundred" viewBox="0 0 100 100" role="img" aria-labelledby="hundred-title">
                <title id="hundred-title">{format!("{count} of 100 marks are solid: {meaning}")}</title>
                <path class="hundred-open" d=open />
                <path class="hundred-solid" d=solid />
            </svg>
        }
        .into_any()
    })
}

/// The outlines of the solid and of the open marks.
fn marks(count: u32) -> (String, String) {
    let (mut solid, mut open) = (String::new(), String::new());
    for place in 0..100_u32 {
        let (x, y) = (STEP * f64::from(place % 10), STEP * f64::from(place / 10));
        // Writing to a String can't fail.
        _ = if place < count {
            write!(solid, "M{} {}h8v8h-8z", x + 1.0, y + 1.0)
        } else {
            write!(open, "M{} {}a2 2 0 1 0 4 0a2 2 0 1 0 -4 0z", x + 3.0, y + 5.0)
        };
    }
    (solid, open)
}
