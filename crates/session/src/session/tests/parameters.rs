//! Whatever a proposal can set, the window's edit sets, and the proposal that is saved afterwards says the same.

use super::car;
use crate::session::{CarEdit, Edit, FileCommand};
use crate::test_cars::every_car;
use nalgebra::Vector3;
use wheelpath_car_file::{ProposalFile, load_proposal, parse_proposal};
use wheelpath_geometry::{
    Assembly, Axis, Car, Change, End, LengthUnit, Parameter, Proposal, Selection, Side, SpringNumber,
    SteeringNumber, Unit, Value, WheelNumber,
};

/// Every parameter that an assembly of a car has, with what it is.
fn parameters_of(car: &Car) -> Vec<(Assembly, Parameter, Value)> {
    let of = |assembly| Parameter::all(assembly).into_iter().map(move |parameter| (assembly, parameter));
    let all = Assembly::ALL.into_iter().flat_map(of);
    all.filter_map(|(assembly, parameter)| Some((assembly, parameter, parameter.value(car, assembly)?)))
        .collect()
}

/// A value that is another one, near it.
fn another(car: &Car, (assembly, parameter, value): (Assembly, Parameter, Value)) -> Value {
    let by = match parameter.unit() {
        Unit::Degree => 0.25_f64.to_radians(),
        Unit::Length => 0.5e-3,
        Unit::SpringRate | Unit::TorsionRate => 1500.0,
        _ => 0.125,
    };
    match (value, parameter) {
        (Value::Place(at), _) => Value::Place(at + Vector3::new(by, -by, 2.0 * by)),
        (Value::Number(number), _) => Value::Number(number + by),
        (Value::FromPoints, Parameter::Length(link)) => {
            Value::Number(assembly.length(car, link).unwrap() + by)
        }
        (Value::FromPoints, _) => panic!("{parameter} follows from no points"),
    }
}

#[test]
fn what_a_proposal_can_set_the_window_sets_and_its_proposal_says_the_same() {
    let (mut count, mut met) = (0, std::collections::HashSet::new());
    for stem in every_car() {
        let mut session = car(&stem);
        let original = session.original().clone();
        for (assembly, parameter, was) in parameters_of(&original) {
            let case = format!("{stem}: {parameter}, {assembly}");
            let now = another(&original, (assembly, parameter, was));
            let change = Change::set(Selection::One(assembly), parameter, was, now);
            let asked = Proposal { changes: vec![change.clone()], ..Proposal::new("Asked") };
            let proposed = asked.applied(&original).unwrap().car;
            session.apply(Edit::Change(CarEdit::Set { assembly, parameter, to: now, mirrored: false }));
            session.apply(Edit::Settle);
            assert_eq!(session.car(), &proposed, "{case}");
            assert!(parameter.value(session.car(), assembly).unwrap().is(now), "{case}");
            let name = session.next_undo().unwrap();
            let words = parameter.to_string();
            let words = words.strip_suffix(", length").unwrap_or(&words);
            assert!(name.contains(words) && name.contains(&assembly.to_string()), "{case}: {name}");
            // What is saved says so, and reads back as that.
            let said = Proposal::between("Said", &original, session.car());
            assert_eq!(said.changes.len(), 1, "{case}: {said:?}");
            let file = ProposalFile::new(said, &original, LengthUnit::Millimetre, session.axes());
            let text = file.checked_text("said.ron").unwrap();
            let read = parse_proposal(&text, "said.ron").unwrap().proposal;
            let [Change::Set { of, parameter: said, was: before, now: after, .. }] = &read.changes[..] else {
                panic!("{case}: {read:?}");
            };
            assert_eq!((*of, *said), (Selection::One(assembly), parameter), "{case}");
            assert!(before.is(was) && after.is(now), "{case}: {before:?} to {after:?}");
            // Back to the original, in one step that can be undone too.
            session.apply(Edit::Change(CarEdit::Reset { assembly, parameter, mirrored: false }));
            assert!(parameter.value(session.car(), assembly).unwrap().is(was), "{case}");
            session.apply(Edit::Undo);
            assert_eq!(session.car(), &proposed, "{case}");
            session.apply(Edit::Undo);
            assert_eq!(session.car(), &original, "{case}");
            met.insert(std::mem::discriminant(&parameter));
            count += 1;
        }
    }
    assert!(count > 1000 && met.len() == 6, "{count} parameters of {} kinds", met.len());
}

