//! The car on the road: `stand`, `cornering`, `turn`, against the geometry's own numbers.

use crate::support::{csv, fine, json, unbroken, wheelpath};
use serde_json::Value;
use wheelpath_car_file::load;
use wheelpath_geometry::{
    BodyPose, Car, CarSolver, Cornering, End, GRAVITY, Gradients, LengthUnit, RoadContact, RoadSolver,
    Support, WheelPosition, axle_readings, wheel_readings,
};

const MM: LengthUnit = LengthUnit::Millimetre;

fn with_car(name: &str, look: impl Fn(&Car, &CarSolver, &RoadSolver)) {
    let all = crate::support::demo_cars();
    let file = all.into_iter().find(|path| path.ends_with(format!("{name}.ron"))).unwrap();
    let car = load(&file).unwrap().car;
    let solver = CarSolver::new(&car).unwrap();
    look(&car, &solver, &RoadSolver::new(&car, &solver));
}

#[track_caller]
pub fn near(value: &Value, expected: f64) {
    let found = value.as_f64().unwrap_or(f64::NAN);
    assert!((found - expected).abs() <= 1e-11 * expected.abs().max(1.0), "{found} is not {expected}");
}

#[track_caller]
pub fn refused(words: &str, code: u8, complaint: &[&str]) {
    let said = wheelpath(words);
    assert_eq!((said.code, said.out.as_str()), (code, ""), "{words}: {said:?}");
    for part in complaint {
        assert!(said.err.contains(part), "{words}: no {part:?} in {}", said.err);
    }
}

#[test]
fn a_body_is_held_where_it_was_asked_for() {
    with_car("rowan", |_, solver, road| {
        let body = BodyPose { front: 0.01, rear: -0.005, roll: 1.5_f64.to_radians() };
        let standing = road.stand(&body, 0.01).unwrap();
        let out = json("attitude rowan --front-mm 10 --rear-mm -5 --roll-deg 1.5 --rack-mm 10 --format json");
        near(&out["body"]["front_mm"], 10.0);
        near(&out["body"]["rear_mm"], -5.0);
        near(&out["body"]["roll_deg"], 1.5);
        near(&out["body"]["pitch_deg"], standing.pitch.to_degrees());
        near(&out["pose"]["rack_mm"], 10.0);
        for (key, i) in [("normal_x", 0), ("normal_y", 1), ("normal_z", 2)] {
            near(&out["ground"][key], standing.ground.normal[i]);
        }
        near(&out["ground"]["origin_height_mm"], -standing.ground.height * 1e3);
        assert!(out["support"].is_null());
        for at in WheelPosition::ALL {
            let wheel = &out["wheels"][at.key()];
            near(&wheel["travel_mm"], standing.travel(at) * 1e3);
            near(&wheel["gap_mm"], 0.0);
            let values = solver.axle(at.end).rated(standing.solved.axle(at.end)).wheel_values(at.side);
            for r in wheel_readings() {
                let found = &wheel[format!("{}{}", r.key, r.unit.key_suffix(MM))];
                match values.get(r) {
                    Some(value) => near(found, value * r.unit.data_factor(MM)),
                    None => assert!(found.is_null(), "{}", r.key),
                }
            }
        }
        for end in End::BOTH {
            let values = standing.solved.axle(end).axle_values();
            for r in axle_readings().iter().filter(|r| r.key.starts_with("roll_centre")) {
                let found = &out["axles"][end.name()][format!("{}{}", r.key, r.unit.key_suffix(MM))];
                near(found, values.get(r).unwrap() * r.unit.data_factor(MM));
            }
        }
    });
    let text = fine("attitude rowan --front-mm 10 --rear-mm -5 --roll-deg 1.5 --rack-mm 10");
    assert!(text.contains("ride height front 10.0 mm, rear −5.0 mm; roll 1.50°"), "{text}");
    assert!(text.contains("It stands on all four tyres."), "{text}");
    // The road is seen by the tyres, not by the body: both cambers are there, and differ by the roll.
    let row = |name: &str| text.lines().find(|line| line.trim_start().starts_with(name)).unwrap().to_owned();
    assert_ne!(row("Camber to the body").replace("body", "road"), row("Camber to the road"));
}

