//! Where the user is: `#/machine`, or `#/machine/machine.span` for one field.
//!
//! Hash routes work from any folder and from a file, and keep the browser's
//! back button and reload useful without a server.

use crate::app::prelude::*;
use leptos::ev::{click, hashchange};
use web_sys::Element;

use super::focus::{focus, unfold};

/// Begins the address of a scenario: `#/open/` and what [`link`](spindlewise_engine::scenario::link) makes of it.
const BROUGHT: &str = "open";

/// A page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Route {
    /// What brings the user here.
    #[default]
    Trouble,
    /// The machine.
    Machine,
    /// Readings taken on it.
    Readings,
    /// Material, cutter and cut.
    Work,
    /// Holding and direction.
    Holding,
    /// Money, hours and what is at hand.
    Means,
    /// The answer.
    Answer,
    /// Remedies together, and what the answer hangs on.
    Weighing,
    /// The cut from close by: directions, speeds, pictures.
    InTheCut,
    /// Cuts as it was and as it is now.
    TestCuts,
    /// The saved scenarios; no step of the wizard.
    Scenarios,
}

impl Route {
    /// The steps of the wizard in their order.
    pub const STEPS: [Route; 10] = [
        Route::Trouble,
        Route::Machine,
        Route::Readings,
        Route::Work,
        Route::Holding,
        Route::Means,
        Route::Answer,
        Route::Weighing,
        Route::InTheCut,
        Route::TestCuts,
    ];

    /// Its name in the address.
    pub fn slug(self) -> &'static str {
        match self {
            Route::Trouble => "trouble",
            Route::Machine => "machine",
            Route::Readings => "readings",
            Route::Work => "work",
            Route::Holding => "holding",
            Route::Means => "means",
            Route::Answer => "answer",
            Route::Weighing => "weighing",
            Route::InTheCut => "in-the-cut",
            Route::TestCuts => "test-cuts",
            Route::Scenarios => "scenarios",
        }
    }

    /// Its name in the list of steps.
    pub fn title(self) -> &'static str {
        match self {
            Route::Trouble => "Trouble",
            Route::Machine => "Machine",
            Route::Readings => "Readings",
            Route::Work => "Work",
            Route::Holding => "Holding",
            Route::Means => "Means",
            Route::Answer => "Answer",
            Route::Weighing => "Weighing",
            Route::InTheCut => "In the cut",
            Route::TestCuts => "Test cuts",
            Route::Scenarios => "Scenarios",
        }
    }

    /// Its address.
    pub fn href(self) -> String {
        format!("#/{}", self.slug())
    }

    /// The address of a place on it: a field's key or a group's name.
    pub fn href_to(self, anchor: &str) -> String {
        format!("#/{}/{anchor}", self.slug())
    }

    /// The page on which the field with this key is asked for.
    pub fn of_field(key: &str) -> Route {
        match key.split('.').next() {
            Some("machine") => Route::Machine,
            Some("readings") => Route::Readings,
            Some("cutter" | "cut") => Route::Work,
            Some("holding") => Route::Holding,
            Some("means") => Route::Means,
            Some("trial") => Route::TestCuts,
            _ => Route::Trouble,
        }
    }

    /// The step before and the step after.
    pub fn neighbours(self) -> (Option<Route>, Option<Route>) {
        let steps = Self::STEPS;
        let Some(here) = steps.iter().position(|&step| step == self) else {
            return (None, None);
        };
        (here.checked_sub(1).map(|before| steps[before]), steps.get(here + 1).copied())
    }
}

/// A page and, if the address names one, a place on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Location {
    /// The page.
    pub route: Route,
    /// The id of the element to go to.
    pub anchor: Option<String>,
    /// A scenario that the address brings along.
    pub brought: Option<String>,
}

impl Location {
    /// Reads a hash such as `#/readings/readings.tip.x`. What it doesn't know
    /// leads to the first step.
    pub fn parse(hash: &str) -> Self {
        let mut parts = hash.trim_start_matches('#').split('/').filter(|part| !part.is_empty());
        let name = parts.next().unwrap_or_default();
        if name == BROUGHT {
            return Location { route: Route::Scenarios, anchor: None, brought: parts.next().map(str::to_owned) };
        }
        let mut all = Route::STEPS.into_iter().chain([Route::Scenarios]);
        let route = all.find(|route| route.slug() == name).unwrap_or_default();
        Location { route, anchor: parts.next().map(element_id), brought: None }
    }
}

/// The address, in this same place, that brings along what is packed in `link`.
pub fn href_with(link: &str) -> String {
    let address = window().location().href().unwrap_or_default();
    let page = address.split('#').next().unwrap_or_default();
    format!("{page}#/{BROUGHT}/{link}")
}

/// Forgets what the address brought along.
pub fn forget_brought() {
    // In its place, so that neither "back" nor a reload brings it again.
    _ = window().location().replace(&Route::Scenarios.href());
}

/// The id of the input for a field's key.
pub fn element_id(key: &str) -> String {
    key.replace('.', "-")
}

/// Follows the address bar. Call once, at the root.
pub fn follow() -> RwSignal<Location> {
    let here = RwSignal::new(Location::parse(&hash()));
    window_event_listener(hashchange, move |_| here.set(Location::parse(&hash())));
    // A link to where the address points already changes nothing there, but it is
    // pressed to get there again.
    _ = window_event_listener(click, move |event| {
        let link = event_target::<Element>(&event).closest("a").ok().flatten();
        let to = link.filter(|_| !event.default_prevented()).and_then(|link| link.get_attribute("href"));
        if to.is_some_and(|to| to == hash()) {
            here.update(|_| ());
        }
    });
    Effect::new(move |before: Option<()>| {
        let Location { route, anchor, .. } = here.get();
        document().set_title(&format!("{} – Spindlewise", route.title()));
        // The page of a new route is in the document by the next frame.
        request_animation_frame(move || match anchor.as_deref().and_then(|id| document().get_element_by_id(id)) {
            Some(target) => bring_into_view(&target),
            None if before.is_some() => show_from_top(),
            None => {}
        });
    });
    here
}

/// Moves the keyboard to the page's heading.
pub fn focus_heading() {
    if let Ok(Some(heading)) = document().query_selector("main h1") {
        focus(&heading);
    }
}

fn hash() -> String {
    window().location().hash().unwrap_or_default()
}

fn show_from_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
    focus_heading();
}

fn bring_into_view(target: &Element) {
    unfold(target);
    // The style sheet's scroll margins keep it clear of what is sticky.
    target.scroll_into_view();
    focus(target);
}
