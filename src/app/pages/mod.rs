//! The steps of the wizard, and the page of saved scenarios. The answer has a
//! module of its own.

mod holding;
mod machine;
mod means;
mod readings;
mod scenarios;
mod trouble;
mod work;

use leptos::prelude::*;

use super::answer::AnswerPage;
use super::incut::InTheCutPage;
use super::route::Route;
use super::weighing::WeighingPage;

/// The page of a route.
pub fn view(route: Route) -> AnyView {
    match route {
        Route::Trouble => trouble::view(),
        Route::Machine => machine::view(),
        Route::Readings => readings::view(),
        Route::Work => work::view(),
        Route::Holding => holding::view(),
        Route::Means => means::view(),
        Route::Answer => AnswerPage().into_any(),
        Route::Weighing => WeighingPage().into_any(),
        Route::InTheCut => InTheCutPage().into_any(),
        Route::Scenarios => scenarios::view(),
    }
}
