use super::{Goal, WantedReading};
use crate::session::{CarEdit, Edit, PlateBy, Session};
use crate::test_cars::{alder as alder_for_tests, car as car_for_tests, every_car};
use nalgebra::Vector3;
use wheelpath_geometry::{
    Assembly, CarPose, End, Hardpoint, Scope, Side, WheelPosition, axle_readings, reading, wheel_readings,
};

const LEFT: Assembly = Assembly::Corner(WheelPosition { end: End::Front, side: Side::Left });
const RIGHT: Assembly = Assembly::Corner(WheelPosition { end: End::Front, side: Side::Right });

fn value(session: &Session, assembly: Assembly, reading: &'static wheelpath_geometry::Reading) -> f64 {
    match reading.scope {
        Scope::Wheel => session.values().get(assembly.end(), assembly.seen_at().side, reading).unwrap(),
        Scope::Axle => session.values().axle(assembly.end(), reading).unwrap(),
    }
}

fn moved(
    session: &Session,
    assembly: Assembly,
    hardpoint: Hardpoint,
    by: Vector3<f64>,
    mirrored: bool,
) -> Session {
    let mut session = session.clone();
    let to = assembly.hardpoints(session.car()).get(hardpoint).unwrap() + by;
    session.apply(Edit::Change(CarEdit::move_point(assembly, hardpoint, to, mirrored)));
    assert!(!session.is_stale(), "{:?}", session.notices());
    session
}

/// Central differences of whole solutions: another way to the same number.
#[test]
fn a_slope_is_what_moving_the_point_does() {
    let mut session = alder_for_tests();
    session.apply(Edit::SetPose(CarPose { travel: [0.012, -0.006, 0.0, 0.0], steer: 0.011 }));
    let step = 2e-5;
    for (assembly, hardpoint) in [
        (LEFT, Hardpoint::TieRodInner),
        (RIGHT, Hardpoint::TieRodInner),
        (RIGHT, Hardpoint::UpperWishboneFront),
    ] {
        for key in ["bump_steer", "camber_to_road", "caster", "roll_centre_height", "ackermann_error"] {
            let reading = reading(key).unwrap();
            for mirrored in [false, true] {
                let (_, slope) = session.slope(assembly, hardpoint, reading, mirrored).unwrap();
                for axis in 0..3 {
                    let mut by = Vector3::zeros();
                    by[axis] = step;
                    let [plus, minus] = [by, -by].map(|by| {
                        value(&moved(&session, assembly, hardpoint, by, mirrored), assembly, reading)
                    });
                    let differenced = (plus - minus) / (2.0 * step);
                    let most = slope.amax().max(1e-2);
                    assert!(
                        (slope[axis] - differenced).abs() < 2e-4 * most,
                        "{assembly} {hardpoint} {key} {mirrored} axis {axis}: {} {differenced}",
                        slope[axis]
                    );
                }
            }
        }
    }
}

/// What was kept of one question does not answer another.
#[test]
fn a_slope_asked_for_again_is_that_of_the_car_as_it_stands() {
    let mut session = alder_for_tests();
    let error = reading("ackermann_error").unwrap();
    let mut all = Vec::new();
    let mut ask = |session: &Session, assembly, hardpoint, mirrored| {
        let kept = session.slope(assembly, hardpoint, error, mirrored).unwrap();
        assert_eq!(
            Some(kept),
            session.clone().slope(assembly, hardpoint, error, mirrored),
            "a copy keeps nothing"
        );
        all.push(kept);
    };
    session.apply(Edit::SetPose(CarPose { travel: [0.0; 4], steer: 0.02 }));
    ask(&session, LEFT, Hardpoint::TieRodInner, true);
    ask(&session, LEFT, Hardpoint::TieRodOuter, true);
    ask(&session, RIGHT, Hardpoint::TieRodOuter, false);
    session.apply(Edit::SetPose(CarPose { travel: [0.012, -0.006, 0.0, 0.0], steer: 0.011 }));
    ask(&session, RIGHT, Hardpoint::TieRodOuter, true);
    ask(&session, RIGHT, Hardpoint::TieRodOuter, false);
    let session = moved(&session, RIGHT, Hardpoint::TieRodOuter, Vector3::new(0.0, 0.0, 2e-3), true);
    ask(&session, RIGHT, Hardpoint::TieRodOuter, false);
    for (number, one) in all.iter().enumerate() {
        assert!(all.iter().skip(number + 1).all(|other| other != one), "{number}");
    }
}

