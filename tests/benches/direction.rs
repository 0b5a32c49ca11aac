//! Time of the table of directions, of the machines it is made on, and of the one
//! in their middle.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::decision::{Directions, Fit};
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
    group.bench_function("fit: 2,048 machines", |bench| bench.iter(|| Fit::new(black_box(&case))));
    group.bench_function("representative", |bench| bench.iter(|| black_box(&fit).representative()));
    group.bench_function("table, four that differ", |bench| {
        bench.iter(|| Directions::new(black_box(&case), &fit, &middle))
    });
    let fit = Fit::new(&stopped);
    let middle = fit.representative();
    group.bench_function("table, eight that differ", |bench| {
        bench.iter(|| Directions::new(black_box(&stopped), &fit, &middle))
    });
    group.finish();
}

criterion_group!(benches, direction);
criterion_main!(benches);
