//! Which way to feed.

use std::sync::Arc;

use crate::app::prelude::*;
use spindlewise_engine::decision::{Course, Directions, Figure, Stop, of_hundred};
use spindlewise_engine::quantity::{Dimension, UnitSystem};

use super::middle::Middle;
use super::page::waiting;
use crate::app::answer::words::count;
use crate::app::answer::{Surface, sourced, spread};
use crate::app::charts::{Mark, compass, mark};
use crate::app::later::later;
use crate::app::state::workbench;

/// Every way to feed.
pub fn directions(middle: RwSignal<Option<Arc<Middle>>>) -> RwSignal<Option<Arc<Directions>>> {
    later("directions", move || middle.get(), |middle: &Arc<Middle>| Directions::new(&middle.fit, &middle.machine))
}

/// The section.
pub fn section(directions: RwSignal<Option<Arc<Directions>>>) -> AnyView {
    let bench = workbench();
    let surface = move || bench.decision.with_untracked(|decision| decision.as_deref().map(Surface::that_counts));
    let shown = move || match (directions.get(), surface()) {
        (Some(directions), Some(surface)) => table(&directions, surface, bench.units()),
        _ => waiting(),
    };
    view! {
        <section aria-labelledby="direction">
            <h2 id="direction">"Which way to feed it"</h2>
            {shown}
        </section>
    }
    .into_any()
}

fn table(directions: &Directions, surface: Surface, units: UnitSystem) -> AnyView {
    // Both ways along an axis as one row where they come out the same.
    let mut rows: Vec<&Course> = Vec::new();
    for course in &directions.courses {
        let twin = rows.iter().position(|row| row.either_way && same_line(row, course));
        match twin {
            Some(at) if course.present => rows[at] = course,
            Some(_) => {}
            None => rows.push(course),
        }
    }
    let best = directions.best();
    let alone = rows.iter().filter(|course| course.like(best)).count() == 1;
    let body = rows.iter().map(|course| row(directions, course, (best, alone), surface, units)).collect_view();
    let alike = directions.courses.iter().any(|course| course.stop == Stop::None);
    view! {
        <p class="direction-sentence" id="direction-sentence">{directions.sentence(units)}</p>
        {directions.warning(units).map(|said| view! { <p class="direction-sentence" id="direction-warning">{said}</p> })}
        {compass(directions)}
        <ol class="courses">{body}</ol>
        {alike.then(|| view! {
            <p class="note">
                "To and fro along one axis comes to the same, with the cutter on the other side of the part: springs and masses don’t tell left from right. A stop does, and so do the slides; what you notice on your own machine counts for more."
            </p>
        })}
    }
    .into_any()
}

fn same_line(one: &Course, other: &Course) -> bool {
    one.heading.axis == other.heading.axis && one.heading.sense == other.heading.sense && one.stop == other.stop
}

fn row(
    directions: &Directions,
    course: &Course,
    best: (&Course, bool),
    surface: Surface,
    units: UnitSystem,
) -> AnyView {
    let prediction = &course.prediction;
    let (sign, said) = standing(course, best);
    let moves = prediction.slip.max(prediction.lift);
    view! {
        <li class="course" class:course-present=course.present data-course=course.title.clone() data-chatter=prediction.chatter.to_string()>
            <h3>{course.line(directions.kind)}</h3>
            <p class="standing">{mark(sign)} {said} {course.present.then_some(", and the way you cut now")}</p>
            <dl class="facts">
                <div>
                    <dt>"Deepest cut without chatter"</dt>
                    <dd>{spread(Figure::DepthLimit, prediction.depth_limit, Dimension::Length, units)}</dd>
                </div>
                <div>
                    <dt>"Roughness Ra of the " {surface.name()}</dt>
                    <dd>{spread(surface.figure(), course.finish, Dimension::Roughness, units)}</dd>
                </div>
                <div>
                    <dt>"Chatters at your depth"</dt>
                    <dd>{sourced(Figure::Chatter, count(prediction.chatter))}</dd>
                </div>
                <div>
                    <dt>"Pulls the table along"</dt>
                    <dd>{sourced(Figure::PullIn, count(prediction.pull_in))}</dd>
                </div>
                <div>
                    <dt>"The part slips or lifts"</dt>
                    <dd>{sourced(if prediction.slip > prediction.lift { Figure::Slip } else { Figure::Lift }, count(moves))}</dd>
                </div>
            </dl>
            <details class="more">
                <summary>"Why" <span class="unseen">" it goes so " {course.line(directions.kind)}</span></summary>
                <div class="inside"><p>{course.why(directions, units)}</p></div>
            </details>
        </li>
    }
    .into_any()
}

/// How a direction stands against the best, which may stand alone.
fn standing(course: &Course, (best, alone): (&Course, bool)) -> (Mark, &'static str) {
    match course {
        _ if course.dangerous => (Mark::Caution, "Not safe: the part or the table may move"),
        _ if course.like(best) => (Mark::Star, if alone { "Goes best" } else { "Goes as well as any" }),
        _ if course.quality > 0.7 * best.quality => (Mark::Waves, "Goes less well"),
        _ if of_hundred(course.prediction.chatter) >= 50 => (Mark::Cross, "Likely to chatter"),
        _ => (Mark::Cross, "Goes badly"),
    }
}
