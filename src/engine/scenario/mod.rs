//! The saved document: what the user chose and typed, word for word.
//!
//! Numbers are kept as typed ("12 thou"), each with its unit, so that nothing
//! is ever converted away; [`Scenario::resolve`] reads them into a [`Case`](crate::decision::Case) in
//! which every value is valid.

mod demo;
pub mod document;
mod field;
mod inputs;
pub mod intake;
pub mod link;
mod problem;
mod readings;
mod record;
mod resolve;
mod trial;

pub use demo::demo;
pub use field::{Field, FieldSpec};
pub use inputs::inputs;
pub use problem::Problem;
pub use record::Record;
pub use resolve::Resolved;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::decision::Trouble;
use crate::machine::{
    Archetype, BearingCondition, Gibs, Preload, QuillUse, SpindleBore, SpindleSupport, TaperRetention,
};
use crate::quantity::UnitSystem;
use crate::readings::FinishJudged;
use crate::remedies::{Means, RemedyId};
use crate::trial::{Evidence, Turns};
use crate::work::{
    Axis, CutKind, CutSense, CutterKind, EdgeState, Holder, Material, PartShape, ToolMaterial, Workholding,
};

/// Version of the document's form. It is raised with every field that an
/// earlier version would stumble over.
pub const SCHEMA: u32 = 4;

/// Answers picked from lists; `None` is "I don't know".
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
#[allow(missing_docs, reason = "each name is that of the question it answers")]
pub struct Choices {
    pub troubles: Vec<Trouble>,
    pub archetype: Option<Archetype>,
    pub support: Option<SpindleSupport>,
    pub condition: Option<BearingCondition>,
    pub preload: Option<Preload>,
    pub retention: Option<TaperRetention>,
    pub bore: Option<SpindleBore>,
    pub quill: Option<QuillUse>,
    pub gibs: Option<Gibs>,
    pub judged: Option<FinishJudged>,
    pub material: Option<Material>,
    pub cutter: Option<CutterKind>,
    pub tool_material: Option<ToolMaterial>,
    pub edge: Option<EdgeState>,
    pub holder: Option<Holder>,
    pub cut: Option<CutKind>,
    pub workholding: Option<Workholding>,
    pub shape: Option<PartShape>,
    pub axis: Option<Axis>,
    pub sense: Option<CutSense>,
    pub means: Vec<Means>,
    pub done: Vec<RemedyId>,
    pub ruled_out: Vec<RemedyId>,
    pub changed: Option<RemedyId>,
    pub evidence: Option<Evidence>,
    pub turns: Option<Turns>,
}

/// One machine, one job, and what is known of them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// Version of this form; [`SCHEMA`].
    pub schema: u32,
    /// The user's own name for it.
    pub name: String,
    /// Units to show.
    pub units: UnitSystem,
    /// Picked answers.
    pub choices: Choices,
    /// Typed numbers by [`FieldSpec::key`], as typed.
    pub entries: BTreeMap<String, String>,
}

impl Scenario {
    /// An empty scenario: everything unknown.
    pub fn new(name: impl Into<String>) -> Self {
        Scenario {
            schema: SCHEMA,
            name: name.into(),
            units: UnitSystem::default(),
            choices: Choices::default(),
            entries: BTreeMap::new(),
        }
    }

    /// What was typed into `field`; empty if nothing was.
    pub fn entry(&self, field: Field) -> &str {
        self.entries.get(field.spec().key).map_or("", String::as_str)
    }

    /// Keeps `text` as typed into `field`; blank text clears it.
    pub fn set_entry(&mut self, field: Field, text: impl Into<String>) {
        let text = text.into();
        if text.trim().is_empty() {
            self.entries.remove(field.spec().key);
        } else {
            self.entries.insert(field.spec().key.to_owned(), text);
        }
    }

    /// [`Scenario::set_entry`] for several.
    pub fn set_entries<T: Into<String>>(&mut self, entries: impl IntoIterator<Item = (Field, T)>) {
        for (field, text) in entries {
            self.set_entry(field, text);
        }
    }
}
