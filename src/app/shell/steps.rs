//! The list of steps, and the way back and on.

use crate::app::prelude::*;
use leptos::ev;
use leptos::html::Ol;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::app::route::Route;

/// The steps as a scale to jump along. Where it is wider than the screen it
/// can be pushed along; the step at hand comes to its middle, and so does one
/// that the keyboard reaches.
pub fn steps(here: Memo<Route>) -> AnyView {
    let scale = NodeRef::<Ol>::new();
    Effect::new(move |_| {
        here.track();
        // By the next frame the step is marked.
        request_animation_frame(move || {
            let Some(scale) = scale.get_untracked() else { return };
            if let Ok(Some(step)) = scale.query_selector("[aria-current]") {
                centre(&scale, &step.unchecked_into());
            }
        });
    });
    let reached = move |event: ev::FocusEvent| {
        let step: HtmlElement = event_target(&event);
        // Not one that is pressed: it would slip away under the finger.
        if let (Some(scale), Ok(true)) = (scale.get_untracked(), step.matches(":focus-visible")) {
            centre(&scale, &step);
        }
    };
    let step = |(index, step): (usize, Route)| {
        view! {
            <li>
                <a href=step.href() aria-current=move || (here.get() == step).then_some("step")>
                    <span class="number">{index + 1}</span>
                    <span class="title">{step.title()}</span>
                </a>
            </li>
        }
    };
    let steps = Route::STEPS.into_iter().enumerate().map(step).collect_view();
    view! {
        <nav class="steps" aria-label="Steps">
            <ol node_ref=scale on:focusin=reached>{steps}</ol>
        </nav>
    }
    .into_any()
}

fn centre(scale: &HtmlElement, step: &HtmlElement) {
    scale.set_scroll_left(step.offset_left() - (scale.client_width() - step.offset_width()) / 2);
}

/// Back and next, in the same place on every page.
pub fn onward(here: Memo<Route>) -> AnyView {
    let back = move || {
        here.get().neighbours().0.map(|step| {
            view! { <a class="button" href=step.href()><span aria-hidden="true">"← "</span> "Back: " {step.title()}</a> }
        })
    };
    let next = move || {
        here.get().neighbours().1.map(|step| {
            view! {
                <a class="button primary" href=step.href()>"Next: " {step.title()} <span aria-hidden="true">" →"</span></a>
            }
        })
    };
    let to_answer = move || {
        (here.get() == Route::Scenarios).then(|| {
            view! { <a class="button primary" href=Route::Trouble.href()>"Back to the questions"</a> }
        })
    };
    view! { <nav class="onward" aria-label="Back and next">{back} {next} {to_answer}</nav> }.into_any()
}
