//! What must hold for whatever comes in from outside: typed text, files, links,
//! recordings. One home of these properties, shared by the fuzz targets and by
//! `tests/kept_findings.rs`, which tries all that was found worth keeping.

mod backup;
mod link;
mod quantity;
mod recording;
mod scenario;

/// Tries one reader with `bytes` and panics where a property is broken; says
/// whether it took them.
pub type Target = fn(&[u8]) -> bool;

/// Every reader by the name of its folders in `corpus` and `findings`.
pub const TARGETS: [(&str, Target); 5] = [
    ("quantity", quantity::holds),
    ("scenario", scenario::holds),
    ("backup", backup::holds),
    ("link", link::holds),
    ("recording", recording::holds),
];

/// What is said to a person: something, in a sentence, and no more than is read.
#[track_caller]
fn is_said(message: &str) {
    const LONGEST: usize = 600;
    assert!(message.ends_with(['.', ')']), "not a sentence: {message}");
    assert!(message.chars().count() <= LONGEST, "{} characters: {message}", message.len());
}
