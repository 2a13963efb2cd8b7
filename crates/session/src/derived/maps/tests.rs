use super::{Asked, Maps, ReadingMap};
use crate::session::{CarEdit, Edit, Session};
use crate::test_cars::{alder as alder_for_tests, car as car_for_tests};
use nalgebra::Vector3;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, mpsc};
use std::time::Duration;
use wheelpath_geometry::{
    Assembly, CarPose, End, Hardpoint, Limited, PoseRange, Quantity, Reading, Requirement, Side, Travelling,
    WheelPosition, reading,
};
use wheelpath_studies::{Outcome, verdict};

const LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };
const SIDE_VIEW: [Vector3<f64>; 2] = [Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, 0.0, 1.0)];

fn toe() -> &'static Reading {
    reading("toe").unwrap()
}

fn with_limit(session: Session) -> Session {
    let limit = Requirement {
        name: "Bump steer".into(),
        about: None,
        of: Limited::Reading {
            reading: toe(),
            end: End::Front,
            side: None,
            taken: Quantity::Change,
            over: PoseRange::Travel { from: -0.02, to: 0.02, wheels: Travelling::Both },
        },
        least: Some(-0.04_f64.to_radians()),
        most: Some(0.04_f64.to_radians()),
    };
    let beside = crate::session::Beside { limits: vec![limit], ..Default::default() };
    session.with_beside(beside)
}

fn computed(asked: &Arc<Asked>, count: usize) -> ReadingMap {
    ReadingMap::computed(asked, count, 2, &AtomicBool::new(false)).unwrap()
}

fn moved(session: &Session, by: Vector3<f64>) -> Session {
    let (assembly, hardpoint) = (Assembly::Corner(LEFT), Hardpoint::TieRodInner);
    let mut session = session.clone();
    let to = assembly.hardpoints(session.car()).get(hardpoint).unwrap() + by;
    session.apply(Edit::Change(CarEdit::move_point(assembly, hardpoint, to, true)));
    assert!(!session.is_stale());
    session
}

/// Whole solutions of the car with the point really moved.
#[test]
fn a_map_says_what_moving_the_point_does() {
    let session = with_limit(alder_for_tests());
    let asked = Asked::of(&session, LEFT, Hardpoint::TieRodInner, toe(), SIDE_VIEW, 0.01).unwrap();
    let travel = asked.travel.map(f64::to_bits);
    assert_eq!(travel, [-0.02, 0.02].map(f64::to_bits), "the limit says from where to where");
    let sheet = computed(&Arc::new(asked), 9);
    let (mut kept, mut broken) = (0, 0);
    for uv in [[0.0, 0.0], [0.005, -0.0025], [-0.0075, 0.01], [0.0, -0.0025], [0.01, -0.01]] {
        let session = moved(&session, sheet.off(uv));
        let at = |travel: f64| {
            let solved = session.solver().solve(&CarPose::heave(travel)).unwrap();
            solved.axle(End::Front).wheel_values(Side::Left).get(toe()).unwrap()
        };
        let slope = (at(0.02) - at(-0.02)) / 0.04;
        let found = sheet.field().value(uv).unwrap();
        assert!((found - slope).abs() < 1e-9, "{uv:?}: {found} {slope}");
        let limit = &session.beside().limits[0];
        let verdict = verdict(session.solver_car(), session.solver(), limit).outcome;
        assert_eq!(sheet.keeps(uv), Some(verdict == Outcome::Pass), "{uv:?}");
        if verdict == Outcome::Pass { kept += 1 } else { broken += 1 }
    }
    assert!(kept > 0 && broken > 0, "{kept} {broken}");
}

#[test]
fn on_the_thick_line_the_reading_ends_as_it_began() {
    let session = with_limit(alder_for_tests());
    let asked = Asked::of(&session, LEFT, Hardpoint::TieRodInner, toe(), SIDE_VIEW, 0.01).unwrap();
    let sheet = computed(&Arc::new(asked), 41);
    let places: Vec<[f64; 2]> = sheet.zero().flatten().copied().collect();
    assert!(places.len() > 20, "{}", places.len());
    for uv in places.iter().step_by(9) {
        let session = moved(&session, sheet.off(*uv));
        let at = |travel: f64| {
            let solved = session.solver().solve(&CarPose::heave(travel)).unwrap();
            solved.axle(End::Front).wheel_values(Side::Left).get(toe()).unwrap()
        };
        let gain = (at(0.02) - at(-0.02)).to_degrees();
        // Between the nodes of the grid the field is taken for straight.
        assert!(gain.abs() < 2e-4, "{uv:?}: {gain}°");
    }
    let zeros = sheet.levels().iter().filter(|level| level.is_zero).count();
    assert!(zeros == 1 && sheet.levels().len() > 4, "{} lines", sheet.levels().len());
}

