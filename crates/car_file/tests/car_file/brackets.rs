//! Brackets beside a car: read, written and faulty.

use nalgebra::Vector3;
use wheelpath_car_file::{Axes, BracketsFile, Direction, load_brackets, parse_brackets};
use wheelpath_geometry::{Bracket, BracketPlane, BracketReference, End, LengthUnit, Owner, Pickup, Side};

const LEFT: Owner = Owner { end: End::Front, side: Some(Side::Left) };

fn file(brackets: &str) -> String {
    format!(
        "(\n format: \"wheelpath brackets\", version: 1, // kept\n units: Inch, axes: (x: Rearward, y: Right, z: Up),\n brackets: [\n  {brackets}\n ])"
    )
}

fn read(brackets: &str) -> BracketsFile {
    parse_brackets(&file(brackets), "b.ron").unwrap_or_else(|error| panic!("{error}"))
}

fn every_kind() -> Vec<Bracket> {
    let hole = |x: f64, diameter| BracketReference::Hole {
        name: "Dowel \"A\"".into(),
        at: Vector3::new(x, 0.2371, -0.01),
        diameter,
    };
    let bracket = |name: &str, plane, references| Bracket {
        name: name.into(),
        about: None,
        of: LEFT,
        plane,
        points: vec![Pickup::TieRodInner, Pickup::UpperWishboneFront],
        hole_diameter: None,
        references,
    };
    let places = [Vector3::new(0.1, 0.2, 0.3), Vector3::new(0.4, 0.2, 0.3), Vector3::new(0.1, 0.21, 0.5)];
    let points = [Pickup::LowerWishboneFront, Pickup::UpperWishboneFront, Pickup::UpperWishboneRear];
    let normal = Vector3::new(0.1, 0.9, -0.2).normalize();
    vec![
        Bracket { about: Some("why".into()), ..bracket("a", BracketPlane::Places(places), vec![]) },
        Bracket {
            hole_diameter: Some(0.00635),
            ..bracket("b", BracketPlane::Points(points), vec![hole(0.1, None)])
        },
        bracket(
            "c",
            BracketPlane::Normal(normal),
            vec![hole(0.3, Some(0.006)), BracketReference::Point(LEFT, Pickup::LowerBallJoint)],
        ),
        Bracket {
            of: Owner { end: End::Rear, side: None },
            points: vec![Pickup::PanhardRodBody],
            ..bracket("d", BracketPlane::Normal(Vector3::z()), vec![])
        },
    ]
}

#[test]
fn units_and_axes_of_the_file_count() {
    let found = read(
        "Bracket(name: \"n\", of: front_left, plane: Normal(direction: (0, -2, 0)), points: [tie_rod_inner],\n\
         hole_diameter: 0.5, references: [Hole(name: \"h\", at: (-1.0, -2.0, 3.0))])",
    );
    let one = found.named("n").unwrap();
    assert_eq!(
        (one.of, &one.points[..], one.hole_diameter),
        (LEFT, &[Pickup::TieRodInner][..], Some(0.0127))
    );
    assert_eq!(one.plane, BracketPlane::Normal(Vector3::y()));
    let [BracketReference::Hole { at, .. }] = &one.references[..] else { panic!("{one:?}") };
    assert!((at - Vector3::new(1.0, 2.0, 3.0) * 0.0254).norm() < 1e-15);
    assert!(found.named("m").is_none());
}

#[test]
fn what_is_written_reads_back() {
    let turned = Axes::new([Direction::Right, Direction::Up, Direction::Rearward]).unwrap();
    for (units, axes) in [(LengthUnit::Millimetre, Axes::VEHICLE), (LengthUnit::Inch, turned)] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("brackets.ron");
        BracketsFile::new(every_kind(), units, axes).save(&path).unwrap();
        let back = load_brackets(&path).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((back.units, back.axes), (units, axes));
        for (a, b) in every_kind().iter().zip(&back.brackets) {
            assert_eq!((&a.name, &a.about, a.of, &a.points), (&b.name, &b.about, b.of, &b.points));
            let spots = |one: &Bracket| -> Vec<Vector3<f64>> {
                let plane = match one.plane {
                    BracketPlane::Places(places) => places.to_vec(),
                    BracketPlane::Normal(normal) => vec![normal],
                    BracketPlane::Points(_) => vec![],
                };
                let holes = one.references.iter().filter_map(|one| match one {
                    BracketReference::Hole { at, .. } => Some(*at),
                    BracketReference::Point(..) => None,
                });
                plane.into_iter().chain(holes).collect()
            };
            assert_eq!(spots(a).len(), spots(b).len());
            for (a, b) in spots(a).iter().zip(spots(b)) {
                assert!((a - b).norm() < 1e-12, "{a} {b}");
            }
        }
        // Saved unchanged it is the same text.
        assert_eq!(back.text(), std::fs::read_to_string(&path).unwrap());
    }
}

