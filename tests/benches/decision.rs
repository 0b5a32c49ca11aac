//! Time of one full decision: every remedy on every plausible machine.

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::decision::decide;
use spindlewise_engine::scenario::{Scenario, demo};

fn decision(criterion: &mut Criterion) {
    let demo = demo().resolve().case;
    criterion.bench_function("decide: demo with readings, 2,048 machines, all remedies", |bench| {
        bench.iter(|| decide(std::hint::black_box(&demo)));
    });
    let blank = Scenario::new("blank").resolve().case;
    criterion.bench_function("decide: nothing known, 2,048 machines, all remedies", |bench| {
        bench.iter(|| decide(std::hint::black_box(&blank)));
    });
}

criterion_group!(benches, decision);
criterion_main!(benches);