#[test]
fn every_number_is_met_on_some_car() {
    let all: Vec<Parameter> =
        every_car().iter().flat_map(|stem| parameters_of(car(stem).car())).map(|(_, one, _)| one).collect();
    let wheel = WheelNumber::ALL.map(Parameter::Wheel);
    let steering = SteeringNumber::ALL.map(Parameter::Steering);
    let rates = SpringNumber::ALL.map(Parameter::Spring);
    for parameter in wheel.into_iter().chain(steering).chain(rates) {
        assert!(all.contains(&parameter), "{parameter}");
    }
}

/// Set on both sides of a car whose sides are alike, each parameter stays the mirror image of its twin, and the
/// saved proposal says it once.
#[test]
fn mirrored_changes_of_alike_sides_are_said_once() {
    let mut session = car("alder");
    let original = session.original().clone();
    for (assembly, parameter, was) in parameters_of(&original) {
        let Some(other) = assembly.opposite() else { continue };
        let to = another(&original, (assembly, parameter, was));
        session.apply(Edit::Change(CarEdit::Set { assembly, parameter, to, mirrored: true }));
        session.apply(Edit::Settle);
        let [here, there] = [assembly, other].map(|one| parameter.value(session.car(), one).unwrap());
        assert!(there.is(here.mirrored()), "{parameter}, {assembly}: {here:?} and {there:?}");
        let said = Proposal::between("", &original, session.car());
        let [Change::Set { of, .. }] = &said.changes[..] else { panic!("{parameter}: {said:?}") };
        assert_eq!(*of, Selection::Both(assembly.end()), "{parameter}");
        session.apply(Edit::Undo);
        assert_eq!(session.car(), &original);
    }
}

/// On sides that are unlike, places and lengths change by as much, and a number is the same on both.
#[test]
fn mirrored_changes_of_unlike_sides_go_by_as_much() {
    let mut session = car("hazel");
    let original = session.original().clone();
    let (left, right) = (Assembly::corner(End::Front, Side::Left), Assembly::corner(End::Front, Side::Right));
    for (assembly, parameter, was) in parameters_of(&original) {
        if assembly != left {
            continue;
        }
        let Some(there) = parameter.value(&original, right) else { continue };
        let to = another(&original, (assembly, parameter, was));
        session.apply(Edit::Change(CarEdit::Set { assembly, parameter, to, mirrored: true }));
        session.apply(Edit::Settle);
        let now = parameter.value(session.car(), right).unwrap();
        let expected = match (was, to, there, parameter) {
            (Value::Place(was), Value::Place(to), Value::Place(there), _) => {
                let by = to - was;
                Value::Place(there + Vector3::new(by.x, -by.y, by.z))
            }
            (_, Value::Number(to), _, Parameter::Length(link)) => {
                let length = |one: Assembly| one.length(&original, link).unwrap();
                Value::Number(length(right) + (to - length(left)))
            }
            _ => to,
        };
        assert!(now.is(expected), "{parameter}: {now:?}, not {expected:?}");
        session.apply(Edit::Undo);
    }
}

#[test]
fn a_length_is_stated_and_follows_from_its_points_again() {
    let mut session = car("alder");
    let assembly = Assembly::corner(End::Front, Side::Left);
    let parameter = Parameter::Length(wheelpath_geometry::Link::Pushrod);
    let set = |to| Edit::Change(CarEdit::Set { assembly, parameter, to, mirrored: true });
    assert_eq!(parameter.value(session.car(), assembly), Some(Value::FromPoints));
    session.apply(set(Value::Number(0.4)));
    session.apply(Edit::Settle);
    session.apply(set(Value::FromPoints));
    assert_eq!(session.next_undo(), Some("pushrod, front both: length follows from its points"));
    assert_eq!(session.car(), session.original());
    session.apply(Edit::Undo);
    let there = parameter.value(session.car(), assembly.opposite().unwrap());
    assert_eq!(there, Some(Value::Number(0.4)));
}

