//! Stability lobes against limits that are exact for the same model, and against
//! semi-discretization done elsewhere. The heads of the tables say what they are
//! and where they come from.

use std::f64::consts::TAU;

use approx::assert_relative_eq;
use spindlewise_engine::mechanics::force::Engagement;
use spindlewise_engine::mechanics::lobes::frequency::Averaging;
use spindlewise_engine::mechanics::lobes::semi_discretization::{Order, SemiDiscretization};
use spindlewise_engine::mechanics::lobes::{
    Freedom, Grid, Loss, Milling, OrientedMode, Scan, Verdict, characteristic, column,
};
use spindlewise_engine::mechanics::stability::Mode;
use spindlewise_engine::work::{CutKind, CutSense};

/// A row of both tables.
struct Row {
    name: String,
    speed: f64,
    milling: Milling,
    /// Exact limit and how stability is lost there; none below 40 mm in one row.
    exact: Option<(f64, Loss)>,
    /// Zeroth-order solution at this speed and at any.
    zeroth_here: Option<f64>,
    zeroth_least: Option<f64>,
    /// Semi-discretization, with the limit it gives.
    discretized: Vec<(SemiDiscretization, f64)>,
    restabilises: Option<f64>,
}

fn lines(table: &str) -> Vec<Vec<&str>> {
    table.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect()
}

fn rows() -> Vec<Row> {
    let exact = lines(include_str!("data/stability_limits.csv"));
    let discretized = lines(include_str!("data/semi_discretization.csv"));
    assert_eq!(exact.len(), 105);
    assert_eq!(discretized.len(), 105);
    exact.iter().zip(&discretized).map(|(exact, discretized)| row(exact, discretized)).collect()
}

fn row(cells: &[&str], discretized: &[&str]) -> Row {
    assert_eq!(cells[..4], discretized[..4]);
    let number = |column: usize| -> f64 { cells[column].parse().expect("a number") };
    let maybe = |cell: &str| cell.parse::<f64>().ok();
    let frequency = number(9);
    // kg and Hz to N/mm; N/m2 to N/mm2.
    let stiffness = number(11) * (TAU * frequency).powi(2) * 1e-3;
    let sense = match cells[3] {
        "up" => CutSense::Conventional,
        "down" => CutSense::Climb,
        other => panic!("{other}"),
    };
    let loss = if cells[5] == "flip" { Loss::Flip } else { Loss::Hopf };
    let columns =
        [(Order::First, 40), (Order::First, 80), (Order::First, 160), (Order::Zeroth, 40), (Order::Zeroth, 160)];
    Row {
        name: cells[..4].join(" "),
        speed: number(1),
        milling: Milling {
            engagement: Engagement::new(CutKind::Side, sense, number(2), 1.0),
            teeth: number(8) as u32,
            helix: 0.0,
            diameter: 10.0,
            ktc: number(12) * 1e-6,
            krc: number(13) * 1e-6,
            modes: Freedom::One([along(0.0, Mode { stiffness, damping: number(10), frequency })]),
        },
        exact: maybe(cells[4]).map(|depth| (depth, loss)),
        zeroth_here: maybe(cells[6]),
        zeroth_least: maybe(cells[7]),
        discretized: columns
            .iter()
            .zip(&discretized[4..9])
            .filter_map(|(&(order, intervals), cell)| {
                maybe(cell).map(|limit| (SemiDiscretization { order, intervals }, limit))
            })
            .collect(),
        restabilises: maybe(discretized[9]),
    }
}

fn along(direction: f64, mode: Mode) -> OrientedMode {
    OrientedMode { mode, direction }
}

/// The characteristic function: every row, and the way stability is lost.
#[test]
fn exact_limits_over_the_table() {
    for row in rows() {
        let found = characteristic::limit(&row.milling, row.speed, Scan { deepest: 40.0, ..Scan::default() });
        let Some((depth, loss)) = row.exact else {
            assert_eq!(found, None, "{}", row.name);
            continue;
        };
        let found = found.expect(&row.name);
        assert_eq!(found.loss, loss, "{}", row.name);
        assert!((found.depth / depth - 1.0).abs() < 1e-4, "{}: {}", row.name, found.depth);
    }
}

