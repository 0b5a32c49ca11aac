//! Every way of the table, with the feed and against it, round the part.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Course, Directions, Way, of_hundred, short_count};
use spindlewise_engine::work::{Axis, CutSense};

use super::hatch::{CROSSED, SLANTED};

/// Size of a label: "conv. >99" beside the hatching, in the largest letters.
const BOX: (f64, f64) = (176.0, 42.0);
/// Width of the hatching in it.
const HATCH: f64 = 34.0;

/// Middle of the labels of one way, and the arrow to them. The operator stands
/// at the bottom.
fn place(axis: Axis, way: Way) -> ((f64, f64), &'static str) {
    match (axis, way) {
        (Axis::X, Way::Plus) => ((510.0, 210.0), "M350 210H412M396 198l18 12l-18 12"),
        (Axis::X, Way::Minus) => ((90.0, 210.0), "M250 210H188M204 198l-18 12l18 12"),
        (Axis::Y, Way::Plus) => ((300.0, 50.0), "M300 172V112M288 128l12-18l12 18"),
        (Axis::Y, Way::Minus) => ((300.0, 370.0), "M300 248V308M288 292l12 18l12-18"),
    }
}

/// The picture; the list beside it says the same and more.
pub fn compass(directions: &Directions) -> AnyView {
    let labels = directions.courses.iter().map(label).collect_view();
    let arrows: Vec<&str> =
        [Axis::X, Axis::Y].into_iter().flat_map(|axis| [Way::Plus, Way::Minus].map(|way| place(axis, way).1)).collect();
    view! {
        <figure class="chart compass">
            <svg viewBox="0 0 600 420" aria-hidden="true">
                <rect class="compass-part" x="256" y="180" width="88" height="60" />
                <rect x="256" y="180" width="88" height="60" fill=SLANTED />
                <path class="compass-arrow" d=arrows.concat() />
                {labels}
            </svg>
            <figcaption>
                "Seen from above, you at the bottom; arrows show which way the table goes. Each label: how many of 100 machines like yours chatter at your depth. Hatched one way: half or more of them; both ways: the part or the table may move. Thick frame: as you cut now."
            </figcaption>
        </figure>
    }
    .into_any()
}

fn label(course: &Course) -> impl IntoView + use<> {
    let heading = course.heading;
    let ((x, y), _) = place(heading.axis, heading.way);
    let (width, height) = BOX;
    let (name, row) = match heading.sense {
        None => ("", 0.0),
        Some(CutSense::Conventional) => ("conv. ", -0.5),
        Some(CutSense::Climb) => ("climb ", 0.5),
    };
    let (left, top) = (x - 0.5 * width, y + row * (height + 4.0) - 0.5 * height);
    let chatters = of_hundred(course.prediction.chatter);
    let fill = match chatters {
        _ if course.dangerous => CROSSED,
        50.. => SLANTED,
        _ => "none",
    };
    view! {
        <g class="compass-label" class:compass-present=course.present>
            <rect class="compass-plain" x=left y=top width=width height=height />
            <rect x=left y=top width=HATCH height=height fill=fill />
            <rect class="compass-frame" x=left y=top width=width height=height />
            <text text-anchor="middle" x=x + 0.5 * HATCH y=top + 0.7 * height>{name} <tspan>{short_count(course.prediction.chatter)}</tspan></text>
        </g>
    }
}
