//! The steps of the wizard, and the page of saved scenarios. The answer has a
//! module of its own.

mod holding;
mod machine;
mod means;
mod readings;
mod scenarios;
mod trouble;
mod work;

pub use machine::BORE;
pub use readings::judged;

use crate::app::prelude::*;

use super::answer::answer_page;
use super::incut::in_the_cut_page;
use super::route::Route;
use super::trial::test_cuts_page;
use super::weighing::weighing_page;

/// The page of a route. What the last ones read while they are made is no
/// reason to make them anew.
pub fn view(route: Route) -> AnyView {
    match route {
        Route::Trouble => trouble::view(),
        Route::Machine => machine::view(),
        Route::Readings => readings::view(),
        Route::Work => work::view(),
        Route::Holding => holding::view(),
        Route::Means => means::view(),
        Route::Answer => untrack(answer_page).into_any(),
        Route::Weighing => untrack(weighing_page).into_any(),
        Route::InTheCut => untrack(in_the_cut_page).into_any(),
        Route::TestCuts => untrack(test_cuts_page).into_any(),
        Route::Scenarios => scenarios::view(),
    }
}
