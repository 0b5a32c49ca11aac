//! What the user has settled about the remedies: what is done in any case, and
//! what is out of the question.

use crate::app::prelude::*;
use spindlewise_engine::remedies::{RemedyId, RemedySet, Unmet, remedy};
use spindlewise_engine::scenario::Choices;

use super::sheet::{Sheet, wire_name};
use crate::app::state::workbench;

/// What the user has said about a remedy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stance {
    Open,
    Done,
    RuledOut,
}

impl Stance {
    /// Every one, with its name in addresses and in words.
    const ALL: [(Stance, &'static str, &'static str); 3] = [
        (Stance::Open, "open", "Consider it"),
        (Stance::Done, "done", "I have done it, or will anyway"),
        (Stance::RuledOut, "ruled-out", "Rule it out"),
    ];

    fn of(choices: &Choices, id: RemedyId) -> Self {
        if choices.done.contains(&id) {
            Stance::Done
        } else if choices.ruled_out.contains(&id) {
            Stance::RuledOut
        } else {
            Stance::Open
        }
    }

    fn take(self, choices: &mut Choices, id: RemedyId) {
        for (list, stance) in [(&mut choices.done, Stance::Done), (&mut choices.ruled_out, Stance::RuledOut)] {
            list.retain(|&other| other != id);
            if self == stance {
                list.push(id);
            }
        }
    }
}

/// The choice, for a remedy that can be done or not.
pub fn choice(id: RemedyId) -> Option<AnyView> {
    (id != RemedyId::LeaveAlone).then(|| radios(id))
}

/// The choice, for one that can't be had: where it could make a difference.
pub fn choice_of_refused(id: RemedyId, unmet: &[Unmet]) -> Option<AnyView> {
    let bench = workbench();
    let settled = bench.scenario.with_untracked(|scenario| Stance::of(&scenario.choices, id)) != Stance::Open;
    let hopeless = unmet.iter().any(|unmet| matches!(unmet, Unmet::AlreadySo | Unmet::DoesNotApply | Unmet::NotBored));
    (settled || !hopeless).then(|| radios(id))
}

fn radios(id: RemedyId) -> AnyView {
    let bench = workbench();
    let stance = Memo::new(move |_| bench.scenario.with(|scenario| Stance::of(&scenario.choices, id)));
    let name = format!("settle-{}", wire_name(&id));
    let options = Stance::ALL.map(|(one, value, label)| {
        let input = format!("{name}-{value}");
        view! {
            <span class="option">
                <input
                    type="radio"
                    id=input.clone()
                    name=name.clone()
                    value=value
                    prop:checked=move || stance.get() == one
                    on:change=move |_| bench.update(|scenario| one.take(&mut scenario.choices, id))
                />
                <label for=input>{label}</label>
            </span>
        }
    });
    view! {
        <fieldset class="settle">
            <legend class="unseen">"What about this: " {remedy(id).title} "?"</legend>
            {options.into_iter().collect_view()}
        </fieldset>
    }
    .into_any()
}

/// What is settled, on top of the remedies, each with the way back.
pub fn settled(sheet: &Sheet) -> Option<AnyView> {
    let settled = sheet.case().settled;
    (!settled.done.is_empty() || !settled.ruled_out.is_empty()).then(|| {
        view! {
            <div class="settled">
                {list("Reckoned as done", "All else is judged with it in place, and what it costs is spent already.", settled.done)}
                {list("Ruled out", "Left out of everything here.", settled.ruled_out)}
            </div>
        }
        .into_any()
    })
}

fn list(heading: &'static str, meaning: &'static str, remedies: RemedySet) -> Option<AnyView> {
    let bench = workbench();
    let row = move |id: RemedyId| {
        let back = move |_| bench.update(|scenario| Stance::Open.take(&mut scenario.choices, id));
        view! {
            <li>
                <span>{remedy(id).title}</span>
                <button type="button" id=format!("settled-{}", wire_name(&id)) on:click=back>
                    "Consider it again" <span class="unseen">": " {remedy(id).title}</span>
                </button>
            </li>
        }
    };
    (!remedies.is_empty()).then(|| {
        view! {
            <div>
                <h3>{heading} ":"</h3>
                <p>{meaning}</p>
                <ul>{remedies.iter().map(row).collect_view()}</ul>
            </div>
        }
        .into_any()
    })
}
