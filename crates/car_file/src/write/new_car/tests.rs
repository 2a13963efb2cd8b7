//! A new file with the numbers of a car that is there is that car.

use super::{FILL_IN, NewCar, NewSpringing, NewSteering};
use crate::read::car::Heading;
use crate::read::fields::Diagnostics;
use crate::read::syntax::tree_of;
use crate::text::edit::edited;
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::{Axes, Direction};
use crate::write::car::item;
use crate::write::difference::difference;
use std::path::Path;
use wheelpath_geometry::{
    Assembly, Car, CarSolver, End, LengthUnit, LinkageKind, Side, Springing, Steering, WheelPosition,
};

/// Every car file of the project.
fn cars() -> Vec<(String, Car)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut all = Vec::new();
    for folder in ["demo-cars", "examples/linkages"] {
        for entry in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|end| end == "ron") {
                let car = crate::load(&path).unwrap_or_else(|error| panic!("{error}")).car;
                all.push((path.file_stem().unwrap().to_string_lossy().into_owned(), car));
            }
        }
    }
    all
}

/// The same car with nothing but what a new file has a place for.
fn plain(mut car: Car) -> Car {
    for end in End::BOTH {
        let axle = car.axle_mut(end);
        axle.lengths.clear();
        axle.radii.clear();
        axle.third_spring = None;
        axle.column = wheelpath_geometry::Column::default();
        for side in Side::BOTH {
            let corner = axle.corner_mut(side);
            corner.lengths.clear();
            corner.joint_limits.clear();
            corner.joint_axes.clear();
            corner.radii.clear();
            corner.alignment = wheelpath_geometry::Alignment::FROM_POINTS;
            corner.hardpoints.remove(wheelpath_geometry::Hardpoint::ThirdSpringEnd);
        }
    }
    car
}

fn new_for(car: &Car, springing: Option<Springing>) -> NewCar {
    let direction = [Direction::Rearward, Direction::Right, Direction::Up];
    NewCar {
        name: car.name.clone(),
        file: "new.ron".into(),
        units: LengthUnit::Inch,
        axes: Axes::new(direction).unwrap(),
        front: car.front.left.linkage,
        rear: Some(car.rear.left.linkage),
        steering: match car.front.steering {
            Steering::Fixed => NewSteering::Fixed,
            Steering::Rack(_) => NewSteering::Rack,
            Steering::Box(_) => NewSteering::Box,
        },
        springing: Some(match springing {
            None => NewSpringing::None,
            Some(Springing::Rocker { .. }) => NewSpringing::Rocker,
            Some(Springing::Direct { .. }) => NewSpringing::Direct,
            Some(Springing::Strut) => NewSpringing::Strut,
        }),
        bar: car.front.bar_kind().or(car.rear.bar_kind()),
    }
}

fn parsed(text: &str) -> Node {
    let mut notes = Diagnostics::new("new.ron", text);
    let tree = tree_of(text, &mut notes);
    assert!(notes.problems.is_empty(), "{:?}", notes.problems);
    tree.unwrap()
}

/// Every path of keys of a block.
fn paths(node: &Node, before: &str, all: &mut Vec<String>) {
    if let Kind::Fields(fields) = &node.kind {
        for field in fields {
            let path = format!("{before}/{}", field.key);
            paths(&field.value, &path, all);
            all.push(path);
        }
    }
}

#[test]
fn filled_with_the_numbers_of_a_car_it_is_that_car() {
    let mut linkages = Vec::new();
    for (name, car) in cars() {
        let car = plain(car);
        let new = new_for(&car, car.front.left.springing);
        let text = new.text().unwrap_or_else(|[message, _]| panic!("{name}: {message}"));
        let tree = parsed(&text);
        let heading = Heading {
            about: None,
            design_pose: "As measured.".into(),
            units: new.units,
            axes: new.axes,
            left_over: Vec::new(),
        };
        let filled = edited(&text, &tree, &item(&car, &heading, Some(&tree)));
        let loaded =
            crate::parse(&filled, "new.ron").unwrap_or_else(|error| panic!("{name}: {error}\n{filled}"));
        assert_eq!(difference(&loaded.car, &car), None, "{name}");
        CarSolver::new(&loaded.car).unwrap_or_else(|stops| panic!("{name}: {stops:?}"));
        assert!(
            !filled.split('\n').any(|line| line.split("//").next().unwrap().contains(FILL_IN)),
            "{filled}"
        );
        // Each point the linkage cannot be without has its place in the new file.
        let mut places = Vec::new();
        paths(&tree, "", &mut places);
        for end in End::BOTH {
            let axle = car.axle(end);
            linkages.push(axle.left.linkage);
            if end == End::Rear && axle.left.springing.is_some() != car.front.left.springing.is_some() {
                continue;
            }
            let sprung = [&axle.left, &car.front.left]
                .map(|corner| matches!(corner.springing, Some(Springing::Rocker { .. })));
            let assembly = Assembly::from(WheelPosition { end, side: Side::Left });
            for need in assembly.needs(axle).iter().filter(|need| need.must) {
                let of_rocker = ["the rocker", "the damper"].contains(&need.user);
                let of_bar = need.user == "the anti-roll bar";
                if (of_rocker && sprung[0] != sprung[1]) || (of_bar && axle.bar_kind() != new.bar) {
                    continue;
                }
                let path = format!("/{end}/left/pickups/{}", need.hardpoint.key());
                // A separate spring is a choice that is not offered.
                if need.user != "the separate spring" {
                    assert!(places.contains(&path), "{name}: no {path} in\n{text}");
                }
            }
        }
    }
    for kind in LinkageKind::ALL {
        assert!(linkages.contains(&kind), "no car has {}", kind.with_article());
    }
}
