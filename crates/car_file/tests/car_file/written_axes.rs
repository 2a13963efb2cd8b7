//! An axis is a direction or a second point, and the file says which.

use crate::{CAR, assert_refused, changed, with};
use nalgebra::Vector3;
use wheelpath_car_file::{Document, parse};
use wheelpath_geometry::{Hardpoint, Side};

const BOX: &str = crate::BOX_AND_H_ARM;

#[test]
fn a_word_says_whether_an_axis_is_a_direction_or_a_second_point() {
    let bare = parse(CAR, "car.ron").unwrap().car;
    let pivot = bare.front.left.hardpoints.get(Hardpoint::RockerPivot).unwrap();
    let axis = bare.front.left.hardpoints.get(Hardpoint::RockerAxis).unwrap();
    // A second point with its word before it is what the three numbers alone are.
    let point = with(&[("rocker_axis: (-75.0, 280.0, 558.0)", "rocker_axis: Point(-75.0, 280.0, 558.0)")]);
    assert_eq!(parse(&point, "car.ron").unwrap().car, bare);
    // The same axis by its direction, of any length.
    let along = with(&[("rocker_axis: (-75.0, 280.0, 558.0)", "rocker_axis: Direction(0.0, 3.0, 3.3)")]);
    let loaded = parse(&along, "car.ron").unwrap();
    let second = loaded.car.front.left.hardpoints.get(Hardpoint::RockerAxis).unwrap();
    assert!((second - pivot).cross(&(axis - pivot)).norm() < 1e-12, "{second}");
    // Written back, it stays the direction it was.
    assert_eq!(loaded.document.with_car(&loaded.car).unwrap().text(), along);
    let rack = with(&[("Rack(axis: (0.0, 1.0, 0.0)", "Rack(axis: Direction(0.0, 1.0, 0.0)")]);
    assert_eq!(parse(&rack, "car.ron").unwrap().car, bare);
}

#[test]
fn every_axis_is_written_with_its_word_and_one_that_says_the_same_stays() {
    for text in [CAR, BOX] {
        let loaded = parse(text, "car.ron").unwrap();
        assert_eq!(loaded.document.with_car(&loaded.car).unwrap().text(), text);
        let (units, axes) = (loaded.document.units(), loaded.document.axes());
        let new = Document::new(&loaded.car, "new.ron", "as before", units, axes).unwrap();
        let bare =
            |line: &&str| line.contains("axis: (") || line.contains("joint_axes: (upper_link_outer: (");
        assert_eq!(new.text().lines().find(bare), None);
        // `Document::new` has read it back as the car it is.
    }
    // A second point that is moved to where its three numbers alone would be taken for a direction.
    let loaded = parse(CAR, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    for side in [Side::Left, Side::Right] {
        let axis = Vector3::new(-0.0012, side.sign() * 0.0011, 0.0013);
        car.front.corner_mut(side).hardpoints.set(Hardpoint::BarAxis, axis);
    }
    let saved = loaded.document.with_car(&car).unwrap();
    assert!(saved.text().contains("bar_axis: Point(-1.2, 1.1, 1.3),"), "{}", saved.text());
}

#[test]
fn a_shaft_may_be_given_by_a_second_point() {
    let bare = parse(BOX, "car.ron").unwrap().car;
    let wheelpath_geometry::Steering::Box(own) = &bare.front.steering else { panic!("no box") };
    let second = (own.pitman.pivot + Vector3::new(0.0, 0.3, 4.0) * 0.01) * 1e3;
    let new = format!("pitman_axis: Point({:?}, {:?}, {:?})", second.x, second.y, second.z);
    let text = changed(BOX, &[("pitman_axis: (0.0, 0.3, 4.0)", new.as_str())]);
    let car = parse(&text, "car.ron").unwrap().car;
    let wheelpath_geometry::Steering::Box(by_point) = &car.front.steering else { panic!("no box") };
    assert!((by_point.pitman.axis - own.pitman.axis).norm() < 1e-12);
}

#[test]
fn numbers_of_the_other_kind_are_refused() {
    let hint =
        "write Direction(x, y, z) if it is a direction, Point(x, y, z) if it is a second point on the axis";
    assert_refused(
        &with(&[("rocker_axis: (-75.0, 280.0, 558.0)", "rocker_axis: (0.0, 0.7, 0.8)")]),
        &[(
            "(0.0, 0.7, 0.8)",
            "front left rocker axis, second point is (0, 0.7, 0.8): these are the numbers of a direction",
            hint,
        )],
    );
    assert_refused(
        &changed(BOX, &[("pitman_axis: (0.0, 0.3, 4.0)", "pitman_axis: (-190.0, 262.0, 240.0)")]),
        &[(
            "(-190.0, 262.0, 240.0)",
            "the front pitman arm's axis is (-190, 262, 240): these are the numbers of a point",
            hint,
        )],
    );
}

#[test]
fn every_missing_comma_of_a_file_is_told_together_with_what_else_is_wrong() {
    let text = with(&[
        ("tie_rod_inner: (88.0, 240.0, 169.0)", "tie_rod_inner: (88.0, 240.0 169.0)"),
        ("spin_axis: Point((-2650.0, -806.5, 283.0))", "spin_axis: Point((-2650.0, -806.5 283.0))"),
        ("drive: Sprung", "drive: 3"),
    ]);
    let error = parse(&text, "car.ron").unwrap_err().to_string();
    for said in [
        "in front left pickups tie rod inner, this is not well-formed: expected comma",
        "in rear right wheel spin axis, this is not well-formed: expected comma",
        "the rear drive cannot be the number 3",
    ] {
        assert!(error.contains(said), "{said} is not in\n{error}");
    }
}
