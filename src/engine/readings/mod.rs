//! Shop measurements: what each observes, how good it is, and what the
//! machine must then be like.

mod error;
mod guide;
mod infer;
mod kinds;
mod observe;
mod sobol;
mod told_by;

pub use error::{Gauges, ReadingError};
pub use guide::{Guide, ReadingGroup, minutes};
pub use infer::{AT_ODDS, Agreement, HEAVY_TAIL, Sample, sample, usual_given};
pub use kinds::{FinishJudged, Place, Reading, ReadingKind};
pub use observe::{Observer, in_errors, misfit, observe, told_by_cut};
pub use sobol::{DIMENSIONS, scattered, sobol};
pub use told_by::told_by;
