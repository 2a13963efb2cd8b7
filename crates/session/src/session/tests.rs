mod brackets;
mod files;
mod history;
mod killed;
mod limits;
mod parameters;
mod windows;

use super::{About, CarEdit, Cycle, Edit, FileCommand, Session, SteerWords, Wheels};
use crate::test_cars::{alder, alder_path, car, every_car};
use nalgebra::Vector3;
use wheelpath_geometry::{
    Assembly, Car, CarPose, End, Hardpoint, LengthUnit, Link, Parameter, Side, Value, WheelNumber,
    WheelPosition, reading,
};

const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };
const FRONT_RIGHT: WheelPosition = WheelPosition { end: End::Front, side: Side::Right };

fn raise(session: &Session, hardpoint: Hardpoint, by: f64, mirrored: bool) -> Edit {
    let at = session.car().corner(FRONT_LEFT).hardpoints.get(hardpoint).unwrap();
    let to = at + Vector3::new(0.0, 0.0, by);
    Edit::Change(CarEdit::move_point(FRONT_LEFT.into(), hardpoint, to, mirrored))
}

#[test]
fn a_pulled_point_is_one_step_with_a_name() {
    let mut session = alder();
    for _ in 0..5 {
        let edit = raise(&session, Hardpoint::LowerBallJoint, 0.2e-3, false);
        session.apply(edit);
    }
    assert_eq!(session.next_undo(), Some("lower ball joint, front left: Z +1.0 mm"));
    assert_eq!(session.steps().count(), 1);
    session.apply(Edit::Settle);
    let edit = raise(&session, Hardpoint::LowerBallJoint, -2e-3, true);
    session.apply(edit);
    assert_eq!(session.next_undo(), Some("lower ball joint, front both: Z −2.0 mm"));
    session.apply(Edit::Undo);
    session.apply(Edit::Undo);
    assert!(!session.is_changed());
    assert_eq!(session.next_redo(), Some("lower ball joint, front left: Z +1.0 mm"));
}

#[test]
fn a_point_pulled_there_and_back_is_no_step() {
    let mut session = alder();
    let edit = raise(&session, Hardpoint::TieRodInner, 1e-3, true);
    session.apply(edit);
    let back = session.original().corner(FRONT_LEFT).hardpoints.get(Hardpoint::TieRodInner).unwrap();
    session.apply(Edit::Change(CarEdit::move_point(FRONT_LEFT.into(), Hardpoint::TieRodInner, back, true)));
    assert_eq!(session.next_undo(), None);
    assert_eq!(session.car(), session.original());
}

#[test]
fn mirrored_moves_keep_the_mirror_exact() {
    let mut session = alder();
    let to = Vector3::new(0.0881, 0.2403, 0.1664);
    session.apply(Edit::Change(CarEdit::move_point(FRONT_LEFT.into(), Hardpoint::TieRodInner, to, true)));
    assert_eq!(session.car().corner(FRONT_LEFT).mirrored(), *session.car().corner(FRONT_RIGHT));
}

#[test]
fn lowering_the_tie_rod_takes_bump_steer_away_and_says_so() {
    let mut session = alder();
    let bump_steer = reading("bump_steer").unwrap();
    let before = session.values().wheel(FRONT_LEFT, bump_steer).unwrap();
    let edit = raise(&session, Hardpoint::TieRodInner, -2.5e-3, true);
    session.apply(edit);
    let after = session.values().wheel(FRONT_LEFT, bump_steer).unwrap();
    assert!(after.abs() < 0.2 * before.abs(), "{before} to {after} rad/m");
    let moved = session.moved_most(4);
    assert!(moved.iter().any(|m| m.reading.key == "bump_steer" && m.side.is_none() && m.end == End::Front));
}

