//! Every parameter of a corner and of its axle has a field in the Change task.

use super::{Bench, FRONT_LEFT, FRONT_RIGHT, bench_of};
use crate::panels::Task;
use bevy_egui::egui::{Key, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use wheelpath_geometry::{
    Assembly, Axis, End, Link, Parameter, Side, SteeringNumber, Unit, Value, WheelNumber, WheelPosition,
};
use wheelpath_session::{CarEdit, Edit, Session};

fn changing(car: &str, corner: WheelPosition) -> Harness<'static, Bench> {
    bench_of(car, vec2(1280.0, 3600.0), |bench| {
        bench.state.task = Task::Change;
        bench.state.corner = corner;
    })
}

/// The names of a parameter's fields.
fn fields_of(harness: &Harness<'static, Bench>, assembly: Assembly, parameter: Parameter) -> Vec<String> {
    let bench = harness.state();
    let unit = parameter.unit();
    let symbol = unit.symbol(bench.state.lengths);
    let name = |what: String| match unit {
        Unit::Ratio => format!("{assembly}, {what}"),
        _ => format!("{assembly}, {what} in {symbol}"),
    };
    match parameter {
        Parameter::Point(_) => Axis::ALL.map(|axis| name(format!("{parameter}, {}", axis.letter()))).to_vec(),
        Parameter::WheelCentre => {
            Axis::ALL.map(|axis| name(format!("{parameter} {}", axis.letter()))).to_vec()
        }
        _ => vec![name(parameter.to_string())],
    }
}

#[test]
fn every_parameter_of_every_car_has_a_field_that_its_label_finds() {
    let mut count = 0;
    for car in crate::test_cars::every_car() {
        for end in End::BOTH {
            let corner = WheelPosition { end, side: Side::Left };
            let harness = changing(&car, corner);
            for assembly in [Assembly::Corner(corner), Assembly::Axle(end)] {
                for parameter in Parameter::all(assembly) {
                    let is_there = parameter.value(harness.state().session.car(), assembly).is_some();
                    for field in fields_of(&harness, assembly, parameter) {
                        assert_eq!(harness.query_by_label(&field).is_some(), is_there, "{car}: {field}");
                        count += usize::from(is_there);
                    }
                }
            }
        }
    }
    assert!(count > 1000, "{count} fields");
}

fn typed(harness: &mut Harness<'static, Bench>, field: &str, text: &str) {
    harness.get_by_label(field).focus();
    harness.run();
    harness.get_by_label(field).type_text(text);
    harness.key_press(Key::Enter);
    harness.run();
}

fn number(harness: &Harness<'static, Bench>, assembly: Assembly, parameter: Parameter) -> f64 {
    match parameter.value(harness.state().session.car(), assembly) {
        Some(Value::Number(number)) => number,
        other => panic!("{parameter}: {other:?}"),
    }
}

#[test]
fn steering_and_tyre_are_typed_named_and_put_back() {
    let mut harness = changing("alder", FRONT_LEFT);
    let axle = Assembly::Axle(End::Front);
    typed(&mut harness, "front axle, rack travel per turn in mm", "61.5");
    let travel = Parameter::Steering(SteeringNumber::TravelPerTurn);
    assert!((number(&harness, axle, travel) - 0.0615).abs() < 1e-12);
    let name = harness.state().session.next_undo().unwrap().to_owned();
    assert!(name.starts_with("rack travel per turn, front axle: "), "{name}");
    typed(&mut harness, "front axle, steering stop, right in mm", "25");
    assert!((number(&harness, axle, Parameter::Steering(SteeringNumber::StopRight)) - 0.025).abs() < 1e-12);
    typed(&mut harness, "front left, tyre width in mm", "195");
    for at in [FRONT_LEFT, FRONT_RIGHT] {
        let width = number(&harness, at.into(), Parameter::Wheel(WheelNumber::TyreWidth));
        assert!((width - 0.195).abs() < 1e-12, "{at}");
    }
    assert!(harness.state().session.next_undo().unwrap().starts_with("tyre width, front both: "));
    for reset in [
        "Reset front axle rack travel per turn",
        "Reset front axle steering stop, right",
        "Reset front left tyre width",
    ] {
        harness.get_by_label(reset).click();
        harness.run();
        assert!(harness.query_by_label(reset).is_none(), "{reset}: nothing to put back any more");
    }
    assert_eq!(harness.state().session.car(), harness.state().session.original());
}

