//! From the words of a view to the code that makes it.

use proc_macro2::{Ident, Span, TokenStream};
use quote::{ToTokens, format_ident, quote};
use rstml::node::{KeyedAttribute, Node, NodeAttribute, NodeBlock, NodeElement};
use rstml::{Infallible, Parser, ParserConfig};
use syn::spanned::Spanned;
use syn::{Error, Expr, ExprLit, ExprRange, Lit, Result, Stmt};

use crate::letters::{
    ATTRIBUTE, CLASS, CLOSE, EVENT, HTML, INSIDE, IS, MORE, NAME, PROPERTY, REFERENCE, STYLE, SVG, TEXT, VIEW,
    is_letter,
};

/// Elements of drawings that a view may begin with. Inside a drawing all are.
const DRAWN: &[&str] = &[
    "circle",
    "clipPath",
    "defs",
    "ellipse",
    "g",
    "image",
    "line",
    "linearGradient",
    "marker",
    "mask",
    "path",
    "pattern",
    "polygon",
    "polyline",
    "radialGradient",
    "rect",
    "stop",
    "svg",
    "symbol",
    "text",
    "textPath",
    "tspan",
    "use",
];

/// The code that makes the views in `tokens`.
pub fn views(tokens: TokenStream) -> Result<TokenStream> {
    let nodes = Parser::new(ParserConfig::default()).parse_simple(tokens)?;
    join(&nodes)
}

