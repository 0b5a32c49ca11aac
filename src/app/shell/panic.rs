//! When the program stops by a fault of its own, the page must say so: nothing
//! on it works any more.

use std::panic;

use crate::app::host;

/// From now on a panic is logged and shown.
pub fn install() {
    panic::set_hook(Box::new(|info| {
        console_error_panic_hook::hook(info);
        host::stopped("Spindlewise has stopped", "It met a fault of its own.", &info.to_string());
    }));
}