#[test]
fn pitch_is_about_the_middle_of_the_wheelbase() {
    with_car("alder", |_, _, road| {
        let body = road.body_at(0.004, 0.01, 0.5_f64.to_radians()).unwrap();
        let roll = 0.01_f64.to_degrees();
        let out =
            json(&format!("attitude alder --rise-mm 4 --pitch-deg 0.5 --roll-deg {roll} --format json"));
        near(&out["body"]["front_mm"], body.front * 1e3);
        near(&out["body"]["rear_mm"], body.rear * 1e3);
        assert!(body.front < body.rear, "nose down");
        assert!((out["body"]["pitch_deg"].as_f64().unwrap() - 0.5).abs() < 1e-9);
    });
}

#[test]
fn a_wheel_that_cannot_follow_hangs() {
    with_car("alder", |_, _, road| {
        let standing = road.stand(&BodyPose { front: 0.06, rear: 0.0, roll: 0.0 }, 0.0).unwrap();
        let at = WheelPosition::ALL[0];
        let RoadContact::Hanging { gap, .. } = standing.footing(at) else { panic!("{standing:?}") };
        let out = json("attitude alder --front-mm 60 --format json");
        near(&out["wheels"]["front_left"]["gap_mm"], gap * 1e3);
        assert_eq!(out["wheels"]["front_left"]["held_by"], "damper");
        assert!(out["wheels"]["rear_left"]["held_by"].is_null());
    });
    let text = fine("attitude alder --front-mm 60");
    assert!(
        text.contains("The front left wheel hangs 12.2 mm above the road: its damper is fully extended."),
        "{text}"
    );
    assert!(!text.contains("all four"), "{text}");
}

#[test]
fn wheels_are_held_and_the_car_laid_down_on_them() {
    with_car("hazel", |_, _, road| {
        let resting = road.rest([0.03, 0.0, 0.0, 0.0], 5_f64.to_radians()).unwrap();
        let Support::Three { lifted, gap } = resting.support else { panic!("{:?}", resting.support) };
        let out = json("attitude hazel --travel-mm front_left=30 --pitman-deg 5 --format json");
        assert_eq!(out["support"], "three");
        near(&out["wheels"][lifted.key()]["gap_mm"], gap * 1e3);
        near(&out["wheels"]["front_left"]["travel_mm"], 30.0);
        near(&out["body"]["front_mm"], resting.body.front * 1e3);
        near(&out["body"]["roll_deg"], resting.body.roll.to_degrees());
        near(&out["body"]["pitch_deg"], resting.pitch.to_degrees());
        let text = fine("attitude hazel --travel-mm front_left=30 --pitman-deg 5");
        assert!(text.contains(&format!("The {lifted} wheel hangs")), "{text}");
    });
    let text = fine("attitude alder --travel-mm front_left=10");
    assert!(unbroken(&text).contains("taken to be midway between the axles: the car file"), "{text}");
    assert!(!fine("attitude rowan --travel-mm front_left=10").contains("taken to be"));
    assert_eq!(json("attitude alder --travel-mm 10 --format json")["support"], "four");
    near(&json("attitude alder --travel-mm 10 --format json")["wheels"]["rear_left"]["gap_mm"], 0.0);
}