#[test]
fn on_its_way_a_reading_goes_where_it_is_wanted_and_no_other_way_is_faster() {
    let session = alder_for_tests();
    let step = 1e-4;
    for aim in Goal::ALL {
        let wanted = WantedReading { reading: reading("bump_steer").unwrap(), aim };
        let ways = session.ways(LEFT, Hardpoint::TieRodInner, &[wanted], true);
        let [way] = ways.as_slice() else { panic!("{ways:?}") };
        let change = |along: Vector3<f64>| {
            let after = moved(&session, LEFT, Hardpoint::TieRodInner, along * step, true);
            value(&after, LEFT, wanted.reading) - way.value
        };
        let here = change(way.along);
        match aim {
            Goal::More => assert!(here > 0.0),
            Goal::Less => assert!(here < 0.0),
            Goal::Zero => assert!((way.value + here).abs() < way.value.abs()),
        }
        assert!((here / step / way.slope - 1.0).abs() < 0.01, "{here} {}", way.slope);
        for other in [Vector3::x(), Vector3::y(), Vector3::z(), Vector3::new(0.6, 0.0, -0.8)] {
            for other in [other, -other] {
                assert!(change(other) * way.slope.signum() <= here * way.slope.signum() * (1.0 + 1e-6));
            }
        }
    }
}

#[test]
fn where_the_plate_is_known_the_way_keeps_to_it() {
    let mut session = alder_for_tests();
    let normal = Vector3::new(0.2, 1.0, 0.1).normalize();
    let by = PlateBy::Normal(normal);
    session.apply(Edit::SetPlate { assembly: LEFT, hardpoint: Hardpoint::TieRodInner, by, mirrored: true });
    let wanted = WantedReading { reading: reading("toe").unwrap(), aim: Goal::Less };
    for reading in ["bump_steer", "camber_gain", "ackermann_error"].map(|key| reading(key).unwrap()) {
        for way in session.ways(LEFT, Hardpoint::TieRodInner, &[WantedReading { reading, ..wanted }], true) {
            assert!(way.in_plate && way.along.dot(&normal).abs() < 1e-12, "{way:?}");
        }
    }
}

#[test]
fn what_a_point_has_nothing_to_do_with_gets_no_way() {
    let session = alder_for_tests();
    let of = |key: &str| vec![WantedReading { reading: reading(key).unwrap(), aim: Goal::Zero }];
    assert!(session.ways(LEFT, Hardpoint::TieRodInner, &of("caster"), true).is_empty());
    assert_eq!(session.ways(LEFT, Hardpoint::UpperWishboneFront, &of("camber_gain"), true).len(), 1);
}

#[test]
fn every_point_of_every_car_takes_every_reading() {
    for stem in every_car() {
        let session = car_for_tests(&stem);
        let wanted: Vec<WantedReading> = wheel_readings()
            .iter()
            .chain(axle_readings())
            .map(|reading| WantedReading { reading, aim: Goal::Zero })
            .collect();
        for assembly in Assembly::ALL {
            for (hardpoint, _) in assembly.hardpoints(session.car()).iter() {
                for way in session.ways(assembly, hardpoint, &wanted[..12], true) {
                    assert!((way.along.norm() - 1.0).abs() < 1e-9 && way.slope.is_finite(), "{way:?}");
                }
            }
        }
    }
}
