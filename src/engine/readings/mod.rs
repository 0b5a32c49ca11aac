//! Shop measurements: what each observes, how good it is, and what the
//! machine must then be like.

mod guide;
mod infer;
mod kinds;
mod observe;
mod sobol;

pub use guide::{Guide, ReadingGroup, minutes};
pub use infer::{Sample, misfit, sample, usual_given};
pub use kinds::{FinishJudged, Place, Reading, ReadingKind};
pub use observe::{observe, observe_for};
pub use sobol::{DIMENSIONS, sobol};