#[test]
fn a_car_on_its_diagonal_rocks_and_one_off_its_tyres_falls() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("car.ron");
    let sorrel = crate::support::demo_cars().into_iter().find(|path| path.ends_with("sorrel.ron")).unwrap();
    let sorrel = std::fs::read_to_string(sorrel).unwrap();
    let written = |height: &str| {
        let said = "centre_of_gravity_height: 500.0,";
        assert!(sorrel.contains(said));
        std::fs::write(&file, sorrel.replace(said, height)).unwrap();
        format!("attitude {}", file.display())
    };
    // Four wheels in a rectangle, the centre of gravity on the ground in its middle.
    let stand = written("");
    let text = fine(&format!("{stand} --travel-mm front_left=10"));
    assert!(
        unbroken(&text)
            .contains("the car rocks. Shown is the front left wheel in the air; else it is the rear right"),
        "{text}"
    );
    assert!(unbroken(&text).contains("midway between the axles and on the ground"), "{text}");
    assert_eq!(json(&format!("{stand} --travel-mm front_left=10 --format json"))["support"], "rocks");
    // High above it, with the left wheels far up, it is beyond the left tyres.
    let stand = written("centre_of_gravity_height: 5000.0,");
    let said = wheelpath(&format!(
        "{stand} --travel-mm front_left=200,rear_left=200,front_right=-100,rear_right=-100 --format json"
    ));
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("warning: the car falls over: its centre of gravity is"), "{}", said.err);
    let out: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!((&out["support"], out["warnings"].as_array().unwrap().len()), (&"falls".into(), 1));
}

#[test]
fn a_bend_by_gradients_given() {
    with_car("hazel", |car, _, road| {
        let at = Cornering::level(1.2 * GRAVITY, -0.5 * GRAVITY);
        let gradients = Gradients::of_roll(2.5_f64.to_radians() / GRAVITY)
            .with_ride_heights(0.010 / GRAVITY, -0.006 / GRAVITY);
        let cornering = road.mid_corner(&at, (-4_f64).to_radians(), &gradients).unwrap();
        let out = json(
            "cornering hazel --lateral-g 1.2 --longitudinal-g -0.5 --roll-gradient-deg-per-g 2.5 --front-gradient-mm-per-g 10 --rear-gradient-mm-per-g -6 --pitman-deg -4 --format json",
        );
        assert_eq!(out["lean"], "given");
        near(&out["body"]["roll_deg"], 3.0);
        near(&out["body"]["front_mm"], -5.0);
        near(&out["body"]["rear_mm"], 3.0);
        near(&out["gradients"]["roll_deg_per_g"], 2.5);
        near(&out["gradients"]["front_mm_per_g"], 10.0);
        near(&out["gradients"]["rear_mm_per_g"], -6.0);
        for (at, to_road) in WheelPosition::ALL.into_iter().zip(cornering.wheels) {
            let wheel = &out["wheels"][at.key()];
            near(&wheel["camber_to_road_deg"], to_road.camber.to_degrees());
            near(&wheel["inclination_to_road_deg"], to_road.inclination.to_degrees());
            near(&wheel["steer_to_road_deg"], to_road.steer.to_degrees());
            near(&wheel["toe_to_road_deg"], to_road.toe.to_degrees());
            near(&wheel["travel_mm"], cornering.standing.travel(at) * 1e3);
            assert!(wheel["load_n"].is_null());
        }
        assert!(out["estimate"].is_null());
        let by_pitch = json(
            "cornering hazel --lateral-g 0 --longitudinal-g -1 --pitch-gradient-deg-per-g -1.5 --format json",
        );
        let expected = Gradients::default().with_pitch((-1.5_f64).to_radians() / GRAVITY, car.wheelbase);
        near(&by_pitch["gradients"]["front_mm_per_g"], expected.front * GRAVITY * 1e3);
        assert!(by_pitch["body"]["pitch_deg"].as_f64().unwrap() > 1.4, "it dives: {by_pitch}");
    });
    let text = fine("cornering hazel --lateral-g -1 --roll-gradient-deg-per-g 2");
    assert!(text.contains("in a right-hand corner: −1.00 g lateral"), "{text}");
    assert!(text.contains("The roll is by the gradients given") && !text.contains("stimate"), "{text}");
}

