//! Charts: small drawings in SVG beside text that says the same. What is told
//! apart by colour is told apart by hatching or shape too.

mod compass;
mod curves;
mod dot_plot;
mod figure;
mod hatch;
mod hundred;
mod index_bar;
mod loop_picture;
mod mark;
mod places;
mod relief;
mod scale;
mod share_bar;
mod speed_chart;
mod stairs;
mod strip;
mod traces;

pub use compass::compass;
pub use curves::{Curve, DASHES, curve_key, curves_chart};
pub use dot_plot::dot_plot;
pub use figure::{Table, axis_names, chart};
pub use hatch::hatches;
pub use hundred::hundred;
pub use index_bar::index_bar;
pub use loop_picture::loop_picture;
pub use mark::{Mark, mark};
pub use places::Grades;
pub use relief::{Light, relief_picture};
pub use scale::{Linear, Ratio, round_above};
pub use share_bar::share_bar;
pub use speed_chart::{SpeedAxes, speed_chart};
pub use stairs::{Marks, Scale, Stair, stairs_chart};
pub use strip::{Interval, strip};
pub use traces::{Line, overlaid, traces};
