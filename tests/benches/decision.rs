//! Time of one full decision: every remedy on every plausible machine; and of the
//! search among all sets of remedies.

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::decision::sets::Search;
use spindlewise_engine::decision::{Case, Fit, decide};
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

fn sets(criterion: &mut Criterion) {
    let search = |case: &Case| {
        let fit = Arc::new(Fit::new(case));
        let mut search = Search::new(&fit);
        while !search.done() {
            search.step(256);
        }
        search.finish(&fit)
    };
    let mut group = criterion.benchmark_group("sets");
    group.sample_size(10);
    for (name, scenario) in [("demo", demo()), ("nothing known", Scenario::new("blank"))] {
        let case = scenario.resolve().case;
        group.bench_function(name, |bench| bench.iter(|| search(std::hint::black_box(&case))));
    }
    group.finish();
}

criterion_group!(benches, decision, sets);
criterion_main!(benches);
