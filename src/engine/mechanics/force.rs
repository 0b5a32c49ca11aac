//! Cutting force over a revolution.
//!
//! Linear-edge mechanistic model: `dF = (K_c h + K_e) dz` along each direction,
//! per tooth, integrated exactly along the helix and through entry and exit.
//! Altintas, *Manufacturing Automation*, 2nd ed. 2012, ch. 2; the frame is the
//! one used there: x along the feed of the tool, y across it, tooth angle from
//! +y. Forces are those on the tool.
//!
//! For a given cut everything but the coefficients is geometry, so geometry is
//! integrated once ([`ForceBasis`]) and every plausible machine only combines
//! it ([`ForceBasis::forces`]).

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::work::{CutKind, CutSense};

/// Angles looked at in one revolution.
pub const STEPS: usize = 72;

/// Where a tooth enters and leaves the work, rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Engagement {
    /// Entry angle.
    pub start: f64,
    /// Exit angle.
    pub exit: f64,
}

impl Engagement {
    /// Engagement of a cut of radial width `width` with a cutter of `diameter`
    /// (both mm). A slot takes the whole half turn; a face cut lies centred.
    pub fn new(kind: CutKind, sense: CutSense, width: f64, diameter: f64) -> Self {
        let ratio = (width / diameter).clamp(0.0, 1.0);
        match (kind, sense) {
            (CutKind::Slot, _) => Engagement { start: 0.0, exit: PI },
            (CutKind::Face, _) => {
                let half = ratio.asin();
                Engagement { start: FRAC_PI_2 - half, exit: FRAC_PI_2 + half }
            }
            (_, CutSense::Conventional) => Engagement { start: 0.0, exit: (1.0 - 2.0 * ratio).acos() },
            (_, CutSense::Climb) => Engagement { start: (2.0 * ratio - 1.0).acos(), exit: PI },
        }
    }

    /// Angle in the cut, rad.
    pub fn span(self) -> f64 {
        self.exit - self.start
    }
}

/// Coefficients in force: N/mm2 for `*c`, N/mm for `*e`. Positive axial force
/// pulls the tool out of its holder and the work up; `thrust` is the share of
/// the radial force that a corner radius or a lead angle turns into push the
/// other way.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[allow(missing_docs, reason = "the field’s usual symbols")]
pub struct ForceCoefficients {
    pub ktc: f64,
    pub krc: f64,
    pub kac: f64,
    pub kte: f64,
    pub kre: f64,
    pub kae: f64,
    pub thrust: f64,
}

impl ForceCoefficients {
    /// Force along x, y and z.
    fn force(&self, &[h_cos, h_sin, cos, sin, h, one]: &Integrals) -> [f64; 3] {
        let (lift, edge_lift) = (self.kac - self.thrust * self.krc, self.kae - self.thrust * self.kre);
        [
            -self.ktc * h_cos - self.krc * h_sin - self.kte * cos - self.kre * sin,
            self.ktc * h_sin - self.krc * h_cos + self.kte * sin - self.kre * cos,
            lift * h + edge_lift * one,
        ]
    }

    /// Tangential force.
    fn tangential(&self, &[.., h, one]: &Integrals) -> f64 {
        self.ktc * h + self.kte * one
    }
}

/// Geometry of a cut as far as the force needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutGeometry {
    /// Cutter diameter, mm.
    pub diameter: f64,
    /// Number of teeth.
    pub teeth: u32,
    /// Helix angle, rad.
    pub helix: f64,
    /// Axial depth, mm.
    pub depth: f64,
    /// Feed per tooth, mm.
    pub feed: f64,
    /// Entry and exit.
    pub engagement: Engagement,
}

/// Integrals over the edge in the cut at one angle of the spindle, summed over
/// the teeth: of `h cos`, `h sin`, `cos`, `sin`, `h` and 1, times dz.
type Integrals = [f64; 6];

/// What lies at `share` of the way from `low` to `high`.
fn between(low: &Integrals, high: &Integrals, share: f64) -> Integrals {
    std::array::from_fn(|i| low[i] + share * (high[i] - low[i]))
}

