//! A save changes what changed and nothing else, and never loses the file that was there.

use crate::CAR;
use wheelpath_car_file::{Axes, Direction, Document, load, parse, save};
use wheelpath_geometry::{
    Alignment, CamberBy, End, Hardpoint, LengthUnit, Link, Side, Springing, Steering, ToeBy, TorqueReaction,
    WheelPosition,
};

const ALDER: &str = include_str!("../../../../demo-cars/alder.ron");
const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };
const REAR_RIGHT: WheelPosition = WheelPosition { end: End::Rear, side: Side::Right };

/// The lines that differ, old and new.
fn changed_lines<'t>(old: &'t str, new: &'t str) -> (Vec<&'t str>, Vec<&'t str>) {
    let only =
        |a: &'t str, b: &'t str| a.lines().filter(|line| !b.lines().any(|other| other == *line)).collect();
    (only(old, new), only(new, old))
}

#[test]
fn an_unchanged_car_gives_the_same_text() {
    for text in [CAR, ALDER] {
        let loaded = parse(text, "car.ron").unwrap();
        assert_eq!(loaded.document.with_car(&loaded.car).unwrap().text(), text);
    }
}

/// What loads can be saved in any units: no verdict hangs on the last digit of a number.
#[test]
fn a_car_on_the_edge_can_be_saved_in_other_units() {
    for (from, to) in [
        // A ball joint far off, and toe and camber set by adjusters: levers of metres.
        ("upper_ball_joint: (-2655.0, -640.0, 395.0)", "upper_ball_joint: (-8612.0, -640.0, 395.0)"),
        ("lower_ball_joint: (-2645.0, -672.0, 165.0)", "lower_ball_joint: (-2645.0, -0.1, 165.0)"),
        (
            "rim_radius: 165.0,\n            ),\n            pickups: (\n                upper_wishbone_front: (-",
            "rim_radius: 0.001,\n            ),\n            pickups: (\n                upper_wishbone_front: (-",
        ),
        ("longest: 265.0", "longest: 50000.0"),
        ("travel_per_turn: 82.0", "travel_per_turn: -50000.0"),
        ("stop_left: 40.0", "stop_left: 50000.0"),
        ("centre_of_gravity_height: 290.0", "centre_of_gravity_height: 50000.0"),
        ("wheelbase: 2650.0", "wheelbase: 6000.0"),
        ("wheelbase: 2650.0", "wheelbase: 500.0"),
        ("tyre_radius: 270.0", "tyre_radius: 800.0"),
        ("tyre_radius: 280.0", "tyre_radius: 100.0"),
    ] {
        let loaded =
            parse(&crate::with(&[(from, to)]), "car.ron").unwrap_or_else(|error| panic!("{to}: {error}"));
        let turned = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
        for (units, axes) in [(LengthUnit::Millimetre, Axes::VEHICLE), (LengthUnit::Inch, turned)] {
            let fresh = Document::new(&loaded.car, "new.ron", "as it stands", units, axes);
            assert!(fresh.is_ok(), "{to}: {}", fresh.unwrap_err());
        }
    }
}

