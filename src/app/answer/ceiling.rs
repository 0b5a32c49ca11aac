//! The most that any bearing could bring.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Figure, Prediction, of_hundred};
use spindlewise_engine::quantity::Dimension;

use super::sheet::{Sheet, figure_attributes};
use super::sourced::{sourced, spread};
use super::words::{DEPTH, ROUGHNESS, change, count, percent};
use crate::app::charts::{Linear, share_bar};
use crate::app::components::{compare, details};

/// The section.
pub fn section(sheet: &Sheet) -> AnyView {
    let ceiling = &sheet.decision.ceiling;
    let (now, perfect) = (&sheet.decision.now, &ceiling.prediction);
    let surface = sheet.surface();
    let units = sheet.units;
    let row = |name: String, [now, then, change]: [AnyView; 3]| {
        view! {
            <tr>
                <th scope="row">{name}</th>
                <td data-label="Now">{now}</td>
                <td data-label="Perfect bearings">{then}</td>
                <td data-label="Change">{change}</td>
            </tr>
        }
    };
    let roughness = |figure, of| spread(figure, surface.roughness(of), Dimension::Roughness, units);
    let depth = |figure, of: &Prediction| spread(figure, of.depth_limit, Dimension::Length, units);
    let rows = [
        row(
            format!("Roughness Ra of the {}", surface.name()),
            [
                roughness(surface.figure(), now),
                roughness(Figure::Ceiling, perfect),
                sourced(Figure::Change, change(surface.change(&ceiling.change), ROUGHNESS)),
            ],
        ),
        row(
            "Deepest cut without chatter".into(),
            [
                depth(Figure::DepthLimit, now),
                depth(Figure::Ceiling, perfect),
                sourced(Figure::Change, change(ceiling.change.depth_limit, DEPTH)),
            ],
        ),
        row(
            "Reaches your goal".into(),
            [
                sourced(Figure::Reach, count(now.reach)),
                sourced(Figure::Ceiling, count(perfect.reach)),
                sourced(Figure::Change, difference(now.reach, perfect.reach)),
            ],
        ),
    ];
    let shallower = ceiling.change.depth_limit.low < 0.995;
    let figures = view! {
        <p>
            "Springs in a row add up. A bearing without any give and without any play takes away the bearings’ own part of the movement, and nothing else: column, quill, cutter and part go on moving as before."
        </p>
        {compare(&["", "Now", "Perfect bearings", "Change"], rows.into_any())}
        {shallower.then(|| view! {
            <p class="budget-note">
                "Why shallower at all: a stiffer spindle rings at another pitch, and so has other good speeds. Some machines then do worse at yours."
            </p>
        })}
    };
    view! {
        <section class="ceiling" aria-labelledby="ceiling">
            <h2 id="ceiling">"The ceiling on new bearings"</h2>
            <p class="ceiling-share" {..figure_attributes("ceiling.share", ceiling.share)}>
                "Perfect bearings can remove at most about "
                {sourced(Figure::Ceiling, view! { <strong>{percent(ceiling.share.mid)}</strong> })}
                " of the movement: between " {sourced(Figure::Ceiling, percent(ceiling.share.low))} " and "
                {sourced(Figure::Ceiling, percent(ceiling.share.high))} " on eight in ten machines like yours. Real ones do less."
            </p>
            {share_bar(ceiling.share, true, Linear::holding(1.0))}
            <div class="budget-axis" aria-hidden="true">
                <span>"nothing"</span>
                <span>"half of the movement"</span>
                <span>"all of it"</span>
            </div>
            {details("Why, and what perfect bearings would bring", figures.into_any())}
        </section>
    }
    .into_any()
}

/// The difference of two probabilities, as they are shown.
fn difference(before: f64, after: f64) -> String {
    match of_hundred(after).cast_signed() - of_hundred(before).cast_signed() {
        0 => "no more".into(),
        more @ 1.. => format!("{more} more"),
        fewer => format!("{} fewer", -fewer),
    }
}
