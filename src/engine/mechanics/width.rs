//! How the force grows with the width of cut: what deflection feeds back on.

use super::force::Engagement;
use crate::work::{CutKind, Setup};

/// Mean force relative to that at the nominal width, tabulated over widths.
#[derive(Clone, Debug, PartialEq)]
pub struct WidthTable {
    nominal: f64,
    /// Ratios at even steps from zero to twice the nominal width; empty where
    /// the width can't change (a slot, a face).
    ratios: Vec<f64>,
}

impl WidthTable {
    const STEPS: usize = 24;

    /// For the cut of a setup.
    pub fn new(setup: &Setup) -> Self {
        let Setup { cutter, cut, material, .. } = setup;
        let (nominal, diameter) = (cut.radial_width.as_mm(), cutter.diameter.as_mm());
        let ratios = match cut.kind {
            CutKind::Slot | CutKind::Face => Vec::new(),
            CutKind::Side | CutKind::Floor => {
                let published = material.coefficients();
                // Work per tooth pass is what grows with width; edge and chip
                // parts in the proportion of a nominal cut.
                let pass = |width: f64| {
                    let e = Engagement::new(cut.kind, cut.sense, width, diameter);
                    let chip = cut.feed_per_tooth.as_mm() * (e.start.cos() - e.exit.cos());
                    published.tangential * chip + published.edge_tangential * e.span()
                };
                let full = pass(nominal);
                (0..=Self::STEPS)
                    .map(|i| pass((nominal * 2.0 * i as f64 / Self::STEPS as f64).min(diameter)) / full)
                    .collect()
            }
        };
        WidthTable { nominal, ratios }
    }

    /// Force at `width` (mm) over force at the nominal width.
    pub fn force_ratio(&self, width: f64) -> f64 {
        if self.ratios.is_empty() {
            return 1.0;
        }
        let last = self.ratios.len() - 1;
        let at = (width / self.nominal * 0.5 * last as f64).clamp(0.0, last as f64);
        let below = (at as usize).min(last - 1);
        let share = at - below as f64;
        self.ratios[below] + share * (self.ratios[below + 1] - self.ratios[below])
    }
}
