//! What every section of the answer page is made from.

use std::sync::Arc;

use serde::Serialize;
use spindlewise_engine::decision::{Appraisal, Case, Change, Decision, Figure, Prediction, Spread};
use spindlewise_engine::quantity::UnitSystem;
use spindlewise_engine::remedies::RemedyId;
use spindlewise_engine::scenario::Resolved;

use crate::app::markup::{Attributes, IntoValue};

/// An answer, the case it belongs to and the units to show it in.
#[derive(Clone)]
pub struct Sheet {
    /// The answer.
    pub decision: Arc<Decision>,
    /// The scenario as read.
    pub resolved: Arc<Resolved>,
    /// Units to show.
    pub units: UnitSystem,
}

impl Sheet {
    /// The question.
    pub fn case(&self) -> &Case {
        &self.resolved.case
    }

    /// The surface the cut is judged by.
    pub fn surface(&self) -> Surface {
        Surface::that_counts(&self.decision)
    }

    /// What was found about a remedy.
    pub fn appraisal(&self, remedy: RemedyId) -> Option<&Appraisal> {
        self.decision.appraisals.iter().find(|appraisal| appraisal.remedy == remedy)
    }
}

/// A surface left by the cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// By its side.
    Wall,
    /// By its end.
    Floor,
}

impl Surface {
    /// The one that the cut of `decision` is judged by.
    pub fn that_counts(decision: &Decision) -> Self {
        if decision.counts.wall { Surface::Wall } else { Surface::Floor }
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Surface::Wall => "wall",
            Surface::Floor => "floor",
        }
    }

    /// Its roughness among the figures.
    pub fn figure(self) -> Figure {
        match self {
            Surface::Wall => Figure::Wall,
            Surface::Floor => Figure::Floor,
        }
    }

    /// Its roughness.
    pub fn roughness(self, prediction: &Prediction) -> Spread {
        match self {
            Surface::Wall => prediction.wall,
            Surface::Floor => prediction.floor,
        }
    }

    /// The change of its roughness.
    pub fn change(self, change: &Change) -> Spread {
        match self {
            Surface::Wall => change.wall,
            Surface::Floor => change.floor,
        }
    }
}

/// A value's name in saved and exported documents, for addresses on the page.
pub fn wire_name(value: &impl Serialize) -> String {
    serde_json::to_value(value).ok().and_then(|name| name.as_str().map(str::to_owned)).unwrap_or_default()
}

/// Where on the page a remedy is weighed.
pub fn remedy_anchor(remedy: RemedyId) -> String {
    format!("remedy-{}", wire_name(&remedy))
}

/// Attributes that carry a figure in full, for whoever reads the page by
/// program: base units, probabilities 0 to 1.
pub fn figure_attributes(name: &'static str, figure: Spread) -> Attributes {
    vec![
        ("data-figure", name.into_value()),
        ("data-low", figure.low.into_value()),
        ("data-mid", figure.mid.into_value()),
        ("data-high", figure.high.into_value()),
    ]
}

/// The same for a remedy, which links lead to.
pub fn remedy_attributes(rank: usize, appraisal: &Appraisal) -> Attributes {
    vec![
        ("id", remedy_anchor(appraisal.remedy).into_value()),
        ("tabindex", "-1".into_value()),
        ("data-standing", wire_name(&appraisal.standing).into_value()),
        ("data-remedy", wire_name(&appraisal.remedy).into_value()),
        ("data-rank", rank.into_value()),
        ("data-worth", appraisal.expected_worth.into_value()),
        ("data-reach", appraisal.prediction.reach.into_value()),
    ]
}

/// The same for a figure without a spread.
pub fn point(value: f64) -> Spread {
    Spread { low: value, mid: value, high: value }
}
