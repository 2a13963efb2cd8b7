use super::{Branch, Curve, Over, Shown, Spec, Sweeps, Whose};
use crate::session::{CarEdit, Edit, Session, Wheels};
use nalgebra::Vector3;
use wheelpath_geometry::{
    CarPose, End, Hardpoint, LengthUnit, Link, Parameter, Side, Unit, WheelPosition, reading,
};

const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };

fn alder() -> Session {
    crate::test_cars::alder()
}

fn move_rod(session: &mut Session, by: f64) {
    let at = session.car().corner(FRONT_LEFT).hardpoints.get(Hardpoint::TieRodInner).unwrap();
    session.apply(Edit::Change(CarEdit::move_point(
        FRONT_LEFT.into(),
        Hardpoint::TieRodInner,
        at + Vector3::new(0.0, 0.0, by),
        true,
    )));
}

fn usual() -> Vec<Spec> {
    Spec::usual(true)
}

#[test]
fn curves_are_computed_once_and_again_only_when_they_must() {
    let mut session = alder();
    let mut sweeps = Sweeps::default();
    let draw = |session: &Session, sweeps: &mut Sweeps| {
        for spec in usual() {
            let _ = Curve::of(session, spec, sweeps);
        }
        sweeps.computed()
    };
    // Front travel, front steer, rear travel.
    assert_eq!(draw(&session, &mut sweeps), 3);
    assert_eq!(draw(&session, &mut sweeps), 3);
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Rear), travel: 0.01 });
    assert_eq!(draw(&session, &mut sweeps), 3, "no curve holds the rear wheels");
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.01 });
    assert_eq!(draw(&session, &mut sweeps), 4, "steer curves hold the front wheels' travel");
    session.apply(Edit::Preview(Some(CarPose::heave(0.02))));
    assert_eq!(draw(&session, &mut sweeps), 4, "a preview holds nothing");
    session.apply(Edit::Preview(None));
    move_rod(&mut session, 1e-3);
    assert_eq!(
        draw(&session, &mut sweeps),
        4 + 2 + 3,
        "the front's two and, now that they differ, all of the original's"
    );
    move_rod(&mut session, 1e-3);
    assert_eq!(draw(&session, &mut sweeps), 9 + 2, "the rear axle is the same");
}

#[test]
fn curves_prepared_side_by_side_are_those_made_one_by_one() {
    let mut session = alder();
    move_rod(&mut session, 1e-3);
    let (mut together, mut alone) = (Sweeps::default(), Sweeps::default());
    together.prepare(&session, &usual());
    assert_eq!(together.computed(), 6, "three motions of two cars");
    for spec in usual() {
        let (one, other) = (Curve::of(&session, spec, &mut together), Curve::of(&session, spec, &mut alone));
        assert_eq!(one.traces, other.traces, "{spec:?}");
        assert!(one.traces.iter().all(|trace| trace.pieces.iter().flatten().count() > 20), "{spec:?}");
    }
    assert_eq!((together.computed(), alone.computed()), (6, 6));
}

#[test]
fn a_curve_is_the_same_until_something_it_shows_changes() {
    let mut session = alder();
    let mut sweeps = Sweeps::default();
    let spec = Spec::over_travel(End::Front, "toe").unwrap();
    let mut last = Curve::of(&session, spec, &mut sweeps);
    let mut is_same = |session: &Session| {
        let now = Curve::of(session, spec, &mut sweeps);
        let is_same = std::sync::Arc::ptr_eq(&now, &last);
        assert_eq!(now.traces, Curve::of(session, spec, &mut Sweeps::default()).traces);
        assert_eq!(now.markers, Curve::of(session, spec, &mut Sweeps::default()).markers);
        last = now;
        is_same
    };
    assert!(is_same(&session));
    session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.01 });
    assert!(!is_same(&session), "its marker moved");
    session.apply(Edit::Preview(Some(CarPose::heave(0.02))));
    assert!(!is_same(&session), "its marker shows the preview");
    assert!(is_same(&session));
    move_rod(&mut session, 1e-3);
    assert!(!is_same(&session));
    session.apply(Edit::Undo);
    assert!(!is_same(&session));
}