#[test]
fn a_bend_by_estimate_says_so_and_shows_its_ingredients() {
    with_car("rowan", |_, _, road| {
        let at = Cornering::level(0.8 * GRAVITY, -0.3 * GRAVITY);
        let (cornering, estimate) = road.mid_corner_by_estimate(&at, 0.004).unwrap();
        let out = json("cornering rowan --lateral-g 0.8 --longitudinal-g -0.3 --rack-mm 4 --format json");
        assert_eq!(out["lean"], "estimate");
        near(&out["body"]["roll_deg"], cornering.standing.body.roll.to_degrees());
        for (at, load) in WheelPosition::ALL.into_iter().zip(estimate.loads(&at)) {
            near(&out["wheels"][at.key()]["load_n"], load);
        }
        let said = &out["estimate"];
        near(&said["mass_kg"], estimate.from.mass);
        near(&said["weight_share_front_percent"], estimate.from.weight_share_front * 100.0);
        near(&said["centre_of_gravity_height_mm"], estimate.from.centre_of_gravity_height * 1e3);
        near(&said["roll_axis_height_mm"], estimate.roll_axis_height * 1e3);
        near(&said["roll_lever_mm"], estimate.roll_lever * 1e3);
        near(&said["roll_stiffness_nm_per_deg"], estimate.roll_stiffness.to_radians());
        for (i, end) in End::BOTH.into_iter().enumerate() {
            let (from, axle) = (&estimate.from.axles[i], &estimate.axles[i]);
            let said = &said[end.name()];
            near(&said["roll_centre_height_mm"], from.roll_centre_height * 1e3);
            near(&said["track_mm"], from.stiffness.track * 1e3);
            near(&said["heave_stiffness_n_per_mm"], from.stiffness.heave / 1e3);
            near(&said["roll_stiffness_of_springs_nm_per_deg"], from.stiffness.roll_of_springs.to_radians());
            near(&said["roll_stiffness_of_bar_nm_per_deg"], from.stiffness.roll_of_bar.to_radians());
            near(&said["roll_stiffness_share_percent"], axle.roll_stiffness_share * 100.0);
            near(&said["transfer_by_links_n_per_g"], axle.transfer_by_links * GRAVITY);
            near(&said["transfer_by_springs_n_per_g"], axle.transfer_by_springs * GRAVITY);
            near(&said["transfer_longitudinal_n_per_g"], axle.transfer_longitudinal * GRAVITY);
            near(&said["carried_percent"], axle.carried.unwrap() * 100.0);
        }
        assert!(!said["left_out"].as_array().unwrap().is_empty());
        near(&out["gradients"]["roll_deg_per_g"], estimate.gradients.roll.to_degrees() * GRAVITY);
    });
    let text = fine("cornering rowan --lateral-g 0.8 --longitudinal-g -0.3");
    for part in [
        "is an estimate",
        "not a measurement",
        "Mass 1480 kg",
        "Roll-centre height",
        "Roll-stiffness distribution",
        "Left out: ",
        "per g lateral",
        "braking",
    ] {
        assert!(text.contains(part), "no {part:?} in {text}");
    }
}

#[test]
fn a_wheel_the_estimate_lifts_is_a_warning() {
    let said = wheelpath("cornering rowan --lateral-g 2.2 --format json");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("error: the estimate does not hold"), "{}", said.err);
    assert!(said.err.contains("warning: the rear left wheel would lift"), "{}", said.err);
    let out: Value = serde_json::from_str(&said.out).unwrap();
    assert!(out["wheels"]["rear_left"]["load_n"].as_f64().unwrap() < 0.0);
    assert!(out["warnings"].as_array().unwrap().iter().any(|w| w.as_str().unwrap().contains("would lift")));
}

