//! What machines of a kind usually show.

use super::Spread;
use super::fit::SEED;
use crate::mechanics::{Prepared, usual};
use crate::readings::{Observer, ReadingKind, sample};
use crate::work::Setup;

/// Enough for two figures of a spread.
const DRAWS: usize = 256;

/// What each reading would show on machines of this kind set up like this, before
/// any reading is taken; in the base unit of its dimension.
pub fn typical(setup: &Setup, kinds: &[ReadingKind]) -> Vec<Spread> {
    let prepared = Prepared::new(setup);
    let machines = sample(&usual(setup), &prepared, &[], DRAWS, 0, SEED).machines;
    let observer = Observer::new(&prepared, kinds.iter().copied());
    let shown = |&kind: &ReadingKind| Spread::of(machines.iter().map(|iron| observer.expected(kind, iron)).collect());
    kinds.iter().map(shown).collect()
}