#[test]
fn the_marker_stands_on_the_curve_and_the_place_under_it_is_the_pose() {
    let mut session = alder();
    let mut sweeps = Sweeps::default();
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Front), travel: 0.0175 });
    let curve = Curve::of(&session, Spec::over_travel(End::Front, "toe").unwrap(), &mut sweeps);
    let &(branch, [x, y]) = curve.markers.last().unwrap();
    assert_eq!(branch, Branch::Wheel(Side::Left));
    let trace = curve.traces.iter().find(|t| t.branch == branch && t.whose == Whose::Now).unwrap();
    let near = trace.pieces[0].windows(2).find(|pair| (pair[0][0]..=pair[1][0]).contains(&x)).unwrap();
    let share = (x - near[0][0]) / (near[1][0] - near[0][0]);
    let on_curve = near[0][1] + share * (near[1][1] - near[0][1]);
    assert!((on_curve - y).abs() < 1e-3, "{on_curve} and {y}");
    let place = curve.place(&session, x, y).unwrap();
    assert!((place.pose.travel_of(FRONT_LEFT) - 0.0175).abs() < 1e-12);
    assert_eq!(place.values.len(), 2);
    assert!(curve.sides_coincide, "Alder is the same on both sides");
}

#[test]
fn outer_over_inner_takes_the_car_to_that_angle_on_the_branch_meant() {
    let mut session = alder();
    move_rod(&mut session, 1e-3);
    let mut sweeps = Sweeps::default();
    let spec = Spec { end: End::Front, over: Over::Steer, shown: Shown::OuterOverInner };
    let curve = Curve::of(&session, spec, &mut sweeps);
    let inner = 0.5 * curve.x_range[1];
    let place = curve.place(&session, inner, 0.0).unwrap();
    assert!((place.x - inner).abs() < 1e-2, "{} for {inner}", place.x);
    assert!(place.pose.steer > 0.0);
    let ideal = curve.traces.iter().find(|trace| trace.whose == Whose::Ideal).unwrap();
    assert!(ideal.pieces.iter().flatten().all(|[inner, outer]| outer <= inner));
    assert!(curve.traces.iter().any(|trace| trace.whose == Whose::Original));
}

#[test]
fn a_steered_wheel_shows_how_toe_changes_and_not_how_far_it_is_steered() {
    let mut session = alder();
    let mut sweeps = Sweeps::default();
    let spec = Spec::over_travel(End::Front, "toe").unwrap();
    let ahead = Curve::of(&session, spec, &mut sweeps);
    assert!(!ahead.is_change());
    session.apply(Edit::SetPose(CarPose { steer: 0.02, ..CarPose::heave(0.01) }));
    let curve = Curve::of(&session, spec, &mut sweeps);
    assert!(curve.is_change());
    assert_eq!(curve.titles()[0], "Toe change over travel, front");
    assert!(curve.y_range[1] - curve.y_range[0] < 3.0, "{:?}", curve.y_range);
    let toe = reading("toe").unwrap();
    for (branch, zero) in &curve.zero {
        assert!(zero.abs() > 10.0, "{branch:?} is steered: {zero}");
        let wheel =
            WheelPosition { end: End::Front, side: if branch.is_right() { Side::Right } else { Side::Left } };
        let solve = |travel| {
            let mut still = session.clone();
            still.apply(Edit::SetPose(CarPose { steer: 0.02, ..CarPose::heave(travel) }));
            still.values().wheel(wheel, toe).unwrap().to_degrees()
        };
        let [_, marked] = curve.markers.iter().find(|(of, _)| of == branch).unwrap().1;
        assert!((marked - (solve(0.01) - solve(0.0))).abs() < 1e-3, "{branch:?}: {marked}");
    }
    let place = curve.place(&session, 10.0, 0.0).unwrap();
    assert!(place.values.iter().all(|(_, text)| text.starts_with(['+', '−'])), "{:?}", place.values);
}

