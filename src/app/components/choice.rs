//! Questions answered by picking: large cards around real radio buttons and
//! check boxes.

use crate::app::prelude::*;
use serde::Serialize;
use spindlewise_engine::choice::Choice;
use spindlewise_engine::decision::Case;
use spindlewise_engine::scenario::Choices;

use crate::app::state::workbench;

/// One card.
struct Card {
    value: String,
    label: &'static str,
    hint: &'static str,
    picture: &'static str,
}

/// A question with one answer. `get` and `set` reach it in the scenario;
/// `assumed` is what the engine takes when it is left open.
pub struct PickOne<C> {
    /// The question's name in the scenario.
    pub name: &'static str,
    /// The answer.
    pub get: fn(&Choices) -> Option<C>,
    /// Gives another answer.
    pub set: fn(&mut Choices, Option<C>),
    /// What an open answer is taken as; `None` if every answer stays possible.
    pub assumed: fn(&Case) -> Option<C>,
}

impl<C: Choice + Serialize + Send + Sync> PickOne<C> {
    /// The question as cards.
    pub fn view(self) -> AnyView {
        self.with_pictures(|_| "")
    }

    /// The question as cards, each with a drawing (as markup).
    pub fn with_pictures(self, picture: fn(C) -> &'static str) -> AnyView {
        let assumed = self.assumed;
        let picked = self.picked(|_| None);
        let bench = workbench();
        let open_hint = Memo::new(move |_| {
            if picked.get().is_some() {
                return "What is usual is taken instead.".to_owned();
            }
            match bench.resolved.with(|resolved| assumed(&resolved.case)) {
                Some(choice) => format!("Taken as: {}.", choice.label()),
                None => "Every answer stays possible.".to_owned(),
            }
        });
        self.cards(picture, picked, Some(open_hint))
    }

    /// The question as cards, of something that nobody can not know: what is assumed
    /// is picked to begin with.
    pub fn known(self) -> AnyView {
        let picked = self.picked(self.assumed);
        self.cards(|_| "", picked, None)
    }

    /// Which card is picked; `open` says which where no answer was given.
    fn picked(&self, open: fn(&Case) -> Option<C>) -> Memo<Option<usize>> {
        let (bench, get) = (workbench(), self.get);
        Memo::new(move |_| {
            let answer = bench.scenario.with(|scenario| get(&scenario.choices));
            let answer = answer.or_else(|| bench.resolved.with(|resolved| open(&resolved.case)));
            answer.and_then(|answer| C::ALL.iter().position(|&choice| choice == answer))
        })
    }

    fn cards(
        self,
        picture: fn(C) -> &'static str,
        picked: Memo<Option<usize>>,
        open_hint: Option<Memo<String>>,
    ) -> AnyView {
        let PickOne { name, set, .. } = self;
        let bench = workbench();
        let pick = Callback::new(move |index: Option<usize>| {
            bench.update(|scenario| set(&mut scenario.choices, index.map(|index| C::ALL[index])));
        });
        radio_cards(name, C::QUESTION, cards::<C>(picture), picked, open_hint, pick)
    }
}

/// A question with any number of answers.
pub fn pick_many<C>(
    name: &'static str,
    get: fn(&Choices) -> &Vec<C>,
    get_mut: fn(&mut Choices) -> &mut Vec<C>,
) -> AnyView
where
    C: Choice + Serialize + Send + Sync,
{
    let bench = workbench();
    let picked = Memo::new(move |_| {
        bench.scenario.with(|scenario| {
            let picked = get(&scenario.choices);
            C::ALL.iter().map(|choice| picked.contains(choice)).collect::<Vec<_>>()
        })
    });
    let toggle = Callback::new(move |index: usize| {
        bench.update(|scenario| {
            let choice = C::ALL[index];
            let picked = get_mut(&mut scenario.choices);
            match picked.iter().position(|&other| other == choice) {
                Some(at) => _ = picked.remove(at),
                None => picked.push(choice),
            }
        });
    });
    check_cards(name, C::QUESTION, cards::<C>(|_| ""), picked, toggle)
}

fn cards<C: Choice + Serialize>(picture: fn(C) -> &'static str) -> Vec<Card> {
    let card = |&choice: &C| Card {
        value: serde_json::to_string(&choice).unwrap_or_default().trim_matches('"').to_owned(),
        label: choice.label(),
        hint: choice.hint(),
        picture: picture(choice),
    };
    C::ALL.iter().map(card).collect()
}

fn radio_cards(
    name: &'static str,
    question: &'static str,
    cards: Vec<Card>,
    picked: Memo<Option<usize>>,
    open_hint: Option<Memo<String>>,
    pick: Callback<Option<usize>>,
) -> AnyView {
    let answers = cards.into_iter().enumerate().map(|(index, card)| {
        let id = format!("{name}-{}", card.value);
        let input = view! {
            <input
                type="radio"
                id=id.clone()
                name=name
                value=card.value
                aria-describedby=format!("{id}-hint")
                prop:checked=move || picked.get() == Some(index)
                on:change=move |_| pick.run(Some(index))
            />
        };
        card_view(id, card.label, card.hint.into_any(), card.picture, input.into_any())
    });
    let id = format!("{name}-unknown");
    let open = open_hint.map(|hint| {
        let input = view! {
            <input
                type="radio"
                id=id.clone()
                name=name
                value="unknown"
                aria-describedby=format!("{id}-hint")
                prop:checked=move || picked.get().is_none()
                on:change=move |_| pick.run(None)
            />
        };
        card_view(id, "I don’t know", hint.into_any(), "", input.into_any())
    });
    view! {
        <fieldset class="question" id=name>
            <legend>{question}</legend>
            <div class="cards">{answers.collect_view()} {open}</div>
        </fieldset>
    }
    .into_any()
}

fn check_cards(
    name: &'static str,
    question: &'static str,
    cards: Vec<Card>,
    picked: Memo<Vec<bool>>,
    toggle: Callback<usize>,
) -> AnyView {
    let answers = cards.into_iter().enumerate().map(|(index, card)| {
        let id = format!("{name}-{}", card.value);
        let input = view! {
            <input
                type="checkbox"
                id=id.clone()
                name=name
                value=card.value
                aria-describedby=format!("{id}-hint")
                prop:checked=move || picked.with(|picked| picked[index])
                on:change=move |_| toggle.run(index)
            />
        };
        card_view(id, card.label, card.hint.into_any(), "", input.into_any())
    });
    view! {
        <fieldset class="question" id=name>
            <legend>{question} <span class="aside">" Pick all that apply, or none."</span></legend>
            <div class="cards">{answers.collect_view()}</div>
        </fieldset>
    }
    .into_any()
}

/// The whole card is the label, so that a glove can't miss it.
fn card_view(id: String, label: &'static str, hint: AnyView, picture: &'static str, input: AnyView) -> AnyView {
    let picture =
        (!picture.is_empty()).then(|| view! { <span class="picture" aria-hidden="true" inner_html=picture></span> });
    view! {
        <div class="card">
            {input}
            <label for=id.clone()>
                {picture}
                <span class="name">{label}</span>
            </label>
            <span class="hint" id=format!("{id}-hint")>{hint}</span>
        </div>
    }
    .into_any()
}
