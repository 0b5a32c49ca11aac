//! Roughness of a profile by the definitions of the standards.
//!
//! ISO 21920-2:2021 (before it ISO 4287:1997), values from memory: the
//! roughness profile is the profile less its Gaussian mean line (ISO 16610-21)
//! at the cut-off; Ra is the mean absolute height over the evaluation length of
//! five sections, each as long as the cut-off; Rz is the mean over the sections
//! of highest peak plus deepest valley. The short-wave filter (lambda s) is left
//! out: a computed profile has no instrument noise to take away.

/// A profile: heights (mm) at even spacing (mm).
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Spacing.
    pub spacing: f64,
    /// Heights, positive where material is left standing.
    pub heights: Vec<f64>,
}

/// How much of the standard's procedure a profile was long enough for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// Five sections after the filter's run-in.
    Full,
    /// This many sections, fewer than five. The standards allow it if it is
    /// stated.
    Sections(u8),
    /// Not one section: the mean height was taken off instead of the filter's
    /// mean line, and the whole profile was one section. No standard value.
    Unfiltered,
}

/// Roughness of a profile, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roughness {
    /// Mean absolute height.
    pub ra: f64,
    /// Mean peak to valley of the sections.
    pub rz: f64,
    /// Peak to valley of the whole evaluation length.
    pub rt: f64,
    /// What the values rest on.
    pub extent: Extent,
}

/// Sections in the evaluation length.
const SECTIONS: usize = 5;

/// Constant of the Gaussian filter: `sqrt(ln 2 / pi)`, which makes it pass half
/// the amplitude at the cut-off.
const ALPHA: f64 = 0.469_718_639_349_825_2;

/// Cut-offs of the standards, mm, with the largest Ra and the widest spacing of
/// marks (mm) each is for: ISO 4288:1996, kept in ISO 21920-3 (from memory).
const CUTOFFS: [(f64, f64, f64); 5] =
    [(0.08, 0.02e-3, 0.04), (0.25, 0.1e-3, 0.13), (0.8, 2e-3, 0.4), (2.5, 10e-3, 1.3), (8.0, 80e-3, 4.0)];

impl Profile {
    /// Roughness at the cut-off that the standard sets for marks `pitch` (mm)
    /// apart and for what comes out: the smallest whose own result lies in its
    /// range.
    pub fn roughness(&self, pitch: f64) -> Option<(Roughness, f64)> {
        let mut last = None;
        let wide = CUTOFFS.len() - 1;
        let first = CUTOFFS.iter().position(|&(_, _, widest)| pitch <= widest).unwrap_or(wide);
        for (cutoff, most, _) in CUTOFFS.into_iter().skip(first) {
            let found = self.roughness_at(cutoff)?;
            if found.extent == Extent::Unfiltered && last.is_some() {
                break;
            }
            last = Some((found, cutoff));
            if found.ra <= most {
                break;
            }
        }
        last
    }

    /// Roughness at a cut-off (mm); nothing for a profile without two points.
    pub fn roughness_at(&self, cutoff: f64) -> Option<Roughness> {
        if self.heights.len() < 2 {
            return None;
        }
        // Half a cut-off at each end is the filter's run-in.
        let run_in = (0.5 * cutoff / self.spacing).ceil() as usize;
        let section = (cutoff / self.spacing).round().max(1.0) as usize;
        let usable = self.heights.len().saturating_sub(2 * run_in);
        let sections = (usable / section).min(SECTIONS);
        if sections == 0 {
            let mean = self.heights.iter().sum::<f64>() / self.heights.len() as f64;
            let left: Vec<f64> = self.heights.iter().map(|height| height - mean).collect();
            let (low, high) = ends(&left);
            return Some(Roughness {
                ra: mean_size(&left),
                rz: high - low,
                rt: high - low,
                extent: Extent::Unfiltered,
            });
        }
        let needed = sections * section;
        let from = (self.heights.len() - needed) / 2;
        let line = self.mean_line(cutoff, from, needed);
        let left: Vec<f64> = line.iter().zip(&self.heights[from..]).map(|(line, height)| height - line).collect();
        let heights = left.chunks_exact(section).map(|part| {
            let (low, high) = ends(part);
            high - low
        });
        let (low, high) = ends(&left);
        Some(Roughness {
            ra: mean_size(&left),
            rz: heights.sum::<f64>() / sections as f64,
            rt: high - low,
            extent: if sections == SECTIONS { Extent::Full } else { Extent::Sections(sections as u8) },
        })
    }

    /// Gaussian mean line (ISO 16610-21) of `count` points from `from` on:
    /// weights `exp(-pi (x / (alpha lc))^2)`, cut off a whole cut-off away and
    /// scaled to sum to one, at the ends over what there is.
    pub fn mean_line(&self, cutoff: f64, from: usize, count: usize) -> Vec<f64> {
        let half = (cutoff / self.spacing).ceil() as usize;
        let weight = |points: usize| {
            let x = points as f64 * self.spacing / (ALPHA * cutoff);
            (-std::f64::consts::PI * x * x).exp()
        };
        let weights: Vec<f64> = (0..=2 * half).map(|i| weight(i.abs_diff(half))).collect();
        let whole: f64 = weights.iter().sum();
        (from..from + count)
            .map(|middle| {
                let low = middle.saturating_sub(half);
                let high = (middle + half + 1).min(self.heights.len());
                let own = &weights[low + half - middle..high + half - middle];
                let sum: f64 = own.iter().zip(&self.heights[low..high]).map(|(weight, height)| weight * height).sum();
                sum / if own.len() == weights.len() { whole } else { own.iter().sum() }
            })
            .collect()
    }
}

fn mean_size(heights: &[f64]) -> f64 {
    heights.iter().map(|height| height.abs()).sum::<f64>() / heights.len() as f64
}

fn ends(heights: &[f64]) -> (f64, f64) {
    heights.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &z| (low.min(z), high.max(z)))
}