#[test]
fn what_cannot_be_reached_is_a_gap() {
    let mut session = alder();
    // A longer tie rod, almost to the dead point of full lock: steer ends early on one side.
    let length = wheelpath_geometry::Assembly::from(FRONT_LEFT).length(session.car(), Link::TieRod).unwrap();
    let mut sweeps = Sweeps::default();
    let spec = Spec::over_steer("steer_angle").unwrap();
    let whole = Curve::of(&session, spec, &mut sweeps);
    assert!(!whole.has_gap);
    for more in 1..60 {
        let to = length + 1e-3 * f64::from(more);
        session.apply(Edit::Change(CarEdit::set_number(
            FRONT_LEFT.into(),
            Parameter::Length(Link::TieRod),
            to,
            true,
        )));
        let curve = Curve::of(&session, spec, &mut sweeps);
        if !session.is_stale() && curve.has_gap {
            let count: usize = curve.traces.last().unwrap().pieces.iter().map(Vec::len).sum();
            assert!(count > 0 && count < 81);
            assert!(curve.traces.iter().flat_map(|t| &t.pieces).flatten().all(|p| p[1].is_finite()));
            let unreached = curve.x_range.map(|x| curve.place(&session, x, 0.0));
            assert!(unreached.iter().any(Option::is_none));
            return;
        }
    }
    panic!("no length led to a limit of steer");
}

#[test]
fn every_reading_of_the_catalogue_makes_a_curve() {
    let session = alder();
    let mut sweeps = Sweeps::default();
    let all = wheelpath_geometry::wheel_readings().iter().chain(wheelpath_geometry::axle_readings());
    for reading in all {
        for over in [Over::Travel(wheelpath_geometry::Travelling::Opposite), Over::Steer] {
            let spec = Spec { end: End::Front, over, shown: Shown::Reading(reading) };
            let curve = Curve::of(&session, spec, &mut sweeps);
            assert!(curve.y_range[0] < curve.y_range[1], "{}", reading.key);
            assert!(curve.traces.iter().flat_map(|t| &t.pieces).flatten().all(|p| p[1].is_finite()));
        }
    }
    assert_eq!(sweeps.computed(), 2);
    assert!(reading("toe").is_some());
}

#[test]
fn curves_over_a_steering_box_run_in_degrees_and_the_left_turn_is_the_wheels() {
    for (car, unit, part) in [("hazel", Unit::Degree, "pitman"), ("rowan", Unit::Length, "rack")] {
        let mut session = crate::test_cars::car(car);
        let mut sweeps = Sweeps::default();
        let spec = Spec::over_steer("steer_angle").unwrap();
        let curve = Curve::of(&session, spec, &mut sweeps);
        assert_eq!((curve.x_name, curve.x_unit), (part, unit));
        let factor = unit.data_factor(LengthUnit::Millimetre);
        assert!((curve.x_range[1] - session.reach().steer[1] * factor).abs() < 1e-9);
        let place = curve.place(&session, 7.5, 0.0).unwrap();
        assert!((place.pose.steer * factor - 7.5).abs() < 1e-9, "{}", place.pose.steer);
        let outer = Spec { end: End::Front, over: Over::Steer, shown: Shown::OuterOverInner };
        // Whichever way the input counts, the left branch turns the wheels to the left.
        let curve = Curve::of(&session, outer, &mut sweeps);
        let inner = 0.5 * curve.x_range[1];
        let place = curve.place(&session, inner, 0.0).unwrap();
        session.apply(Edit::SetPose(place.pose));
        let turned = session.values().wheel(FRONT_LEFT, reading("steer_angle").unwrap()).unwrap();
        let [(branch, _)] = place.values.as_slice() else { panic!("{:?}", place.values) };
        assert_eq!(*branch == Branch::Turn(Side::Left), turned > 0.0, "{car}: {turned}");
    }
}