/// One runout's worth of geometry.
#[derive(Clone, Debug, PartialEq)]
struct Level {
    /// Each integral over the steps: a column at a time is what a processor adds
    /// up in one go.
    columns: Box<[[f64; STEPS]; 6]>,
    /// Means of the columns.
    mean: Integrals,
    /// The same over the instants at which the wall is made.
    at_wall: Integrals,
    /// The same against the waves: see [`ForceBasis::harmonics`].
    harmonics: [[Integrals; 2]; HARMONICS],
}

impl Level {
    fn new(steps: &[Integrals], wall: &[f64], waves: &[[[f64; STEPS]; 2]]) -> Self {
        let columns: [[f64; STEPS]; 6] = std::array::from_fn(|i| std::array::from_fn(|step| steps[step][i]));
        let mean = columns.map(|column| column.iter().sum::<f64>() / STEPS as f64);
        let weighted = |weights: &[f64]| -> Integrals {
            columns.map(|column| column.iter().zip(weights).map(|(value, weight)| value * weight).sum())
        };
        let mut harmonics = [[[0.0; 6]; 2]; HARMONICS];
        for (parts, waves) in harmonics.iter_mut().zip(waves) {
            *parts = [weighted(&waves[0]), weighted(&waves[1])];
        }
        Level { mean, at_wall: weighted(wall), harmonics, columns: Box::new(columns) }
    }
}

/// Harmonics of tooth passing that bend the tool where the wall is made: beyond
/// them little is left of the force, and modes no longer follow.
pub const HARMONICS: usize = 6;

/// For each harmonic of tooth passing, what each step counts in phase with the
/// making of the wall and a quarter ahead; harmonics too fast for the steps are
/// left out.
fn waves(teeth: u32, wall: &[f64]) -> Vec<[[f64; STEPS]; 2]> {
    let most = HARMONICS.min((STEPS - 1) / (2 * teeth as usize));
    (1..=most)
        .map(|harmonic| {
            let phase = |step: usize| (harmonic * teeth as usize * step) as f64 * TAU / STEPS as f64;
            let made = |part: fn(f64) -> f64| -> f64 {
                wall.iter().enumerate().map(|(step, weight)| weight * part(phase(step))).sum()
            };
            let (cos, sin) = (made(f64::cos), made(f64::sin));
            let count = 2.0 / STEPS as f64;
            [
                std::array::from_fn(|step| count * (cos * phase(step).cos() + sin * phase(step).sin())),
                std::array::from_fn(|step| count * (sin * phase(step).cos() - cos * phase(step).sin())),
            ]
        })
        .collect()
}

/// The geometry of a cut, integrated for a few runouts.
#[derive(Clone, Debug, PartialEq)]
pub struct ForceBasis {
    levels: Vec<Level>,
    /// Weight of each step in the instants at which the wall is made.
    wall: Vec<f64>,
    feed: f64,
}

/// Radial offset of the cutter over the feed per tooth at which geometry is
/// tabulated; between them forces are interpolated.
const RUNOUT_LEVELS: [f64; 6] = [0.0, 0.25, 0.5, 1.0, 2.0, 5.0];

impl ForceBasis {
    /// Integrates `cut`. `sense` tells which end of the engagement makes the
    /// wall.
    pub fn new(cut: &CutGeometry, sense: CutSense) -> Self {
        let lag = lag(cut);
        // The wall is made where a tooth, at some height of the helix, passes
        // the entry (conventional) or exit (climb) angle.
        let (from, to) = match sense {
            CutSense::Conventional => (cut.engagement.start, cut.engagement.start + lag),
            CutSense::Climb => (cut.engagement.exit, cut.engagement.exit + lag),
        };
        // Steps count by what of them lies between; at least one step's worth, for
        // straight teeth make it in an instant.
        let half_step = 0.5 * TAU / STEPS as f64;
        let (middle, reach) = (0.5 * (from + to), (0.5 * (to - from)).max(half_step));
        let pitch = TAU / f64::from(cut.teeth);
        let marks = (0..STEPS).map(|step| {
            let angle = (step as f64 + 0.5) * TAU / STEPS as f64;
            let overlap = |tooth: u32| {
                let off = wrap(angle + f64::from(tooth) * pitch - middle);
                ((off + half_step).min(reach) - (off - half_step).max(-reach)).max(0.0)
            };
            (0..cut.teeth).map(overlap).sum::<f64>()
        });
        let mut wall: Vec<f64> = marks.collect();
        let total: f64 = wall.iter().sum();
        wall.iter_mut().for_each(|weight| *weight /= total);
        let waves = waves(cut.teeth, &wall);
        let level = |&level: &f64| Level::new(&revolution(cut, &chips(cut, level * cut.feed)), &wall, &waves);
        ForceBasis { levels: RUNOUT_LEVELS.iter().map(level).collect(), wall, feed: cut.feed }
    }

