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
            (CutKind::Slot, _) => Engagement {
                start: 0.0,
                exit: PI,
            },
            (CutKind::Face, _) => {
                let half = ratio.asin();
                Engagement {
                    start: FRAC_PI_2 - half,
                    exit: FRAC_PI_2 + half,
                }
            }
            (_, CutSense::Conventional) => Engagement {
                start: 0.0,
                exit: (1.0 - 2.0 * ratio).acos(),
            },
            (_, CutSense::Climb) => Engagement {
                start: (2.0 * ratio - 1.0).acos(),
                exit: PI,
            },
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
#[allow(missing_docs, reason = "the field's usual symbols")]
pub struct ForceCoefficients {
    pub ktc: f64,
    pub krc: f64,
    pub kac: f64,
    pub kte: f64,
    pub kre: f64,
    pub kae: f64,
    pub thrust: f64,
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

/// One runout's worth of geometry.
#[derive(Clone, Debug, PartialEq)]
struct Level {
    steps: Vec<Integrals>,
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
        let levels = RUNOUT_LEVELS
            .iter()
            .map(|&level| Level {
                steps: revolution(cut, &chip_loads(cut, level * cut.feed)),
            })
            .collect();
        // The wall is made where a tooth, at some height of the helix, passes
        // the entry (conventional) or exit (climb) angle.
        let (from, to) = match sense {
            CutSense::Conventional => (cut.engagement.start, cut.engagement.start + lag),
            CutSense::Climb => (cut.engagement.exit, cut.engagement.exit + lag),
        };
        let margin = 0.5 * TAU / STEPS as f64;
        let pitch = TAU / f64::from(cut.teeth);
        let marks = (0..STEPS).map(|step| {
            let angle = (step as f64 + 0.5) * TAU / STEPS as f64;
            let makes_wall = (0..cut.teeth).any(|tooth| {
                let at = angle + f64::from(tooth) * pitch;
                let middle = 0.5 * (from + to);
                wrap(at - middle).abs() <= 0.5 * (to - from) + margin
            });
            if makes_wall { 1.0 } else { 0.0 }
        });
        let mut wall: Vec<f64> = marks.collect();
        let total: f64 = wall.iter().sum();
        wall.iter_mut().for_each(|weight| *weight /= total.max(1.0));
        ForceBasis {
            levels,
            wall,
            feed: cut.feed,
        }
    }

