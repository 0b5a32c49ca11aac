//! The surfaces a cut leaves.

use serde::{Deserialize, Serialize};

/// The surfaces whose finish counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Surfaces {
    /// Made by the cutter's side.
    pub wall: bool,
    /// Made by its end.
    pub floor: bool,
}

impl Surfaces {
    /// The roughness that counts, of a wall and a floor that rough.
    pub fn rougher(self, wall: f64, floor: f64) -> f64 {
        let wall = if self.wall { wall } else { 0.0 };
        let floor = if self.floor { floor } else { 0.0 };
        wall.max(floor)
    }
}