    /// Force at each step of a revolution, for a cutter whose axis lies
    /// `offset` (mm) from the spindle's.
    pub fn forces(&self, offset: f64, k: &ForceCoefficients) -> ForceHistory {
        let (low, high, share) = self.levels_about(offset);
        let mut history = ForceHistory {
            x: [0.0; STEPS],
            y: [0.0; STEPS],
            z: [0.0; STEPS],
            tangential: k.tangential(&between(&low.mean, &high.mean, share)),
        };
        let (a, b) = (&low.columns, &high.columns);
        for step in 0..STEPS {
            let integrals = std::array::from_fn(|i| a[i][step] + share * (b[i][step] - a[i][step]));
            [history.x[step], history.y[step], history.z[step]] = k.force(&integrals);
        }
        history
    }

    /// Means of [`Self::forces`]: over the revolution, and over the instants at
    /// which the wall is made.
    pub fn mean_forces(&self, offset: f64, k: &ForceCoefficients) -> [[f64; 3]; 2] {
        let (low, high, share) = self.levels_about(offset);
        [(&low.mean, &high.mean), (&low.at_wall, &high.at_wall)].map(|(low, high)| k.force(&between(low, high, share)))
    }

    /// The harmonics of tooth passing in the force across the feed, each as its
    /// part in phase with the making of the wall and its part a quarter ahead: a
    /// machine that followed all of them would be at their in-phase sum when the
    /// wall is made.
    pub fn harmonics(&self, offset: f64, k: &ForceCoefficients) -> [[f64; 2]; HARMONICS] {
        let (low, high, share) = self.levels_about(offset);
        let across = |low: &Integrals, high: &Integrals| k.force(&between(low, high, share))[1];
        std::array::from_fn(|i| [0, 1].map(|part| across(&low.harmonics[i][part], &high.harmonics[i][part])))
    }

    /// The two levels about `offset`, and how far it lies between them.
    fn levels_about(&self, offset: f64) -> (&Level, &Level, f64) {
        let (low, high, share) = bracket(offset / self.feed);
        (&self.levels[low], &self.levels[high], share)
    }

    /// Weights of the steps at which the wall is made; they sum to one.
    pub fn wall(&self) -> &[f64] {
        &self.wall
    }
}

/// Force on the tool over one revolution, N, and the mean tangential force.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "x, y, z of the frame above")]
pub struct ForceHistory {
    pub x: [f64; STEPS],
    pub y: [f64; STEPS],
    pub z: [f64; STEPS],
    pub tangential: f64,
}

/// Smallest and largest value of a force, zero included: a cutter that has left
/// the work is pushed by nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// Smallest, at most zero.
    pub low: f64,
    /// Largest, at least zero.
    pub high: f64,
}

impl Ends {
    /// Of one component of a history.
    pub fn of(component: &[f64; STEPS]) -> Self {
        // Plain comparisons: they become vector instructions, `f64::min` does
        // not.
        let (mut low, mut high) = (0.0, 0.0);
        for &value in component {
            low = if value < low { value } else { low };
            high = if value > high { value } else { high };
        }
        Ends { low, high }
    }

    /// Peak to peak.
    pub fn range(self) -> f64 {
        self.high - self.low
    }

    /// Largest magnitude.
    pub fn largest(self) -> f64 {
        self.high.max(-self.low)
    }

