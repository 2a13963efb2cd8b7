//! Static loads and banked roads in `cornering`.

use crate::on_road::{near, refused};
use crate::support::{fine, json};
use serde_json::Value;
use wheelpath_geometry::{GRAVITY, WheelPosition};

#[test]
fn an_oval_car_stands_on_its_scales_and_leans_into_a_banked_turn() {
    let at_rest = json("cornering hazel --lateral-g 0 --format json");
    for (wheel, kilograms) in
        [("front_left", 342.0), ("front_right", 303.0), ("rear_left", 368.0), ("rear_right", 277.0)]
    {
        near(&at_rest["wheels"][wheel]["load_n"], kilograms * GRAVITY);
        near(&at_rest["wheels"][wheel]["static_load_n"], kilograms * GRAVITY);
    }
    near(&at_rest["estimate"]["weight_share_left_percent"], 100.0 * 710.0 / 1290.0);
    near(&at_rest["estimate"]["cross_weight_percent"], 100.0 * 671.0 / 1290.0);
    let assumed = at_rest["assumed"].to_string();
    assert!(!assumed.contains("static loads are not given"), "{assumed}");
    assert!(
        json("cornering rowan --lateral-g 0 --format json")["assumed"]
            .to_string()
            .contains("static loads are not given")
    );
    // The free body on a banked turn: a cos b - g sin b along the road, g cos b + a sin b onto it.
    let banked = json("cornering hazel --lateral-g 1.2 --banking-deg 15 --format json");
    let (s, c) = 15_f64.to_radians().sin_cos();
    near(&banked["lateral_on_road_g"], 1.2 * c - s);
    near(&banked["normal_on_road_g"], c + 1.2 * s);
    let sum: f64 =
        WheelPosition::ALL.iter().map(|at| banked["wheels"][at.key()]["load_n"].as_f64().unwrap()).sum();
    near(&sum.into(), 1290.0 * GRAVITY * (c + 1.2 * s));
    let flat = json("cornering hazel --lateral-g 1.2 --format json");
    let roll = |out: &Value| out["body"]["roll_deg"].as_f64().unwrap();
    assert!(roll(&banked) < roll(&flat), "less of it is along the road");
    assert!(banked["body"]["front_mm"].as_f64().unwrap() < flat["body"]["front_mm"].as_f64().unwrap() - 5.0);
    let text = fine("cornering hazel --lateral-g 1.2 --banking-deg 15");
    for part in [
        "Road banked 15.00°",
        "lowers the inside of a left turn",
        "In the design pose",
        "Left weight 55.0 %",
        "Assumed: ",
    ] {
        assert!(text.contains(part), "no {part:?} in {text}");
    }
    // Gradients say nothing of how a banked road presses.
    let given =
        json("cornering hazel --lateral-g 1 --banking-deg 10 --roll-gradient-deg-per-g 2 --format json");
    let along = 10_f64.to_radians().cos() - 10_f64.to_radians().sin();
    near(&given["body"]["roll_deg"], 2.0 * along);
    assert!(given["assumed"].to_string().contains("do not change as the banked road presses"));
    refused("cornering hazel --lateral-g -3 --banking-deg 30", 1, &["would leave the road", "--banking-deg"]);
    refused("cornering hazel --lateral-g 1 --banking-deg 60", 2, &["not between -45 and 45"]);
}
