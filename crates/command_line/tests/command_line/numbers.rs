//! The numbers are the geometry's own.

use crate::support::{Noting, csv, csv_of, demo_cars, fine, json, wheelpath, wheelpath_with};
use serde_json::Value;
use wheelpath_command_line::{Overlays, Sheet, View};
use wheelpath_geometry::{
    Axis, AxlePose, CarPose, CarSolver, ChangedOn, End, Hardpoint, LengthUnit, Links, ScalarParameter, Side,
    Unit, WheelPosition, axle_readings, reading, wheel_readings,
};
use wheelpath_project::demo_car;

const MM: LengthUnit = LengthUnit::Millimetre;

fn solver() -> CarSolver {
    CarSolver::new(&demo_car().unwrap().loaded.car).unwrap()
}

/// The same bits; null for none.
fn same(value: &Value, expected: Option<f64>, unit: Unit, what: &str) {
    match (value.as_f64(), expected) {
        (None, None) => assert!(value.is_null(), "{what}: {value}"),
        (Some(found), Some(expected)) => {
            let expected = expected * unit.data_factor(MM) + 0.0;
            assert_eq!(found.to_bits(), expected.to_bits(), "{what}: {found} is not {expected}");
        }
        other => panic!("{what}: {other:?}"),
    }
}

#[test]
fn readings_are_those_of_the_solved_pose() {
    let out = json("readings alder --format json --travel-mm front_left=10,rear=-5 --rack-mm 20");
    let pose = CarPose { travel: [0.01, 0.0, -0.005, -0.005], steer: 0.02 };
    let solved = solver().solve(&pose).unwrap();
    for at in WheelPosition::ALL {
        let values = solved.axle(at.end).wheel_values(at.side);
        for r in wheel_readings() {
            let key = format!("{}{}", r.key, r.unit.key_suffix(MM));
            same(&out["wheels"][at.key()][&key], values.get(r), r.unit, &key);
        }
    }
    for end in End::BOTH {
        let values = solved.axle(end).axle_values();
        for r in axle_readings() {
            let key = format!("{}{}", r.key, r.unit.key_suffix(MM));
            same(&out["axles"][end.name()][&key], values.get(r), r.unit, &key);
        }
    }
    assert_eq!(out["pose"]["front_left_travel_mm"], 10.0);
    assert_eq!(out["pose"]["rear_right_travel_mm"], -5.0);
}

#[test]
fn a_steering_wheel_angle_is_a_rack_travel() {
    // 82 mm a turn: a quarter turn is 20.5 mm.
    let by_wheel = json("readings alder --format json --steering-wheel-deg 90");
    let by_steer = json("readings alder --format json --rack-mm 20.5");
    assert_eq!(by_wheel["wheels"], by_steer["wheels"]);
    assert_eq!(by_steer["pose"]["steering_wheel_deg"], 90.0);
}

#[test]
fn a_sweep_is_the_geometry_s_sweep() {
    let out = json(
        "sweep alder --format json --from-mm -20 --to-mm 20 --count 3 --wheels opposite --rack-mm 10 --axle front",
    );
    let poses: Vec<AxlePose> = [-0.02, 0.0, 0.02].map(|t| AxlePose { travel: [t, -t], steer: 0.01 }).to_vec();
    let sweep = solver().axle(End::Front).sweep(&poses);
    let rows = out["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    for (row, point) in rows.iter().zip(&sweep) {
        let values = point.result.as_ref().unwrap();
        for (side, wheel) in ["left", "right"].iter().zip(&values.wheels) {
            for r in wheel_readings() {
                let key = format!("{side}_{}{}", r.key, r.unit.key_suffix(MM));
                same(&row[&key], wheel.get(r), r.unit, &key);
            }
        }
        for r in axle_readings() {
            let key = format!("{}{}", r.key, r.unit.key_suffix(MM));
            same(&row[&key], values.axle.get(r), r.unit, &key);
        }
    }
}

