//! The cars and what is stored of them.

use serde_json::Value;
use std::path::Path;
use wheelpath_car_file::load;
use wheelpath_geometry::{AxleSolver, Car, End, Severity, Side, check};
use wheelpath_tests::outside::{entries, stored};

const CARS: [&str; 13] = [
    "rowan",
    "hazel",
    "sorrel",
    "h_arm",
    "trailing_arm",
    "semi_trailing",
    "watt_on_axle",
    "watt_on_body",
    "triangulated_four_link",
    "torque_arm",
    "steered_five_link",
    "steering_box",
    "pullrod_t_bar",
];

/// One axle of one car, and its solution from outside.
pub struct Stored {
    pub what: String,
    pub file: Value,
    pub car: Car,
    pub end: End,
}

impl Stored {
    pub fn found(&self) -> &Value {
        &self.file["axles"][self.end.name()]
    }

    pub fn control(&self) -> &Value {
        &self.file["controls"][self.end.name()]
    }

    pub fn solver(&self) -> AxleSolver {
        solver(&self.car, self.end)
    }

    pub fn is_beam(&self) -> bool {
        self.found()["kind"] == "beam"
    }
}

pub fn solver(car: &Car, end: End) -> AxleSolver {
    AxleSolver::new(car, end).unwrap_or_else(|stop| panic!("{} {end}: {stop:?}", car.name))
}

pub fn car(file: &Value) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(file["meta"]["car"].as_str().unwrap());
    load(&path).unwrap_or_else(|error| panic!("{error}")).car
}

/// Every stored axle.
pub fn all() -> Vec<Stored> {
    let mut all = Vec::new();
    for name in CARS {
        let file = stored(&format!("references/{name}.json"));
        let car = car(&file);
        for end in End::BOTH {
            if file["axles"].get(end.name()).is_some() {
                all.push(Stored { what: format!("{name} {end}"), file: file.clone(), car: car.clone(), end });
            }
        }
    }
    all
}

pub fn side_of(name: &str) -> Side {
    match name {
        "left" => Side::Left,
        "right" => Side::Right,
        _ => panic!("{name} is no side"),
    }
}

#[test]
fn every_stored_file_is_compared() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/references");
    let mut there: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    there.sort_unstable();
    let mut here = CARS.map(str::to_owned);
    here.sort_unstable();
    assert_eq!(there, here);
    // Sixteen axles: both of the three demo cars, one of each example.
    assert_eq!(all().len(), 16);
    for one in all() {
        assert_eq!(entries(&one.file["axles"]).count(), entries(&one.file["controls"]).count());
    }
}

#[test]
fn every_car_is_without_fault() {
    for one in all() {
        let faults: Vec<_> =
            check(&one.car).into_iter().filter(|finding| finding.severity == Severity::Fault).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", one.what);
    }
}
