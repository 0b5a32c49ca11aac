//! Scenarios out to files and in from them, or from a link: what comes in is
//! shown first, and taken in beside what is here.

use crate::app::prelude::*;
use spindlewise_engine::scenario::document::{self, Unreadable};
use spindlewise_engine::scenario::intake::{self, Compared, Found};
use spindlewise_engine::scenario::{Scenario, link};

use crate::app::components::brief;
use crate::app::files::{download, file_name, read_picked};
use crate::app::records;
use crate::app::route::{Location, focus_heading, forget_brought};
use crate::app::shelf::shelf;

/// What came in and waits for a word.
#[derive(Clone)]
pub struct Offer {
    /// Where it comes from.
    from: String,
    items: Vec<Item>,
}

#[derive(Clone)]
struct Item {
    place: String,
    scenario: Result<(Scenario, Compared), Unreadable>,
}

impl Offer {
    fn new(from: String, found: Vec<Found>) -> Self {
        let here = records::scenarios();
        let item = |Found { place, scenario }: Found| Item {
            place,
            scenario: scenario.map(|scenario| {
                let compared = intake::compare(&scenario, &here);
                (scenario, compared)
            }),
        };
        Offer { from, items: found.into_iter().map(item).collect() }
    }
}

impl Item {
    /// Whether most people would take it over.
    fn is_worth_taking(&self) -> bool {
        matches!(self.scenario, Ok((_, Compared::New | Compared::Differs)))
    }
}

/// The buttons.
pub fn view(offer: RwSignal<Option<Offer>>, news: RwSignal<String>) -> AnyView {
    let shelf = shelf();
    let hand_out = move |what: &str, name: String, text: &str| {
        news.set(match download(&name, text) {
            Ok(()) => format!("{what} goes to your downloads as {name}."),
            Err(_) => "This browser would not make a file.".to_owned(),
        });
    };
    let export = move |_| {
        let scenario = shelf.bench().scenario.get_untracked();
        hand_out(&format!("“{}”", brief(&scenario.name)), file_name(&scenario.name), &document::write(&scenario));
    };
    let export_all = move |_| {
        let open = shelf.bench().scenario.get_untracked();
        let backup = records::backup(&shelf.id.get_untracked(), open);
        let text = document::laid_out(&serde_json::to_string(&backup).unwrap_or_default());
        hand_out("Everything that is stored", file_name("everything"), &text);
    };
    let import = move |event: leptos::ev::Targeted<leptos::ev::Event, web_sys::HtmlInputElement>| {
        read_picked(&event.target(), move |name, text| {
            let read = text.map_err(|_| "The browser could not read it.".to_owned());
            let read = read.and_then(|text| intake::read(&text).map_err(|why| why.to_string()));
            match read {
                Ok(found) => {
                    news.try_set(String::new());
                    offer.try_set(Some(Offer::new(name, found)));
                }
                Err(why) => {
                    news.try_set(format!("{name} was not taken over, and nothing here was changed. {why}"));
                    // What an earlier file offered would seem to be in this one.
                    offer.try_set(None);
                }
            }
            window().scroll_to_with_x_and_y(0.0, 0.0);
        });
    };
    view! {
        <p>"One file with everything is the safe copy. It holds what could not be read too."</p>
        <div class="actions">
            <button type="button" on:click=export_all>"Export everything to a file"</button>
            <button type="button" on:click=export>"Export the open one to a file"</button>
            <div class="pick-file">
                <input id="import" type="file" accept=".json,application/json" on:change:target=import />
                <label class="button" for="import">"Import from a file"</label>
            </div>
        </div>
    }
    .into_any()
}