/// A long list goes the quick way, in parts: each row is the pose solved on its own, to 1e-9 mm or degrees (of a
/// reading that grows beyond all bounds somewhere, to 1e-9 of it), at the parts' seam too.
#[test]
fn a_long_sweep_is_its_poses_one_by_one() {
    let mut compared = 0;
    for car in ["alder", "hazel", "rowan", "sorrel"] {
        let path = demo_cars().into_iter().find(|path| path.file_stem().unwrap() == car).unwrap();
        let car_of = wheelpath_car_file::load(&path).unwrap().document.car().clone();
        let solver = CarSolver::new(&car_of).unwrap();
        for words in ["--axle front", "--axle rear", "--axle front --over steer --travel-mm 12"] {
            let said = wheelpath(&format!("sweep {car} {words} --count 2060 --readings all --format csv"));
            let (heads, rows) = csv_of(&said.out);
            assert_eq!(rows.len(), 2060, "{car} {words}: {}", said.err);
            let axle = solver.axle(if words.contains("rear") { End::Rear } else { End::Front });
            let seam = 2040..2056;
            for row in
                rows.iter().enumerate().filter(|(i, _)| i % 97 == 0 || seam.contains(i)).map(|(_, row)| row)
            {
                let cell = |key: &str| row[heads.iter().position(|head| head == key)?].parse::<f64>().ok();
                let steer = cell("rack_mm").map(|mm| mm * 1e-3).or(cell("pitman_deg").map(f64::to_radians));
                let travel = ["left_travel_mm", "right_travel_mm"].map(|key| cell(key).unwrap() * 1e-3);
                let solved = axle.rated(&axle.solve(travel, steer.unwrap()).unwrap());
                let mut check = |key: &str, value: Option<f64>| match (cell(key), value) {
                    (None, None) => {}
                    (Some(found), Some(expected)) => {
                        compared += 1;
                        let far = (found - expected).abs() / expected.abs().max(1.0);
                        assert!(far < 1e-9, "{car} {words} {travel:?} {steer:?} {key}: {found} {expected}");
                    }
                    other => panic!("{car} {words} {key}: {other:?}"),
                };
                for r in wheel_readings() {
                    for side in Side::BOTH {
                        let value = solved.wheel_values(side).get(r).map(|v| v * r.unit.data_factor(MM));
                        check(&format!("{side}_{}{}", r.key, r.unit.key_suffix(MM)), value);
                    }
                }
                for r in axle_readings() {
                    let value = solved.axle_values().get(r).map(|v| v * r.unit.data_factor(MM));
                    check(&format!("{}{}", r.key, r.unit.key_suffix(MM)), value);
                }
            }
        }
    }
    assert!(compared > 25_000, "{compared}");
}

#[test]
fn inches_are_millimetres_over_25_4() {
    let mm = json("readings alder --format json");
    let inches = json("readings alder --format json --units inch");
    let at = |out: &Value, key: &str| out["wheels"]["front_left"][key].as_f64().unwrap();
    let (a, b) = (at(&mm, "scrub_radius_mm"), at(&inches, "scrub_radius_in"));
    assert!((a / 25.4 - b).abs() < 1e-12 && a.abs() > 1.0, "{a} mm, {b} in");
}

#[test]
fn sensitivities_are_the_geometry_s_and_ranked() {
    let bump_steer = reading("bump_steer").unwrap();
    let out = json("sensitivity alder --reading bump_steer --format json --side right");
    let solver = solver();
    let axle = solver.axle(End::Front);
    let exact = axle
        .sensitivity(
            &axle.start(),
            ScalarParameter::point(Hardpoint::TieRodInner, Axis::Z),
            ChangedOn::Both,
            Links::Remade,
        )
        .unwrap();
    let rows = out["rows"].as_array().unwrap();
    let slope = |row: &Value| row["slope_deg_per_m_per_mm"].as_f64().unwrap();
    let row = rows.iter().find(|r| r["parameter"] == "tie_rod_inner" && r["coordinate"] == "z").unwrap();
    let expected = exact.wheels[1].get(bump_steer).unwrap().to_degrees() / 1e3;
    assert!((slope(row) - expected).abs() < 1e-12 * expected.abs(), "{row} {expected}");
    assert!(rows.windows(2).all(|w| slope(&w[0]).abs() >= slope(&w[1]).abs()));
    assert_eq!(rows.len(), axle.parameters(Side::Right).len());
    assert_eq!(rows[0]["rank"], 1);
    // The tie rod's height is what a race engineer reaches for first.
    assert_eq!((&rows[0]["parameter"], &rows[0]["coordinate"]), (&"tie_rod_inner".into(), &"z".into()));
}

