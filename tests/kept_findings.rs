//! Whatever comes in from outside is read or refused, and what must hold of it
//! holds: for the examples that fuzzing starts from, and for all that it has
//! found (`cargo task fuzz`, which keeps a finding in `tests/fuzz/findings`).

#[path = "fuzz/properties/mod.rs"]
mod properties;

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use properties::TARGETS;

/// Everything kept for one target, and what earlier versions wrote.
fn kept(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let folders = [format!("fuzz/corpus/{target}"), format!("fuzz/findings/{target}"), "data/scenarios".to_owned()];
    let files = folders.iter().filter_map(|folder| fs::read_dir(tests.join(folder)).ok()).flatten();
    let mut files: Vec<PathBuf> = files.map(|file| file.expect("a file").path()).collect();
    files.sort();
    files.into_iter().map(|path| (path.clone(), fs::read(&path).expect("a file to read"))).collect()
}

#[test]
fn what_fuzzing_has_tried_before_holds() {
    for (target, holds) in TARGETS {
        let (mut taken, mut refused) = (0, 0);
        for (path, bytes) in kept(target) {
            println!("{target}: {}", path.display());
            *(if holds(&bytes) { &mut taken } else { &mut refused }) += 1;
        }
        // Were all of one kind, half of the properties would not be tried.
        assert!(taken >= 2 && refused >= 2, "{target}: {taken} taken, {refused} refused");
    }
}

/// A page that reads while somebody types may not take longer and longer over
/// it. Were it to look at every byte for every other one, this would take minutes.
#[test]
fn long_input_takes_no_longer_than_it_is_long() {
    const LONG: usize = 50_000;
    const LONGEST_TIME: Duration = Duration::from_secs(20);
    for (target, holds) in TARGETS {
        for (path, bytes) in kept(target).iter().filter(|(_, bytes)| !bytes.is_empty()) {
            let long: Vec<u8> = bytes.iter().copied().cycle().take(LONG).collect();
            let start = Instant::now();
            holds(&long);
            assert!(start.elapsed() < LONGEST_TIME, "{target}: {} over and over", path.display());
        }
    }
}