/// Semi-discretization of first order with 160 intervals: every row within 1 %,
/// and the way stability is lost.
#[test]
fn semi_discretization_over_the_table() {
    let method = SemiDiscretization { order: Order::First, intervals: 160 };
    for row in rows() {
        // The least depth at any speed by the zeroth-order solution is between a
        // half and one and a half times the exact one; up from well below it.
        let from = 0.25 * row.zeroth_least.unwrap_or(4.0);
        let scan = Scan { from, ratio: 0.08, deepest: 40.0, tolerance: 1e-3 };
        let found = method.first_limit(&row.milling, row.speed, scan);
        let Some((depth, loss)) = row.exact else {
            assert_eq!(found, None, "{}", row.name);
            continue;
        };
        let found = found.expect(&row.name);
        assert_eq!(found.loss, loss, "{}", row.name);
        assert!((found.depth / depth - 1.0).abs() < 0.01, "{}: {}", row.name, found.depth);
    }
}

/// Each limit to the digits of the table: a millionth of a millimetre below it
/// the largest multiplier is inside the unit circle, and as much above, outside.
#[test]
fn semi_discretization_to_the_last_digit() {
    const DIGIT: f64 = 1e-6;
    for row in rows() {
        for &(method, limit) in &row.discretized {
            let size = |depth: f64| method.critical_multiplier(&row.milling, row.speed, depth).expect("finite").abs();
            let (below, above) = (size(limit - DIGIT), size(limit + DIGIT));
            assert!(below < 1.0 && above > 1.0, "{} {method:?}: {below} {above}", row.name);
        }
    }
}

/// One row is stable again above its first limit: period doubling at 2.1047 mm,
/// stable from 2.33 or a little less (the table's scan was coarse), chatter with
/// a frequency of its own from 2.353 (found outside this program with the same
/// method as the table).
#[test]
fn the_row_that_becomes_stable_again() {
    let again: Vec<Row> = rows().into_iter().filter(|row| row.restabilises.is_some()).collect();
    let [row] = again.as_slice() else { panic!("one row") };
    let column = column(&row.milling, row.speed, Grid { deepest: 4.0, depths: 200 });
    let found: Vec<f64> = column.crossings.iter().map(|crossing| crossing.depth).collect();
    let [first, again, second] = found[..] else { panic!("{column:?}") };
    assert_relative_eq!(first, row.exact.expect("a limit").0, max_relative = 1e-3);
    assert_relative_eq!(again, row.restabilises.expect("a depth"), max_relative = 1e-2);
    assert_relative_eq!(second, 2.353, max_relative = 1e-3);
    let above: Vec<Verdict> = column.crossings.iter().map(|crossing| crossing.above).collect();
    assert_eq!(above, [Verdict::Unstable(Loss::Flip), Verdict::Stable, Verdict::Unstable(Loss::Hopf)]);
    let method = SemiDiscretization { order: Order::First, intervals: 160 };
    assert!(!method.verdict(&row.milling, row.speed, 0.997 * again).is_stable());
    assert!(method.verdict(&row.milling, row.speed, 1.003 * again).is_stable());
    assert!(column.verdict(2.34).is_stable() && !column.verdict(2.2).is_stable() && column.verdict(2.0).is_stable());
}

/// Altintas and Budak, CIRP Annals 44 (1995), worked elsewhere.
#[test]
fn zeroth_order_over_the_table() {
    for row in rows() {
        let (Some(here), Some(least)) = (row.zeroth_here, row.zeroth_least) else {
            continue;
        };
        let found = Averaging::Mean.depth_at(&row.milling, row.speed).expect(&row.name);
        assert_relative_eq!(found.depth, here, max_relative = 2e-4);
        let found = Averaging::Mean.least_depth(&row.milling).expect(&row.name);
        assert_relative_eq!(found.depth, least, max_relative = 5e-6);
    }
}

