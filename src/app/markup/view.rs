//! Views, and what can be shown as one.

use std::borrow::Cow;

use leptos::prelude::{Get, Memo, RwSignal};

use super::element::Element;
use super::rows::Row;

/// A view that is not in the page yet.
pub struct AnyView(pub(super) Box<Kind>);

/// What a view is.
pub(super) enum Kind {
    Text(Cow<'static, str>),
    Element(Box<Element>),
    /// Also nothing at all.
    Several(Vec<AnyView>),
    /// Each under its own name.
    Rows(Vec<Row>),
    /// Made again when what it reads changes.
    Following(Box<dyn FnMut() -> AnyView>),
}

impl AnyView {
    /// Views one after the other.
    pub fn several(views: Vec<AnyView>) -> Self {
        AnyView(Box::new(Kind::Several(views)))
    }

    fn text(text: Cow<'static, str>) -> Self {
        AnyView(Box::new(Kind::Text(text)))
    }

    pub(super) fn following(view: Box<dyn FnMut() -> AnyView>) -> Self {
        AnyView(Box::new(Kind::Following(view)))
    }
}

/// What can stand in a view.
pub trait IntoView {
    /// As a view.
    fn into_any(self) -> AnyView;
}

impl IntoView for AnyView {
    fn into_any(self) -> AnyView {
        self
    }
}

impl IntoView for &'static str {
    fn into_any(self) -> AnyView {
        AnyView::text(self.into())
    }
}

impl IntoView for String {
    fn into_any(self) -> AnyView {
        AnyView::text(self.into())
    }
}

macro_rules! numbers {
    ($($number:ty)*) => {$(
        impl IntoView for $number {
            fn into_any(self) -> AnyView {
                self.to_string().into_any()
            }
        }
    )*};
}

numbers! { i32 u32 usize f64 }

impl<T: IntoView> IntoView for Option<T> {
    fn into_any(self) -> AnyView {
        match self {
            Some(view) => view.into_any(),
            None => AnyView::several(Vec::new()),
        }
    }
}

impl<T: IntoView> IntoView for Vec<T> {
    fn into_any(self) -> AnyView {
        self.collect_view()
    }
}

impl<T: IntoView, const N: usize> IntoView for [T; N] {
    fn into_any(self) -> AnyView {
        self.collect_view()
    }
}

impl<T: IntoView, F: FnMut() -> T + 'static> IntoView for F {
    fn into_any(mut self) -> AnyView {
        AnyView::following(Box::new(move || self().into_any()))
    }
}

impl<T: IntoView + Clone + Send + Sync + 'static> IntoView for Memo<T> {
    fn into_any(self) -> AnyView {
        (move || self.get()).into_any()
    }
}

impl<T: IntoView + Clone + Send + Sync + 'static> IntoView for RwSignal<T> {
    fn into_any(self) -> AnyView {
        (move || self.get()).into_any()
    }
}

/// Joins what comes one after the other.
pub trait CollectView {
    /// As one view.
    fn collect_view(self) -> AnyView;
}

impl<T: IntoView, I: IntoIterator<Item = T>> CollectView for I {
    fn collect_view(self) -> AnyView {
        AnyView::several(self.into_iter().map(IntoView::into_any).collect())
    }
}
