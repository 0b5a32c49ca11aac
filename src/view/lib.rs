//! The macro that views are written with.
//!
//! Leptos' own makes a type of every element, and code for each: hundreds of
//! bytes an element, which was a third of the page's program. Here what stands
//! still becomes a text ([`letters`]), what doesn't becomes a call that puts it
//! into its place, and one piece of code (`src/app/markup`) builds them all.

mod letters;
mod write;

use proc_macro::TokenStream;

/// A view: elements as in HTML, with values, closures and other views in
/// between.
///
/// - `name="text"`, `name=value`, `name` – an attribute; a closure or a signal is
///   followed, and `None` or `false` takes the attribute away
/// - `class:name=on`, `style:name=value`, `prop:name=value` – the same for a class,
///   a style, a property
/// - `on:event=handler`, `on:event:target=handler` – what happens at an event; with
///   the element it came from, typed
/// - `node_ref=reference`, `inner_html=markup`, `{..attributes}`
/// - `"text"`, `{expression}` – what is inside
#[proc_macro]
pub fn view(tokens: TokenStream) -> TokenStream {
    write::views(tokens.into()).unwrap_or_else(|error| error.to_compile_error()).into()
}
