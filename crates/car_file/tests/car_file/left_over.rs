//! Points that no table gave stay named until they are measured.

use crate::CAR;
use wheelpath_car_file::{TableOptions, import_points, parse};
use wheelpath_geometry::Hardpoint;

const TABLE: &str = "name,x_mm,y_mm,z_mm\nFL tie_rod_inner,88.5,240,166.5\n";

#[test]
fn points_that_a_table_did_not_give_are_named_until_they_are_moved_or_taken_out() {
    let loaded = parse(CAR, "car.ron").unwrap();
    assert!(loaded.document.left_over().is_empty());
    let imported = import_points(&loaded.car, TABLE, "points.csv", &TableOptions::default()).unwrap();
    assert!(!imported.missing.is_empty());
    // The car's own numbers are its own.
    assert!(loaded.document.after_import(&imported, &[]).left_over().is_empty());
    // Those of another car that it was made of are left over.
    let template = [loaded.car.clone()];
    let saved = loaded.document.after_import(&imported, &template).with_car(&imported.car).unwrap();
    let again = parse(saved.text(), "car.ron").unwrap();
    assert_eq!(again.document.left_over(), imported.missing.as_slice());
    let said = |warnings: &[wheelpath_car_file::Problem]| {
        warnings
            .iter()
            .map(ToString::to_string)
            .filter(|words| words.contains("left over"))
            .collect::<Vec<_>>()
    };
    let warnings = said(&again.warnings);
    assert!(
        warnings[0].contains("front left: left over from the car that a table was put into: "),
        "{warnings:?}"
    );
    assert!(
        warnings[0].contains("upper_ball_joint") && !warnings[0].contains("tie_rod_inner"),
        "{warnings:?}"
    );
    // A point that is moved is measured: it leaves the list.
    let mut car = again.car.clone();
    let at = car.front.left.hardpoints.get(Hardpoint::UpperBallJoint).unwrap();
    car.front.left.hardpoints.set(Hardpoint::UpperBallJoint, at + nalgebra::Vector3::new(0.0, 0.0, 1e-3));
    let moved = again.document.with_car(&car).unwrap();
    let warnings = said(&parse(moved.text(), "car.ron").unwrap().warnings);
    assert!(
        !warnings[0].contains("front left upper_ball_joint") && !warnings[0].contains(": upper_ball_joint")
    );
    assert_eq!(
        parse(moved.text(), "car.ron").unwrap().document.left_over().len(),
        imported.missing.len() - 1
    );
    // A table with that point takes it out, too.
    let table = "name,x_mm,y_mm,z_mm\nFL lower_ball_joint,20,700,150\n";
    let second = import_points(&again.car, table, "points.csv", &TableOptions::default()).unwrap();
    let left = again.document.after_import(&second, &template);
    assert!(
        !left.left_over().iter().any(
            |(assembly, point)| assembly.to_string() == "front left" && point.key() == "lower_ball_joint"
        )
    );
    // What the first table gave was measured, though the second does not give it.
    assert!(
        !left
            .left_over()
            .iter()
            .any(|(assembly, point)| assembly.to_string() == "front left" && point.key() == "tie_rod_inner")
    );
}

#[test]
fn a_list_of_points_left_over_names_points() {
    let with =
        |list: &str| crate::with(&[("    wheelbase:", &format!("    left_over: [{list}],\n    wheelbase:"))]);
    assert!(parse(&with("\"front left tie_rod_inner\""), "car.ron").unwrap().warnings.len() == 1);
    for (list, said) in [
        ("\"front left tie_rod_iner\"", "is no point; did you mean"),
        ("\"tie_rod_inner\"", "does not say whose"),
    ] {
        let error = parse(&with(list), "car.ron").unwrap_err().to_string();
        assert!(error.contains(said), "{error}");
    }
}

#[test]
fn what_a_stand_in_had_is_left_over_beside_what_a_table_gave() {
    let (before, rear) = CAR.split_once("    rear:").unwrap();
    let end = rear.find("\n    ),").unwrap();
    let text = format!("{before}    rear: StandIn,{}", &rear[end + 7..]);
    let loaded = parse(&text, "car.ron").unwrap();
    let table = "name,x_mm,y_mm,z_mm\nRL arm_pivot_outboard,-2000,600,300\n";
    let imported = import_points(&loaded.car, table, "points.csv", &TableOptions::default()).unwrap();
    let left = loaded.document.after_import(&imported, &[]);
    let names: Vec<String> =
        left.left_over().iter().map(|(assembly, point)| format!("{assembly} {}", point.key())).collect();
    assert_eq!(names, ["rear left wheel_centre", "rear left arm_pivot_inboard"]);
}
