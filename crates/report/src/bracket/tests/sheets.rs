//! Invented plates.

use crate::bracket::{BracketSheet, MovedHole, Placing, ReferenceHole, Tolerance};
use crate::drawing::Paper;
use crate::plate::Plate;
use nalgebra::Vector3;
use wheelpath_geometry::LengthUnit;

pub(super) fn hole(name: &str, old: Vector3<f64>, new: Vector3<f64>) -> MovedHole {
    MovedHole { name: name.into(), old, new, diameter: None, tolerance: None }
}

/// Millimetres.
pub(super) fn moved(name: &str, old: [f64; 3], new: [f64; 3]) -> MovedHole {
    hole(name, Vector3::from(old) / 1e3, Vector3::from(new) / 1e3)
}

pub(super) fn sheet(plate: Plate, holes: Vec<MovedHole>) -> BracketSheet {
    BracketSheet {
        part: "Side plate".into(),
        car: "Alder".into(),
        proposal: "More anti-dive".into(),
        date: "3 May".into(),
        plate,
        holes,
        references: Vec::new(),
        paper: Paper::A4,
        lengths: LengthUnit::Millimetre,
    }
}

/// Seen from the left, through a point in millimetres.
pub(super) fn left(x: f64, z: f64) -> Plate {
    Plate::with_normal(Vector3::new(x, 250.0, z) / 1e3, Vector3::y()).unwrap()
}

/// Larger than paper; every hole has a radius of its own. With each new and reference centre.
pub(super) fn bulkhead() -> (BracketSheet, Vec<(f64, Vector3<f64>)>) {
    let plate = Plate::with_normal(Vector3::new(-1.2, 0.0, 0.3), -Vector3::x()).unwrap();
    let corners = [(240.0, 180.0), (-240.0, 180.0), (180.0, 420.0), (-180.0, 420.0), (5.0, 171.0)];
    let mut places = Vec::new();
    let mut holes = Vec::new();
    for (index, (y, z)) in (0_u32..).zip(corners) {
        let radius = 4.0 + 0.5 * f64::from(index);
        let mut one = moved(&format!("Link {index}"), [-1200.0, y, z], [-1200.0, y + 6.0, z - 5.0]);
        places.push((radius, one.new));
        one.diameter = Some(2e-3 * radius);
        // Its old place is drawn without a circle, so that the radius finds one hole.
        one.old.y -= 0.02;
        holes.push(one);
    }
    let mut sheet = sheet(plate, Vec::new());
    for (one, (radius, at)) in holes.iter().zip(&places) {
        let name = format!("{}, goes to", one.name);
        sheet.references.push(ReferenceHole { name, at: *at, diameter: Some(2e-3 * radius) });
    }
    sheet.holes = vec![moved("Bare", [-1200.0, 30.0, 300.0], [-1200.0, 30.0, 310.0])];
    (sheet, places)
}

/// What a sheet must cope with: one hole; a small move out of the plane beside a reference; six holes on
/// two pages; four corners of a bulkhead and a wide bore; long names.
pub(super) fn all() -> Vec<BracketSheet> {
    let with = |mut hole: MovedHole, diameter: f64| {
        hole.diameter = Some(diameter / 1e3);
        hole
    };
    let mut single =
        with(moved("Lower wishbone, front", [1510.0, 250.0, 190.0], [1502.0, 250.0, 202.5]), 10.0);
    single.tolerance = Some(Tolerance {
        realigned: Placing { within: 0.0009, decided_by: Some("roll centre".into()) },
        as_built: Placing { within: 0.0002, decided_by: Some("bump steer within ±0.10°/m".into()) },
        toe_to_take_out: Some(0.001),
        broken: vec!["Rear toe".into()],
        open: Vec::new(),
    });
    let one = sheet(left(1500.0, 180.0), vec![single]);

    let oblique = Plate::with_normal(Vector3::zeros(), Vector3::new(-1.0, 0.3, 0.6)).unwrap();
    let small = with(moved("Tie rod, inner end", [0.0; 3], [0.0, 2.0, 0.0]), 12.0);
    let mut two = sheet(oblique, vec![small, moved("Rack clamp", [0.0, 40.0, 0.0], [0.0, 40.0, 0.0])]);
    let dowel = Vector3::new(0.0, 0.02, -0.001);
    two.references.push(ReferenceHole { name: "Dowel".into(), at: dowel, diameter: Some(0.006) });
    two.paper = Paper::Letter;

    let six = vec![
        with(moved("Upper wishbone, front inner", [1520.0, 250.0, 330.0], [1512.0, 253.0, 338.0]), 8.0),
        with(moved("Upper wishbone, rear inner", [1300.0, 250.0, 322.0], [1300.0, 250.0, 312.0]), 8.0),
        with(moved("Lower wishbone, front inner", [1530.0, 250.0, 180.0], [1530.0, 250.0, 186.0]), 10.0),
        with(moved("Lower wishbone, rear inner", [1290.0, 250.0, 175.0], [1284.0, 247.0, 179.0]), 10.0),
        with(moved("Rocker pivot", [1410.0, 250.0, 260.0], [1414.0, 250.0, 255.0]), 12.0),
        with(moved("Damper, inner end", [1440.0, 250.0, 285.0], [1440.0, 253.0, 285.0]), 8.0),
    ];
    let mut six = sheet(left(1400.0, 250.0), six);
    for (name, x) in [("Jig hole A", 1400.0), ("Jig hole B", 1470.0)] {
        let at = Vector3::new(x, 250.0, 200.0) / 1e3;
        six.references.push(ReferenceHole { name: name.into(), at, diameter: Some(0.006) });
    }

    let mut big = bulkhead().0;
    let bore = Vector3::new(-1.2, 0.0, 0.3);
    big.references.push(ReferenceHole { name: "Gearbox bore".into(), at: bore, diameter: Some(0.16) });

    let name = "The hole of the front leg of the lower wishbone on the left side of the car, seen when \
                standing at its nose, with Unwahrscheinlichkeitsbohrungsverzeichnis";
    let level = Plate::with_normal(Vector3::zeros(), Vector3::z()).unwrap();
    let mut long = sheet(
        level,
        vec![
            with(moved(name, [0.0; 3], [12.0, -3.0, -3.0]), 10.0),
            with(moved(name, [30.0, 0.0, 0.0], [42.0, -3.0, 4.0]), 10.0),
        ],
    );
    long.part = format!("{name} and {name}");
    let at = Vector3::new(0.02, 0.03, 0.0);
    long.references.push(ReferenceHole { name: name.into(), at, diameter: None });
    vec![one, two, six, big, long]
}
