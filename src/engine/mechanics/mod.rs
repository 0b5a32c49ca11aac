//! From a machine in a cut to what the cut does: force, compliance, play,
//! chatter, surface, grip.

pub mod beam;
pub mod bearing;
mod chain;
mod cutting;
pub mod demonstration;
mod exact;
mod feedback;
pub mod force;
pub mod grip;
pub mod lobes;
mod modes;
pub mod pair;
pub mod play;
mod self_feed;
pub mod simulation;
pub mod snap;
pub mod stability;
pub mod surface;
mod unknown;
mod width;

pub use chain::{Chain, Compliance, Inertia, LoopPart};
pub use cutting::{Bearings, CutForces, Motion, Outcome, Prepared, RADIAL_HOLD};
pub use exact::{Driven, Weakest};
pub use modes::{Chatter, ModeGroup, Modes, Push, chatter_limit};
pub use self_feed::self_feed_limit;
pub use unknown::{Estimates, Plausible, Unknown, usual};