#[test]
fn a_sensitivity_says_what_a_moved_point_does() {
    let out = json("sensitivity alder --reading bump_steer --pickup tie_rod_inner --format json");
    let rows = out["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    let here = out["bump_steer_deg_per_m"].as_f64().unwrap();
    // Newton's first guess for no bump steer should all but remove it in the file too.
    let by = -here
        / rows.iter().find(|r| r["coordinate"] == "z").unwrap()["slope_deg_per_m_per_mm"].as_f64().unwrap();
    let text = crate::support::alder_with(
        "tie_rod_inner: (88.0, 240.0, 169.0)",
        &format!("tie_rod_inner: (88.0, 240.0, {})", 169.0 + by),
    );
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("flat.ron");
    std::fs::write(&file, text).unwrap();
    let flat = json(&format!("readings {} --format json", file.display()));
    let left = flat["wheels"]["front_left"]["bump_steer_deg_per_m"].as_f64().unwrap();
    assert!(left.abs() < 0.05 * here.abs(), "{left} of {here}");
}

#[test]
fn points_stand_where_the_solver_puts_them() {
    let out = json("points alder --format json --travel-mm 15 --rack-mm -10");
    let solver = solver();
    let solved = solver.solve(&CarPose { travel: [0.015; 4], steer: -0.01 }).unwrap();
    for at in WheelPosition::ALL {
        for (hardpoint, place) in solver.points(&solved, at) {
            for (axis, expected) in ["x_mm", "y_mm", "z_mm"].iter().zip(place.iter()) {
                same(
                    &out["points"][at.key()][hardpoint.key()][axis],
                    Some(*expected),
                    Unit::Length,
                    hardpoint.key(),
                );
            }
        }
        let centre = out["points"][at.key()]["wheel_centre"]["z_mm"].as_f64().unwrap();
        let design = demo_car().unwrap().loaded.car.corner(at).wheel.centre.z * 1e3;
        assert!((centre - design - 15.0).abs() < 1e-9, "{centre}");
    }
}

#[test]
fn a_picture_is_asked_for_as_said() {
    let front = Noting::default();
    let words = "picture alder -o car.png --view rear-left --sheet dark --size 640x480 --overlays trail,toe --travel-mm 5";
    let said = wheelpath_with(&words.split(' ').collect::<Vec<_>>(), &front);
    assert_eq!((said.code, said.out.as_str()), (0, "wrote car.png\n"), "{said:?}");
    let asked = front.pictures.borrow();
    let [request] = asked.as_slice() else { panic!("{} pictures", asked.len()) };
    assert_eq!(request.view, View::Corner(WheelPosition { end: End::Rear, side: Side::Left }));
    assert_eq!((request.sheet, request.size), (Sheet::Dark, [640, 480]));
    assert_eq!(request.pose, CarPose { travel: [0.005; 4], steer: 0.0 });
    assert_eq!(request.overlays, Overlays::Of(vec![reading("trail").unwrap(), reading("toe").unwrap()]));
}

#[test]
fn the_window_is_opened_on_the_car_asked_for() {
    let front = Noting::default();
    assert_eq!(wheelpath_with(&[], &front).code, 0);
    let path = demo_cars().remove(0);
    assert_eq!(wheelpath_with(&["open", path.to_str().unwrap()], &front).code, 0);
    let opened = front.opened.borrow();
    assert_eq!(opened.iter().map(|car| car.path.clone()).collect::<Vec<_>>(), [None, Some(path)]);
    assert_eq!(opened[0].loaded.car.name, "Alder");
    assert!(fine("readings alder").starts_with("Alder: "));
}

#[test]
fn the_numbers_of_an_axle_as_a_whole_are_ranked_too() {
    let out = json("sensitivity hazel --axle rear --reading roll_centre_height --format json");
    let file = demo_cars().into_iter().find(|path| path.ends_with("hazel.ron")).unwrap();
    let car = wheelpath_car_file::load(&file).unwrap().car;
    let solver = CarSolver::new(&car).unwrap();
    let axle = solver.axle(End::Rear);
    let height = reading("roll_centre_height").unwrap();
    let rows = out["rows"].as_array().unwrap();
    assert_eq!(rows.len(), axle.parameters(Side::Left).len() + axle.own_parameters().len());
    let z = ScalarParameter::point(Hardpoint::PanhardRodBody, Axis::Z);
    let exact = axle.sensitivity(&axle.start(), z, ChangedOn::Both, Links::Remade).unwrap();
    let row = rows.iter().find(|r| r["parameter"] == "panhard_rod_body" && r["coordinate"] == "z").unwrap();
    let (found, expected) = (row["slope_mm_per_mm"].as_f64().unwrap(), exact.axle.get(height).unwrap());
    assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    // Half the rod's change at the middle of the axle, as on any level Panhard rod.
    assert!((found - 0.5).abs() < 0.01, "{found}");
    assert_eq!((&row["of"], &rows[0]["of"]), (&"axle".into(), &"corner".into()));
    let rod = json(
        "sensitivity hazel --axle rear --reading roll_centre_height --pickup panhard_rod_body --format json",
    );
    assert_eq!(rod["rows"].as_array().unwrap().len(), 3);
    let said = wheelpath("sensitivity hazel --reading toe --pickup panhard_rod_body");
    assert_eq!(said.code, 2, "{said:?}");
    assert!(said.err.contains("the front axle has no Panhard rod, body end"), "{}", said.err);
    assert!(
        fine("sensitivity hazel --axle rear --reading roll_centre_height")
            .contains("axle as a whole are changed once")
    );
}

/// Whatever reading is asked for, of whichever car: there are slopes, or a reason why there are none.
#[test]
fn a_sensitivity_has_rows_or_a_reason() {
    let keys = wheel_readings().iter().chain(axle_readings());
    let mut with_rows = 0;
    for reading in keys {
        for car in ["alder", "hazel", "rowan", "sorrel"] {
            for axle in ["front", "rear"] {
                let words =
                    format!("sensitivity {car} --axle {axle} --reading {} --format json", reading.key);
                let said = wheelpath(&words);
                if said.code == 0 {
                    let out: Value = serde_json::from_str(&said.out).expect("JSON");
                    assert!(!out["rows"].as_array().unwrap().is_empty(), "{words}");
                    with_rows += 1;
                } else {
                    assert!(said.out.is_empty() && said.err.starts_with("error: "), "{words}: {said:?}");
                    assert!(said.err.contains("hint: "), "{words}: {said:?}");
                }
            }
        }
    }
    assert!(with_rows > 400, "{with_rows}");
    // Springs whose rate is known have slopes of the rate at the wheel, and of its gain.
    for key in ["wheel_rate", "wheel_rate_gain"] {
        let out = json(&format!("sensitivity hazel --reading {key} --format json"));
        let largest = out["rows"][0].as_object().unwrap();
        let (name, slope) = largest.iter().find(|(name, _)| name.starts_with("slope_")).unwrap();
        assert!(slope.as_f64().unwrap().abs() > 1e-4, "{name}: {slope}");
    }
}

/// Travels and steering inputs of a sweep are the decimals that somebody would write, in every output.
#[test]
fn the_grid_of_a_sweep_is_of_decimals() {
    let short = |value: f64| format!("{value}").len() <= 7;
    for (words, key, expected) in [
        (
            "sweep alder --over travel --count 7",
            "left_travel_mm",
            [-30.0, -20.0, -10.0, 0.0, 10.0, 20.0, 30.0],
        ),
        (
            "sweep alder --over travel --from-mm -0.3 --to-mm 0.3 --count 7",
            "right_travel_mm",
            [-0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3],
        ),
        (
            "sweep alder --over steer --rack-from-mm -9 --rack-to-mm 12 --count 7",
            "rack_mm",
            [-9.0, -5.5, -2.0, 1.5, 5.0, 8.5, 12.0],
        ),
        (
            "sweep hazel --over steer --pitman-from-deg -12 --pitman-to-deg 9 --count 7",
            "pitman_deg",
            [-12.0, -8.5, -5.0, -1.5, 2.0, 5.5, 9.0],
        ),
    ] {
        let out = json(&format!("{words} --format json --readings toe"));
        let found: Vec<f64> =
            out["rows"].as_array().unwrap().iter().map(|row| row[key].as_f64().unwrap()).collect();
        assert_eq!(found, expected, "{words}");
        let (heads, rows) = csv(&format!("{words} --format csv --readings toe"));
        let column = heads.iter().position(|head| head == key).unwrap();
        for (row, value) in rows.iter().zip(expected) {
            assert_eq!(row[column].parse::<f64>().unwrap().to_bits(), f64::to_bits(value), "{words}");
            assert!(row[column].len() <= 5, "{words}: {}", row[column]);
        }
    }
    // Whatever the count, no digits that nobody wrote.
    for count in [2, 3, 4, 5, 6, 9, 11, 13, 21, 25, 31, 41, 49, 61] {
        let out = json(&format!(
            "sweep alder --from-mm -24 --to-mm 36 --count {count} --format json --readings toe"
        ));
        for row in out["rows"].as_array().unwrap() {
            let travel = row["left_travel_mm"].as_f64().unwrap();
            assert!(short(travel) || count == 2 || 60 % (count - 1) != 0, "{count}: {travel}");
        }
    }
    // From stop to stop, without a word of the stops being gone beyond.
    let said = wheelpath("sweep hazel --over steer --count 9 --format csv --readings toe");
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.contains(",-18.0,") && said.out.contains(",24.0,"), "{}", said.out);
}