/// What a file or the address has brought, to be looked through.
pub fn offered(offer: RwSignal<Option<Offer>>, news: RwSignal<String>) -> AnyView {
    let location = expect_context::<RwSignal<Location>>();
    Effect::new(move |_| {
        let Some(brought) = location.with(|location| location.brought.clone()) else { return };
        match link::read(&brought) {
            Ok(scenario) => {
                let found = Found { place: String::new(), scenario: Ok(scenario) };
                offer.set(Some(Offer::new("the link".to_owned(), vec![found])));
            }
            Err(why) => {
                news.set(format!("The link was not taken over, and nothing here was changed. {why}"));
                offer.set(None);
            }
        }
        forget_brought();
    });
    view! { {move || offer.get().map(|it| preview(it, offer, news))} }.into_any()
}

fn preview(shown: Offer, offer: RwSignal<Option<Offer>>, news: RwSignal<String>) -> AnyView {
    let shelf = shelf();
    let count = shown.items.len();
    let heading = match count {
        0 => format!("{} holds no scenario", shown.from),
        1 => format!("One scenario in {}", shown.from),
        _ => format!("{count} scenarios in {}", shown.from),
    };
    let any = shown.items.iter().any(|item| item.scenario.is_ok());
    let ticks: Vec<_> = shown.items.iter().map(|item| RwSignal::new(item.is_worth_taking())).collect();
    let items =
        shown.items.iter().zip(&ticks).enumerate().map(|(at, (item, &tick))| row(at, item, tick)).collect_view();
    let close = move || {
        offer.set(None);
        focus_heading();
    };
    let take = move |_| {
        let ticked = shown.items.iter().zip(&ticks).filter(|(_, tick)| tick.get_untracked());
        let wanted: Vec<_> =
            ticked.filter_map(|(item, _)| item.scenario.as_ref().ok()).map(|(scenario, _)| scenario.clone()).collect();
        let asked = wanted.len();
        let taken = shelf.take_over(wanted);
        news.set(match (asked, taken) {
            (0, _) => "Nothing was ticked, and nothing here was changed.".to_owned(),
            (1, 1) => format!("“{}” was taken over and is open now.", shelf.bench().scenario.with_untracked(|open| brief(&open.name))),
            _ if taken < asked => format!("{taken} of {asked} scenarios were taken over; then the browser’s storage was full. The file still has the rest."),
            _ => format!("{taken} scenarios were taken over."),
        });
        close();
    };
    view! {
        <section class="offer" aria-labelledby="offer-title">
            <h2 id="offer-title">{heading}</h2>
            <p>"Nothing here is changed: what you take over comes beside what is here."</p>
            <ul class="saved">{items}</ul>
            <div class="actions">
                {any.then(|| view! { <button type="button" class="primary button" on:click=take>"Take over what is ticked"</button> })}
                <button type="button" on:click=move |_| close()>"Leave it"</button>
            </div>
        </section>
    }
    .into_any()
}

fn row(at: usize, item: &Item, tick: RwSignal<bool>) -> AnyView {
    match &item.scenario {
        Ok((scenario, compared)) => {
            let id = format!("offer-{at}");
            let note = match compared {
                Compared::New => "Not here yet.",
                Compared::Same => "The very same is here already.",
                Compared::Differs => {
                    "Another of this name is here: this one comes beside it, with a number after its name."
                }
            };
            let filled = match scenario.entries.len() {
                0 => "No number typed".to_owned(),
                1 => "One number typed".to_owned(),
                many => format!("{many} numbers typed"),
            };
            view! {
                <li>
                    <div class="line">
                        <input
                            type="checkbox"
                            id=id.clone()
                            prop:checked=tick
                            on:change:target=move |event| tick.set(event.target().checked())
                        />
                        <label for=id><span class="two-lines" title=scenario.name.clone()>{scenario.name.clone()}</span></label>
                    </div>
                    <p class="hint">{format!("{filled}. {note}")}</p>
                </li>
            }
            .into_any()
        }
        Err(why) => view! {
            <li>
                <div class="what">
                    <h3>{format!("“{}” can’t be read", item.place)}</h3>
                    <p>{why.to_string()}</p>
                </div>
            </li>
        }
        .into_any(),
    }
}
