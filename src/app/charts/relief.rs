//! A surface as the light falls on it.

use crate::app::prelude::*;
use leptos::html::Canvas;
use spindlewise_engine::mechanics::simulation::Relief;
use wasm_bindgen::{Clamped, JsCast};
use web_sys::{CanvasRenderingContext2d, ImageData};

/// Picture size in its own pixels.
const WIDTH: u32 = 840;
const HEIGHT: u32 = 240;

/// The light that several surfaces are seen in: slopes are drawn so many times
/// as steep, so that the roughest of them just shows its full contrast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Light {
    /// How many times.
    pub steeper: f64,
}

impl Light {
    /// For surfaces that are to be compared.
    pub fn over<'a>(surfaces: impl IntoIterator<Item = &'a Relief>) -> Self {
        /// Root mean square slope that reads well under a low light.
        const READABLE: f64 = 0.55;
        let steepest = surfaces.into_iter().map(Relief::steepness).fold(1e-6, f64::max);
        Light { steeper: READABLE / steepest }
    }

    /// Brightness, 0 to 1, where a surface rises by `along` and `up`: matt
    /// metal under a low lamp from the upper left, with a little shine.
    fn on(self, along: f64, up: f64) -> f64 {
        const LAMP: [f64; 3] = [-0.72, 0.16, 0.675];
        let normal = [-self.steeper * along, -self.steeper * up, 1.0];
        let length = normal.iter().map(|part| part * part).sum::<f64>().sqrt();
        let facing = normal.iter().zip(LAMP).map(|(n, l)| n * l).sum::<f64>() / length;
        // Halfway between the lamp and an eye straight above.
        let half = [LAMP[0], LAMP[1], LAMP[2] + 1.0];
        let half_length = half.iter().map(|part| part * part).sum::<f64>().sqrt();
        let shine = normal.iter().zip(half).map(|(n, h)| n * h).sum::<f64>() / (length * half_length);
        0.12 + 0.78 * facing.max(0.0) + 0.25 * shine.max(0.0).powi(24)
    }
}

/// The picture of `relief`; `meaning` says what is to be seen.
pub fn relief_picture(relief: Relief, light: Light, meaning: String) -> AnyView {
    let canvas = NodeRef::<Canvas>::new();
    Effect::new(move |_| {
        let context = canvas.get().and_then(|canvas| canvas.get_context("2d").ok().flatten());
        let Some(context) = context.and_then(|context| context.dyn_into::<CanvasRenderingContext2d>().ok()) else {
            return;
        };
        let pixels = paint(&relief, light);
        if let Ok(image) = ImageData::new_with_u8_clamped_array_and_sh(Clamped(&pixels), WIDTH, HEIGHT) {
            // Fails only on pixels of another page.
            _ = context.put_image_data(&image, 0.0, 0.0);
        }
    });
    view! { <canvas class="relief" node_ref=canvas width=WIDTH height=HEIGHT role="img" aria-label=meaning></canvas> }
        .into_any()
}

/// Red, green, blue and opacity of every pixel, row by row from the top.
fn paint(relief: &Relief, light: Light) -> Vec<u8> {
    let (length, height) = relief.size();
    let (dx, dy) = (length / f64::from(WIDTH), height / f64::from(HEIGHT));
    let mut pixels = Vec::with_capacity((4 * WIDTH * HEIGHT) as usize);
    for row in 0..HEIGHT {
        let y = height - (f64::from(row) + 0.5) * dy;
        for column in 0..WIDTH {
            let x = (f64::from(column) + 0.5) * dx;
            let along = (relief.height(x + dx, y) - relief.height(x - dx, y)) / (2.0 * dx);
            let up = (relief.height(x, y + dy) - relief.height(x, y - dy)) / (2.0 * dy);
            let bright = light.on(along, up);
            // Bare steel is a little blue.
            pixels.extend([0.96, 0.98, 1.0].map(|tint| (255.0 * tint * bright).clamp(0.0, 255.0) as u8));
            pixels.push(255);
        }
    }
    pixels
}