#[test]
fn a_point_of_the_axle_moves_by_itself_and_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = car("hazel");
    let axle = Assembly::Axle(End::Rear);
    let roll_centre = reading("roll_centre_height").unwrap();
    let before = session.values().axle(End::Rear, roll_centre).unwrap();
    let left = session.car().rear.left.clone();
    let at = session.car().rear.hardpoints.get(Hardpoint::PanhardRodBody).unwrap();
    // Both sides are asked for: an axle's point has no other side.
    let to = at + Vector3::new(0.0, 0.0, 20e-3);
    session.apply(Edit::Change(CarEdit::move_point(axle, Hardpoint::PanhardRodBody, to, true)));
    assert_eq!(session.next_undo(), Some("Panhard rod, body end, rear axle: Z +20.0 mm"));
    assert!(!session.is_stale(), "{:?}", session.notices());
    let after = session.values().axle(End::Rear, roll_centre).unwrap();
    assert!((4e-3..16e-3).contains(&(after - before)), "{before} to {after}");
    assert_eq!(session.car().rear.left, left);
    session.apply(Edit::Settle);
    let length = axle.length(session.car(), Link::TopLink).unwrap() + 2e-3;
    session.apply(Edit::Change(CarEdit::set_number(axle, Parameter::Length(Link::TopLink), length, true)));
    assert_eq!(session.next_undo(), Some("top link, rear axle: length +2.0 mm"));
    let path = folder.path().join("hazel-2.ron");
    session.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: false }));
    assert!(!session.is_unsaved(), "{:?}", session.notices());
    let again = Session::open(&path).unwrap();
    assert!((again.car().rear.hardpoints.get(Hardpoint::PanhardRodBody).unwrap() - to).norm() < 1e-9);
    assert!((axle.length(again.car(), Link::TopLink).unwrap() - length).abs() < 1e-9);
    session.apply(Edit::Undo);
    session.apply(Edit::Change(CarEdit::Reset {
        assembly: axle,
        parameter: Parameter::Point(Hardpoint::PanhardRodBody),
        mirrored: true,
    }));
    assert_eq!(session.car(), session.original());
}

/// Front and rear, together, in roll and one by one: whatever carries the wheels, it goes there.
#[test]
fn every_car_goes_to_its_reach_and_back() {
    for stem in every_car() {
        let mut session = car(&stem);
        let [droop, bump] = session.reach().common_travel();
        assert!(droop < -0.02 && bump > 0.02, "{stem}: {droop} to {bump}");
        let small = 0.4 * bump.min(-droop);
        for wheels in Wheels::ALL {
            for travel in [small, -small] {
                session.apply(Edit::SetTravel { wheels, travel });
                assert!(session.limit().is_none(), "{stem}, {wheels:?} by {travel}: {:?}", session.notices());
                assert!(wheels.travel(session.held_pose()).is_some_and(|at| (at - travel).abs() < 1e-12));
            }
            session.apply(Edit::ResetPose);
        }
        for cycle in [Cycle::Travel(Wheels::All), Cycle::Steer] {
            session.apply(Edit::Play(Some(cycle)));
            for _ in 0..60 {
                session.apply(Edit::Tick(0.1));
                assert!(session.limit().is_none(), "{stem}, {cycle:?}: {:?}", session.notices());
            }
            session.apply(Edit::Play(None));
            session.apply(Edit::ResetPose);
        }
    }
}

#[test]
fn a_steering_box_is_counted_in_degrees_to_its_own_stops() {
    let mut session = car("hazel");
    let [right, left] = session.reach().steer.map(f64::to_degrees);
    assert!((right + 18.0).abs() < 0.01 && (left - 24.0).abs() < 0.01, "{right} to {left}");
    assert_eq!(SteerWords::of(session.car(), session.units()).part, "pitman arm");
    session.apply(Edit::SetSteer(22_f64.to_radians()));
    assert!(session.notices().is_empty(), "{:?}", session.notices());
    session.apply(Edit::SetSteer(-19_f64.to_radians()));
    let said = session.notices();
    assert!(said[0].text.contains("1.00° beyond") && said[0].remedy.contains("pitman arm"), "{said:?}");
    assert!((SteerWords::of(car("rowan").car(), LengthUnit::Millimetre).left_turn + 1.0).abs() < 1e-12);
}

#[test]
fn a_car_that_cannot_be_solved_leaves_the_last_good_one_on_the_screen() {
    let mut session = alder();
    let shown = session.shown().pose;
    let good = session.values().wheel(FRONT_LEFT, reading("camber_to_road").unwrap());
    // Both ends of a rod in one place.
    let to = session.car().corner(FRONT_LEFT).hardpoints.get(Hardpoint::TieRodOuter).unwrap();
    session.apply(Edit::Change(CarEdit::move_point(FRONT_LEFT.into(), Hardpoint::TieRodInner, to, false)));
    assert!(session.is_stale());
    assert!(session.notices().iter().any(|n| n.severe && n.about.assembly() == Some(FRONT_LEFT.into())));
    assert_eq!(session.shown().pose, shown);
    assert_eq!(session.values().wheel(FRONT_LEFT, reading("camber_to_road").unwrap()), good);
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.01 });
    session.apply(Edit::Undo);
    assert!(!session.is_stale() && session.notices().is_empty(), "{:?}", session.notices());
}

