//! Brackets of a car: named on the command line, and their planes.

use crate::support::{Noting, fine, wheelpath_with};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Bracket, BracketPlane, Hardpoint};
use wheelpath_report::{Plate, PlateFault};

/// A bracket by its name is the one that words would give.
#[test]
fn a_bracket_of_the_car_needs_no_words() {
    let wheelpath_words = |words: &[&str]| {
        let said = wheelpath_with(words, &Noting::default());
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{words:?}: {said:?}");
        said.out
    };
    let named = wheelpath_words(&[
        "bracket",
        "alder",
        "tie-rod-down",
        "--bracket",
        "Rack plate, left",
        "--format",
        "json",
    ]);
    let by_words = fine("bracket alder tie-rod-down --normal 0,1,0 --of front_left --format json");
    assert_eq!(named, by_words);
    // Its reference holes are measured from; the distances are those of the places in the file.
    let text = wheelpath_words(&["bracket", "alder", "tie-rod-down", "--bracket", "Rack plate, left"]);
    let front = 40.0_f64.hypot(205.0 - 166.5);
    assert!(text.contains(&format!("  {front:.2} mm from Front dowel\n")), "{text}");
    // Without a proposal, the holes as they are.
    let name = "Wishbone plate, left";
    let as_is = wheelpath_words(&["bracket", "alder", "--bracket", name, "--format", "json"]);
    let as_is: serde_json::Value = serde_json::from_str(&as_is).unwrap();
    let rows = as_is["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 4);
    for row in rows {
        assert_eq!((&row["old_x_mm"], &row["old_z_mm"]), (&row["new_x_mm"], &row["new_z_mm"]));
        assert_eq!(row["move_up_mm"], 0.0);
    }
    for end in ["pdf", "svg", "dxf"] {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(format!("plate.{end}"));
        wheelpath_words(&["bracket", "alder", "--bracket", "Rack plate, left", "-o", file.to_str().unwrap()]);
        assert!(std::fs::read_dir(folder.path()).unwrap().count() > 0, "{end}");
    }
}

#[test]
fn brackets_that_do_not_fit_are_said() {
    let check = |words: &[&str], says: &str| {
        let said = wheelpath_with(words, &Noting::default());
        assert_eq!(said.code, 2, "{words:?}: {said:?}");
        assert!(said.err.contains(says), "{words:?}: {}", said.err);
    };
    check(&["bracket", "alder", "--bracket", "Rack plate left"], "did you mean \"Rack plate, left\"?");
    check(&["bracket", "rowan", "--bracket", "x"], "there are no brackets for Rowan");
    check(
        &["bracket", "alder", "tie-rod-down", "--bracket", "Steering arm, left"],
        "moves nothing that stands on",
    );
    check(&["bracket", "alder"], "required");
    check(&["bracket", "alder", "--bracket", "Rack plate, left", "--normal", "0,1,0"], "cannot be used with");
    // One's own, beside the car: a point that the car has not, a reference that moves.
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("mine.ron");
    std::fs::write(&car, wheelpath_project::ALDER).unwrap();
    let own = folder.path().join("mine");
    std::fs::create_dir(&own).unwrap();
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder");
    std::fs::copy(root.join("tie-rod-down.ron"), own.join("lower.ron")).unwrap();
    let text = std::fs::read_to_string(root.join("brackets.ron")).unwrap();
    let with = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        std::fs::write(own.join("brackets.ron"), text.replace(from, to)).unwrap();
    };
    let mine = car.to_str().unwrap();
    let words = ["bracket", mine, "lower", "--bracket", "Rack plate, left"];
    with("points: [tie_rod_inner]", "points: [toe_link_inner]");
    check(&words, "which Alder does not have");
    let hole = "Hole(name: \"Front dowel\", at: (128.0, 240.0, 205.0), diameter: 6.0)";
    with(hole, "Point(point: tie_rod_inner, of: front_left)");
    check(&words, "is moved itself");
    with("points: [tie_rod_inner]", "points: [tie_rod_iner]");
    let said = wheelpath_with(&words, &Noting::default());
    assert_eq!(said.code, 1);
    assert!(
        said.err.contains("brackets.ron:") && said.err.contains("did you mean tie_rod_inner?"),
        "{}",
        said.err
    );
    // The file of brackets is no proposal.
    let said = wheelpath_with(&["compare", mine, "nothing"], &Noting::default());
    assert!(said.err.contains("one of the car's own: lower\n"), "{}", said.err);
}

/// A bracket's plane is the one through its points, through its places, or square to its normal.
#[test]
fn the_plane_of_a_bracket() {
    let [a, b, c] = [Vector3::new(0.1, 0.2, 0.3), Vector3::new(0.4, 0.2, 0.3), Vector3::new(0.1, 0.21, 0.5)];
    let names = [Hardpoint::TieRodInner, Hardpoint::UpperWishboneFront, Hardpoint::LowerWishboneRear];
    let mut car = wheelpath_project::demo_car().unwrap().loaded.car;
    let of = Assembly::ALL[1];
    for (name, at) in names.into_iter().zip([a, b, c]) {
        of.hardpoints_mut(&mut car).set(name, at);
    }
    let bracket = |plane| Bracket {
        name: "b".into(),
        about: None,
        of,
        plane,
        points: vec![names[1]],
        hole_diameter: None,
        references: Vec::new(),
    };
    let of_plane = |plane| Plate::of_bracket(&bracket(plane), &car);
    assert_eq!(of_plane(BracketPlane::Points(names)), Plate::through([a, b, c]));
    assert_eq!(of_plane(BracketPlane::Places([c, b, a])), Plate::through([c, b, a]));
    let normal = Vector3::new(0.0, 0.6, 0.8);
    assert_eq!(of_plane(BracketPlane::Normal(normal)), Plate::with_normal(b, normal));
    assert!(bracket(BracketPlane::Points(names)).lacking(&car).is_empty());
    let absent = BracketPlane::Points([names[0], names[1], Hardpoint::ToeLinkInner]);
    assert_eq!(of_plane(absent), Err(PlateFault::NoPoint(of, Hardpoint::ToeLinkInner)));
    assert_eq!(bracket(absent).lacking(&car), [(of, Hardpoint::ToeLinkInner)]);
}
