//! What nearly every file of views uses: signals and the rest of Leptos but for
//! its views, in whose place are this page's own.

pub use leptos::callback::*;
pub use leptos::leptos_dom::helpers::*;
pub use leptos::prelude::NodeRef;
pub use leptos::reactive::computed::*;
pub use leptos::reactive::effect::*;
pub use leptos::reactive::graph::untrack;
pub use leptos::reactive::owner::*;
pub use leptos::reactive::prelude::*;
pub use leptos::reactive::signal::*;
pub use leptos::reactive::wrappers::read::*;
pub use spindlewise_view::view;

pub use super::markup::{AnyView, CollectView, IntoView};
