//! The most that any bearing could bring.

use leptos::prelude::*;
use spindlewise_engine::decision::{Figure, Spread};
use spindlewise_engine::quantity::Dimension;

use super::sheet::{Sheet, figure_attributes};
use super::sourced::sourced;
use super::words::{DEPTH, ROUGHNESS, change, count, middle, of_hundred, percent, range};
use crate::app::charts::{Linear, share_bar};

/// The section.
pub fn section(sheet: &Sheet) -> AnyView {
    let ceiling = &sheet.decision.ceiling;
    let (now, perfect) = (&sheet.decision.now, &ceiling.prediction);
    let surface = sheet.surface();
    let shown = |value: Spread, dimension| {
        view! { {middle(value, dimension, sheet.units)} <small>{range(value, dimension, sheet.units)}</small> }
    };
    let rough = Dimension::Roughness;
    let roughness = [surface.roughness(now), surface.roughness(perfect)].map(|value| shown(value, rough));
    let depth = [now.depth_limit, perfect.depth_limit].map(|value| shown(value, Dimension::Length));
    let [rough_now, rough_then] = roughness;
    let [depth_now, depth_then] = depth;
    view! {
        <section class="ceiling" aria-labelledby="ceiling">
            <h2 id="ceiling">"The ceiling on new bearings"</h2>
            <p class="ceiling-share" {..figure_attributes("ceiling.share", ceiling.share)}>
                "Perfect bearings can remove at most about "
                {sourced(Figure::Ceiling, view! { <strong>{percent(ceiling.share.mid)}</strong> })}
                " of the movement: between " {percent(ceiling.share.low)} " and "
                {percent(ceiling.share.high)} " on eight in ten machines like yours."
            </p>
            {share_bar(ceiling.share, true, Linear::holding(1.0))}
            <div class="budget-axis" aria-hidden="true">
                <span>"nothing"</span>
                <span>"half of the movement"</span>
                <span>"all of it"</span>
            </div>
            <p>
                "Springs in a row add up. A bearing without any give and without any play takes away the bearings’ own part of the movement, and nothing else: column, quill, cutter and part go on moving as before. A real bearing does less than a perfect one."
            </p>
            <table class="compare">
                <thead>
                    <tr>
                        <td></td>
                        <th scope="col">"Now"</th>
                        <th scope="col">"Perfect bearings"</th>
                        <th scope="col">"Change"</th>
                    </tr>
                </thead>
                <tbody>
                    <tr>
                        <th scope="row">"Roughness Ra of the " {surface.name()}</th>
                        <td data-label="Now">{sourced(surface.figure(), rough_now)}</td>
                        <td data-label="Perfect bearings">{rough_then}</td>
                        <td data-label="Change">{change(surface.change(&ceiling.change), ROUGHNESS)}</td>
                    </tr>
                    <tr>
                        <th scope="row">"Deepest cut without chatter"</th>
                        <td data-label="Now">{sourced(Figure::DepthLimit, depth_now)}</td>
                        <td data-label="Perfect bearings">{depth_then}</td>
                        <td data-label="Change">{change(ceiling.change.depth_limit, DEPTH)}</td>
                    </tr>
                    <tr>
                        <th scope="row">"Reaches your goal"</th>
                        <td data-label="Now">{sourced(Figure::Reach, count(now.reach))}</td>
                        <td data-label="Perfect bearings">{count(perfect.reach)}</td>
                        <td data-label="Change">{difference(now.reach, perfect.reach)}</td>
                    </tr>
                </tbody>
            </table>
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