#[test]
fn a_moved_point_changes_one_number_and_a_mirrored_side_stays_mirrored() {
    let loaded = parse(CAR, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    for side in Side::BOTH {
        let hardpoints = &mut car.front.corner_mut(side).hardpoints;
        let mut point = hardpoints.get(Hardpoint::TieRodInner).unwrap();
        point.z -= 0.0025;
        hardpoints.set(Hardpoint::TieRodInner, point);
    }
    let saved = loaded.document.with_car(&car).unwrap();
    let (old, new) = changed_lines(CAR, saved.text());
    assert_eq!(old, ["                tie_rod_inner: (88.0, 240.0, 169.0), // 2.5 too high"]);
    assert_eq!(new, ["                tie_rod_inner: (88.0, 240.0, 166.5), // 2.5 too high"]);
    assert_eq!(saved.car().front.right, saved.car().front.left.mirrored());
}

#[test]
fn a_side_that_no_longer_mirrors_is_written_out() {
    let loaded = parse(CAR, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    let mut point = car.front.right.hardpoints.get(Hardpoint::UpperBallJoint).unwrap();
    point.x += 0.001;
    car.front.right.hardpoints.set(Hardpoint::UpperBallJoint, point);
    let saved = loaded.document.with_car(&car).unwrap();
    assert!(saved.text().contains("upper_ball_joint: (-14.0, -655.5, 385.0)"), "{}", saved.text());
    assert!(saved.text().contains("// 2.5 too high") && saved.text().contains("left: Mirrored"));
    let again = parse(saved.text(), "car.ron").unwrap();
    let moved = again.car.front.right.hardpoints.get(Hardpoint::UpperBallJoint).unwrap();
    assert!((moved - point).norm() < 1e-12, "{moved}");
    assert_eq!(again.car.front.left, loaded.car.front.left);
}

#[test]
fn every_choice_can_change_and_comments_stay() {
    let loaded = parse(CAR, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    car.name = "Hazel \"II\"".into();
    car.centre_of_gravity_height = None;
    car.rear.brakes = TorqueReaction::Upright;
    car.rear.drive = None;
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        corner.damper = None;
        corner.lengths = vec![(Link::Pushrod, 0.5338)];
        corner.alignment = Alignment { toe: ToeBy::TieRodLength(0.001), camber: CamberBy::Points };
        corner.drop_link_on = None;
        for hardpoint in
            [Hardpoint::DropLinkOuter, Hardpoint::DropLinkBar, Hardpoint::BarPivot, Hardpoint::BarAxis]
        {
            corner.hardpoints.remove(hardpoint);
        }
    }
    let right = car.corner_mut(REAR_RIGHT);
    right.springing = None;
    right.hardpoints.remove(Hardpoint::DamperRocker);
    right.hardpoints.remove(Hardpoint::DamperBody);
    car.rear.left = car.rear.right.mirrored();
    if let Steering::Rack(rack) = &mut car.front.steering {
        rack.travel_per_turn = -rack.travel_per_turn;
    }
    let saved = loaded.document.with_car(&car).unwrap();
    let text = saved.text();
    for piece in [
        "name: \"Hazel \\\"II\\\"\"",
        "brakes: Outboard,\n        drive: None,\n        left: Mirrored,",
        "travel_per_turn: -82.0",
        "lengths: (pushrod: 533.8)",
        "alignment: (toe: TieRodLength(toe_deg: 0.0572957795131), camber: FromPoints)",
        "// 2.5 too high",
        "/* the rack, as measured */",
    ] {
        assert!(text.contains(piece), "no {piece:?} in\n{text}");
    }
    for gone in ["centre_of_gravity_height", "damper: (", "drop_link", "springing: Direct"] {
        assert!(!text.contains(gone), "{gone:?} in\n{text}");
    }
    let again = parse(text, "car.ron").unwrap().car;
    assert_eq!((again.rear.drive, again.front.left.damper), (None, None));
    assert_eq!(again.corner(REAR_RIGHT).springing, None::<Springing>);
}

#[test]
fn sides_with_their_own_alignment_keep_it() {
    let loaded = parse(ALDER, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    car.rear.right.alignment.toe = ToeBy::TieRodLength(0.002);
    let saved = loaded.document.with_car(&car).unwrap();
    let again = parse(saved.text(), "car.ron").unwrap().car;
    assert_eq!(again.rear.left.alignment, Alignment::FROM_POINTS);
    let ToeBy::TieRodLength(toe) = again.rear.right.alignment.toe else { panic!("{:?}", again.rear.right) };
    assert!((toe - 0.002).abs() < 1e-14);
}

#[test]
fn a_new_file_in_other_units_and_axes_is_the_same_car() {
    let car = parse(ALDER, "alder.ron").unwrap().car;
    let axes = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
    let document = Document::new(&car, "new.ron", "as it stands", LengthUnit::Inch, axes).unwrap();
    for piece in ["right: Mirrored", "version: 1,", "axes: (x: Rearward, y: Right, z: Up)"] {
        assert!(document.text().contains(piece), "no {piece:?} in\n{}", document.text());
    }
    let again = parse(document.text(), "new.ron").unwrap().car;
    for at in WheelPosition::ALL {
        for (hardpoint, point) in car.corner(at).hardpoints.iter() {
            let back = again.corner(at).hardpoints.get(hardpoint).unwrap();
            assert!((back - point).norm() < 1e-14, "{at} {hardpoint}: {back} is not {point}");
        }
        let turned = again.corner(at).wheel.spin_axis - car.corner(at).wheel.spin_axis;
        assert!(turned.norm() < 1e-14, "{at} {turned}");
    }
}

/// The rear axle of the examples has the numbers of the one that stands in on the bench, at another height.
#[test]
fn an_axle_written_afresh_is_written_in_numbers_whatever_they_are() {
    let text = include_str!("../../../../examples/linkages/steered_five_link.ron");
    let loaded = parse(text, "car.ron").unwrap();
    for units in [LengthUnit::Millimetre, LengthUnit::Inch] {
        let fresh = Document::new(&loaded.car, "new.ron", "As drawn.", units, Axes::VEHICLE).unwrap();
        assert!(!fresh.text().contains("StandIn"), "{}", fresh.text());
        for at in [FRONT_LEFT, REAR_RIGHT] {
            let (is, was) = (fresh.car().corner(at), loaded.car.corner(at));
            assert!((is.wheel.centre - was.wheel.centre).norm() < 1e-12, "{at}");
            for ((point, is), (_, was)) in is.hardpoints.iter().zip(was.hardpoints.iter()) {
                assert!((is - was).norm() < 1e-12, "{at} {point}: {is} for {was}");
            }
        }
    }
}

#[test]
fn a_saved_file_opens_as_the_car_that_was_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hazel.ron");
    std::fs::write(&path, CAR).unwrap();
    let loaded = load(&path).unwrap();
    let mut car = loaded.car.clone();
    car.wheelbase = 2.6515;
    let saved = save(&loaded.document, &car, &path).unwrap();
    assert_eq!(std::fs::read_to_string(&path).unwrap(), saved.text());
    assert!((load(&path).unwrap().car.wheelbase - 2.6515).abs() < 1e-15);
    let other = folder.path().join("hazel two.ron");
    save(&saved, &car, &other).unwrap();
    assert_eq!(std::fs::read(&other).unwrap(), std::fs::read(&path).unwrap());
    let names: Vec<_> = std::fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(names.len(), 2, "nothing else is left behind: {names:?}");
}

#[test]
fn a_car_with_a_fault_is_not_saved_and_the_old_file_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hazel.ron");
    std::fs::write(&path, CAR).unwrap();
    let loaded = load(&path).unwrap();
    let mut car = loaded.car.clone();
    car.corner_mut(FRONT_LEFT).hardpoints.remove(Hardpoint::TieRodInner);
    let error = save(&loaded.document, &car, &path).unwrap_err().to_string();
    assert!(error.contains("front left tie rod, inner end is missing"), "{error}");
    let mut car = loaded.car.clone();
    car.wheelbase = f64::NAN;
    let error = save(&loaded.document, &car, &path).unwrap_err().to_string();
    assert!(error.contains("the wheelbase is NaN: not a finite number"), "{error}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), CAR);
}

#[test]
fn where_no_file_can_be_written_the_error_says_so() {
    let loaded = parse(CAR, "car.ron").unwrap();
    let folder = tempfile::tempdir().unwrap();
    let error = save(&loaded.document, &loaded.car, &folder.path().join("no/such/car.ron")).unwrap_err();
    assert!(error.to_string().starts_with("cannot write "), "{error}");
    let path = folder.path().join("locked.ron");
    std::fs::write(&path, CAR).unwrap();
    let mut permissions = std::fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&path, permissions).unwrap();
    let error = save(&loaded.document, &loaded.car, &path).unwrap_err().to_string();
    assert!(error.ends_with("the file is read-only"), "{error}");
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hazel.ron");
    let link = folder.path().join("link.ron");
    std::fs::write(&path, CAR).unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o660)).unwrap();
    std::os::unix::fs::symlink(&path, &link).unwrap();
    let mut loaded = load(&link).unwrap();
    loaded.car.wheelbase = 2.7;
    save(&loaded.document, &loaded.car, &link).unwrap();
    assert!(std::fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(std::fs::read_to_string(&path).unwrap().contains("wheelbase: 2700.0"));
    assert_eq!(std::fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o660);
}
