//! Mounts the app. Natively there is nothing to show: see `assess`.

#[cfg(target_arch = "wasm32")]
mod app;

#[cfg(target_arch = "wasm32")]
fn main() {
    app::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    println!("Spindlewise runs in a browser: start it with `cargo app`.");
}
