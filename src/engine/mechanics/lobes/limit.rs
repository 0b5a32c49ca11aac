//! The first depth at which a cut chatters.

/// How stability is lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loss {
    /// A pair of multipliers leaves the unit circle: a chatter frequency of its
    /// own appears (secondary Hopf, also Neimark and Sacker, bifurcation).
    Hopf,
    /// A multiplier leaves through -1: every second tooth cuts alike (period
    /// doubling).
    Flip,
}

/// Of a cut at one speed and depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Small vibrations die out.
    Stable,
    /// They grow.
    Unstable(Loss),
}

impl Verdict {
    /// Whether small vibrations die out.
    pub fn is_stable(self) -> bool {
        self == Verdict::Stable
    }
}

/// The first depth at which vibrations grow, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Axial depth, mm.
    pub depth: f64,
    /// How stability is lost there.
    pub loss: Loss,
}

/// How to look for a limit. Stability can come back above the first limit, so
/// depth is scanned upwards in steps and only the one step in which it is lost
/// is bisected; what is unstable for less than a step can be missed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scan {
    /// First depth looked at, mm.
    pub from: f64,
    /// Step, as a share of the depth reached.
    pub ratio: f64,
    /// Deepest cut looked at, mm.
    pub deepest: f64,
    /// Error of the limit, as a share of it.
    pub tolerance: f64,
}

impl Default for Scan {
    /// From 1 um to 50 mm in steps of 3 %; limit to a millionth.
    fn default() -> Self {
        Scan { from: 1e-3, ratio: 0.03, deepest: super::super::stability::DEPTH_CAP, tolerance: 1e-6 }
    }
}

/// Smallest depth from which `verdict` is unstable, if there is one in the range
/// of the scan. A cut that is unstable at the first depth has its limit there.
pub fn first_limit(scan: Scan, mut verdict: impl FnMut(f64) -> Verdict) -> Option<Limit> {
    let (mut stable, mut depth) = (scan.from, scan.from);
    loop {
        if let Verdict::Unstable(loss) = verdict(depth) {
            let (depth, loss) = bisect([stable, depth], loss, scan.tolerance * depth, &mut verdict);
            return Some(Limit { depth, loss });
        }
        let next = depth * (1.0 + scan.ratio);
        // Asked so that a range that makes no sense ends the search too.
        let on = next > depth && depth < scan.deepest;
        if !on {
            return None;
        }
        (stable, depth) = (depth, next.min(scan.deepest));
    }
}

/// Closes in on the change between a stable and an unstable depth to within
/// `tolerance` (mm); gives the depth and how stability is lost beside it.
pub(super) fn bisect(
    [mut stable, mut unstable]: [f64; 2],
    mut loss: Loss,
    tolerance: f64,
    verdict: &mut impl FnMut(f64) -> Verdict,
) -> (f64, Loss) {
    const HALVINGS: u32 = 60;
    for _ in 0..HALVINGS {
        if (unstable - stable).abs() <= tolerance {
            break;
        }
        let middle = 0.5 * (stable + unstable);
        match verdict(middle) {
            Verdict::Stable => stable = middle,
            Verdict::Unstable(how) => (unstable, loss) = (middle, how),
        }
    }
    (0.5 * (stable + unstable), loss)
}
