//! The cut from above: part, cutter, its rotation and the way of the table.

use spindlewise_engine::work::{Axis, CutKind, CutSense, Setup};

/// Radius of the cutter on paper.
const RADIUS: f64 = 44.0;

/// The cut seen from above, the operator at the bottom. Drawn with the cutter
/// moving to the right through the part, then turned for a feed along Y.
///
/// A right-hand cutter turns clockwise from above. It climbs where the part
/// lies on the right of its way (common practice, no source).
pub fn top_view(setup: &Setup) -> String {
    let width = 2.0 * RADIUS * (setup.cut.radial_width / setup.cutter.diameter).clamp(0.05, 1.0);
    let slot = setup.cut.kind == CutKind::Slot;
    // +1: the part lies to the right of the way, below on paper.
    let side = match setup.cut.sense {
        CutSense::Climb => 1.0,
        CutSense::Conventional => -1.0,
    };
    let turn = match setup.cut.axis {
        Axis::X => 0,
        Axis::Y => -90,
    };
    let wall = side * RADIUS;
    let uncut = side * (RADIUS - width);
    let edge = side * 120.0;
    let part = if slot {
        format!("M-120-120H120V120H-120V{RADIUS}H0A{RADIUS} {RADIUS} 0 0 0 0-{RADIUS}H-120z")
    } else {
        format!("M-120 {edge}V{wall}H0V{uncut}H120V{edge}z")
    };
    let finished = if slot { format!("M-120 {RADIUS}H0M-120-{RADIUS}H0") } else { format!("M-120 {wall}H0") };
    let feed = if slot { 0.0 } else { side * 82.0 };
    format!(
        r#"<svg viewBox="0 0 260 280"><defs><pattern id="plan-hatch" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M0 0V9"/></pattern><clipPath id="plan-clip"><path d="M-110-110h220v220h-220z"/></clipPath></defs>
<g transform="translate(130 138) rotate({turn})"><g clip-path="url(#plan-clip)"><path class="stock" d="{part}"/><path d="{part}" fill="url(#plan-hatch)"/><path class="wall" d="{finished}"/></g>
<circle class="cutter" r="{RADIUS}"/><path class="turning" d="M-24-16A29 29 0 0 1 26-13M27-26L26-12 12-12"/><path class="turning" d="M24 16A29 29 0 0 1-26 13M-27 26L-26 12-12 12"/>
<g transform="translate(0 {feed})"><path class="feed" d="{}"/></g></g>
<text x="130" y="18">column</text><text x="130" y="272">you</text></svg>"#,
        if slot { "M104 0H64M76-9L62 0 76 9" } else { "M40 0H-40M-26-10L-42 0-26 10" },
    )
}

/// What the drawing shows, in words.
pub fn top_view_words(setup: &Setup) -> String {
    let way = match setup.cut.axis {
        Axis::X => "to the left",
        Axis::Y => "towards you",
    };
    let meeting = match (setup.cut.kind, setup.cut.sense) {
        (CutKind::Slot, _) => "in a slot one wall is cut climbing, the other conventionally",
        (_, CutSense::Climb) => "at the wall the edge moves with the part: climb",
        (_, CutSense::Conventional) => "at the wall the edge moves against the part: conventional",
    };
    format!(
        "From above. The table feeds the part (hatched) {way}, the cutter turns clockwise; {meeting}. The heavy line is the finished wall. Feed the other way along the other side for the same effect."
    )
}
