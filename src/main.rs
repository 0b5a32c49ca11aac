//! Runs the app. Natively there is nothing to show: see `assess`.

#[cfg(target_arch = "wasm32")]
mod app;

/// Parts of the page that need no browser, so that their tests run natively.
#[cfg(all(test, not(target_arch = "wasm32")))]
#[allow(dead_code, reason = "what uses them is the page")]
#[path = "app"]
mod plain {
    #[path = "pages/scenarios/address.rs"]
    mod address;
    #[path = "components/name.rs"]
    mod name;
    #[path = "charts/places.rs"]
    mod places;
    #[path = "charts/scale.rs"]
    mod scale;
    #[path = "components/step.rs"]
    mod step;
    #[path = "answer/words.rs"]
    mod words;
}

#[cfg(target_arch = "wasm32")]
fn main() {
    app::run();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    println!("Spindlewise runs in a browser: start it with `cargo app`.");
}