#[test]
fn turns_are_the_geometry_s() {
    with_car("hazel", |_, _, road| {
        let steer = 20_f64.to_radians();
        let turn = road.turn(steer).unwrap().unwrap();
        let rise = road.rise_with_steer(&[steer]).unwrap()[0];
        let out = json("turn hazel --pitman-deg 20 --format json");
        let said = &out["turns"][0];
        assert_eq!((&said["at"], &said["toward"]), (&"input".into(), &"left".into()));
        assert_eq!(said["centre_by"], "rear_axle_line");
        near(&said["pitman_deg"], 20.0);
        near(&said["centre_x_m"], turn.centre.x);
        near(&said["centre_y_m"], turn.centre.y);
        near(&said["centre_radius_m"], turn.radius);
        near(&said["kerb_circle_m"], turn.kerb_circle);
        near(&said["wall_circle_of_tyres_m"], turn.wall_circle_of_tyres);
        near(&said["rise_mean_mm"], rise.mean() * 1e3);
        near(&said["rise_difference_mm"], rise.difference() * 1e3);
        for (at, wheel) in WheelPosition::ALL.into_iter().zip(turn.wheels) {
            let said = &said["wheels"][at.key()];
            near(&said["steer_to_road_deg"], wheel.steer.to_degrees());
            near(&said["scrub_deg"], wheel.scrub.to_degrees());
            near(&said["radius_m"], wheel.radius);
            near(&said["tyre_reach_m"], wheel.reach);
            match at.end {
                End::Front => near(&said["rise_mm"], rise.corners[at.index()] * 1e3),
                End::Rear => assert!(said["rise_mm"].is_null()),
            }
        }
        assert_eq!(said["wheels"]["front_left"]["rise_holding"], "damper");
    });
}

#[test]
fn without_steering_both_locks_are_turned() {
    with_car("alder", |_, _, road| {
        let locks = road.locks().unwrap();
        let out = json("turn alder --format json");
        let turns = out["turns"].as_array().unwrap();
        assert_eq!(turns.len(), 2);
        for (said, lock) in turns.iter().zip(&locks) {
            assert_eq!(said["at"], "full_lock");
            near(&said["rack_mm"], lock.steer * 1e3);
            near(&said["wheels"]["front_left"]["steer_to_road_deg"], lock.wheels[0].to_degrees());
            near(&said["kerb_circle_m"], lock.turn.as_ref().unwrap().kerb_circle);
        }
        assert_ne!(turns[0]["toward"], turns[1]["toward"]);
    });
    let text = fine("turn alder");
    assert_eq!(text.matches("at full lock").count(), 2, "{text}");
    assert!(
        text.contains("to the left at full lock") && text.contains("to the right at full lock"),
        "{text}"
    );
    assert!(
        text.contains("behind the body's origin") && text.contains("Kerb-to-kerb turning circle"),
        "{text}"
    );
}

#[test]
fn wrong_words_are_refused() {
    refused("attitude alder --travel-mm 5 --roll-deg 1", 2, &["cannot be used with", "--roll-deg"]);
    refused("attitude alder --travel-mm 5 --front-mm 1", 2, &["cannot be used with"]);
    refused("attitude alder --front-mm 5 --pitch-deg 1", 2, &["cannot be used with", "--pitch-deg"]);
    refused("attitude alder --rear-mm 5 --rise-mm 1", 2, &["cannot be used with", "--rise-mm"]);
    refused("attitude alder --front-mm 5000", 2, &["no road is under a body", "hint: "]);
    refused("attitude alder --front-mm nan", 2, &["not a finite number"]);
    refused("attitude alder --travel-mm middle=1", 2, &["no wheel middle"]);
    refused("attitude alder --front-mm -300", 1, &["cannot reach further", "hint: "]);
    refused("attitude nowhere.ron", 2, &["hint: give the path of a car file"]);
    refused("cornering rowan", 2, &["--lateral-g"]);
    refused("cornering rowan --lateral-g fast", 2, &["not a number"]);
    refused(
        "cornering rowan --lateral-g 1 --pitch-gradient-deg-per-g 1 --front-gradient-mm-per-g 1",
        2,
        &["cannot be used with"],
    );
    refused(
        "cornering sorrel --lateral-g 1",
        1,
        &[
            "the car's mass is not given",
            "front left: no spring",
            "hint: ",
            "--roll-gradient-deg-per-g",
            "mass_kg",
        ],
    );
    refused("cornering rowan --lateral-g 1 --roll-gradient-deg-per-g 80", 1, &["error: ", "hint: "]);
    refused("turn alder --rack-mm 0", 1, &["too small for a turn centre", "hint: "]);
    refused("turn alder --rack-mm 300", 1, &["locks at", "hint: "]);
    refused("turn", 2, &["CAR"]);
}