#[test]
fn a_change_leaves_comments_and_the_rest_alone() {
    let text = file(
        "// the left one\n  Bracket(name: \"l\", of: front_left, plane: Normal(direction: (0, -2, 0)), // faces left\n    points: [tie_rod_inner], references: [Hole(name: \"h\", at: (1, 2, 3))]),\n  // the right one\n  Bracket(name: \"r\", of: front_right, plane: Normal(direction: (0, 2, 0)), points: [tie_rod_inner]),",
    );
    let mut found = parse_brackets(&text, "b.ron").unwrap();
    assert_eq!(found.text(), text);
    let BracketReference::Hole { at, .. } = &mut found.brackets[0].references[0] else { panic!() };
    at.z = 4.0 * 0.0254;
    let changed = found.text();
    assert!(changed.contains("at: (1, 2, 4.0)"), "{changed}");
    for comment in ["// kept", "// the left one", "// faces left", "// the right one"] {
        assert!(changed.contains(comment), "{comment} is lost: {changed}");
    }
    // The bracket that is as it was is as it was written.
    assert!(
        changed.contains("name: \"r\", of: front_right, plane: Normal(direction: (0, 2, 0))"),
        "{changed}"
    );
    // One more, and one less, still read back.
    found.brackets.push(every_kind().remove(0));
    let more = parse_brackets(&found.text(), "b.ron").unwrap();
    assert_eq!(more.brackets.len(), 3);
    found.brackets.drain(..2);
    assert_eq!(parse_brackets(&found.text(), "b.ron").unwrap().brackets[0].name, "a");
    // Two of one name would not open again, and are not saved.
    found.brackets.push(every_kind().remove(0));
    let folder = tempfile::tempdir().unwrap();
    let error = found.save(&folder.path().join("b.ron")).unwrap_err().to_string();
    assert!(error.contains("is given twice"), "{error}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn faults_are_told_with_their_place() {
    let check = |bracket: &str, says: &str| {
        let error = parse_brackets(&file(bracket), "b.ron").unwrap_err().to_string();
        assert!(error.contains(says) && error.starts_with("b.ron:5:"), "{says}: {error}");
    };
    let with = |plane: &str, points: &str, rest: &str| {
        format!("Bracket(name: \"n\", of: front_left, plane: {plane}, points: {points}{rest})")
    };
    let normal = "Normal(direction: (0, 1, 0))";
    check("Plate(name: \"n\")", "a bracket cannot be Plate");
    check("Bracket(name: \"n\", of: front_left)", "lacks plane");
    check(&with(normal, "[tie_rod_iner]", ""), "did you mean tie_rod_inner?");
    check(&with(normal, "[]", ""), "the points on the bracket");
    check(&with(normal, "[panhard_rod_body]", ""), "Panhard rod");
    check(&with("Normal(direction: (0, 0, 0))", "[tie_rod_inner]", ""), "its length is zero");
    check(&with("Points(through: [tie_rod_inner])", "[tie_rod_inner]", ""), "what the plane goes through");
    check(&with("Places(through: [(1, 2, 3), (1, 2)])", "[tie_rod_inner]", ""), "three numbers");
    check(&with("Flat", "[tie_rod_inner]", ""), "the plane cannot be Flat");
    check(&with(normal, "[tie_rod_inner]", ", hole_diameter: 0"), "more than 0");
    check(&with(normal, "[tie_rod_inner]", ", holes: 8"), "holes has no meaning");
    check(&with(normal, "[tie_rod_inner]", ", references: [Hole(at: (1, 2, 3))]"), "lacks name");
    check(
        &with(normal, "[tie_rod_inner]", ", references: [Point(point: tie_rod_inner, of: front)]"),
        "tie rod",
    );
    let twice = with(normal, "[tie_rod_inner]", "");
    check(&format!("{twice}, {twice}"), "n is given twice in the list of brackets");
    let limits = "(format: \"wheelpath limits\", version: 1)";
    assert!(parse_brackets(limits, "b.ron").unwrap_err().to_string().contains("brackets"));
}

#[test]
fn a_text_cut_off_anywhere_is_a_fault_and_no_more() {
    let whole = BracketsFile::new(every_kind(), LengthUnit::Millimetre, Axes::VEHICLE).text();
    for cut in (0..whole.trim_end().len()).filter(|cut| whole.is_char_boundary(*cut)) {
        assert!(parse_brackets(&whole[..cut], "b.ron").is_err(), "{cut}");
    }
}