/// A proposal saved from the window after a change of steering and tyre holds both, in the file's own words.
#[test]
fn steering_and_tyre_changed_in_the_window_are_in_the_saved_proposal() {
    let folder = tempfile::tempdir().unwrap();
    let path = crate::test_cars::copy_of_alder(folder.path());
    let mut session = crate::session::Session::open(&path).unwrap();
    let axle = Assembly::Axle(End::Front);
    let wheel = Assembly::corner(End::Front, Side::Left);
    for (assembly, parameter, to) in [
        (axle, Parameter::Steering(SteeringNumber::TravelPerTurn), 0.06),
        (axle, Parameter::Steering(SteeringNumber::StopLeft), 0.031),
        (wheel, Parameter::Wheel(WheelNumber::TyreWidth), 0.195),
    ] {
        session.apply(Edit::Change(CarEdit::set_number(assembly, parameter, to, true)));
        session.apply(Edit::Settle);
    }
    let file = folder.path().join("alder/quick.ron");
    session.apply(Edit::File(FileCommand::SaveProposal {
        name: "Quick".into(),
        path: file.clone(),
        replace: false,
    }));
    let said: Vec<String> = load_proposal(&file)
        .unwrap()
        .proposal
        .changes
        .iter()
        .map(|change| change.said(LengthUnit::Millimetre))
        .collect();
    let text = std::fs::read_to_string(&file).unwrap();
    for word in ["travel_per_turn", "stop_left", "tyre_width", "front_both"] {
        assert!(text.contains(word), "{word}: {text}");
    }
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(
        said.iter().any(|one| one.contains("rack travel per turn") && one.contains("60.0 mm")),
        "{said:?}"
    );
}

#[test]
fn what_cannot_be_is_refused_with_the_range() {
    let mut session = car("hazel");
    let before = session.car().clone();
    let (wheel, axle) = (Assembly::corner(End::Front, Side::Left), Assembly::Axle(End::Front));
    for (assembly, parameter, to, said) in [
        (
            wheel,
            Parameter::Wheel(WheelNumber::TyreRadius),
            0.0,
            "tyre radius, front left: must lie between 0 and 50 m",
        ),
        (
            wheel,
            Parameter::Length(wheelpath_geometry::Link::TieRod),
            -0.3,
            "tie rod, length, front left: must lie between 0 and 50 m",
        ),
        (
            wheel,
            Parameter::Wheel(WheelNumber::Camber),
            4.0,
            "static camber, front left: must lie between −170 and 170°",
        ),
        (
            axle,
            Parameter::Steering(SteeringNumber::Ratio),
            0.0,
            "steering box ratio, front axle: must lie between −1000 and 1000, and not be 0",
        ),
        (
            axle,
            Parameter::Steering(SteeringNumber::StopRightAngle),
            -0.1,
            "steering stop, right, front axle: must lie between 0 and 170°",
        ),
        (
            axle,
            Parameter::Steering(SteeringNumber::TravelPerTurn),
            0.05,
            "front axle has no rack travel per turn",
        ),
    ] {
        session.apply(Edit::Change(CarEdit::set_number(assembly, parameter, to, false)));
        let notices = session.notices();
        assert!(notices.iter().any(|notice| notice.text == said), "{said}: {notices:?}");
        assert_eq!(session.car(), &before);
    }
    let mut at = wheel.point(&before, wheelpath_geometry::Hardpoint::TieRodInner).unwrap();
    at[Axis::X.index()] = 60.0;
    session.apply(Edit::Change(CarEdit::move_point(
        wheel,
        wheelpath_geometry::Hardpoint::TieRodInner,
        at,
        false,
    )));
    let said = "tie rod, inner end, front left: each coordinate must lie between −50 and 50 m";
    assert!(session.notices().iter().any(|notice| notice.text == said), "{:?}", session.notices());
}