#[test]
fn csv_has_a_row_a_wheel_and_the_json_s_numbers() {
    let at = |headings: &[String], row: &[String], key: &str| {
        row[headings.iter().position(|heading| heading == key).unwrap_or_else(|| panic!("no {key}"))].clone()
    };
    let (headings, rows) = csv("attitude alder --front-mm 60 --format csv");
    let out = json("attitude alder --front-mm 60 --format json");
    let places: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(places, ["front_left", "front_right", "rear_left", "rear_right", "front", "rear"]);
    for key in ["travel_mm", "gap_mm", "camber_to_road_deg"] {
        assert_eq!(at(&headings, &rows[1], key), out["wheels"]["front_right"][key].to_string());
    }
    assert_eq!(at(&headings, &rows[0], "held_by"), "damper");
    let words = "cornering rowan --lateral-g 0.5";
    let (headings, rows) = csv(&format!("{words} --format csv"));
    let out = json(&format!("{words} --format json"));
    assert_eq!(rows.len(), 4);
    for key in ["travel_mm", "camber_to_road_deg", "load_n"] {
        assert_eq!(at(&headings, &rows[3], key), out["wheels"]["rear_right"][key].to_string());
    }
    let (headings, rows) = csv("turn alder --format csv");
    let out = json("turn alder --format json");
    assert_eq!(rows.len(), 8);
    for key in ["rack_mm", "kerb_circle_m", "centre_y_m"] {
        assert_eq!(at(&headings, &rows[5], key), out["turns"][1][key].to_string());
    }
    assert_eq!(
        at(&headings, &rows[5], "scrub_deg"),
        out["turns"][1]["wheels"]["front_right"]["scrub_deg"].to_string()
    );
    assert_eq!(at(&headings, &rows[5], "place"), "front_right");
}

#[test]
fn inches_are_millimetres_over_25_4_on_the_road_too() {
    let mm = json("attitude alder --front-mm 25.4 --format json");
    let inches = json("attitude alder --front-mm 25.4 --format json --units inch");
    near(&inches["body"]["front_in"], 1.0);
    near(
        &inches["wheels"]["front_left"]["travel_in"],
        mm["wheels"]["front_left"]["travel_mm"].as_f64().unwrap() / 25.4,
    );
    let (mm, inches) = (
        "cornering rowan --lateral-g 1 --format json",
        "cornering rowan --lateral-g 1 --units inch --format json",
    );
    near(
        &json(inches)["gradients"]["front_in_per_g"],
        json(mm)["gradients"]["front_mm_per_g"].as_f64().unwrap() / 25.4,
    );
}

#[test]
fn older_names_of_subcommands_are_understood() {
    assert_eq!(fine("stand alder --roll-deg 1"), fine("attitude alder --roll-deg 1"));
    assert_eq!(fine("bend hazel --lateral-g 1"), fine("cornering hazel --lateral-g 1"));
    let help = fine("help");
    assert!(help.contains("cornering") && !help.contains("  bend") && !help.contains("  stand"), "{help}");
}
