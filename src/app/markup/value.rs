//! Values of attributes, properties, classes and styles.

use std::borrow::Cow;

use leptos::prelude::{Get, Memo, RwSignal};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, HtmlElement};

use super::letters::{ATTRIBUTE, CLASS, INSIDE, PROPERTY, STYLE};

/// A value.
pub enum Value {
    /// There is none.
    Absent,
    /// It is so, or not.
    Flag(bool),
    /// In words.
    Text(Cow<'static, str>),
    /// Read again when what it reads changes.
    Following(Box<dyn FnMut() -> Value>),
}

/// Attributes with their names.
pub type Attributes = Vec<(&'static str, Value)>;

impl Value {
    /// Whether both show the same.
    pub(super) fn shows(&self, other: &Value) -> bool {
        match (self, other) {
            (Value::Absent, Value::Absent) => true,
            (Value::Flag(one), Value::Flag(other)) => one == other,
            (Value::Text(one), Value::Text(other)) => one == other,
            _ => false,
        }
    }

    /// What it is now.
    pub(super) fn now(self) -> Value {
        match self {
            Value::Following(mut read) => read().now(),
            value => value,
        }
    }

    /// Puts it into its place, which the letter of a template names.
    pub(super) fn put(&self, element: &Element, letter: u8, name: &str) {
        let text = match self {
            Value::Flag(true) => Some(""),
            Value::Text(text) => Some(&**text),
            _ => None,
        };
        // The browser refuses only names that are none.
        match letter {
            ATTRIBUTE => {
                _ = match text {
                    Some(text) => element.set_attribute(name, text),
                    None => element.remove_attribute(name),
                }
            }
            CLASS => _ = element.class_list().toggle_with_force(name, text.is_some()),
            STYLE => {
                let style = element.unchecked_ref::<HtmlElement>().style();
                _ = style.set_property(name, text.unwrap_or_default());
            }
            INSIDE => element.set_inner_html(text.unwrap_or_default()),
            PROPERTY => {
                let value = match self {
                    Value::Flag(on) => JsValue::from_bool(*on),
                    _ => text.map_or(JsValue::NULL, JsValue::from_str),
                };
                _ = js_sys::Reflect::set(element, &JsValue::from_str(name), &value);
            }
            _ => {}
        }
    }
}

/// What can be the value of an attribute.
pub trait IntoValue {
    /// As a value.
    fn into_value(self) -> Value;
}

impl IntoValue for Value {
    fn into_value(self) -> Value {
        self
    }
}

impl IntoValue for bool {
    fn into_value(self) -> Value {
        Value::Flag(self)
    }
}

impl IntoValue for &'static str {
    fn into_value(self) -> Value {
        Value::Text(self.into())
    }
}

impl IntoValue for String {
    fn into_value(self) -> Value {
        Value::Text(self.into())
    }
}

macro_rules! numbers {
    ($($number:ty)*) => {$(
        impl IntoValue for $number {
            fn into_value(self) -> Value {
                self.to_string().into_value()
            }
        }
    )*};
}

numbers! { i32 u32 usize f64 }

impl<T: IntoValue> IntoValue for Option<T> {
    fn into_value(self) -> Value {
        self.map_or(Value::Absent, T::into_value)
    }
}

impl<T: IntoValue, F: FnMut() -> T + 'static> IntoValue for F {
    fn into_value(mut self) -> Value {
        Value::Following(Box::new(move || self().into_value()))
    }
}

impl<T: IntoValue + Clone + Send + Sync + 'static> IntoValue for Memo<T> {
    fn into_value(self) -> Value {
        (move || self.get()).into_value()
    }
}

impl<T: IntoValue + Clone + Send + Sync + 'static> IntoValue for RwSignal<T> {
    fn into_value(self) -> Value {
        (move || self.get()).into_value()
    }
}
