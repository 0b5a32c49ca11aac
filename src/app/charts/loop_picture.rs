//! The loop of parts that carries the cutting force from the cutter round to
//! the work, as a light mill seen from the side.

use crate::app::prelude::*;
use spindlewise_engine::decision::LoopPart;

use super::hatch::CROSSED;

/// How a part is drawn: its outline, where its number hangs, and the point the
/// number's line leads to.
struct Shape {
    outline: &'static str,
    balloon: (f64, f64),
    point: (f64, f64),
}

fn shape(part: LoopPart) -> Shape {
    let (outline, balloon, point) = match part {
        LoopPart::Cutter => ("M191 286h14v42h-14z", (232.0, 318.0), (205.0, 312.0)),
        LoopPart::HolderJoint => ("M182 258h32v28h-32z", (22.0, 272.0), (182.0, 272.0)),
        LoopPart::Taper => ("M184 236h28l-3 22h-22z", (234.0, 262.0), (210.0, 248.0)),
        LoopPart::Shaft => ("M190 40h16v196h-16z", (232.0, 30.0), (206.0, 50.0)),
        LoopPart::FrontBearing => ("M174 212h16v20h-16zM206 212h16v20h-16z", (22.0, 226.0), (174.0, 222.0)),
        LoopPart::RearBearing => ("M174 168h16v16h-16zM206 168h16v16h-16z", (22.0, 134.0), (174.0, 176.0)),
        LoopPart::Quill => ("M166 150h64v86h-64z", (22.0, 180.0), (166.0, 196.0)),
        LoopPart::Head => ("M112 70h208v82h-208z", (22.0, 88.0), (112.0, 104.0)),
        LoopPart::Column => ("M306 44h38v382h-38zM70 426h292v26h-292z", (378.0, 240.0), (344.0, 240.0)),
        LoopPart::Table => ("M60 376h214v20h-214zM112 396h110v30h-110z", (22.0, 410.0), (116.0, 404.0)),
        LoopPart::Holding => {
            ("M96 330h22v46h-22zM191 338h22v38h-22zM118 362h73v14h-73z", (22.0, 364.0), (107.0, 352.0))
        }
        LoopPart::Part => ("M118 302h73v60h-73z", (22.0, 318.0), (120.0, 318.0)),
    };
    Shape { outline, balloon, point }
}

/// Of a balloon, with room for two figures.
const RADIUS: f64 = 16.0;

/// The order in which the parts are drawn, so that none hides another.
const BACK_TO_FRONT: [LoopPart; 12] = [
    LoopPart::Column,
    LoopPart::Head,
    LoopPart::Quill,
    LoopPart::Shaft,
    LoopPart::FrontBearing,
    LoopPart::RearBearing,
    LoopPart::Taper,
    LoopPart::HolderJoint,
    LoopPart::Table,
    LoopPart::Part,
    LoopPart::Holding,
    LoopPart::Cutter,
];

/// The way of the force.
const LOOP: &str = "M198 316V110H325V439H167V386H155V330H188";

/// The picture: each part tinted by its share (0 to 1) of the movement, and
/// numbered by its place in the list beside it, both as `ranked` says.
pub fn loop_picture(ranked: impl Fn(LoopPart) -> Option<(usize, f64)>) -> AnyView {
    let share = |part| ranked(part).map_or(0.0, |(_, share)| share);
    let largest = LoopPart::ALL.into_iter().map(share).fold(0.01, f64::max);
    let bodies = BACK_TO_FRONT
        .map(|part| {
            let Shape { outline, .. } = shape(part);
            let tint = format!("{:.2}", 0.75 * share(part) / largest);
            let hatch = part.is_bearing().then(|| view! { <path d=outline fill=CROSSED /> });
            view! {
                <path class="loop-body" d=outline />
                <path class="loop-tint" d=outline fill-opacity=tint />
                {hatch}
            }
        })
        .collect_view();
    let balloons = LoopPart::ALL
        .map(|part| {
            let Shape { balloon: (x, y), point: (to_x, to_y), .. } = shape(part);
            let from_x = if to_x > x { x + 82.0 } else { x - RADIUS };
            let percent = match 100.0 * share(part) {
                small if small < 0.5 => "<1 %".to_owned(),
                percent => format!("{percent:.0} %"),
            };
            view! {
                <path class="loop-leader" d=format!("M{from_x} {y}L{to_x} {to_y}") />
                <circle class="loop-point" cx=to_x cy=to_y r="3" />
                <circle class="loop-balloon" cx=x cy=y r=RADIUS />
                <text class="loop-number" x=x y=y + 5.5>{ranked(part).map(|(place, _)| place)}</text>
                <text class="loop-share" x=x + RADIUS + 4.0 y=y + 6.0>{percent}</text>
            }
        })
        .collect_view();
    view! {
        <svg class="loop" viewBox="0 0 450 460" role="img" aria-labelledby="loop-title loop-desc">
            <title id="loop-title">"The loop of force through the machine"</title>
            <desc id="loop-desc">
                "A light mill from the side. From the cutter the force goes up through holder, taper, spindle and bearings into quill and head, down the column to the base, and up through table and workholding to the part. The list beside the picture gives each one’s share."
            </desc>
            <path class="loop-bench" d="M50 454h336" />
            {bodies}
            <path class="loop-way" d=LOOP />
            {balloons}
        </svg>
    }
    .into_any()
}
