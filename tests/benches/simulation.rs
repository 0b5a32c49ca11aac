//! Time of one simulated cut of 100 revolutions, and of its finish.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use spindlewise_engine::mechanics::force::{CutGeometry, Engagement, ForceCoefficients};
use spindlewise_engine::mechanics::simulation::{
    Clearance, Grip, Holding, LooseSpindle, Milling, OrientedMode, Run, Simulation, Structure, runout,
};
use spindlewise_engine::work::{CutKind, CutSense};

/// A light mill: a four-tooth cutter of 10 mm in mild steel at 900 rpm.
fn milling() -> Milling {
    let engagement = Engagement::new(CutKind::Side, CutSense::Conventional, 2.5, 10.0);
    Milling {
        geometry: CutGeometry { diameter: 10.0, teeth: 4, helix: 0.52, depth: 2.0, feed: 0.03, engagement },
        sense: CutSense::Conventional,
        coefficients: ForceCoefficients {
            ktc: 2000.0,
            krc: 700.0,
            kac: 400.0,
            kte: 25.0,
            kre: 25.0,
            kae: 2.0,
            thrust: 0.1,
        },
        speed: 900.0,
        offsets: runout(0.01, 0.0, 4),
        lengths: Vec::new(),
        corner: 0.2,
        dish: 0.03,
        rubbing: 4e4,
        unsteadiness: 0.0,
    }
}

/// Frame, work and spindle in each direction of the table.
fn modes() -> Vec<OrientedMode> {
    let axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]];
    let groups = [(8000.0, 0.04, 60.0), (15_000.0, 0.04, 140.0), (10_000.0, 0.03, 350.0)];
    let pair = |(stiffness, damping, frequency)| {
        axes.map(|direction| OrientedMode { stiffness, damping, frequency, direction })
    };
    groups.into_iter().flat_map(pair).collect()
}

fn simulation(criterion: &mut Criterion) {
    let run = Run::default();
    let frame = Structure { modes: modes(), ..Structure::default() };
    let contact = Clearance { gap: 0.01, stiffness: 20_000.0, damping: 0.1, hold: 0.0 };
    let spindle = LooseSpindle { mass: 4.0, radial: contact, axial: contact, bias: [0.0, 0.0, 40.0] };
    let grip = Grip::Clamps(4000.0);
    let holding = Holding { mass: 6.0, stiffness: [40_000.0; 3], damping: 0.04, friction: 800.0, stop: false, grip };
    let all = Structure { spindle: Some(spindle), holding: Some(holding), ..frame.clone() };
    for (name, structure) in [("six modes", frame), ("six modes, play and holding", all)] {
        let simulation = Simulation::new(milling(), structure, run).expect("valid");
        let name = format!("simulate: 100 revolutions, {name}, {} steps", simulation.steps());
        criterion.bench_function(&name, |bench| bench.iter(|| black_box(&simulation).run()));
    }
    let frame = Structure { modes: modes(), ..Structure::default() };
    let trace = Simulation::new(milling(), frame, run).expect("valid").run();
    criterion.bench_function("finish: profile and roughness of the wall", |bench| {
        bench.iter(|| black_box(&trace).wall.profile(0).roughness(0.2));
    });
}

criterion_group!(benches, simulation);
criterion_main!(benches);