#[test]
fn numbers_that_are_none_are_refused_with_a_reason() {
    let mut session = alder();
    let before = session.car().clone();
    for bad in [f64::NAN, f64::INFINITY, 1e9] {
        session.apply(Edit::Change(CarEdit::move_point(
            FRONT_LEFT.into(),
            Hardpoint::TieRodInner,
            Vector3::repeat(bad),
            true,
        )));
        assert_eq!(session.notices().len(), 1);
        session.apply(Edit::SetSteer(bad));
        session.apply(Edit::Preview(Some(CarPose::heave(bad))));
        session.apply(Edit::SetTravel { wheels: Wheels::Roll, travel: bad });
        let parameter = Parameter::WheelCentre;
        let to = Value::Place(Vector3::new(0.0, bad, 0.3));
        session.apply(Edit::Change(CarEdit::Set {
            assembly: FRONT_LEFT.into(),
            parameter,
            to,
            mirrored: true,
        }));
        let parameter = Parameter::Wheel(WheelNumber::TyreWidth);
        session.apply(Edit::Change(CarEdit::set_number(FRONT_LEFT.into(), parameter, bad, true)));
    }
    assert_eq!(session.car(), &before);
    session.apply(Edit::ResetPose);
    assert!(session.notices().is_empty());
}

#[test]
fn a_pose_out_of_reach_stops_where_the_linkage_does_and_names_the_links() {
    let mut session = alder();
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.5 });
    let limit = session.limit().expect("a limit").clone();
    assert!(!limit.links.is_empty());
    let reached = session.held_pose().travel_of(FRONT_LEFT);
    assert!(reached > 0.03 && reached < 0.5, "{reached}");
    assert!(session.solver().solve(session.held_pose()).is_ok());
    assert!(session.notices().iter().any(|n| n.severe && n.about.is_pose()));
    session.apply(Edit::ResetPose);
    assert!(session.limit().is_none() && session.notices().is_empty());
}

#[test]
fn stops_of_damper_and_rack_are_said_not_forced() {
    let mut session = alder();
    let [droop, bump] = session.reach().stops[0];
    assert!(droop < -0.02 && bump > 0.02);
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Front), travel: bump });
    assert!(session.notices().is_empty(), "{:?}", session.notices());
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Front), travel: bump + 1e-3 });
    let said = session.notices();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].text.contains("shorter than fully compressed (195.00 mm)"), "{}", said[0].text);
    session.apply(Edit::ResetPose);
    session.apply(Edit::SetSteer(0.042));
    assert!(session.notices()[0].text.contains("2.00 mm beyond its stop 40.00 mm to the left"));
    assert_eq!(session.notices()[0].about, About::Steer);
}

#[test]
fn a_preview_leaves_no_trace() {
    let mut session = alder();
    session.apply(Edit::SetSteer(0.01));
    let toe = |s: &Session| s.values().wheel(FRONT_LEFT, reading("toe").unwrap());
    let before = toe(&session);
    session.apply(Edit::Preview(Some(CarPose::heave(0.02))));
    assert_ne!(toe(&session), before);
    session.apply(Edit::Preview(None));
    assert_eq!(toe(&session), before);
    assert_eq!(session.held_pose(), &CarPose::steered(0.01));
}

#[test]
fn a_cycle_starts_where_the_car_is_and_stays_within_the_stops() {
    let mut session = alder();
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.01 });
    session.apply(Edit::Play(Some(Cycle::Travel(Wheels::All))));
    let mut last = 0.01;
    for n in 0..400 {
        session.apply(Edit::Tick(0.016));
        let here = session.shown().pose.travel_of(FRONT_LEFT);
        assert!((here - last).abs() < 2e-3, "a jump from {last} to {here} in step {n}");
        assert!(session.notices().is_empty(), "{:?}", session.notices());
        last = here;
    }
    session.apply(Edit::Play(None));
    session.apply(Edit::Tick(1.0));
    assert!((session.shown().pose.travel_of(FRONT_LEFT) - last).abs() < 1e-12);
}