    /// Force at each step of a revolution, for a cutter whose axis lies
    /// `offset` (mm) from the spindle's.
    pub fn forces(&self, offset: f64, k: &ForceCoefficients) -> ForceHistory {
        let (low, high, share) = bracket(offset / self.feed);
        let (low, high) = (&self.levels[low].steps, &self.levels[high].steps);
        let mut history = ForceHistory {
            x: [0.0; STEPS],
            y: [0.0; STEPS],
            z: [0.0; STEPS],
            tangential: 0.0,
        };
        let mut tangential = 0.0;
        for step in 0..STEPS {
            let (a, b) = (&low[step], &high[step]);
            let [h_cos, h_sin, cos, sin, h, one]: Integrals =
                std::array::from_fn(|i| a[i] + share * (b[i] - a[i]));
            history.x[step] = -k.ktc * h_cos - k.krc * h_sin - k.kte * cos - k.kre * sin;
            history.y[step] = k.ktc * h_sin - k.krc * h_cos + k.kte * sin - k.kre * cos;
            history.z[step] = (k.kac - k.thrust * k.krc) * h + (k.kae - k.thrust * k.kre) * one;
            tangential += k.ktc * h + k.kte * one;
        }
        history.tangential = tangential / STEPS as f64;
        history
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

/// Chip of one tooth, `h = share * feed * sin + offset` where positive.
#[derive(Clone, Copy, Debug)]
struct ChipLoad {
    feed: f64,
    offset: f64,
}

/// What each tooth takes when the cutter runs out by `rho` (mm, radial).
///
/// A tooth cuts down to the lowest of the surfaces left by the teeth before it
/// (Tlusty and Ismail 1981); which one that is, is decided at full chip.
fn chip_loads(cut: &CutGeometry, rho: f64) -> Vec<ChipLoad> {
    let teeth = cut.teeth as usize;
    let radius: Vec<f64> = (0..teeth)
        .map(|j| rho * (TAU * j as f64 / teeth as f64).cos())
        .collect();
    (0..teeth)
        .map(|j| {
            (1..=teeth)
                .map(|back| {
                    let before = (j + teeth - back % teeth) % teeth;
                    ChipLoad {
                        feed: back as f64 * cut.feed,
                        offset: radius[j] - radius[before],
                    }
                })
                .min_by(|a, b| (a.feed + a.offset).total_cmp(&(b.feed + b.offset)))
                .unwrap_or(ChipLoad {
                    feed: cut.feed,
                    offset: 0.0,
                })
        })
        .collect()
}

fn revolution(cut: &CutGeometry, loads: &[ChipLoad]) -> Vec<Integrals> {
    let pitch = TAU / f64::from(cut.teeth);
    (0..STEPS)
        .map(|step| {
            // Half a step in, so that no sample sits on an entry or exit edge.
            let angle = (step as f64 + 0.5) * TAU / STEPS as f64;
            let mut sum = [0.0; 6];
            for (tooth, load) in loads.iter().enumerate() {
                let part = tooth_integrals(cut, *load, angle + tooth as f64 * pitch);
                for (total, value) in sum.iter_mut().zip(part) {
                    *total += value;
                }
            }
            sum
        })
        .collect()
}

/// Integrals along one tooth whose tip stands at `angle`.
fn tooth_integrals(cut: &CutGeometry, load: ChipLoad, angle: f64) -> Integrals {
    if load.feed + load.offset <= 0.0 {
        return [0.0; 6];
    }
    // Where runout makes the chip vanish before the edge of the work does.
    let vanish = if load.offset < 0.0 {
        (-load.offset / load.feed).min(1.0).asin()
    } else {
        0.0
    };
    let start = cut.engagement.start.max(vanish);
    let exit = cut.engagement.exit.min(PI - vanish);
    if exit <= start {
        return [0.0; 6];
    }
    let lag = lag(cut);
    let angle = angle.rem_euclid(TAU);
    if lag < 1e-9 {
        if angle < start || angle > exit {
            return [0.0; 6];
        }
        let (sin, cos) = angle.sin_cos();
        let h = load.feed * sin + load.offset;
        return [h * cos, h * sin, cos, sin, h, 1.0].map(|value| value * cut.depth);
    }
    // The tip leads; the top trails by `lag`. Beyond a whole turn of lag the
    // edge passes the work more than once.
    let scale = cut.depth / lag;
    let mut sum = [0.0; 6];
    let turns = (lag / TAU).ceil() as i32;
    for turn in 0..=turns {
        let tip = angle + f64::from(turn) * TAU;
        let from = (tip - lag).max(start);
        let to = tip.min(exit);
        if to <= from {
            continue;
        }
        let (a, b) = (antiderivatives(from), antiderivatives(to));
        let [cos, sin, sin_cos, sin_sin] = std::array::from_fn(|i| b[i] - a[i]);
        let one = to - from;
        let part = [
            load.feed * sin_cos + load.offset * cos,
            load.feed * sin_sin + load.offset * sin,
            cos,
            sin,
            load.feed * sin + load.offset * one,
            one,
        ];
        for (total, value) in sum.iter_mut().zip(part) {
            *total += value * scale;
        }
    }
    sum
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
    let high = RUNOUT_LEVELS
        .iter()
        .position(|&level| level > ratio)
        .unwrap_or(last)
        .max(1);
    let (a, b) = (RUNOUT_LEVELS[high - 1], RUNOUT_LEVELS[high]);
    (high - 1, high, ((ratio - a) / (b - a)).clamp(0.0, 1.0))
}

/// `angle` brought into -pi..pi.
fn wrap(angle: f64) -> f64 {
    (angle + PI).rem_euclid(TAU) - PI
}