#[test]
fn every_curve_of_a_beam_axle_runs_and_its_holes_are_holes() {
    use wheelpath_geometry::Travelling;
    let session = crate::test_cars::car("hazel");
    let mut sweeps = Sweeps::default();
    let all = wheelpath_geometry::wheel_readings().iter().chain(wheelpath_geometry::axle_readings());
    let mut drawn = 0;
    for reading in all {
        for travelling in [Travelling::Both, Travelling::Opposite, Travelling::One(Side::Left)] {
            let spec =
                Spec { end: End::Rear, over: Over::Travel(travelling), shown: Shown::Reading(reading) };
            let curve = Curve::of(&session, spec, &mut sweeps);
            assert!(!curve.has_gap, "{} over {travelling:?}", reading.key);
            assert!(curve.y_range[0] < curve.y_range[1], "{}", reading.key);
            drawn += usize::from(curve.traces.iter().any(|trace| !trace.pieces.is_empty()));
        }
    }
    assert_eq!(sweeps.computed(), 3);
    assert!(drawn > 60, "{drawn}");
    // Each motion is its own: what stands on its curve is what the axle does there.
    let toe = reading("toe").unwrap();
    for travelling in [Travelling::Both, Travelling::Opposite, Travelling::One(Side::Left)] {
        let spec = Spec { end: End::Rear, over: Over::Travel(travelling), shown: Shown::Reading(toe) };
        let curve = Curve::of(&session, spec, &mut sweeps);
        assert!(!curve.is_change());
        for side in Side::BOTH {
            let trace = curve.traces.iter().find(|trace| trace.branch == Branch::Wheel(side)).unwrap();
            let [x, y] = trace.pieces[0][8];
            let mut there = session.clone();
            there.apply(Edit::SetPose(spec.pose(&CarPose::REFERENCE, x * 1e-3)));
            let solved =
                there.values().wheel(WheelPosition { end: End::Rear, side }, toe).unwrap().to_degrees();
            assert!((solved - y).abs() < 1e-9, "{travelling:?}, {side}: {solved} and {y}");
        }
    }
}

#[test]
fn a_difference_is_now_less_before_at_every_place() {
    let mut session = alder();
    let mut sweeps = Sweeps::default();
    let spec = Spec::over_travel(End::Front, "toe").unwrap();
    assert!(!Curve::difference(&session, spec, &mut sweeps).is_difference, "nothing differs yet");
    move_rod(&mut session, -2.5e-3);
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Front), travel: 0.0175 });
    let curve = Curve::difference(&session, spec, &mut sweeps);
    assert!(curve.is_difference && curve.traces.iter().all(|trace| trace.whose == Whose::Now));
    let left = curve.traces.iter().find(|trace| trace.branch == Branch::Wheel(Side::Left)).unwrap();
    let toe = reading("toe").unwrap();
    let mut seen = 0;
    for [x, y] in left.pieces.iter().flatten().step_by(10) {
        let pose = CarPose { travel: [x * 1e-3, x * 1e-3, 0.0, 0.0], steer: 0.0 };
        let of = |solver: &wheelpath_geometry::CarSolver| {
            let solved = solver.solve(&pose).unwrap();
            solved.axle(End::Front).wheel_values(Side::Left).get(toe).unwrap().to_degrees()
        };
        let less = of(session.solver()) - of(session.baseline_solver());
        assert!((y - less).abs() < 1e-9, "at {x} mm: {y} {less}");
        seen += 1;
    }
    assert!(seen >= 8, "{seen}");
    let (_, [x, y]) = curve.markers.iter().find(|(branch, _)| *branch == Branch::Wheel(Side::Left)).unwrap();
    let place = curve.place(&session, *x, *y).unwrap();
    let said = &place.values.iter().find(|(branch, _)| *branch == Branch::Wheel(Side::Left)).unwrap().1;
    assert_eq!(*said, Unit::Degree.write_change(0.0, y.to_radians(), LengthUnit::Millimetre));
    // What runs over a reading of the car itself is not taken apart.
    let outer = Spec { shown: Shown::OuterOverInner, over: Over::Steer, ..spec };
    assert!(!Curve::difference(&session, outer, &mut sweeps).is_difference);
}
