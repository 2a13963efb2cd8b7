//! Point tables as CAD exports them.

use wheelpath_car_file::{
    Assembly, Axes, Direction, Imported, LoadError, ProposalFile, TableOptions, import_points, parse,
    parse_proposal, points_table, propose_points,
};
use wheelpath_geometry::{Car, End, Hardpoint, Hardpoints, LengthUnit, Selection, Side, WheelPosition};

const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };

fn car() -> Car {
    match parse(crate::CAR, "car.ron") {
        Ok(loaded) => loaded.car,
        Err(error) => panic!("{error}"),
    }
}

fn import(table: &str, options: &TableOptions) -> Result<Imported, LoadError> {
    import_points(&car(), table, "points.csv", options)
}

const FRONT_LEFT_MM: TableOptions = TableOptions {
    units: Some(LengthUnit::Millimetre),
    axes: None,
    end: Some(End::Front),
    side: Some(Side::Left),
    mirror: false,
};

#[test]
fn separators_orders_and_decimal_commas() {
    let mut car = car();
    car.front.left.hardpoints.set(Hardpoint::TieRodInner, nalgebra::Vector3::new(0.0885, 0.24, 0.1665));
    for table in [
        "name,x,y,z\ntie_rod_inner,88.5,240,166.5\n",
        "z;y;x;Point\n166,5;240,0;88,5;Tie rod, inner end\n",
        "X (mm)\tY (mm)\tZ (mm)\tNAME\n88.5\t240\t166.5\ttie-rod inner",
        "\u{feff}# from the drawing\r\n\r\n\"name\",\"x_mm\",\"y_mm\",\"z_mm\",note\r\n\"Tie Rod Inner\",\"88.5\",240,166.5,new\r\n,,,,\r\n",
        "sep=;\r\nname;x;y;z\r\ntie_rod_inner;88,5;240;166,5\r\n",
        "corner;name;x_mm;y_mm;z_mm\nfront left;tie_rod_inner;88.5;240;166.5\n",
        "corner,name,x,y,z\nFL,tie_rod_inner,88.5,240,166.5\n",
        "name,x,y,z\nfront left tie rod inner,88.5,240,166.5\n",
    ] {
        let imported = import(table, &FRONT_LEFT_MM).unwrap_or_else(|error| panic!("{table}\n{error}"));
        assert_eq!(imported.car, car, "{table}");
        assert_eq!(imported.set.len(), 1, "{table}");
    }
}

#[test]
fn a_row_longer_than_the_first_line_is_a_fault() {
    // A decimal comma between commas: 88,5 would be x 88 and y 5.
    let check = |row: &str, cells: usize| {
        let error = import(&format!("name,x,y,z\n{row}\n"), &FRONT_LEFT_MM).unwrap_err().to_string();
        let said = format!("the row has {cells} cells where the first line names 4 columns");
        assert!(error.contains("points.csv:2") && error.contains(&said), "{error}");
    };
    check("tie_rod_inner,88,5,240,166.5", 5);
    check("tie_rod_inner,88,5,240,5,166,5", 7);
    // Empty cells at the end are no numbers.
    assert_eq!(import("name,x,y,z\ntie_rod_inner,88.5,240,166.5,,\n", &FRONT_LEFT_MM).unwrap().set.len(), 1);
}

#[test]
fn units_and_axes_of_the_table() {
    let turned =
        "# units: in\n# axes: x rearward, y right, z up\nname,x,y,z\nFL tie_rod_inner,-3.5,-9.5,6.5\n";
    let imported = import(turned, &TableOptions::default()).unwrap();
    let point = imported.car.front.left.hardpoints.get(Hardpoint::TieRodInner).unwrap();
    assert!((point - nalgebra::Vector3::new(0.0889, 0.2413, 0.1651)).norm() < 1e-15, "{point}");
}

