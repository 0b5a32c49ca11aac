//! The fuzz targets: one program, and the variable `FUZZ_TARGET` says which of
//! the readers in `properties` it tries.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use properties::{TARGETS, Target};

static CHOSEN: LazyLock<Target> = LazyLock::new(|| {
    let name = std::env::var("FUZZ_TARGET").unwrap_or_default();
    let known = TARGETS.iter().find(|(known, _)| *known == name);
    known.unwrap_or_else(|| panic!("FUZZ_TARGET names no target: “{name}”")).1
});

fuzz_target!(|bytes: &[u8]| {
    _ = CHOSEN(bytes);
});
