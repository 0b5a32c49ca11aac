//! How the user likes to see the product; the same for every scenario.

use crate::app::prelude::*;
use serde::{Deserialize, Serialize};

use super::storage;

const KEY: &str = "prefs";

/// Colours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Theme {
    /// As the system is set.
    #[default]
    Auto,
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
    /// Black on white, thick lines.
    Contrast,
}

impl Theme {
    /// Every choice.
    pub const ALL: [Theme; 4] = [Theme::Auto, Theme::Light, Theme::Dark, Theme::Contrast];

    /// Its value in markup.
    pub fn value(self) -> &'static str {
        match self {
            Theme::Auto => "auto",
            Theme::Light => "light",
            Theme::Dark => "dark",
            Theme::Contrast => "contrast",
        }
    }

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Theme::Auto => "As the system",
            Theme::Light => "Light",
            Theme::Dark => "Dark",
            Theme::Contrast => "High contrast",
        }
    }
}

/// Preferences.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// Colours.
    pub theme: Theme,
    /// Whether buttons and cards are made half as large again.
    pub large: bool,
}

/// The stored preferences, put into effect and stored again as they change.
pub fn follow() -> RwSignal<Prefs> {
    let stored = storage::get(KEY).and_then(|text| serde_json::from_str(&text).ok());
    let prefs = RwSignal::new(stored.unwrap_or_default());
    Effect::new(move |before: Option<()>| {
        let now: Prefs = prefs.get();
        if let Some(root) = document().document_element() {
            _ = root.set_attribute("data-theme", now.theme.value());
            _ = root.toggle_attribute_with_force("data-large", now.large);
        }
        if before.is_some() {
            // A refused preference costs nothing but this visit's colours.
            _ = storage::set(KEY, &now);
        }
    });
    prefs
}