    /// How far the force acts both ways, with a steady `bias` on top: 0 never
    /// reverses, 1 fully alternates.
    pub fn reversal(self, bias: f64) -> f64 {
        let (low, high) = (self.low + bias, self.high + bias);
        if low >= 0.0 || high <= 0.0 {
            return 0.0;
        }
        (-low).min(high) / (-low).max(high)
    }
}

impl ForceHistory {
    /// Mean of one component.
    pub fn mean(component: &[f64; STEPS]) -> f64 {
        component.iter().sum::<f64>() / STEPS as f64
    }
}

/// The angle by which the top of the engaged edge trails the tip, rad.
fn lag(cut: &CutGeometry) -> f64 {
    2.0 * cut.depth * cut.helix.tan() / cut.diameter
}

/// A stretch of the tooth's way through the work on which one earlier surface
/// sets the chip: `h = feed * sin + offset` between two angles.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Chip {
    start: f64,
    exit: f64,
    feed: f64,
    offset: f64,
}

/// What each tooth takes when the cutter runs out by `rho` (mm, radial).
///
/// A tooth cuts down to the lowest of the surfaces that the teeth before it left
/// (Tlusty and Ismail 1981): `h = min over k of k f sin + r_j - r_(j+k)`, a
/// concave function of the sine; tooth `j + k` stands k pitches ahead and so
/// passed before. Stretches without a chip are left out.
fn chips(cut: &CutGeometry, rho: f64) -> Vec<Vec<Chip>> {
    let teeth = cut.teeth as usize;
    let radius: Vec<f64> = (0..teeth).map(|j| rho * (TAU * j as f64 / teeth as f64).cos()).collect();
    (0..teeth)
        .map(|j| {
            let surfaces: Vec<(f64, f64)> =
                (1..=teeth).map(|back| (back as f64 * cut.feed, radius[j] - radius[(j + back) % teeth])).collect();
            envelope(&surfaces).into_iter().flat_map(|piece| on_angles(piece, cut.engagement)).collect()
        })
        .collect()
}

/// A line that is the lowest, and above zero, between two sines.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    from: f64,
    to: f64,
    feed: f64,
    offset: f64,
}

/// The lowest of the lines `feed * s + offset` over s from 0 to 1, where it is
/// above zero.
fn envelope(lines: &[(f64, f64)]) -> Vec<Piece> {
    let lowest_at = |s: f64| {
        let height = |&(feed, offset): &(f64, f64)| feed * s + offset;
        lines.iter().copied().min_by(|a, b| height(a).total_cmp(&height(b)).then(a.0.total_cmp(&b.0)))
    };
    let mut pieces = Vec::new();
    let mut at = 0.0;
    while let Some((feed, offset)) = lowest_at(at + 1e-12).filter(|_| at < 1.0) {
        // The next line that undercuts this one rises more slowly.
        let crossing = |&(other, start): &(f64, f64)| (start - offset) / (feed - other);
        let next = lines.iter().filter(|line| line.0 < feed).map(crossing).filter(|&s| s > at + 1e-12);
        let to = next.fold(1.0, f64::min);
        let from = if offset < 0.0 { at.max(-offset / feed) } else { at };
        if from < to {
            pieces.push(Piece { from, to, feed, offset });
        }
        at = to;
    }
    pieces
}

/// The stretches of the engagement on which the sine lies within a piece: one on
/// the way up, one on the way down.
fn on_angles(piece: Piece, engagement: Engagement) -> impl Iterator<Item = Chip> {
    let (low, high) = (piece.from.asin(), piece.to.min(1.0).asin());
    [(low, high), (PI - high, PI - low)].into_iter().filter_map(move |(start, exit)| {
        let (start, exit) = (start.max(engagement.start), exit.min(engagement.exit));
        (start < exit).then_some(Chip { start, exit, feed: piece.feed, offset: piece.offset })
    })
}

fn revolution(cut: &CutGeometry, chips: &[Vec<Chip>]) -> Vec<Integrals> {
    let pitch = TAU / f64::from(cut.teeth);
    (0..STEPS)
        .map(|step| {
            // Half a step in, so that no sample sits on an entry or exit edge.
            let angle = (step as f64 + 0.5) * TAU / STEPS as f64;
            let mut sum = [0.0; 6];
            for (tooth, stretches) in chips.iter().enumerate() {
                let tip = (angle + tooth as f64 * pitch).rem_euclid(TAU);
                for chip in stretches {
                    add_edge(cut, chip, tip, &mut sum);
                }
            }
            sum
        })
        .collect()
}

