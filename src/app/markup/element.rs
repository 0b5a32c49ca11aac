//! What `view!` makes of an element.

use leptos::ev::{EventDescriptor, Targeted};
use leptos::html::ElementType;
use leptos::prelude::{NodeRef, Owner};
use leptos::tachys::html::node_ref::NodeRefContainer;
use wasm_bindgen::JsCast;
use web_sys::Event;

use super::value::{Attributes, IntoValue, Value};
use super::view::{AnyView, IntoView, Kind};

/// An element with all that is in it: a template (see `letters`) and what goes
/// into its open places.
pub struct Element {
    pub(super) template: &'static str,
    pub(super) parts: Vec<Part>,
}

/// What goes into an open place.
pub(super) enum Part {
    View(AnyView),
    Value(Value),
    Handler(Box<dyn FnMut(Event)>),
    Reference(Box<dyn FnOnce(&web_sys::Element)>),
    More(Attributes),
}

// Boxed from the start, so that a call moves no more than its address.
impl Element {
    /// With nothing yet in its open places.
    pub fn new(template: &'static str) -> Box<Self> {
        Box::new(Element { template, parts: Vec::new() })
    }

    /// Fills the next open place with a view.
    pub fn child(&mut self, view: impl IntoView) {
        self.put(Part::View(view.into_any()));
    }

    /// Fills it with a value.
    pub fn value(&mut self, value: impl IntoValue) {
        self.put(Part::Value(value.into_value()));
    }

    /// Fills it with attributes.
    pub fn more(&mut self, attributes: Attributes) {
        self.put(Part::More(attributes));
    }

    /// Fills it with what happens at an event.
    pub fn on<E>(&mut self, _event: E, mut handler: impl FnMut(E::EventType) + 'static)
    where
        E: EventDescriptor,
        E::EventType: JsCast,
    {
        self.handler(Box::new(move |event| handler(event.unchecked_into())));
    }

    /// The same for a handler that asks for the element.
    pub fn on_target<E, T>(&mut self, event: E, mut handler: impl FnMut(Targeted<E::EventType, T>) + 'static)
    where
        E: EventDescriptor,
        E::EventType: JsCast,
    {
        self.on(event, move |event| handler(Targeted::from(event)));
    }

    /// Fills it with who wants to know the element.
    pub fn reference<E>(&mut self, reference: NodeRef<E>)
    where
        E: ElementType,
        E::Output: JsCast + 'static,
    {
        self.put(Part::Reference(Box::new(move |element| NodeRefContainer::<E>::load(reference, element))));
    }

    /// As a view.
    pub fn done(self: Box<Self>) -> AnyView {
        AnyView(Box::new(Kind::Element(self)))
    }

    fn handler(&mut self, mut handler: Box<dyn FnMut(Event)>) {
        // What it makes or asks for belongs where the view does.
        let owner = Owner::current().unwrap_or_default();
        self.put(Part::Handler(Box::new(move |event| owner.with(|| handler(event)))));
    }

    fn put(&mut self, part: Part) {
        self.parts.push(part);
    }
}
