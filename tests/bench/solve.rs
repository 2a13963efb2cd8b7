//! What a pose, a sweep, a grid and a whole screen cost on the demo car: on one core, the grid on two.

use criterion::{Criterion, criterion_group, criterion_main};
use nalgebra::Vector3;
use std::hint::black_box;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use wheelpath_geometry::{
    AxleSolver, BodyPose, Car, CarPose, CarSolver, End, Ground, Hardpoint, Limited, OnGround, Requirement,
    RoadSolver, Side, Spring, Travelling, WheelPosition, over_steer, over_travel, reading, spaced,
    wheel_values,
};
use wheelpath_studies::clearance::{Range, clearances};
use wheelpath_studies::{MapOf, Patch, verdicts};

fn alder() -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder.ron");
    wheelpath_car_file::load(&path).expect("the demo car loads").document.car().clone()
}

fn corner(c: &mut Criterion) {
    let axle = AxleSolver::new(&alder(), End::Front).expect("the demo car closes");
    let corner = axle.corner(Side::Left).unwrap();
    c.bench_function("one pose from the design pose: 30 mm travel, 10 mm rack", |b| {
        b.iter(|| corner.solve(black_box(0.030), black_box(0.010)));
    });
    for count in [1001, 10_001] {
        let travels = spaced(-0.05, 0.05, count);
        c.bench_function(&format!("{count}-pose travel sweep: positions"), |b| {
            b.iter(|| {
                corner.sweep_poses(black_box(&travels), 0.0, |_, pose| {
                    black_box(pose.origin);
                })
            });
        });
        c.bench_function(&format!("{count}-pose travel sweep: all readings"), |b| {
            b.iter(|| {
                corner.sweep_values(black_box(&travels), 0.0, |_, values| {
                    black_box(values);
                })
            });
        });
    }
    let poses = over_travel(Travelling::Both, &spaced(-0.03, 0.03, 10_001), 0.0);
    let toe = reading("toe").expect("toe is a reading");
    c.bench_function("10001-pose travel sweep of an axle: one reading, and its stops", |b| {
        b.iter(|| {
            axle.sweep_each(black_box(&poses), &[toe], |point, beyond| drop(black_box((point, beyond))))
        });
    });
    let travels = spaced(-0.05, 0.05, 1001);
    let normal = Ground::level().normal;
    c.bench_function("1001-pose travel sweep: all readings, each from its own motion", |b| {
        b.iter(|| {
            corner.sweep_travel(black_box(&travels), 0.0, |_, motion| {
                black_box(wheel_values(motion, &OnGround::of(motion, normal)));
            })
        });
    });
}

/// A thousand travels by a thousand rack travels, all readings of one wheel.
fn grid(c: &mut Criterion) {
    let axle = AxleSolver::new(&alder(), End::Front).expect("the demo car closes");
    let corner = axle.corner(Side::Left).unwrap();
    let (travels, racks) = (spaced(-0.05, 0.05, 1000), spaced(-0.04, 0.04, 1000));
    let mut group = c.benchmark_group("grid of a million poses, all readings");
    group.sample_size(10);
    for threads in [1, 2] {
        group.bench_function(format!("{threads} threads"), |b| {
            b.iter(|| {
                corner.grid_values(&travels, &racks, threads, |_, _, values| {
                    black_box(values);
                })
            });
        });
    }
    group.finish();
}

/// One point moved: the car made ready again, solved at its pose with every reading and every
/// point's place, and every curve on the screen swept anew.
fn screen(c: &mut Criterion) {
    let mut car = alder();
    let wheel = WheelPosition::ALL[0];
    let home =
        car.corner(wheel).hardpoints.get(Hardpoint::TieRodInner).expect("a steered corner has a tie rod");
    let travels = over_travel(Travelling::Both, &spaced(-0.05, 0.05, 101), 0.0);
    let racks = over_steer([0.0; 2], &spaced(-0.04, 0.04, 81));
    let pose = CarPose { travel: [0.010, -0.010, 0.005, 0.0], steer: 0.012 };
    let mut step = 0.0;
    c.bench_function("whole screen after one point moved", |b| {
        b.iter(|| {
            step = if step > 0.5 { 0.0 } else { 1.0 };
            let mut moved = home;
            moved.z += 0.001 * step;
            car.corner_mut(wheel).hardpoints.set(Hardpoint::TieRodInner, moved);
            let solver = CarSolver::new(&car).expect("a millimetre does not part the links");
            let solved = solver.solve(&pose).expect("the pose is within reach");
            for wheel in WheelPosition::ALL {
                black_box(solver.points(&solved, wheel));
                black_box(solved.axle(wheel.end).wheel_values(wheel.side));
            }
            for end in End::BOTH {
                black_box(solved.axle(end).axle_values());
                black_box(solver.axle(end).sweep(&travels));
            }
            black_box(solver.axle(End::Front).sweep(&racks));
        });
    });
}