/// Adds the integrals along the part of one tooth, its tip at angle `tip`, that
/// is on the stretch `chip`.
fn add_edge(cut: &CutGeometry, chip: &Chip, tip: f64, sum: &mut Integrals) {
    let lag = lag(cut);
    let mut add = |scale: f64, [cos, sin, sin_cos, sin_sin, one]: [f64; 5]| {
        let part = [
            chip.feed * sin_cos + chip.offset * cos,
            chip.feed * sin_sin + chip.offset * sin,
            cos,
            sin,
            chip.feed * sin + chip.offset * one,
            one,
        ];
        for (total, value) in sum.iter_mut().zip(part) {
            *total += scale * value;
        }
    };
    if lag < 1e-9 {
        if (chip.start..chip.exit).contains(&tip) {
            let (sin, cos) = tip.sin_cos();
            add(cut.depth, [cos, sin, sin * cos, sin * sin, 1.0]);
        }
        return;
    }
    // The tip leads; the top trails by `lag`. Beyond a whole turn of lag the
    // edge passes the work more than once.
    for turn in 0..=(lag / TAU).ceil() as u32 {
        let tip = tip + f64::from(turn) * TAU;
        let (from, to) = ((tip - lag).max(chip.start), tip.min(chip.exit));
        if from < to {
            let (a, b) = (antiderivatives(from), antiderivatives(to));
            let [cos, sin, sin_cos, sin_sin] = std::array::from_fn(|i| b[i] - a[i]);
            add(cut.depth / lag, [cos, sin, sin_cos, sin_sin, to - from]);
        }
    }
}

/// Integrals of cos, sin, sin cos and sin2 from 0 to `angle`.
fn antiderivatives(angle: f64) -> [f64; 4] {
    let (sin, cos) = angle.sin_cos();
    [sin, -cos, 0.5 * sin * sin, 0.5 * (angle - sin * cos)]
}

/// The two tabulated levels about `ratio`, and how far it lies between them.
fn bracket(ratio: f64) -> (usize, usize, f64) {
    let last = RUNOUT_LEVELS.len() - 1;
    if ratio >= RUNOUT_LEVELS[last] {
        return (last, last, 0.0);
    }
    let high = RUNOUT_LEVELS.iter().position(|&level| level > ratio).unwrap_or(last).max(1);
    let (a, b) = (RUNOUT_LEVELS[high - 1], RUNOUT_LEVELS[high]);
    (high - 1, high, ((ratio - a) / (b - a)).clamp(0.0, 1.0))
}

/// `angle` brought into -pi..pi.
fn wrap(angle: f64) -> f64 {
    (angle + PI).rem_euclid(TAU) - PI
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// What one turn takes off is what was fed, however the cutter runs out:
    /// the chips of all teeth over their angles add up to the feed per turn.
    #[test]
    fn runout_moves_chips_between_teeth_but_makes_none() {
        for (teeth, feed, ratio) in [(4, 0.02, 0.04), (4, 0.03, 0.08), (2, 0.03, 0.08), (3, 0.04, 1.0), (1, 0.1, 0.5)] {
            for sense in [CutSense::Conventional, CutSense::Climb] {
                let engagement = Engagement::new(CutKind::Side, sense, ratio * 10.0, 10.0);
                let cut = CutGeometry { diameter: 10.0, teeth, helix: 0.5, depth: 2.0, feed, engagement };
                let fed = f64::from(teeth) * feed * (engagement.start.cos() - engagement.exit.cos());
                for rho in [0.0, 0.005, 0.01, 0.025, 0.04, 0.07] {
                    let taken: f64 = chips(&cut, rho)
                        .iter()
                        .flatten()
                        .map(|chip| {
                            chip.feed * (chip.start.cos() - chip.exit.cos()) + chip.offset * (chip.exit - chip.start)
                        })
                        .sum();
                    assert_relative_eq!(taken, fed, max_relative = 1e-9);
                }
            }
        }
    }
}
