//! Maps over the places of a point, and how exactly a hole must be placed.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use proptest::prelude::*;
    use std::sync::Mutex;
    use std::sync::atomic::{AtomicBool, Ordering};
    use wheelpath_geometry::{
        Assembly, AxleSolver, CamberBy, Car, CarSolver, End, Hardpoint, Limited, Link, PoseRange, Quantity,
        Requirement, Selection, Side, ToeBy, Travelling, WheelPosition, over_travel, reading, spaced,
    };
    use wheelpath_studies::{Cell, Hole, MapOf, Outcome, Patch, WIDEST, tolerance, verdict};
    use wheelpath_tests::assert_near;
    use wheelpath_tests::demo::{CARS, alder, car_of};
    use wheelpath_tests::planar::FrontView;

    const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };

    fn cells(map: &MapOf<'_>, threads: usize) -> Vec<Cell> {
        let all = Mutex::new(vec![Cell::NONE; map.count[0] * map.count[1]]);
        map.rows(threads, &AtomicBool::new(false), |row, cells| {
            all.lock().unwrap()[row * map.count[0]..][..cells.len()].copy_from_slice(cells);
        });
        all.into_inner().unwrap()
    }

    fn across_body(centre: Vector3<f64>, half: f64) -> Patch {
        Patch { centre, u: Vector3::y(), v: Vector3::z(), half: [half, half] }
    }

    /// Each place is what the whole axle says with the point moved there.
    #[test]
    fn a_place_of_the_map_is_the_car_with_the_point_there() {
        let car = alder();
        for hardpoint in [Hardpoint::TieRodInner, Hardpoint::TieRodOuter] {
            let centre = car.front.left.hardpoints.get(hardpoint).unwrap();
            let map = MapOf {
                car: &car,
                wheel: FRONT_LEFT,
                hardpoint,
                patch: across_body(centre, 0.012),
                count: [5, 4],
                reading: reading("toe").unwrap(),
                travel: [-0.025, 0.025],
                poses: 51,
            };
            let found = cells(&map, 2);
            assert!(found.iter().zip(cells(&map, 1)).all(|(a, b)| *a == b), "threads change nothing");
            let [columns, rows] = map.lines();
            for (i, cell) in found.iter().enumerate() {
                let mut moved = car.clone();
                moved.front.left.hardpoints.set(hardpoint, map.place(columns[i % 5], rows[i / 5]));
                let solver = AxleSolver::new(&moved, End::Front).unwrap();
                let toe = |travel: f64| {
                    let solved = solver.solve([travel, 0.0], 0.0).unwrap();
                    solved.wheel_values(Side::Left).get(map.reading).unwrap()
                };
                let all: Vec<f64> = spaced(-0.025, 0.025, 51).into_iter().map(toe).collect();
                let design = toe(0.0);
                let least = all.iter().copied().fold(f64::INFINITY, f64::min) - design;
                let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max) - design;
                assert_near!(cell.design, design, 1e-11);
                assert_near!(cell.least, least, 1e-11);
                assert_near!(cell.most, most, 1e-11);
                assert_near!(cell.slope, (all[50] - all[0]) / 0.05, 1e-9);
            }
        }
    }

    /// Places near one another are closed from their neighbours; each is what it is alone, whatever the
    /// linkage and the point, also where the linkage does not reach.
    #[test]
    fn a_place_among_neighbours_is_the_place_alone() {
        let (mut reached, mut not_reached) = (0, 0);
        for car in CARS.map(car_of) {
            for (wheel, hardpoint) in WheelPosition::ALL.into_iter().flat_map(|wheel| {
                let has = car.corner(wheel).hardpoints.iter().map(move |(hardpoint, _)| (wheel, hardpoint));
                has.collect::<Vec<_>>()
            }) {
                let centre = car.corner(wheel).hardpoints.get(hardpoint).unwrap();
                for (key, half, columns) in
                    [("toe", 0.004, 24), ("bump_steer", 0.010, 12), ("motion_ratio", 0.06, 30)]
                {
                    let mut map = MapOf {
                        car: &car,
                        wheel,
                        hardpoint,
                        patch: across_body(centre, half),
                        count: [columns, 2],
                        reading: reading(key).unwrap(),
                        travel: [-0.03, 0.03],
                        poses: 21,
                    };
                    let found = cells(&map, 1);
                    let [columns, rows] = map.lines();
                    map.count = [1, 1];
                    for (i, cell) in found.iter().enumerate() {
                        let place = Vector3::new(0.0, columns[i % columns.len()], rows[i / columns.len()]);
                        map.patch = across_body(centre + place, 0.0);
                        let alone = cells(&map, 1)[0];
                        for (a, b) in [
                            (cell.design, alone.design),
                            (cell.least, alone.least),
                            (cell.most, alone.most),
                            (cell.slope, alone.slope),
                        ] {
                            assert_eq!(
                                a.is_nan(),
                                b.is_nan(),
                                "{hardpoint:?} {key} {i}: {cell:?}, {alone:?}"
                            );
                            if b.is_finite() {
                                reached += 1;
                                assert_near!(a, b, 1e-7 * b.abs().max(1.0));
                            } else {
                                not_reached += 1;
                            }
                        }
                    }
                }
            }
        }
        assert!(reached > 50_000 && not_reached > 500, "{reached} values, {not_reached} without");
    }

    /// A parallelogram of equal links carries its upright without turning it; so does a toe link that is
    /// parallel and equal to them, and no other (plane geometry).
    #[test]
    fn the_zero_of_a_parallelogram_is_where_the_link_is_parallel_and_equal() {
        let front = FrontView {
            lower: [[0.30, 0.15], [0.65, 0.15]],
            upper: [[0.30, 0.40], [0.65, 0.40]],
            wheel_centre: [0.70, 0.28],
            tyre_radius: 0.28,
        };
        let mut car = alder();
        car.rear.left = front.corner();
        let centre = car.rear.left.hardpoints.get(Hardpoint::ToeLinkInner).unwrap();
        let map = MapOf {
            car: &car,
            wheel: WheelPosition { end: End::Rear, side: Side::Left },
            hardpoint: Hardpoint::ToeLinkInner,
            patch: across_body(centre, 0.01),
            count: [9, 9],
            reading: reading("toe").unwrap(),
            travel: [-0.04, 0.04],
            poses: 41,
        };
        let found = cells(&map, 2);
        for (i, cell) in found.iter().enumerate() {
            let spread = cell.most - cell.least;
            if i == 40 {
                assert!(spread < 1e-12, "{cell:?}");
            } else {
                assert!(spread > 1e-5, "place {i}: {cell:?}");
            }
        }
        // Raised, the link turns its wheel one way all through; lowered, the other.
        assert!(found[40 + 9].slope * found[40 - 9].slope < 0.0);
    }

    #[test]
    fn what_cannot_be_mapped_gives_nothing_and_a_stop_is_heeded() {
        let hazel = car_of("demo-cars/hazel.ron");
        let car = alder();
        let centre = car.front.left.hardpoints.get(Hardpoint::TieRodInner).unwrap();
        let mut map = MapOf {
            car: &car,
            wheel: FRONT_LEFT,
            hardpoint: Hardpoint::TieRodInner,
            patch: across_body(centre, 0.9),
            count: [3, 3],
            reading: reading("toe").unwrap(),
            travel: [-0.025, 0.025],
            poses: 11,
        };
        // Nearly a metre off, the rod cannot swing: no place, and no panic.
        assert!(cells(&map, 1).iter().any(|cell| cell.slope.is_nan()));
        let enough = AtomicBool::new(false);
        let rows = Mutex::new(0);
        map.rows(1, &enough, |_, _| {
            *rows.lock().unwrap() += 1;
            enough.store(true, Ordering::Relaxed);
        });
        assert_eq!(*rows.lock().unwrap(), 1);
        map.hardpoint = Hardpoint::PanhardRodBody;
        assert!(cells(&map, 1).iter().all(|cell| cell.slope.is_nan()));
        map.car = &hazel;
        map.wheel = WheelPosition { end: End::Rear, side: Side::Left };
        assert!(cells(&map, 1).iter().all(|cell| cell.slope.is_nan()));
    }

    fn limit(key: &str, taken: Quantity, over: PoseRange, bounds: [Option<f64>; 2]) -> Requirement {
        let of =
            Limited::Reading { reading: reading(key).unwrap(), end: End::Front, side: None, taken, over };
        Requirement { name: key.into(), about: None, of, least: bounds[0], most: bounds[1] }
    }

    fn limits() -> Vec<Requirement> {
        let travel = PoseRange::Travel { from: -0.025, to: 0.025, wheels: Travelling::Both };
        let degrees = |a: f64| Some(a.to_radians());
        vec![
            limit("toe", Quantity::Change, travel, [degrees(-0.4), degrees(0.4)]),
            limit("camber_to_body", Quantity::Value, travel, [degrees(-4.0), degrees(-0.5)]),
            limit("trail", Quantity::Value, PoseRange::Steer, [Some(0.005), Some(0.06)]),
            // Broken from the first.
            limit("caster", Quantity::Value, PoseRange::Design, [degrees(30.0), None]),
        ]
    }

    fn hole(of: Selection) -> Hole {
        Hole { of, hardpoint: Hardpoint::TieRodInner, plane: [Vector3::y(), Vector3::z()] }
    }

    /// What is done about a hole that is off.
    #[derive(Clone, Copy, Debug, PartialEq)]
    enum Reset {
        Nothing,
        Toe,
    }

    /// The car with the hole off in its plane as a person would make it: the link that ends there states the length
    /// it had, and its adjusters stay, or bring the toe back that the car had.
    fn off(car: &Car, hole: &Hole, by: [f64; 2], reset: Reset) -> Option<CarSolver> {
        let mut moved = car.clone();
        let before = AxleSolver::new(car, hole.of.first().end()).unwrap();
        for (n, assembly) in hole.of.assemblies().into_iter().enumerate() {
            let step = hole.plane[0] * by[0] + hole.plane[1] * by[1];
            let step = if n == 0 { step } else { Vector3::new(step.x, -step.y, step.z) };
            let at = assembly.point(car, hole.hardpoint).unwrap();
            for &link in Link::ALL
                .iter()
                .filter(|link| link.ends().0 == hole.hardpoint || link.ends().1 == hole.hardpoint)
            {
                if let Some(length) = assembly.between_ends(car, link) {
                    assembly.set_length(&mut moved, link, Some(length));
                }
            }
            assembly.hardpoints_mut(&mut moved).set(hole.hardpoint, at + step);
        }
        for side in Side::BOTH {
            let toe = before.start().wheel_values(side).get(reading("toe").unwrap()).unwrap();
            let alignment = &mut moved.axle_mut(hole.of.first().end()).corner_mut(side).alignment;
            assert_eq!(alignment.camber, CamberBy::Points, "the car is drawn as it stands");
            alignment.toe = match reset {
                Reset::Nothing => ToeBy::Points,
                Reset::Toe => ToeBy::TieRodLength(toe),
            };
        }
        CarSolver::new(&moved).ok()
    }

    #[test]
    fn within_its_tolerance_a_hole_breaks_nothing_and_just_beyond_it_does() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let limits = limits();
        let right = Selection::One(Assembly::corner(End::Front, Side::Right));
        for (of, hardpoint) in [
            (Selection::Both(End::Front), Hardpoint::TieRodInner),
            (right, Hardpoint::TieRodInner),
            (right, Hardpoint::UpperWishboneRear),
        ] {
            let hole = Hole { hardpoint, ..hole(of) };
            let found = tolerance(&car, &solver, &limits, &hole).unwrap();
            assert_eq!((&found.broken[..], &found.open[..]), (&[3][..], &[][..]));
            for (placing, reset) in [(&found.as_built, Reset::Nothing), (&found.realigned, Reset::Toe)] {
                let radius = placing.radius;
                assert!(placing.decided_by.is_some(), "{hardpoint} {found:?}");
                assert!(radius > 1e-5 && radius < WIDEST, "{hardpoint} {found:?}");
                let broken = |share: f64, angle: f64| {
                    let by = [radius * share * angle.cos(), radius * share * angle.sin()];
                    off(&car, &hole, by, reset).is_none_or(|solver| {
                        limits[..3].iter().any(|limit| verdict(&car, &solver, limit).outcome != Outcome::Pass)
                    })
                };
                let angles = || (0..63).map(|i| 0.1 * f64::from(i));
                for angle in angles() {
                    assert!(!broken(0.98, angle) && !broken(0.5, angle), "{hardpoint} {reset:?} at {angle}");
                }
                assert!(
                    angles().any(|angle| broken(1.03, angle)),
                    "{hardpoint} {reset:?}: nothing breaks beyond"
                );
            }
            // With the links as they are, a hole a little off turns the wheel; toe reset, it may be further off.
            let share = if hardpoint == Hardpoint::TieRodInner { 0.5 } else { 1.0 };
            assert!(found.as_built.radius < share * found.realigned.radius, "{hardpoint} {found:?}");
            assert_eq!(found.narrower(), &found.as_built);
            // The toe to take out is what the wheel has with the hole off and nothing reset.
            let toe = |solver: &CarSolver| {
                let start = solver.axle(End::Front).start();
                start.wheel_values(Side::Right).get(reading("toe").unwrap()).unwrap()
            };
            let around = (0..126).filter_map(|i| {
                let (s, c) = (0.05 * f64::from(i)).sin_cos();
                let by = [c * found.realigned.radius, s * found.realigned.radius];
                Some((toe(&off(&car, &hole, by, Reset::Nothing)?) - toe(&solver)).abs())
            });
            let most = around.fold(0.0, f64::max);
            let said = found.toe_to_take_out.unwrap();
            assert!((said - most).abs() < 0.01 * most && most > 0.0, "{said} {most}");
        }
    }

    #[test]
    fn where_no_link_sets_toe_both_cases_are_one() {
        let car = car_of("demo-cars/hazel.ron");
        let solver = CarSolver::new(&car).unwrap();
        let over = PoseRange::Travel { from: -0.03, to: 0.03, wheels: Travelling::Both };
        let mut centre = limit("roll_centre_height", Quantity::Value, over, [Some(-1.0), Some(1.0)]);
        if let Limited::Reading { end, .. } = &mut centre.of {
            *end = End::Rear;
        }
        let axle = Assembly::Axle(End::Rear);
        let rod = Hole {
            of: Selection::One(axle),
            hardpoint: Hardpoint::PanhardRodBody,
            plane: [Vector3::x(), Vector3::z()],
        };
        let found = tolerance(&car, &solver, &[centre], &rod).unwrap();
        assert_eq!(found.toe_to_take_out, None);
        assert_eq!(found.realigned, found.as_built);
    }

    /// Adjusters fixed where they stand, or free to bring toe back, change nothing as long as nothing is moved.
    #[test]
    fn a_car_as_built_or_realigned_is_the_car() {
        for path in CARS {
            let mut car = car_of(path);
            for end in End::BOTH {
                for side in Side::BOTH {
                    let corner = car.axle_mut(end).corner_mut(side);
                    if corner.linkage.camber_adjuster().is_some() {
                        let (camber, _) = wheelpath_geometry::static_angles(&corner.wheel.spin_axis, side);
                        corner.alignment.camber = CamberBy::Adjuster(camber - 0.004);
                    }
                    if corner.linkage.has_toe_link() {
                        corner.alignment.toe = ToeBy::TieRodLength(0.003);
                    }
                }
            }
            let solver = CarSolver::new(&car).unwrap();
            for (what, same) in [("as built", car.as_built(&solver)), ("realigned", car.realigned(&solver))] {
                let again = CarSolver::new(&same).unwrap();
                let free = |wheel| same.corner(wheel).alignment.toe == ToeBy::Points;
                assert!(what == "realigned" || WheelPosition::ALL.into_iter().all(free));
                for end in End::BOTH {
                    let pose = |solver: &CarSolver| solver.axle(end).solve([0.015, -0.01], 0.0).unwrap();
                    let (one, other) = (pose(&solver), pose(&again));
                    for side in Side::BOTH {
                        for key in ["toe", "camber_to_body", "half_track", "bump_steer", "caster"] {
                            let value = |at: &wheelpath_geometry::SolvedAxle| {
                                at.wheel_values(side).get(reading(key).unwrap())
                            };
                            match (value(&one), value(&other)) {
                                (Some(a), Some(b)) => assert_near!(a, b, 1e-10, "{path} {what} {end} {key}"),
                                (a, b) => assert_eq!(a, b, "{path} {what} {end} {key}"),
                            }
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn a_limit_that_hangs_on_nothing_leaves_the_hole_free() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        // The rear knows nothing of the tie rod.
        let mut of_rear = limits();
        of_rear.truncate(1);
        if let Limited::Reading { end, .. } = &mut of_rear[0].of {
            *end = End::Rear;
        }
        let found = tolerance(&car, &solver, &of_rear, &hole(Selection::Both(End::Front))).unwrap();
        for placing in [&found.as_built, &found.realigned] {
            assert_near!(placing.radius, WIDEST, 0.0);
            assert_eq!(placing.decided_by, None);
        }
        let no_such = Hole { hardpoint: Hardpoint::PanhardRodBody, ..hole(Selection::Both(End::Front)) };
        assert!(tolerance(&car, &solver, &of_rear, &no_such).is_none());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        /// The slope of the margin is the one of the reading at its worst pose.
        #[test]
        fn slopes_are_those_of_moved_cars(tight in 0.1..0.5_f64, both in any::<bool>()) {
            let car = alder();
            let solver = CarSolver::new(&car).unwrap();
            let travel = PoseRange::Travel { from: -0.025, to: 0.0, wheels: Travelling::Both };
            let limit = limit("toe", Quantity::Change, travel, [Some(-tight.to_radians()), Some(tight.to_radians())]);
            let of = if both { Selection::Both(End::Front) } else { Selection::One(Assembly::from(FRONT_LEFT)) };
            let alone = std::slice::from_ref(&limit);
            let found = tolerance(&car, &solver, alone, &hole(of)).unwrap();
            // Differences of cars built anew, by hand.
            for (placing, reset) in [(&found.as_built, Reset::Nothing), (&found.realigned, Reset::Toe)] {
            let worst = |by: [f64; 2]| {
                let solver = off(&car, &hole(of), by, reset).unwrap();
                let points = solver.axle(End::Front).sweep(&over_travel(Travelling::Both, &[0.0, -0.025], 0.0));
                let toe = |i: usize| points[i].result.as_ref().unwrap().wheels[0].get(reading("toe").unwrap()).unwrap();
                toe(1) - toe(0)
            };
            let step = 1e-5;
            let slope = |d: [f64; 2]| (worst([d[0] * step, d[1] * step]) - worst([-d[0] * step, -d[1] * step])) / (2.0 * step);
            let steepest = slope([1.0, 0.0]).hypot(slope([0.0, 1.0]));
            let margin = tight.to_radians() - worst([0.0; 2]).abs();
            prop_assert!(margin > 0.0);
            let expected = (margin / steepest).min(WIDEST);
            prop_assert!((placing.by_slopes - expected).abs() < 1e-6 * expected, "{} and {expected}", placing.by_slopes);
            }
        }
    }
}