#[test]
fn what_is_unknown_missing_or_not_used_is_listed() {
    let table = "name,x,y,z\ntie_rod_iner,88,240,169\nhelmet,0,0,900\ntoe_link_inner,1,2,3\n\
                 tie_rod_outer,98,692,195.5\n";
    let imported = import(table, &TableOptions { mirror: true, ..FRONT_LEFT_MM }).unwrap();
    let unknown: Vec<_> = imported.unknown.iter().map(ToString::to_string).collect();
    assert_eq!(
        unknown,
        [
            "line 2: \"tie_rod_iner\" is no point; did you mean tie_rod_inner?",
            "line 3: \"helmet\" is no point"
        ]
    );
    let named: Vec<_> =
        imported.unused.iter().map(|(assembly, point)| format!("{assembly} {}", point.label())).collect();
    assert_eq!(named, ["front left toe link, inner end", "front right toe link, inner end"]);
    let set: Vec<_> =
        imported.set.iter().map(|set| (set.assembly.key(), set.point.key(), set.to.y)).collect();
    assert_eq!(set, [("front_left", "tie_rod_outer", 0.692), ("front_right", "tie_rod_outer", -0.692)]);
    // Nineteen points of a front corner and the wheel centre, less the one that was given.
    assert_eq!(imported.missing.iter().filter(|(assembly, _)| *assembly == FRONT_LEFT.into()).count(), 18);
    assert!(imported.missing.iter().any(|(_, point)| point.key() == "wheel_centre"));
}

#[test]
fn points_of_an_axle_as_a_whole() {
    let Ok(loaded) = parse(crate::STRUT_AND_AXLE, "car.ron") else { panic!("the car does not load") };
    let import =
        |table: &str, options: &TableOptions| import_points(&loaded.car, table, "points.csv", options);
    // The side that all rows are said to be of is not the axle's.
    let rear_left = TableOptions { end: Some(End::Rear), mirror: true, ..FRONT_LEFT_MM };
    for (table, options) in [
        ("name,x_mm,y_mm,z_mm\nrear top_link_inner,-2301,20,470\n", &TableOptions::default()),
        ("corner,name,x_mm,y_mm,z_mm\nrear,\"Top link, inner end\",-2301,20,470\n", &TableOptions::default()),
        ("corner;name;x;y;z\nrear;top link inner;-2301;20;470\n", &FRONT_LEFT_MM),
        ("name,x,y,z\ntop_link_inner,-2301,20,470\n", &rear_left),
    ] {
        let imported = import(table, options).unwrap_or_else(|error| panic!("{table}\n{error}"));
        let set: Vec<_> = imported.set.iter().map(|s| (s.assembly.key(), s.point.key(), s.to.x)).collect();
        assert_eq!(set, [("rear", "top_link_inner", -2.301)], "{table}");
        let moved = imported.car.rear.hardpoints.get(Hardpoint::TopLinkInner);
        assert_eq!(moved, Some(nalgebra::Vector3::new(-2.301, 0.02, 0.47)), "{table}");
        // The other points of the axle, but not those of links that it might have.
        let missing: Vec<_> =
            imported.missing.iter().map(|(assembly, point)| format!("{assembly} {}", point.key())).collect();
        assert_eq!(missing.len(), 7, "{missing:?}");
        assert_eq!(missing[0], "rear axle top_link_outer");
    }
    let unused =
        import("name,x_mm,y_mm,z_mm\nfront panhard_rod_body,1,2,3\n", &TableOptions::default()).unwrap();
    let unused: Vec<_> =
        unused.unused.iter().map(|(assembly, point)| format!("{assembly} {}", point.label())).collect();
    assert_eq!(unused, ["front axle Panhard rod, body end"]);
    let faults = |table: &str| match import(table, &TableOptions::default()) {
        Err(error) => error.to_string(),
        Ok(imported) => panic!("imported: {:?}", imported.set),
    };
    assert_eq!(
        faults("name,x_mm,y_mm,z_mm\nwatt_pivot,1,2,3\n"),
        "points.csv:2:1: nothing says to which axle watt_pivot belongs\nhint: put front or rear before the name or in \
         a column corner, or choose the axle when importing"
    );
    assert_eq!(
        faults("name,x_mm,y_mm,z_mm\nrear watt_pivot,1,2,3\nrear left watt pivot,1,2,4\n"),
        "points.csv:3:1: rear axle Watt lever pivot is given twice, at two places; before in line 2\nhint: delete the \
         row that is not meant"
    );
    assert_eq!(
        faults("name,x_mm,y_mm,z_mm\nrear watt_pivot,-2866,0,306\n"),
        "points.csv:2:1: rear: the Watt lever's two axis points coincide: it has no axis\nhint: look at `watt_pivot`"
    );
}

/// The import fails with exactly these lines.
#[track_caller]
fn check(table: &str, options: &TableOptions, expected: &[&str]) {
    let error = match import(table, options) {
        Err(error) => error.to_string(),
        Ok(imported) => panic!("imported: {:?}", imported.set),
    };
    assert_eq!(error.lines().collect::<Vec<_>>(), expected);
}

