//! Maps over the places of a point, and how exactly a hole must be placed.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use proptest::prelude::*;
    use std::sync::Mutex;
    use std::sync::atomic::{AtomicBool, Ordering};
    use wheelpath_geometry::{
        AxleSolver, CarSolver, End, Limit, Limited, Of, Over, Owner, Pickup, Side, Taken, Travelling,
        WheelAt, over_travel, reading, spaced,
    };
    use wheelpath_studies::{Cell, Hole, MapOf, Outcome, Patch, WIDEST, tolerance, verdict};
    use wheelpath_tests::assert_near;
    use wheelpath_tests::demo::{CARS, alder, car_of};
    use wheelpath_tests::planar::FrontView;

    const FRONT_LEFT: WheelAt = WheelAt { end: End::Front, side: Side::Left };

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
        for pickup in [Pickup::TieRodInner, Pickup::TieRodOuter] {
            let centre = car.front.left.pickups.get(pickup).unwrap();
            let map = MapOf {
                car: &car,
                wheel: FRONT_LEFT,
                pickup,
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
                moved.front.left.pickups.set(pickup, map.place(columns[i % 5], rows[i / 5]));
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
            for (wheel, pickup) in WheelAt::ALL.into_iter().flat_map(|wheel| {
                let has = car.corner(wheel).pickups.iter().map(move |(pickup, _)| (wheel, pickup));
                has.collect::<Vec<_>>()
            }) {
                let centre = car.corner(wheel).pickups.get(pickup).unwrap();
                for (key, half, columns) in
                    [("toe", 0.004, 24), ("bump_steer", 0.010, 12), ("motion_ratio", 0.06, 30)]
                {
                    let mut map = MapOf {
                        car: &car,
                        wheel,
                        pickup,
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
                            assert_eq!(a.is_nan(), b.is_nan(), "{pickup:?} {key} {i}: {cell:?}, {alone:?}");
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
        let centre = car.rear.left.pickups.get(Pickup::ToeLinkInner).unwrap();
        let map = MapOf {
            car: &car,
            wheel: WheelAt { end: End::Rear, side: Side::Left },
            pickup: Pickup::ToeLinkInner,
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
        let centre = car.front.left.pickups.get(Pickup::TieRodInner).unwrap();
        let mut map = MapOf {
            car: &car,
            wheel: FRONT_LEFT,
            pickup: Pickup::TieRodInner,
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
        map.pickup = Pickup::PanhardRodBody;
        assert!(cells(&map, 1).iter().all(|cell| cell.slope.is_nan()));
        map.car = &hazel;
        map.wheel = WheelAt { end: End::Rear, side: Side::Left };
        assert!(cells(&map, 1).iter().all(|cell| cell.slope.is_nan()));
    }

    fn limit(key: &str, taken: Taken, over: Over, bounds: [Option<f64>; 2]) -> Limit {
        let of =
            Limited::Reading { reading: reading(key).unwrap(), end: End::Front, side: None, taken, over };
        Limit { name: key.into(), about: None, of, least: bounds[0], most: bounds[1] }
    }

    fn limits() -> Vec<Limit> {
        let travel = Over::Travel { from: -0.025, to: 0.025, wheels: Travelling::Both };
        let degrees = |a: f64| Some(a.to_radians());
        vec![
            limit("toe", Taken::Change, travel, [degrees(-0.4), degrees(0.4)]),
            limit("camber_to_body", Taken::Value, travel, [degrees(-4.0), degrees(-0.5)]),
            limit("trail", Taken::Value, Over::Steer, [Some(0.005), Some(0.06)]),
            // Broken from the first.
            limit("caster", Taken::Value, Over::Design, [degrees(30.0), None]),
        ]
    }

    fn hole(of: Of) -> Hole {
        Hole { of, pickup: Pickup::TieRodInner, plane: [Vector3::y(), Vector3::z()] }
    }

    #[test]
    fn within_its_tolerance_a_hole_breaks_nothing_and_not_far_beyond_it_does() {
        let car = alder();
        let solver = CarSolver::new(&car).unwrap();
        let limits = limits();
        for of in [Of::Both(End::Front), Of::One(Owner { end: End::Front, side: Some(Side::Right) })] {
            let found = tolerance(&car, &solver, &limits, &hole(of)).unwrap();
            assert_eq!(found.without, [3]);
            assert_eq!(found.decided_by, Some(0), "{found:?}");
            assert!(found.radius > 1e-4 && found.radius < WIDEST, "{found:?}");
            let broken = |by: [f64; 2]| {
                let mut moved = car.clone();
                for (n, owner) in of.owners().into_iter().enumerate() {
                    let sign = if n == 0 { 1.0 } else { -1.0 };
                    let at = owner.point(&car, Pickup::TieRodInner).unwrap();
                    let to = at + Vector3::new(0.0, sign * by[0], by[1]);
                    owner.pickups_mut(&mut moved).set(Pickup::TieRodInner, to);
                }
                let solver = CarSolver::new(&moved).unwrap();
                limits[..3].iter().any(|limit| verdict(&moved, &solver, limit).outcome != Outcome::Kept)
            };
            for i in 0..61 {
                let angle = 0.1 * f64::from(i);
                let at =
                    |share: f64| [found.radius * share * angle.cos(), found.radius * share * angle.sin()];
                assert!(!broken(at(0.97)) && !broken(at(0.5)), "at {angle}");
            }
            let beyond = |i: u32| {
                let angle = 0.1 * f64::from(i);
                broken([1.25 * found.radius * angle.cos(), 1.25 * found.radius * angle.sin()])
            };
            assert!((0..63).any(beyond), "a wider circle breaks a limit somewhere");
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
        let found = tolerance(&car, &solver, &of_rear, &hole(Of::Both(End::Front))).unwrap();
        assert_near!(found.radius, WIDEST, 0.0);
        assert_eq!(found.decided_by, None);
        let no_such = Hole { pickup: Pickup::PanhardRodBody, ..hole(Of::Both(End::Front)) };
        assert!(tolerance(&car, &solver, &of_rear, &no_such).is_none());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        /// The slope of the reserve is the one of the reading at its worst pose.
        #[test]
        fn slopes_are_those_of_moved_cars(tight in 0.1..0.5_f64, both in any::<bool>()) {
            let car = alder();
            let solver = CarSolver::new(&car).unwrap();
            let travel = Over::Travel { from: -0.025, to: 0.0, wheels: Travelling::Both };
            let limit = limit("toe", Taken::Change, travel, [Some(-tight.to_radians()), Some(tight.to_radians())]);
            let of = if both { Of::Both(End::Front) } else { Of::One(Owner::from(FRONT_LEFT)) };
            let alone = std::slice::from_ref(&limit);
            let found = tolerance(&car, &solver, alone, &hole(of)).unwrap();
            // Differences of cars built anew, by hand.
            let worst = |by: [f64; 2]| {
                let mut moved = car.clone();
                for (n, owner) in of.owners().into_iter().enumerate() {
                    let sign = if n == 0 { 1.0 } else { -1.0 };
                    let at = owner.point(&car, Pickup::TieRodInner).unwrap();
                    owner.pickups_mut(&mut moved).set(Pickup::TieRodInner, at + Vector3::new(0.0, sign * by[0], by[1]));
                }
                let solver = CarSolver::new(&moved).unwrap();
                let points = solver.axle(End::Front).sweep(&over_travel(Travelling::Both, &[0.0, -0.025], 0.0));
                let toe = |i: usize| points[i].result.as_ref().unwrap().wheels[0].get(reading("toe").unwrap()).unwrap();
                toe(1) - toe(0)
            };
            let step = 1e-5;
            let slope = |d: [f64; 2]| (worst([d[0] * step, d[1] * step]) - worst([-d[0] * step, -d[1] * step])) / (2.0 * step);
            let steepest = slope([1.0, 0.0]).hypot(slope([0.0, 1.0]));
            let reserve = tight.to_radians() - worst([0.0; 2]).abs();
            prop_assert!(reserve > 0.0);
            let expected = (reserve / steepest).min(WIDEST);
            prop_assert!((found.by_slopes - expected).abs() < 1e-6 * expected, "{} and {expected}", found.by_slopes);
        }
    }
}