/// The whole car on a road, each pose come to from one half a millimetre away.
fn road(c: &mut Criterion) {
    let mut car = alder();
    let solver = CarSolver::new(&car).expect("the demo car closes");
    let bodies =
        [0.0, 1.0].map(|i| BodyPose { front: 0.005 + 5e-4 * i, rear: -0.004, roll: 0.01 + 5e-4 * i });
    let mut stand = |name: &str, car: &Car, solver: &CarSolver, readings: bool| {
        let road = RoadSolver::new(car, solver);
        let mut here = road.stand(&bodies[0], 0.0).expect("the demo car stands there");
        let mut turn = 0;
        c.bench_function(name, |b| {
            b.iter(|| {
                turn = 1 - turn;
                here = road.stand_from(&here, black_box(&bodies[turn]), 0.0).expect("near by");
                if readings {
                    for wheel in WheelPosition::ALL {
                        black_box(here.solved.axle(wheel.end).wheel_values(wheel.side));
                    }
                    for end in End::BOTH {
                        black_box(here.solved.axle(end).axle_values());
                    }
                }
            });
        });
    };
    stand("four wheels on a road, warm", &car, &solver, false);
    stand("four wheels on a road with all readings, warm", &car, &solver, true);
    for wheel in WheelPosition::ALL {
        car.corner_mut(wheel).spring = Some(Spring::OnDamper { rate: 50e3 });
    }
    let solver = CarSolver::new(&car).expect("the demo car closes");
    stand("four sprung wheels on a road with all readings, warm", &car, &solver, true);
    let road = RoadSolver::new(&car, &solver);
    c.bench_function("four wheels at rest on a road, from the design pose", |b| {
        b.iter(|| road.rest(black_box([0.01, -0.005, 0.0, 0.002]), 0.0));
    });
}

/// All distances, joints and stops of the whole car: 21 travels by 21 steers, both wheels alike and in
/// opposition, at the front; 21 by 21 travels at the rear.
fn fit(c: &mut Criterion) {
    let car = alder();
    let solver = CarSolver::new(&car).expect("the demo car closes");
    let mut group = c.benchmark_group("clearances of the whole car, 21 by 21");
    group.sample_size(10);
    for threads in [1, 2] {
        group.bench_function(format!("{threads} threads"), |b| {
            b.iter(|| {
                for end in End::BOTH {
                    let range = Range::of(car.axle(end), [-0.03, 0.03], 21, 21);
                    black_box(clearances(&car, &solver, end, &range, threads));
                }
            });
        });
    }
    group.finish();
}

/// Where a tie rod's inner end could stand: bump steer over 51 travels at each of 200 by 200 places.
fn map(c: &mut Criterion) {
    let car = alder();
    let wheel = WheelPosition::ALL[0];
    let centre =
        car.corner(wheel).hardpoints.get(Hardpoint::TieRodInner).expect("a steered corner has a tie rod");
    let map = MapOf {
        car: &car,
        wheel,
        hardpoint: Hardpoint::TieRodInner,
        patch: Patch { centre, u: Vector3::y(), v: Vector3::z(), half: [0.020; 2] },
        count: [200; 2],
        reading: reading("toe").expect("the catalogue has toe"),
        travel: [-0.025, 0.025],
        poses: 51,
    };
    let mut group = c.benchmark_group("map of 200 by 200 places over 51 poses");
    group.sample_size(10);
    for threads in [1, 2] {
        group.bench_function(format!("{threads} threads"), |b| {
            b.iter(|| {
                map.rows(threads, &AtomicBool::new(false), |_, cells| {
                    black_box(cells);
                })
            });
        });
    }
    group.finish();
}

/// The verdicts of Alder's limits, as they are asked for at each change in the window: of readings, of
/// distances and joints.
fn limits(c: &mut Criterion) {
    let car = alder();
    let solver = CarSolver::new(&car).expect("the demo car closes");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder/limits.ron");
    let all = wheelpath_car_file::load_limits(&path).expect("the demo limits load");
    let (readings, fit): (Vec<Requirement>, Vec<Requirement>) =
        all.into_iter().partition(|limit| matches!(limit.of, Limited::Reading { .. } | Limited::Lock));
    for (name, limits) in [("readings", readings), ("distances and joints", fit)] {
        c.bench_function(&format!("verdicts on Alder's limits: {name}"), |b| {
            b.iter(|| black_box(verdicts(&car, &solver, black_box(&limits))));
        });
    }
}

criterion_group!(benches, corner, grid, screen, road, fit, map, limits);
criterion_main!(benches);