#[test]
fn saved_as_another_file_it_opens_as_the_same_car() {
    let folder = tempfile::tempdir().unwrap();
    let old = folder.path().join("alder.ron");
    std::fs::copy(alder_path(), &old).unwrap();
    let mut session = Session::open(&old).unwrap();
    let edit = raise(&session, Hardpoint::TieRodInner, -2.5e-3, true);
    session.apply(edit);
    session.apply(Edit::File(FileCommand::SaveAs { path: old.clone(), replace: false }));
    assert!(session.is_unsaved() && session.notices()[0].about == About::File);
    let new = session.suggested_path();
    assert_eq!(new, folder.path().join("alder-2.ron"));
    session.apply(Edit::File(FileCommand::SaveAs { path: new.clone(), replace: false }));
    assert!(!session.is_unsaved(), "{:?}", session.notices());
    assert_eq!(Session::open(&new).unwrap().car(), session.car());
    assert_eq!(Session::open(&old).unwrap().car(), session.original());
    session.apply(Edit::File(FileCommand::SaveAs {
        path: folder.path().join("no such folder").join("a.ron"),
        replace: false,
    }));
    assert_eq!(session.notices()[0].about, About::File);
}

#[test]
fn unsaved_changes_are_found_again_after_a_kill() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("alder.ron");
    std::fs::copy(alder_path(), &path).unwrap();
    let mut session = Session::open(&path).unwrap();
    let edit = raise(&session, Hardpoint::TieRodInner, -2.5e-3, true);
    session.apply(edit);
    session.apply(Edit::Settle);
    let killed: Car = session.car().clone();
    drop(session);

    let mut again = Session::open(&path).unwrap();
    assert_eq!(again.recoverable(), Some(&killed));
    assert!(!again.is_changed());
    again.apply(Edit::File(FileCommand::Recover));
    assert_eq!(again.car(), &killed);
    again.apply(Edit::Undo);
    assert!(!again.is_changed());
    again.apply(Edit::Redo);
    again.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: true }));
    assert!(Session::open(&path).unwrap().recoverable().is_none());
}

/// A car whose file counts in inches is spoken of in inches: the pose that is not reached, the stop that is gone
/// beyond, what keeps it from being solved.
#[test]
fn notices_of_a_car_in_inches_are_in_inches() {
    let of = wheelpath_car_file::load(&alder_path()).unwrap();
    let axes = of.document.axes();
    let inches =
        wheelpath_car_file::Document::new(&of.car, "inches.ron", "", LengthUnit::Inch, axes).unwrap();
    let loaded = wheelpath_car_file::parse(inches.text(), "inches.ron").unwrap();
    let mut session = Session::of(loaded).unwrap();
    let said = |session: &Session, what: &str| {
        let all: Vec<String> = session.notices().iter().map(|one| one.text.clone()).collect();
        assert!(!all.is_empty(), "{what}");
        for text in &all {
            assert!(!text.contains(" mm"), "{what}: {text}");
        }
        assert!(all.iter().any(|text| text.contains(" in")), "{what}: {all:?}");
    };
    let pose = |travel: f64| CarPose { travel: [travel; 4], steer: 0.0 };
    session.apply(Edit::SetPose(pose(0.06)));
    said(&session, "beyond a stop");
    session.apply(Edit::SetPose(pose(0.4)));
    said(&session, "not reached");
    session.apply(Edit::SetPose(pose(0.0)));
    session.apply(Edit::Change(CarEdit::set_number(
        FRONT_LEFT.into(),
        Parameter::Length(Link::TieRod),
        0.2,
        false,
    )));
    said(&session, "not solved");
}

/// Asked for far more than any corner takes, the window names the corner that ends the way first, near the pose
/// shown: the one that the solver names a little beyond that pose.
#[test]
fn what_ends_the_way_first_is_named() {
    let mut session = alder();
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 9.999 });
    let shown = session.shown().pose.travel[0];
    let beyond = CarPose { travel: [shown + 1e-3; 4], steer: 0.0 };
    let stop = session.solver().solve(&beyond).unwrap_err();
    let notice = session.notices().into_iter().find(|notice| notice.severe).unwrap();
    assert_eq!(notice.about, About::Travel(stop.wheel.unwrap()), "{}", notice.text);
    assert!(notice.text.contains(&format!("{:.1}", 1e3 * shown)), "{} at {shown}", notice.text);
}
