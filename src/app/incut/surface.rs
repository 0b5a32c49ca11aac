//! The surface as the light falls on it, before and after.

use crate::app::prelude::*;
use spindlewise_engine::decision::{CloseUp, Figure, Spread, SurfacePicture};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format, format_estimate, format_number};

use super::middle::Pair;
use crate::app::answer::{Surface, sourced};
use crate::app::charts::{Light, relief_picture};

/// Both pictures of one surface.
pub fn pictures(pair: &Pair, surface: Surface, title: &str, answer: Option<Spread>, units: UnitSystem) -> AnyView {
    let of = |cut: &CloseUp| match surface {
        Surface::Wall => cut.wall.clone(),
        Surface::Floor => cut.floor.clone(),
    };
    let Some((now, then)) = of(&pair.now).zip(of(&pair.then)) else {
        return view! { <p class="note">"This cut leaves too little of that surface to draw."</p> }.into_any();
    };
    let apart = answer.and_then(|answer| pair.now.apart(&now, surface.name(), answer, units));
    let light = Light::over([&now.relief, &then.relief]);
    view! {
        <p class="surface-change">{then.against(&now, units)}</p>
        {apart.map(|said| view! { <p class="note" id="surface-apart">{said}</p> })}
        <div class="reliefs">
            {picture("As it is now".into(), now, light, units)}
            {picture(format!("With “{title}”"), then, light, units)}
        </div>
    }
    .into_any()
}

fn picture(title: String, surface: SurfacePicture, light: Light, units: UnitSystem) -> impl IntoView {
    let said = surface.ra_words(units);
    let SurfacePicture { relief, motion, cutoff, told, .. } = surface;
    let rough = |value| format_estimate(value, Dimension::Roughness, units);
    let (length, height) = relief.size();
    let meaning = format!("{title}, surface under a low light: {said}");
    let bar = scale_bar(length, Dimension::Length.default_unit(units).factor);
    let figure = if told { sourced(Figure::Simulated, said).into_any() } else { said.into_any() };
    let bare = told.then(|| {
        view! {
            " Movement and feed marks alone, without the grain that chips tear: Ra " {sourced(Figure::Simulated, rough(motion.ra))}
            ", Rz " {sourced(Figure::Simulated, rough(motion.rz))} ", waves longer than " {format(cutoff, Dimension::Length, units)}
            " left out."
        }
    });
    view! {
        <figure>
            {relief_picture(relief, light, meaning)}
            <p class="relief-scale" aria-hidden="true">
                <svg viewBox="0 0 100 10" preserveAspectRatio="none">
                    <path d=format!("M0 0V10M0 5H{0:.2}M{0:.2} 0V10", 100.0 * bar / (0.45 * length)) />
                </svg>
                {format(bar, Dimension::Length, units)}
            </p>
            <figcaption>
                <strong>{title.clone()}</strong> ": " {figure}
                <details class="chart-table">
                    <summary>"More about this picture" <span class="unseen">": " {title}</span></summary>
                    <p>
                        {format_estimate(length, Dimension::Length, units)} " by " {format_estimate(height, Dimension::Length, units)}
                        " of the surface; slopes are drawn " {format_number(light.steeper, 2)} " times as steep as they are." {bare}
                    </p>
                </details>
            </figcaption>
        </figure>
    }
}

/// The longest length (mm) that fits under a picture and is a round number of
/// units of `unit` mm.
fn scale_bar(length: f64, unit: f64) -> f64 {
    let most = 0.45 * length / unit;
    let decade = 10_f64.powf(most.log10().floor());
    unit * [5.0, 2.0, 1.0].into_iter().map(|step| step * decade).find(|&bar| bar <= most).unwrap_or(decade)
}
