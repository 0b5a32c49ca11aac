//! Charts: small drawings in SVG beside text that says the same. What is told
//! apart by colour is told apart by hatching or shape too.

mod compass;
mod figure;
mod hatch;
mod hundred;
mod loop_picture;
mod mark;
mod relief;
mod scale;
mod share_bar;
mod speed_chart;
mod strip;
mod traces;

pub use compass::compass;
pub use figure::{Table, chart};
pub use hatch::hatches;
pub use hundred::hundred;
pub use loop_picture::loop_picture;
pub use mark::{Mark, mark};
pub use relief::{Light, relief_picture};
pub use scale::{Linear, Ratio};
pub use share_bar::share_bar;
pub use speed_chart::{SpeedAxes, speed_chart};
pub use strip::{Interval, strip};
pub use traces::{Line, traces};
