//! Views in the page.

use std::borrow::Cow;
use std::mem;

use leptos::prelude::{RenderEffect, document};
use web_sys::{Comment, Node, Text};

use super::built_element::BuiltElement;
use super::rows::{BuiltRow, Row};
use super::value::Value;
use super::view::{AnyView, Kind};

/// A view in the page, or ready for it.
pub(super) enum Built {
    Text(Text, Cow<'static, str>),
    Element(BuiltElement),
    /// With a mark behind the last.
    Several(Vec<Built>, Comment),
    /// The same, each with its name.
    Rows(Vec<(String, BuiltRow)>, Comment),
    Following(Following),
    /// No view: what an effect keeps of the value it follows.
    Value(Value),
}

/// Made again when what it reads changes.
pub(super) struct Following(RenderEffect<Built>);

impl Following {
    pub(super) fn new(make: impl FnMut(Option<Built>) -> Built + 'static) -> Self {
        Following(RenderEffect::new(make))
    }
}

impl Drop for Following {
    /// An effect keeps what it made until its task is awake next. Till then what
    /// follows within would go on, and read what is gone.
    fn drop(&mut self) {
        drop(self.0.take_value());
    }
}

impl AnyView {
    pub(super) fn build(self) -> Built {
        match *self.0 {
            Kind::Text(text) => Built::Text(document().create_text_node(&text), text),
            Kind::Element(element) => Built::Element(element.build()),
            Kind::Several(views) => Built::Several(views.into_iter().map(AnyView::build).collect(), mark()),
            Kind::Rows(rows) => Built::Rows(rows.into_iter().map(|row| (row.name, (row.make)())).collect(), mark()),
            Kind::Following(mut view) => Built::Following(Following::new(move |built| match built {
                Some(mut built) => {
                    view().renew(&mut built);
                    built
                }
                None => view().build(),
            })),
        }
    }

    /// Makes `built` show this view, and keeps of it what can stay.
    pub(super) fn renew(self, built: &mut Built) {
        match (*self.0, &mut *built) {
            (Kind::Text(new), Built::Text(node, old)) => {
                if new != *old {
                    node.set_data(&new);
                    *old = new;
                }
            }
            (Kind::Element(new), Built::Element(old)) if old.is_like(&new) => old.renew(new.parts),
            (Kind::Several(new), Built::Several(old, mark)) => renew_several(new, old, mark),
            (Kind::Rows(new), Built::Rows(old, mark)) => renew_rows(new, old, mark),
            (new, old) => {
                let new = AnyView(Box::new(new)).build();
                if let Some((first, _)) = old.ends() {
                    new.put_before(&first);
                }
                old.take_out();
                *old = new;
            }
        }
    }
}

impl Built {
    /// Tells of each of its nodes, in their order.
    fn nodes(&self, tell: &mut dyn FnMut(&Node)) {
        match self {
            Built::Text(node, _) => tell(node),
            Built::Element(element) => tell(&element.node),
            Built::Several(views, mark) => {
                views.iter().for_each(|view| view.nodes(tell));
                tell(mark);
            }
            Built::Rows(rows, mark) => {
                rows.iter().for_each(|(_, row)| row.shown.nodes(tell));
                tell(mark);
            }
            Built::Following(Following(effect)) => _ = effect.with_value_mut(|view| view.nodes(tell)),
            Built::Value(_) => {}
        }
    }

    /// Its first node and its last.
    fn ends(&self) -> Option<(Node, Node)> {
        let mut ends = None;
        self.nodes(&mut |node| {
            let first = ends.take().map_or_else(|| node.clone(), |(first, _)| first);
            ends = Some((first, node.clone()));
        });
        ends
    }

    /// Puts it into `parent`, behind all that is there.
    pub(super) fn put_into(&self, parent: &Node) {
        // Refused only where a node would come into itself.
        self.nodes(&mut |node| _ = parent.append_child(node));
    }

    fn put_before(&self, other: &Node) {
        if let Some(parent) = other.parent_node() {
            self.nodes(&mut |node| _ = parent.insert_before(node, Some(other)));
        }
    }

    /// Takes it out of the page. It is still alive: the browser tells a field
    /// that it lost the keyboard.
    fn take_out(&self) {
        self.nodes(&mut |node| {
            if let Some(parent) = node.parent_node() {
                _ = parent.remove_child(node);
            }
        });
    }
}

fn mark() -> Comment {
    document().create_comment("")
}

/// One by one, in their order.
fn renew_several(new: Vec<AnyView>, old: &mut Vec<Built>, mark: &Comment) {
    for gone in old.drain(new.len().min(old.len())..) {
        gone.take_out();
    }
    let mut new = new.into_iter();
    for (built, view) in old.iter_mut().zip(&mut new) {
        view.renew(built);
    }
    for view in new {
        let built = view.build();
        built.put_before(mark);
        old.push(built);
    }
}

/// One by one, by their names.
fn renew_rows(new: Vec<Row>, old: &mut Vec<(String, BuiltRow)>, mark: &Comment) {
    let mut before = mem::take(old);
    for Row { name, make } in new {
        let kept = before.iter().position(|(kept, _)| *kept == name).map(|at| before.swap_remove(at));
        old.push(kept.unwrap_or_else(|| (name, make())));
    }
    for (_, gone) in &before {
        gone.shown.take_out();
    }
    // From the last to the first; only what is out of place is moved, for what is
    // moved loses the keyboard.
    let mut next = Node::from(mark.clone());
    for (_, row) in old.iter().rev() {
        if let Some((first, last)) = row.shown.ends() {
            if last.next_sibling().as_ref() != Some(&next) {
                row.shown.put_before(&next);
            }
            next = first;
        }
    }
}
