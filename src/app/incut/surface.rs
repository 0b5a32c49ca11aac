//! The surface as the light falls on it, before and after.

use crate::app::prelude::*;
use spindlewise_engine::decision::{CloseUp, Figure, SurfacePicture};
use spindlewise_engine::quantity::{Dimension, UnitSystem, format};

use super::middle::Pair;
use crate::app::answer::words::middle;
use crate::app::answer::{Surface, point, sourced};
use crate::app::charts::{Light, relief_picture};

/// Both pictures of one surface.
pub fn pictures(pair: &Pair, surface: Surface, title: &str, units: UnitSystem) -> AnyView {
    let of = |cut: &CloseUp| match surface {
        Surface::Wall => cut.wall.clone(),
        Surface::Floor => cut.floor.clone(),
    };
    let Some((now, then)) = of(&pair.now).zip(of(&pair.then)) else {
        return view! { <p class="note">"This cut leaves too little of that surface to draw."</p> }.into_any();
    };
    let light = Light::over([&now.relief, &then.relief]);
    view! {
        <div class="reliefs">
            {picture("As it is now".into(), now, light, units)}
            {picture(format!("With “{title}”"), then, light, units)}
        </div>
    }
    .into_any()
}

fn picture(title: String, surface: SurfacePicture, light: Light, units: UnitSystem) -> impl IntoView {
    let SurfacePicture { relief, motion, cutoff, grain } = surface;
    let rough = |value| middle(point(value), Dimension::Roughness, units);
    let (length, height) = relief.size();
    let (ra, rz) = (rough((motion.ra * motion.ra + grain * grain).sqrt()), rough(motion.rz));
    let meaning = format!("{title}: surface of roughness Ra {ra} under a low light");
    let bar = scale_bar(length, Dimension::Length.default_unit(units).factor);
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
                <strong>{title}</strong>
                ": Ra " {sourced(Figure::Simulated, ra)} ". Motion and feed marks alone: Ra "
                {sourced(Figure::Simulated, rough(motion.ra))} ", Rz " {sourced(Figure::Simulated, rz)}
                " at a cut-off of " {format(cutoff, Dimension::Length, units)} ". "
                {format(length, Dimension::Length, units)} " by " {format(height, Dimension::Length, units)}
                " of it, slopes drawn " {format!("{:.0}", light.steeper)} " times as steep."
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