#[test]
fn faults_of_the_table() {
    let mm = &FRONT_LEFT_MM;
    check(
        "",
        mm,
        &["points.csv:1:1: the table is empty", "hint: the first line names the columns: name, x, y, z"],
    );
    check(
        "name,x,y\ntie_rod_inner,1,2\n",
        mm,
        &[
            "points.csv:1:1: the table has no column z; it has name, x, y",
            "hint: the first line names the columns name, x, y and z, in any order, between commas, semicolons or tabs",
        ],
    );
    check(
        "name,x,y,z,x_mm\ntie_rod_inner,1,2,3,4\n",
        mm,
        &["points.csv:1:1: the table has two columns x", "hint: rename the one that is not meant"],
    );
    check(
        "name,x,y,z\ntie_rod_inner,88,240\ntie_rod_outer,98,six,nan\n",
        mm,
        &[
            "points.csv:2:1: tie_rod_inner has no z",
            "hint: give the row its three numbers",
            "points.csv:3:1: tie_rod_outer: y is \"six\", not a number",
            "hint: write a plain number",
            "points.csv:3:1: tie_rod_outer: z is \"nan\", not a number",
            "hint: write a plain number",
        ],
    );
    check(
        "name,x,y,z\ntie_rod_inner,\"88,5\",240,169\n",
        mm,
        &[
            "points.csv:2:1: tie_rod_inner: x is \"88,5\": the comma may be a decimal comma, or stand between thousands",
            "hint: write a decimal point and nothing between thousands, or separate the columns by semicolons",
        ],
    );
    check(
        "name,x,y,z\ntie_rod_inner,88,240,169\n",
        &TableOptions { units: None, ..*mm },
        &[
            "points.csv:1:1: nothing says whether the table is in millimetres or inches",
            "hint: name the columns x_mm, y_mm, z_mm (or x_in ...), or say the units when importing",
        ],
    );
    check(
        "name,x_in,y_in,z_in\ntie_rod_inner,88,240,169\n",
        mm,
        &[
            "points.csv:1:1: the table's units are in in one place and mm in another",
            "hint: let the columns, the comment and the import agree",
        ],
    );
    check(
        "# axes: x up, y left, z forward\nname,x,y,z\ntie_rod_inner,88,240,169\n",
        mm,
        &[
            "points.csv:1:1: cannot tell the axes from \"x up, y left, z forward\"",
            "hint: write `# units: mm` or `# units: in`, and `# axes: x forward, y left, z up` (right-handed)",
        ],
    );
    check(
        "# axes: x rearward, y right, z up\nname,x,y,z\ntie_rod_inner,88,240,169\n",
        &TableOptions { axes: Some(Axes::VEHICLE), ..*mm },
        &[
            "points.csv:1:1: the table says its axes are x rearward, y right, z up, but it was to be read with x \
             forward, y left, z up",
            "hint: take the comment out, or import with the axes it says",
        ],
    );
}

#[test]
fn faults_of_the_points() {
    let mm = &FRONT_LEFT_MM;
    check(
        "name,x,y,z\n\n# one\ntie_rod_inner,88,240,169\ntie_rod_inner,88,240,169\ntie rod inner,88,240,170\n",
        mm,
        &[
            "points.csv:6:1: front left tie rod, inner end is given twice, at two places; before in line 4",
            "hint: delete the row that is not meant",
        ],
    );
    check(
        "name,x,y,z\nleft tie_rod_inner,88,240,169\n",
        &TableOptions { end: None, side: None, ..*mm },
        &[
            "points.csv:2:1: nothing says to which corner left tie_rod_inner belongs",
            "hint: add a column corner with words like front left, put them before the name, or choose the corner \
             when importing",
        ],
    );
    check(
        "corner,name,x,y,z\nspare,tie_rod_inner,88,240,169\n",
        mm,
        &[
            "points.csv:2:1: \"spare\" is no corner",
            "hint: write front left, front right, rear left or rear right",
        ],
    );
    check(
        "name,x,y,z\nupper_ball_joint,7.5,684.5,150\nlower_ball_joint,7.5,684.5,150\n",
        mm,
        &[
            "points.csv:2:1: front left: the ball joints coincide: there is no steering axis",
            "hint: look at `upper_ball_joint` and `lower_ball_joint`",
        ],
    );
}

