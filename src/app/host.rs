//! What the page's own script (`src/page/start.js`) does for the program.

use wasm_bindgen::prelude::*;
use web_sys::Worker;

#[wasm_bindgen]
extern "C" {
    /// A worker that runs this program.
    ///
    /// # Errors
    /// The browser's own, where it makes none.
    #[wasm_bindgen(js_namespace = spindlewise, catch)]
    pub fn worker() -> Result<Worker, JsValue>;

    /// Puts a plain page with a heading, a sentence and a detail in place of
    /// what no longer works.
    #[wasm_bindgen(js_namespace = spindlewise)]
    pub fn stopped(heading: &str, what: &str, detail: &str);

    /// Whether a newer version waits to take the place of this one.
    #[wasm_bindgen(js_namespace = spindlewise)]
    pub fn newer() -> bool;

    /// Reloads the page in the newer version.
    #[wasm_bindgen(js_namespace = spindlewise)]
    pub fn renew();
}