/// An old key of a reading is understood, and so is one with its unit; what is written has the unit once.
#[test]
fn keys_have_their_unit_once() {
    for word in ["ackermann_inner", "ackermann_percent", "ackermann_percent_contact", "toe_deg"] {
        let out = json(&format!(
            "sweep alder --over steer --rack-from-mm 20 --rack-to-mm 30 --count 2 --format json --readings {word}"
        ));
        let keys: Vec<&String> = out["rows"][0].as_object().unwrap().keys().collect();
        let doubled = |key: &&&String| key.contains("percent_percent") || key.contains("deg_deg");
        assert!(keys.iter().find(doubled).is_none(), "{keys:?}");
    }
    let out = json("readings alder --rack-mm 20 --format json");
    assert!(out["axles"]["front"]["ackermann_inner_percent"].is_f64(), "{}", out["axles"]["front"]);
    assert!(out["axles"]["front"]["ackermann_contact_percent"].is_f64());
    // A box's gain is degrees per degree, a rack's degrees per metre.
    let out = json("readings hazel --format json");
    let wheel = &out["wheels"]["front_left"];
    assert!(wheel["steer_gain_deg_per_m"].is_null());
    let gain = wheel["steer_gain_pitman_deg_per_deg"].as_f64().unwrap();
    assert!(gain > 0.5 && gain < 1.5, "{gain}");
}