#[test]
fn the_band_covers_what_is_kept_and_nothing_else() {
    let session = with_limit(alder_for_tests());
    let asked = Asked::of(&session, LEFT, Hardpoint::TieRodInner, toe(), SIDE_VIEW, 0.01).unwrap();
    let sheet = computed(&Arc::new(asked), 21);
    let bands = sheet.bands();
    for u in -9..=9 {
        for v in -9..=9 {
            // Nodes: a millimetre apart.
            let uv = [f64::from(u) * 1e-3, f64::from(v) * 1e-3];
            let covered = bands
                .iter()
                .any(|[from, to, low, high]| (from..=to).contains(&&uv[0]) && (low..=high).contains(&&uv[1]));
            assert_eq!(Some(covered), sheet.keeps(uv), "{uv:?}");
        }
    }
}

#[test]
fn pulling_the_point_in_the_plane_asks_for_no_other_map_and_pulling_another_does() {
    let session = alder_for_tests();
    let asked =
        |session: &Session| Asked::of(session, LEFT, Hardpoint::TieRodInner, toe(), SIDE_VIEW, 0.01).unwrap();
    let first = asked(&session);
    assert_eq!(first.travel.map(f64::to_bits), [-0.025_f64, 0.025].map(f64::to_bits));
    assert!(first == asked(&moved(&session, Vector3::new(0.002, 0.0, -0.003))));
    let off = asked(&moved(&session, Vector3::new(0.002, 0.004, -0.003)));
    assert!(first != off, "out of the plane it is another plane");
    let mut other = session;
    let assembly = Assembly::Corner(LEFT);
    let to = assembly.hardpoints(other.car()).get(Hardpoint::UpperBallJoint).unwrap()
        + Vector3::new(0.0, 0.0, 0.004);
    let change = CarEdit::move_point(assembly, Hardpoint::UpperBallJoint, to, true);
    other.apply(Edit::Change(change));
    assert!(first != asked(&other) && first.is_like(&asked(&other)));
}

#[test]
fn a_beam_has_no_map_and_neither_has_an_axles_reading() {
    let hazel = car_for_tests("hazel");
    let rear = WheelPosition { end: End::Rear, side: Side::Left };
    let assembly = Assembly::Corner(rear);
    if let Some((hardpoint, _)) = assembly.hardpoints(hazel.car()).iter().next() {
        assert!(Asked::of(&hazel, rear, hardpoint, toe(), SIDE_VIEW, 0.01).is_err());
    }
    let session = alder_for_tests();
    let axle = reading("roll_centre_height").unwrap();
    assert!(Asked::of(&session, LEFT, Hardpoint::TieRodInner, axle, SIDE_VIEW, 0.01).is_err());
    assert!(Asked::of(&session, LEFT, Hardpoint::PanhardRodBody, toe(), SIDE_VIEW, 0.01).is_err());
}

#[test]
fn a_map_comes_coarse_and_then_finer_and_wakes_whoever_waits() {
    let session = alder_for_tests();
    let asked = Asked::of(&session, LEFT, Hardpoint::TieRodInner, toe(), SIDE_VIEW, 0.01).unwrap();
    let (said, heard) = mpsc::channel();
    let mut maps = Maps::default();
    let mut ask = |said: mpsc::Sender<()>| {
        maps.of(asked.clone(), move || {
            let _ = said.send(());
        })
    };
    // The first may be there at once.
    let _ = ask(said.clone());
    heard.recv_timeout(Duration::from_secs(60)).unwrap();
    let first = ask(said.clone()).unwrap();
    assert!(!first.finished || first.count() == 200);
    let mut latest = first;
    while !latest.finished {
        heard.recv_timeout(Duration::from_secs(120)).unwrap();
        let next = ask(said.clone()).unwrap();
        assert!(next.count() >= latest.count());
        latest = next;
    }
    assert_eq!(latest.count(), 200);
    // Fine and coarse say the same of the middle.
    let coarse = computed(&Arc::new(asked.clone()), 13);
    let middle = [latest, Arc::new(coarse)].map(|sheet| sheet.field().value([0.0; 2]).unwrap());
    assert!((middle[0] - middle[1]).abs() < 1e-5, "{middle:?}");
}