#[test]
fn an_exported_table_imports_as_the_same_car() {
    let turned = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
    let ways = [(LengthUnit::Millimetre, Axes::VEHICLE), (LengthUnit::Inch, turned)];
    let texts = [crate::CAR, crate::STRUT_AND_AXLE, crate::BOX_AND_H_ARM, crate::FIVE_LINKS_AND_ARM];
    for (text, (units, axes)) in texts.into_iter().flat_map(|text| ways.map(|way| (text, way))) {
        let car = parse(text, "car.ron").unwrap().car;
        let table = points_table(&car, units, axes);
        let mut bare = car.clone();
        let stretched = |hardpoints: &mut Hardpoints| {
            for &hardpoint in Hardpoint::ALL {
                if let Some(point) = hardpoints.get(hardpoint) {
                    hardpoints.set(hardpoint, point * 1.01);
                }
            }
        };
        for end in End::BOTH {
            let axle = bare.axle_mut(end);
            for hardpoints in [&mut axle.hardpoints, &mut axle.left.hardpoints, &mut axle.right.hardpoints] {
                stretched(hardpoints);
            }
        }
        let imported = import_points(&bare, &table, "points.csv", &TableOptions::default()).unwrap();
        assert_eq!(
            (imported.unknown.len(), imported.missing.len(), imported.unused.len()),
            (0, 0, 0),
            "{table}"
        );
        for assembly in Assembly::ALL {
            let back = assembly.hardpoints(&imported.car);
            assert_eq!(back.iter().count(), assembly.hardpoints(&car).iter().count());
            for (hardpoint, point) in assembly.hardpoints(&car).iter() {
                let back = back.get(hardpoint).unwrap();
                assert!((back - point).norm() < 1e-14, "{assembly} {hardpoint}: {back} is not {point}");
            }
        }
    }
}

mod any_table {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn never_panics(table in "[a-z0-9,;\t\"#\n .:_-]{0,200}") {
            if let Err(error) = import(&table, &FRONT_LEFT_MM) {
                prop_assert!(!error.problems().is_empty());
            }
        }

        #[test]
        fn a_broken_table_never_panics(at in any::<prop::sample::Index>(), piece in "[,;\t\"#\n.é-]{1,3}") {
            let mut table = points_table(&car(), LengthUnit::Millimetre, Axes::VEHICLE);
            let at = at.index(table.len());
            table.insert_str(at, &piece);
            let _ = import(&table, &TableOptions::default());
        }
    }
}

/// Any point of the car moved, by a table in any units and axes, is a proposal that moves it there again.
#[test]
fn a_proposal_of_a_table_makes_its_points() {
    let from = car();
    let turned = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
    for (units, axes) in [(LengthUnit::Millimetre, Axes::VEHICLE), (LengthUnit::Inch, turned)] {
        let as_is = points_table(&from, units, axes);
        let error = propose_points(&from, &as_is, "p.csv", &TableOptions::default(), "n").unwrap_err();
        assert!(error.to_string().contains("p.csv:1:1: every point of the table stands"), "{error}");
        for assembly in Assembly::ALL {
            for (hardpoint, at) in assembly.hardpoints(&from).iter() {
                let mut to = from.clone();
                assembly
                    .hardpoints_mut(&mut to)
                    .set(hardpoint, at + nalgebra::Vector3::new(2e-4, -3e-4, 1e-4));
                let table = points_table(&to, units, axes);
                let made = propose_points(&from, &table, "p.csv", &TableOptions::default(), "n")
                    .unwrap_or_else(|error| panic!("{assembly} {hardpoint}: {error}"));
                assert_eq!(made.proposal.changes.len(), 1, "{assembly} {hardpoint}");
                // Through its file, too.
                let file = ProposalFile::new(made.proposal, &from, units, axes);
                let back = parse_proposal(&file.text(), "p.ron").unwrap().proposal;
                let after = back.applied(&from).unwrap();
                assert!(after.elsewhere.is_empty());
                let there = assembly.hardpoints(&after.car).get(hardpoint).unwrap();
                let wanted = assembly.hardpoints(&to).get(hardpoint).unwrap();
                assert!((there - wanted).norm() < 1e-9, "{assembly} {hardpoint}");
                // Nothing else has moved.
                let mut rest = after.car.clone();
                assembly.hardpoints_mut(&mut rest).set(hardpoint, at);
                assert_eq!(rest, from, "{assembly} {hardpoint}");
            }
        }
    }
}

#[test]
fn a_mirrored_row_is_one_change_for_both_sides() {
    let table = "name,x,y,z\ntie_rod_inner,88,240,160\n";
    let options = TableOptions { mirror: true, ..FRONT_LEFT_MM };
    let made = propose_points(&car(), table, "p.csv", &options, "n").unwrap();
    assert!(
        matches!(
            made.proposal.changes[..],
            [wheelpath_geometry::Change::Set { of: Selection::Both(End::Front), .. }]
        ),
        "{:?}",
        made.proposal
    );
}