#[test]
fn a_stated_length_follows_from_its_points_at_a_press() {
    let (assembly, parameter) = (Assembly::Corner(FRONT_LEFT), Parameter::Length(Link::Pushrod));
    // On a car whose file states it, and on one that follows from its points.
    let mut harness = changing("alder", FRONT_LEFT);
    let [points, reset] = ["Points front left pushrod, length", "Reset front left pushrod, length"];
    assert!(harness.query_by_label(points).is_none() && harness.query_by_label(reset).is_none());
    let length = assembly.length(harness.state().session.car(), Link::Pushrod).unwrap();
    let text = format!("{:.3}", 1e3 * (length + 1e-3));
    typed(&mut harness, "front left, pushrod, length in mm", &text);
    assert!((number(&harness, assembly, parameter) - length - 1e-3).abs() < 1e-6);
    harness.get_by_label(reset).click();
    harness.run();
    assert_eq!(harness.state().session.car(), harness.state().session.original());
    let mut harness = bench_of("alder", vec2(1280.0, 3600.0), |bench| {
        let mut stated = bench.session.car().clone();
        for side in Side::BOTH {
            Assembly::corner(End::Front, side).set_length(&mut stated, Link::Pushrod, Some(length + 1e-3));
        }
        bench.session = Session::new(stated).unwrap();
        bench.state = super::super::UiState::new(&bench.session);
        bench.state.task = Task::Change;
        bench.state.corner = FRONT_LEFT;
    });
    harness.get_by_label(points).click();
    harness.run();
    assert_eq!(parameter.value(harness.state().session.car(), assembly), Some(Value::FromPoints));
    assert!(harness.query_by_label(points).is_none());
}

/// In the narrowest drawer, no field and no button is cut off by its edge.
#[test]
fn rows_fit_into_the_drawer() {
    for car in ["alder", "hazel", "rowan"] {
        let mut harness = changing(car, FRONT_LEFT);
        let edge = harness.state().area.unwrap().left;
        for assembly in [Assembly::Corner(FRONT_LEFT), Assembly::Axle(End::Front)] {
            for parameter in Parameter::all(assembly) {
                let Some(value) = parameter.value(harness.state().session.original(), assembly) else {
                    continue;
                };
                let to = match value {
                    Value::Place(at) => Value::Place(at.add_scalar(1e-5)),
                    Value::Number(number) => Value::Number(number * 1.0001 + 1e-7),
                    Value::FromPoints => continue,
                };
                let edit = CarEdit::Set { assembly, parameter, to, mirrored: false };
                harness.state_mut().session.apply(Edit::Change(edit));
                harness.run();
                let reset = harness.get_by_label(&format!("Reset {assembly} {parameter}")).rect();
                assert!(reset.right() < edge, "{car}: {parameter} {reset:?} {edge}");
                for field in fields_of(&harness, assembly, parameter) {
                    let rect = harness.get_by_label(&field).rect();
                    assert!(rect.right() < edge, "{car}: {field} {rect:?} {edge}");
                }
                harness.state_mut().session.apply(Edit::Undo);
            }
        }
    }
}

#[test]
fn a_steering_box_has_its_ratio_and_its_stops_in_degrees() {
    let mut harness = changing("hazel", FRONT_LEFT);
    let axle = Assembly::Axle(End::Front);
    typed(&mut harness, "front axle, steering box ratio", "14.5");
    assert!((number(&harness, axle, Parameter::Steering(SteeringNumber::Ratio)) - 14.5).abs() < 1e-12);
    typed(&mut harness, "front axle, steering stop, left in °", "21");
    let stop = number(&harness, axle, Parameter::Steering(SteeringNumber::StopLeftAngle));
    assert!((stop - 21_f64.to_radians()).abs() < 1e-12);
    assert!(harness.query_by_label("front axle, rack travel per turn in mm").is_none());
}
