//! Time of one full decision, of its core alone (every remedy on every plausible
//! machine; in NumPy: `tests/python/decision.py`), and of the search among all sets
//! of remedies.

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::decision::sets::Search;
use spindlewise_engine::decision::{Case, Evaluation, Fit, Ground, decide};
use spindlewise_engine::mechanics::Bearings;
use spindlewise_engine::remedies::{RemedyId, RemedySet};
use spindlewise_engine::scenario::{Scenario, demo};

fn decision(criterion: &mut Criterion) {
    let demo = demo().resolve().case;
    criterion.bench_function("decide: demo with readings, 4,096 machines, all remedies", |bench| {
        bench.iter(|| decide(std::hint::black_box(&demo)));
    });
    let blank = Scenario::new("blank").resolve().case;
    criterion.bench_function("decide: nothing known, 4,096 machines, all remedies", |bench| {
        bench.iter(|| decide(std::hint::black_box(&blank)));
    });
    let fit = Arc::new(Fit::with(&demo, 4096));
    criterion.bench_function("evaluate: all remedies, 4,096 machines", |bench| {
        bench.iter(|| every_remedy(std::hint::black_box(&fit)));
    });
}

/// Outcomes, qualities and figures of the machines as they are, with perfect
/// bearings and with each remedy, possible or not.
fn every_remedy(fit: &Arc<Fit>) -> Vec<Evaluation> {
    let ground = Ground::new(Arc::clone(fit));
    let now = ground.evaluate(RemedySet::NONE, Bearings::AsTheyAre);
    let motions = ground.motions();
    std::hint::black_box((now.prediction(), motions.shares(), motions.bearing_share()));
    let perfect = ground.evaluate(RemedySet::NONE, Bearings::Perfect);
    let remedies = RemedyId::ALL.iter().filter(|&&id| id != RemedyId::LeaveAlone);
    let with = remedies.map(|&id| ground.evaluate(id.into(), Bearings::AsTheyAre));
    std::iter::once(perfect)
        .chain(with)
        .inspect(|with| {
            std::hint::black_box((with.prediction(), with.change(&now), with.noticeable(&now)));
        })
        .collect()
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
