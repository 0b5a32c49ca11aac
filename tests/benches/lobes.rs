//! Time of a stability chart of 200 speeds by 100 depths, and of the methods
//! beside it. The same semi-discretization in NumPy, at the same points:
//! tests/python/lobes.py.

use std::hint::black_box;
use std::ops::ControlFlow;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use spindlewise_engine::mechanics::force::Engagement;
use spindlewise_engine::mechanics::lobes::frequency::Averaging;
use spindlewise_engine::mechanics::lobes::semi_discretization::{Order, SemiDiscretization};
use spindlewise_engine::mechanics::lobes::{Freedom, Grid, Milling, OrientedMode, chart};
use spindlewise_engine::mechanics::stability::Mode;
use spindlewise_engine::work::{CutKind, CutSense};

const FIRST: Mode = Mode { stiffness: 2000.0, damping: 0.03, frequency: 150.0 };

fn along(direction: f64, mode: Mode) -> OrientedMode {
    OrientedMode { mode, direction }
}

/// A slow light mill in mild steel, climb, `width` as a share of the diameter.
fn light(width: f64) -> Milling {
    Milling {
        engagement: Engagement::new(CutKind::Side, CutSense::Climb, width, 1.0),
        teeth: 4,
        helix: 0.0,
        diameter: 10.0,
        ktc: 2000.0,
        krc: 1000.0,
        modes: Freedom::One([along(0.0, FIRST)]),
    }
}

/// The same with a second, oblique mode.
fn oblique(width: f64) -> Milling {
    let second = Mode { stiffness: 5000.0, damping: 0.02, frequency: 190.0 };
    Milling { modes: Freedom::Two([along(0.0, FIRST), along(1.2, second)]), ..light(width) }
}

fn lobes(criterion: &mut Criterion) {
    let speeds: Vec<f64> = (0..200).map(|i| 500.0 + 12.5 * f64::from(i)).collect();
    let grid = Grid { deepest: 4.0, depths: 100 };
    let mut group = criterion.benchmark_group("lobes");
    group.sample_size(10);
    group.bench_function("chart 200 x 100, one mode", |bench| {
        bench.iter(|| chart(black_box(&light(0.5)), &speeds, grid, &mut |_, _| ControlFlow::Continue(())));
    });
    group.bench_function("chart 200 x 100, two modes", |bench| {
        bench.iter(|| chart(black_box(&oblique(0.5)), &speeds, grid, &mut |_, _| ControlFlow::Continue(())));
    });
    group.bench_function("chart 200 x 100, two modes, helix", |bench| {
        let twisted = Milling { helix: 0.5, ..oblique(0.5) };
        bench.iter(|| chart(black_box(&twisted), &speeds, grid, &mut |_, _| ControlFlow::Continue(())));
    });
    group.bench_function("zeroth order at one speed, two modes", |bench| {
        bench.iter(|| Averaging::Mean.depth_at(black_box(&oblique(0.5)), 1200.0));
    });
    // The points of the script: 20 speeds by 10 depths.
    let span = |from: f64, to: f64, share: f64| from + (to - from) * share;
    let points = (0..200).map(|i| {
        let (speed, depth) = (f64::from(i / 10) / 19.0, f64::from(i % 10) / 9.0);
        [span(500.0, 3000.0, speed), span(0.04, 4.0, depth)]
    });
    let points: Vec<[f64; 2]> = points.collect();
    group.throughput(Throughput::Elements(points.len() as u64));
    for (name, milling) in [
        ("a tenth wide", light(0.1)),
        ("half wide", light(0.5)),
        ("slot", light(1.0)),
        ("half wide, two modes", oblique(0.5)),
    ] {
        let method = SemiDiscretization { order: Order::First, intervals: 40 };
        group.bench_function(format!("200 points, semi-discretization of 40 intervals, {name}"), |bench| {
            bench.iter(|| {
                for [speed, depth] in &points {
                    black_box(method.critical_multiplier(black_box(&milling), *speed, *depth));
                }
            });
        });
    }
    group.finish();
}

criterion_group!(benches, lobes);
criterion_main!(benches);