/// A beam axle's rates say in tables and in the schema which motion they are of.
#[test]
fn rates_of_a_beam_say_their_motion() {
    let text = fine("readings hazel --all");
    for name in
        ["Bump steer, in heave", "Wheel rate, in heave", "Wheel rate, in roll", "Wheel rate, by one wheel"]
    {
        assert!(text.contains(name), "{name} in {text}");
    }
    // In front each wheel moves on its own.
    let front = text.split("Rear axle").next().unwrap();
    assert!(!front.contains("in heave") && !front.contains("one wheel"), "{front}");
    assert!(fine("sweep hazel --axle rear --readings bump_steer").contains("in heave"));
    assert!(
        fine("sweep hazel --axle rear --readings bump_steer --format chart").contains("Bump steer, in heave")
    );
    let schema = json("schema --format json");
    let motion = |key: &str| {
        let keys = schema["keys"].as_array().unwrap();
        keys.iter().find(|one| one["key"] == key).unwrap()["motion"].as_str().unwrap().to_owned()
    };
    assert!(motion("bump_steer_deg_per_m").starts_with("in heave"));
    assert!(motion("bump_steer_in_roll_deg_per_m").starts_with("in roll"));
    assert!(motion("wheel_rate_one_wheel_n_per_mm").starts_with("by one wheel"));
    assert_eq!(motion("toe_deg"), "");
}
