//! Brackets beside a car: read, written and faulty.

use nalgebra::Vector3;
use wheelpath_car_file::{Axes, BracketsFile, Direction, load_brackets, parse_brackets, put};
use wheelpath_geometry::{
    Assembly, Bracket, BracketPlane, BracketReference, End, Hardpoint, LengthUnit, Side,
};

const LEFT: Assembly = Assembly::corner(End::Front, Side::Left);

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
        points: vec![Hardpoint::TieRodInner, Hardpoint::UpperWishboneFront],
        hole_diameter: None,
        references,
    };
    let places = [Vector3::new(0.1, 0.2, 0.3), Vector3::new(0.4, 0.2, 0.3), Vector3::new(0.1, 0.21, 0.5)];
    let points = [Hardpoint::LowerWishboneFront, Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear];
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
            vec![hole(0.3, Some(0.006)), BracketReference::Point(LEFT, Hardpoint::LowerBallJoint)],
        ),
        Bracket {
            of: Assembly::Axle(End::Rear),
            points: vec![Hardpoint::PanhardRodBody],
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
        (LEFT, &[Hardpoint::TieRodInner][..], Some(0.0127))
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
        let file = BracketsFile::new(units, axes).unwrap().with_brackets(&every_kind()).unwrap();
        put(&path, file.text(), None).unwrap();
        let back = load_brackets(&path).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((back.units(), back.axes()), (units, axes));
        assert_eq!(back.brackets().len(), every_kind().len());
        for (a, b) in every_kind().iter().zip(back.brackets()) {
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
        let again = back.with_brackets(back.brackets()).unwrap();
        assert_eq!(again.text(), std::fs::read_to_string(&path).unwrap());
    }
}

#[test]
fn a_change_leaves_comments_and_the_rest_alone() {
    let text = file(
        "// the left one\n  Bracket(name: \"l\", of: front_left, plane: Normal(direction: (0, -2, 0)), // faces left\n    points: [tie_rod_inner], references: [Hole(name: \"h\", at: (1, 2, 3))]),\n  // the right one\n  Bracket(name: \"r\", of: front_right, plane: Normal(direction: (0, 2, 0)), points: [tie_rod_inner]),",
    );
    let found = parse_brackets(&text, "b.ron").unwrap();
    assert_eq!(found.with_brackets(found.brackets()).unwrap().text(), text);
    let mut to = found.brackets().to_vec();
    let BracketReference::Hole { at, .. } = &mut to[0].references[0] else { panic!() };
    at.z = 4.0 * 0.0254;
    let changed = found.with_brackets(&to).unwrap();
    assert_eq!(changed.text(), text.replace("at: (1, 2, 3)", "at: (1, 2, 4.0)"));
    // One less, and its neighbour stays.
    let less = changed.with_brackets(&to[1..]).unwrap();
    assert!(less.text().contains("// the right one") && !less.text().contains("// faces left"));
    assert_eq!(less.brackets(), &to[1..]);
}

const DEMO: &str = include_str!("../../../../demo-cars/alder/brackets.ron");

#[test]
fn one_more_is_written_behind_the_others_and_every_line_of_theirs_stays() {
    let of_windows = DEMO.replace('\n', "\r\n");
    let bare = file("// none yet");
    let commented = DEMO
        .replace("        ),\n    ],\n)", "        ), // the last\n        // behind it\n    ],\n)\n// end");
    assert_ne!(commented, DEMO);
    let closed = file(
        "Bracket(name: \"l\", of: front_left, plane: Normal(direction: (0, 1, 0)), points: [tie_rod_inner]) // no comma",
    );
    for text in [DEMO, &of_windows, &bare, &commented, &closed] {
        let found = parse_brackets(text, "b.ron").unwrap();
        let mut to = found.brackets().to_vec();
        to.extend(every_kind());
        let more = found.with_brackets(&to).unwrap();
        for line in text.lines().map(|line| line.trim_end_matches("// no comma").trim()) {
            assert!(more.text().contains(line), "lost: {line}\n{}", more.text());
        }
        assert_eq!(more.text().matches("//").count(), text.matches("//").count(), "{}", more.text());
        if text.contains("\r\n") {
            assert_eq!(more.text().matches("\r\n").count(), more.text().matches('\n').count());
        }
        assert_eq!(more.brackets().len(), to.len());
        // And away again: what there was is there as it was.
        let fewer = more.with_brackets(found.brackets()).unwrap();
        assert_eq!(fewer.brackets(), found.brackets());
        let without_commas = |text: &str| text.replace([',', ' ', '\r', '\n'], "");
        assert_eq!(without_commas(fewer.text()), without_commas(text));
    }
}

#[test]
fn a_point_and_a_hole_more_leave_the_comments_on_the_others() {
    let text = DEMO
        .replace(
            "points: [tie_rod_inner],",
            "points: [\n                tie_rod_inner, // the clevis\n            ],",
        )
        .replace(
            "205.0), diameter: 6.0),\n                Hole(name: \"Rear",
            "205.0), diameter: 6.0), // pressed in\n                Hole(name: \"Rear",
        );
    let found = parse_brackets(&text, "b.ron").unwrap();
    let mut to = found.brackets().to_vec();
    to[0].points.push(Hardpoint::UpperWishboneFront);
    let hole =
        BracketReference::Hole { name: "Third".into(), at: Vector3::new(0.1, 0.24, 0.2), diameter: None };
    to[0].references.insert(1, hole);
    let more = found.with_brackets(&to).unwrap();
    assert_eq!(more.text().matches("// the clevis").count(), 2, "{}", more.text());
    assert_eq!(more.text().matches("// pressed in").count(), 2, "{}", more.text());
    let lines = more.text().lines().count();
    assert_eq!(lines, text.lines().count() + 2, "a line for each: {}", more.text());
}

#[test]
fn what_would_not_open_again_is_not_written() {
    let found = read("");
    let twice = [every_kind().remove(0), every_kind().remove(0)];
    let error = found.with_brackets(&twice).unwrap_err().to_string();
    assert!(error.contains("is given twice"), "{error}");
    let mut endless = every_kind();
    endless[1].hole_diameter = Some(f64::INFINITY);
    found.with_brackets(&endless).unwrap_err();
    endless[1].hole_diameter = Some(-0.01);
    found.with_brackets(&endless).unwrap_err();
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
    let empty = BracketsFile::new(LengthUnit::Millimetre, Axes::VEHICLE).unwrap();
    let file = empty.with_brackets(&every_kind()).unwrap();
    let whole = file.text();
    for cut in (0..whole.trim_end().len()).filter(|cut| whole.is_char_boundary(*cut)) {
        assert!(parse_brackets(&whole[..cut], "b.ron").is_err(), "{cut}");
    }
}
