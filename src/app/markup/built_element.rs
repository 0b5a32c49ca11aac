//! Elements in the page.

use std::iter;

use leptos::prelude::document;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element as Node, Event};

use super::built::{Built, Following};
use super::element::{Element, Part};
use super::letters::{ATTRIBUTE, CLOSE, HTML, IS, NAME, SVG, TEXT, is_letter};
use super::value::{Attributes, Value};

const DRAWING: Option<&str> = Some("http://www.w3.org/2000/svg");

/// An element with what is alive in it.
pub(super) struct BuiltElement {
    pub node: Node,
    template: &'static str,
    /// In the order of the open places.
    parts: Vec<BuiltPart>,
}

enum BuiltPart {
    View(Built),
    Value(BuiltValue),
    Handler(Listener),
    Reference(Node),
    More(Vec<BuiltValue>, Node),
}

impl Element {
    pub(super) fn build(self) -> BuiltElement {
        let Element { template, parts } = self;
        let mut words = words(template);
        let (letter, name) = words.next().unwrap_or_default();
        let node = start(letter, name);
        let mut open = vec![node.clone()];
        let mut named = "";
        let (mut parts, mut built) = (parts.into_iter(), Vec::new());
        for (letter, word) in words {
            let Some(here) = open.last() else { break };
            // The browser refuses none of the names that views are written with.
            match letter {
                HTML | SVG => open.push(start(letter, word)),
                CLOSE => {
                    let done = open.pop();
                    _ = open.last().zip(done).map(|(around, done)| around.append_child(&done));
                }
                TEXT => _ = here.append_child(&document().create_text_node(word)),
                NAME => named = word,
                IS => _ = here.set_attribute(named, word),
                _ => built.extend(parts.next().map(|part| part.build(here, letter, word))),
            }
        }
        BuiltElement { node, template, parts: built }
    }
}

/// The words of a template, each with the letter before it.
fn words(template: &'static str) -> impl Iterator<Item = (u8, &'static str)> {
    let mut rest = template;
    iter::from_fn(move || {
        let letter = *rest.as_bytes().first()?;
        let end = rest.bytes().skip(1).position(is_letter).map_or(rest.len(), |end| end + 1);
        let (word, after) = rest.split_at(end);
        rest = after;
        Some((letter, &word[1..]))
    })
}

fn start(letter: u8, name: &str) -> Node {
    let node = match letter {
        SVG => document().create_element_ns(DRAWING, name),
        _ => document().create_element(name),
    };
    node.expect("names of elements in views are valid")
}

impl BuiltElement {
    /// Whether `element` differs in its open places only.
    pub(super) fn is_like(&self, element: &Element) -> bool {
        self.template == element.template
    }

    pub(super) fn renew(&mut self, parts: Vec<Part>) {
        for (built, part) in self.parts.iter_mut().zip(parts) {
            match (built, part) {
                (BuiltPart::View(built), Part::View(view)) => view.renew(built),
                (BuiltPart::Value(built), Part::Value(value)) => built.renew(value),
                (BuiltPart::More(built, element), Part::More(attributes)) => {
                    for value in built.drain(..) {
                        value.place.put(&Value::Absent);
                    }
                    *built = more(element, attributes);
                }
                (BuiltPart::Handler(built), Part::Handler(handler)) => {
                    *built = Listener::new(built.element.clone(), built.event, handler);
                }
                (BuiltPart::Reference(element), Part::Reference(tell)) => tell(element),
                // An open place takes one kind of part.
                _ => {}
            }
        }
    }
}

impl Part {
    fn build(self, element: &Node, letter: u8, name: &'static str) -> BuiltPart {
        match self {
            Part::View(view) => {
                let view = view.build();
                view.put_into(element);
                BuiltPart::View(view)
            }
            Part::Value(value) => BuiltPart::Value(Place { element: element.clone(), letter, name }.fill(value)),
            Part::More(attributes) => BuiltPart::More(more(element, attributes), element.clone()),
            Part::Handler(handler) => BuiltPart::Handler(Listener::new(element.clone(), name, handler)),
            Part::Reference(tell) => {
                tell(element);
                BuiltPart::Reference(element.clone())
            }
        }
    }
}

fn more(element: &Node, attributes: Attributes) -> Vec<BuiltValue> {
    let fill = |(name, value)| Place { element: element.clone(), letter: ATTRIBUTE, name }.fill(value);
    attributes.into_iter().map(fill).collect()
}

/// Where a value is put.
#[derive(Clone)]
struct Place {
    element: Node,
    letter: u8,
    name: &'static str,
}

/// A value in its place.
struct BuiltValue {
    place: Place,
    value: Value,
    /// What keeps it up to date.
    following: Option<Following>,
}

impl Place {
    fn put(&self, value: &Value) {
        value.put(&self.element, self.letter, self.name);
    }

    /// Puts `new` where `old` is.
    fn change(&self, old: &Value, new: &Value) {
        if !old.shows(new) {
            self.put(new);
        }
    }

    fn fill(self, value: Value) -> BuiltValue {
        let mut built = BuiltValue { place: self, value: Value::Absent, following: None };
        built.renew(value);
        built
    }
}

impl BuiltValue {
    fn renew(&mut self, value: Value) {
        let Value::Following(mut read) = value else {
            if self.following.take().is_some() {
                self.place.put(&value);
            } else {
                self.place.change(&self.value, &value);
            }
            self.value = value;
            return;
        };
        let place = self.place.clone();
        self.following = Some(Following::new(move |old| {
            let new = read().now();
            match &old {
                Some(Built::Value(old)) => place.change(old, &new),
                _ => place.put(&new),
            }
            Built::Value(new)
        }));
    }
}

/// What is done at an event, as long as this is there.
struct Listener {
    element: Node,
    event: &'static str,
    handler: Closure<dyn FnMut(Event)>,
}

impl Listener {
    fn new(element: Node, event: &'static str, handler: Box<dyn FnMut(Event)>) -> Self {
        let handler = Closure::wrap(handler);
        // Refused for nothing that is an event.
        _ = element.add_event_listener_with_callback(event, handler.as_ref().unchecked_ref());
        Listener { element, event, handler }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        _ = self.element.remove_event_listener_with_callback(self.event, self.handler.as_ref().unchecked_ref());
    }
}
