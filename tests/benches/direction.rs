//! Time of the tables of directions and speeds, of the machines they are made on,
//! and of what is shown of the one in their middle.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::decision::{Directions, Fit, Speeds};
use spindlewise_engine::mechanics::Bearings;
use spindlewise_engine::mechanics::simulation::Run;
use spindlewise_engine::scenario::demo;
use spindlewise_engine::work::Workholding;

fn direction(criterion: &mut Criterion) {
    let case = demo().resolve().case;
    let mut stopped = demo();
    stopped.choices.workholding = Some(Workholding::ViseStop);
    let stopped = stopped.resolve().case;
    let fit = Fit::new(&case);
    let middle = fit.representative();
    let mut group = criterion.benchmark_group("directions");
    group.sample_size(20);
    group.bench_function("fit: 4,096 machines", |bench| bench.iter(|| Fit::new(black_box(&case))));
    group.bench_function("representative", |bench| bench.iter(|| black_box(&fit).representative()));
    group.bench_function("table, four that differ", |bench| bench.iter(|| Directions::new(&fit, &middle)));
    group.bench_function("speeds, 120", |bench| bench.iter(|| Speeds::new(&fit)));
    group.bench_function("exact chart, ten speeds", |bench| {
        let speeds: Vec<f64> = (0..10).map(|i| 500.0 + 250.0 * f64::from(i)).collect();
        bench.iter(|| middle.chart(Bearings::AsTheyAre, speeds.clone(), 2.0).advance(10));
    });
    let simulation = middle.simulation(Bearings::AsTheyAre, Run::default()).expect("valid");
    group.bench_function("simulation, 100 revolutions", |bench| bench.iter(|| black_box(&simulation).run()));
    let fit = Fit::new(&stopped);
    let middle = fit.representative();
    group.bench_function("table, eight that differ", |bench| bench.iter(|| Directions::new(&fit, &middle)));
    group.finish();
}

criterion_group!(benches, direction);
criterion_main!(benches);