/// Schmitz and Smith, *Machining Dynamics*, ch. 4: `-1 / (2 Ks Re[G]min N*)`. By
/// hand for the example, k = 1.34005e6 N/m and damping 0.011: Re G min =
/// -1/(4 k z (1 + z)), mu Ks = 4e8 N/m2 and half a tooth in the cut (half
/// immersion), 2e8 and one (slot); both 0.149027 mm.
#[test]
fn average_tooth_angle() {
    for width in [0.5, 1.0] {
        let milling = bench(CutSense::Conventional, width);
        let found = Averaging::AverageToothAngle.least_depth(&milling).expect("a limit");
        assert_relative_eq!(found.depth, 0.149_027, max_relative = 5e-6);
        // The frequency of that least: w = wn sqrt(1 + 2 z).
        assert_relative_eq!(found.frequency, 922.0 * 1.022_f64.sqrt(), max_relative = 1e-5);
    }
}

fn bench(sense: CutSense, width: f64) -> Milling {
    Milling {
        engagement: Engagement::new(CutKind::Side, sense, width, 1.0),
        teeth: 2,
        helix: 0.0,
        diameter: 10.0,
        ktc: 600.0,
        krc: 200.0,
        modes: Freedom::One([along(0.0, Mode { stiffness: 1_340.05, damping: 0.011, frequency: 922.0 })]),
    }
}

/// A helix that trails by a whole pitch over the depth of cut makes the force
/// steady: the cut is then stable exactly as the zeroth-order solution says
/// (Zatarain, Munoa, Peigne and Insperger, CIRP Annals 55 (2006) 339-342, from memory). With
/// one mode or two, whichever way they lie.
#[test]
fn a_helix_of_one_pitch_is_zeroth_order() {
    let first = Mode { stiffness: 3_000.0, damping: 0.03, frequency: 150.0 };
    let second = Mode { stiffness: 5_000.0, damping: 0.02, frequency: 190.0 };
    for (sense, width) in [(CutSense::Conventional, 0.2), (CutSense::Climb, 0.3), (CutSense::Climb, 0.6)] {
        for turned in [0.0, 0.4, 1.1, 2.0, 2.9] {
            for speed in [500.0, 1100.0, 1900.0, 3000.0] {
                let straight = Milling {
                    engagement: Engagement::new(CutKind::Side, sense, width, 1.0),
                    teeth: 3,
                    helix: 0.0,
                    diameter: 12.0,
                    ktc: 1800.0,
                    krc: 700.0,
                    modes: Freedom::Two([along(turned, first), along(turned + 1.2, second)]),
                };
                check_one_pitch(straight, speed);
                check_one_pitch(Milling { modes: Freedom::One([along(turned, first)]), ..straight }, speed);
            }
        }
    }
}

fn check_one_pitch(straight: Milling, speed: f64) {
    let limit = Averaging::Mean.depth_at(&straight, speed).expect("a limit").depth;
    for (share, stable) in [(0.998, true), (1.002, false)] {
        let depth = share * limit;
        let pitch = TAU / f64::from(straight.teeth);
        let twisted = Milling { helix: (pitch * straight.diameter / (2.0 * depth)).atan(), ..straight };
        let verdict = characteristic::verdict(&twisted, speed, depth);
        assert_eq!(verdict.is_stable(), stable, "{twisted:?} at {speed} rpm, {depth} mm: {verdict:?}");
    }
}

/// A mode left alone for one tooth decays by `exp(-z w T)`.
#[test]
fn nothing_cut_is_free_vibration() {
    let milling = bench(CutSense::Climb, 0.3);
    for order in [Order::Zeroth, Order::First] {
        let method = SemiDiscretization { order, intervals: 30 };
        let size = method.critical_multiplier(&milling, 7000.0, 0.0).expect("finite").abs();
        assert_relative_eq!(size, (-0.011 * TAU * 922.0 * 30.0 / 7000.0).exp(), max_relative = 1e-9);
    }
    assert_eq!(characteristic::unstable_multipliers(&milling, 7000.0, 0.0), 0);
}
