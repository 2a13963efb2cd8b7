//! What a pose, a sweep and a whole screen cost, on one core.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use std::path::Path;
use wheelpath_geometry::{AxleSolver, End, Ground, OnGround, Side, spaced, wheel_values};
use wheelpath_tests::reference_car;

fn front() -> AxleSolver {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("calibration/dw01_front_rack_behind.json");
    let text = std::fs::read_to_string(path).expect("the calibration car is part of the tests");
    let file = serde_json::from_str(&text).expect("the calibration car is JSON");
    AxleSolver::new(&reference_car::car(&file), End::Front).expect("the calibration car closes")
}

fn corner(c: &mut Criterion) {
    let axle = front();
    let corner = axle.corner(Side::Left);
    c.bench_function("one pose from the design pose, 30 mm travel, 10 mm rack", |b| {
        b.iter(|| corner.solve(black_box(0.030), black_box(0.010)));
    });
    let travels = spaced(-0.05, 0.05, 1001);
    c.bench_function("1001-pose travel sweep, positions", |b| {
        b.iter(|| {
            corner.sweep_travel(black_box(&travels), 0.0, |_, motion| {
                black_box(motion.wheel_centre);
            })
        });
    });
    c.bench_function("1001-pose travel sweep, all readings", |b| {
        let normal = Ground::level().normal;
        b.iter(|| {
            corner.sweep_travel(black_box(&travels), 0.0, |_, motion| {
                black_box(wheel_values(motion, &OnGround::of(motion, normal)));
            })
        });
    });
}

criterion_group!(benches, corner);
criterion_main!(benches);