fn join(nodes: &[Node]) -> Result<TokenStream> {
    let views = nodes.iter().map(view).collect::<Result<Vec<_>>>()?;
    Ok(match views.as_slice() {
        [one] => one.clone(),
        views => quote!(crate::app::markup::AnyView::several(::std::vec![#(#views),*])),
    })
}

fn view(node: &Node) -> Result<TokenStream> {
    let any = |what: TokenStream| quote!(crate::app::markup::IntoView::into_any(#what));
    match node {
        Node::Element(element) => {
            let mut template = Template::default();
            template.element(element, DRAWN.contains(&element.name().to_string().as_str()))?;
            Ok(template.done())
        }
        Node::Text(text) => Ok(any(text.value.to_token_stream())),
        Node::Block(block) => Ok(any(expression(block))),
        Node::Fragment(fragment) => join(&fragment.children),
        other => Err(unknown(other)),
    }
}

fn unknown(what: &impl Spanned) -> Error {
    Error::new(what.span(), "a view is made of elements, quoted text and expressions in braces")
}

/// An element on its way into code.
#[derive(Default)]
struct Template {
    /// What stands still.
    text: String,
    /// The calls that fill what is open.
    calls: Vec<TokenStream>,
}

impl Template {
    fn done(self) -> TokenStream {
        let Template { text, calls } = self;
        if calls.is_empty() {
            return quote!(crate::app::markup::Element::new(#text).done());
        }
        // A name that nothing in the view can mean.
        let element = Ident::new("element", Span::mixed_site());
        quote!({
            let mut #element = crate::app::markup::Element::new(#text);
            #(#element.#calls;)*
            #element.done()
        })
    }

    fn word(&mut self, letter: u8, word: &str, place: Span) -> Result<()> {
        if word.bytes().any(is_letter) {
            return Err(Error::new(place, "control characters have no place in a view"));
        }
        self.text.push(char::from(letter));
        self.text.push_str(word);
        Ok(())
    }

    fn open(&mut self, letter: u8, name: &str, call: TokenStream, place: Span) -> Result<()> {
        self.calls.push(call);
        self.word(letter, name, place)
    }

    fn element(&mut self, element: &NodeElement<Infallible>, drawn: bool) -> Result<()> {
        let (name, place) = (element.name().to_string(), element.name().span());
        if name.starts_with(char::is_uppercase) {
            return Err(Error::new(place, "parts of a page are functions: call it in braces"));
        }
        self.word(if drawn { SVG } else { HTML }, &name, place)?;
        for attribute in element.attributes() {
            match attribute {
                NodeAttribute::Attribute(attribute) => self.attribute(&name, attribute)?,
                NodeAttribute::Block(block) => self.more(block)?,
            }
        }
        self.children(&element.children, drawn)?;
        self.word(CLOSE, "", place)
    }

    fn children(&mut self, children: &[Node], drawn: bool) -> Result<()> {
        for child in children {
            match child {
                Node::Element(element) => self.element(element, drawn || element.name().to_string() == "svg")?,
                Node::Text(text) => self.word(TEXT, &text.value_string(), text.value.span())?,
                Node::Block(block) => {
                    let view = expression(block);
                    self.open(VIEW, "", quote!(child(#view)), block.span())?;
                }
                Node::Fragment(fragment) => self.children(&fragment.children, drawn)?,
                other => return Err(unknown(other)),
            }
        }
        Ok(())
    }

    fn attribute(&mut self, element: &str, attribute: &KeyedAttribute) -> Result<()> {
        let (key, place) = (attribute.key.to_string(), attribute.key.span());
        let (kind, name) = key.split_once(':').unwrap_or(("", &key));
        let Some(value) = attribute.value() else {
            if !kind.is_empty() {
                return Err(Error::new(place, "what is it to be?"));
            }
            self.word(NAME, name, place)?;
            return self.word(IS, "", place);
        };
        let set = quote!(value(#value));
        match kind {
            "" if name == "node_ref" => self.open(REFERENCE, "", quote!(reference(#value)), place),
            "" if name == "inner_html" => self.open(INSIDE, "", set, place),
            "" => match text(value) {
                Some(text) => {
                    self.word(NAME, name, place)?;
                    self.word(IS, &text, value.span())
                }
                None => self.open(ATTRIBUTE, name, set, place),
            },
            "class" => self.open(CLASS, name, set, place),
            "style" => self.open(STYLE, name, set, place),
            "prop" => self.open(PROPERTY, name, set, place),
            "on" => {
                let (event, from) = name.split_once(':').unwrap_or((name, ""));
                let known = format_ident!("{event}", span = place);
                let call = match (from, element) {
                    ("", _) => quote!(on(::leptos::ev::#known, #value)),
                    ("target", "input") => {
                        quote!(on_target::<_, ::web_sys::HtmlInputElement>(::leptos::ev::#known, #value))
                    }
                    ("target", "select") => {
                        quote!(on_target::<_, ::web_sys::HtmlSelectElement>(::leptos::ev::#known, #value))
                    }
                    _ => return Err(Error::new(place, "the type of this target is not known")),
                };
                self.open(EVENT, event, call, place)
            }
            _ => Err(Error::new(place, "there are class:, style:, prop: and on:")),
        }
    }

    fn more(&mut self, block: &NodeBlock) -> Result<()> {
        match block.try_block().map(|block| block.stmts.as_slice()) {
            Some([Stmt::Expr(Expr::Range(ExprRange { start: None, end: Some(attributes), .. }), None)]) => {
                self.open(MORE, "", quote!(more(#attributes)), block.span())
            }
            _ => Err(Error::new(block.span(), "more attributes are written {..attributes}")),
        }
    }
}

/// The expression in braces, without them where it is one.
fn expression(block: &NodeBlock) -> TokenStream {
    match block.try_block().map(|block| block.stmts.as_slice()) {
        Some([Stmt::Expr(expression, None)]) => expression.to_token_stream(),
        _ => block.to_token_stream(),
    }
}

/// A value that stands still as text.
fn text(value: &Expr) -> Option<String> {
    match value {
        Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(text.value()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The one element of `view`: its template, with a space and a sign for every
    /// letter, and what goes into its open places.
    fn written(view: TokenStream) -> (String, Vec<String>) {
        let nodes = Parser::new(ParserConfig::default()).parse_simple(view).expect("it is well-formed");
        let [Node::Element(element)] = nodes.as_slice() else { panic!("one element") };
        let mut template = Template::default();
        template.element(element, false).expect("it can be written");
        let sign = |letter: char| match letter as u8 {
            HTML => " <".to_owned(),
            SVG => " (".to_owned(),
            CLOSE => " /".to_owned(),
            NAME => " @".to_owned(),
            IS => " =".to_owned(),
            TEXT => " ".to_owned(),
            open if is_letter(open) => format!(" {open:x}?"),
            _ => letter.to_string(),
        };
        (template.text.chars().map(sign).collect(), template.calls.iter().map(ToString::to_string).collect())
    }

    fn refused(view: TokenStream) -> String {
        views(view).expect_err("it can't be written").to_string()
    }

    #[test]
    fn what_stands_still_needs_no_code() {
        let (text, calls) = written(quote!(<p class="lead" hidden>"One " <b>"two"</b></p>));
        assert_eq!(text, " <p @class =lead @hidden = One  <b two / /");
        assert!(calls.is_empty());
    }

    #[test]
    fn open_places_are_filled_in_their_order() {
        let (text, calls) = written(quote!(<a {..all} href=to class:on=lit on:click=go>{name} "!"</a>));
        assert_eq!(text, " <a 16? f?href 11?on 14?click e? ! /");
        assert_eq!(
            calls,
            ["more (all)", "value (to)", "value (lit)", "on (:: leptos :: ev :: click , go)", "child (name)"]
        );
    }

    #[test]
    fn all_within_a_drawing_is_drawn() {
        let (text, _) = written(quote!(<p><svg><title>"A"</title></svg> <title>"B"</title></p>));
        assert_eq!(text, " <p (svg (title A / / <title B / /");
    }

    #[test]
    fn what_views_do_not_know_is_refused() {
        assert!(refused(quote!(<Foo />)).contains("functions"));
        assert!(refused(quote!(<p use:tip=x></p>)).contains("class:"));
        assert!(refused(quote!(<p on:input:target=x></p>)).contains("target"));
        assert!(refused(quote!(<p>"a\u{1}b"</p>)).contains("control"));
    }
}
