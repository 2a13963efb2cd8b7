//! A corner by any of its names, and readings as people spell them.

use crate::support::{fine, json, wheelpath};

#[test]
fn a_corner_has_many_names() {
    let ours = fine("readings hazel --travel-mm front_left=10,rear_right=-5");
    for words in
        ["LF=10,RR=-5", "lf=10,rr=-5", "FL=10,Rr=-5", "Left-Front=10,Rear-Right=-5", "front_left=10,RR=-5"]
    {
        assert_eq!(fine(&format!("readings hazel --travel-mm {words}")), ours, "{words}");
    }
    let one = json("readings hazel --travel-mm LR=3 --format json");
    assert_eq!(one["pose"]["rear_left_travel_mm"], 3.0);
    let said = wheelpath("readings hazel --travel-mm LX=3");
    assert_eq!(said.code, 2);
    assert!(said.err.contains("LF, RF, LR, RR, or FL, FR, RL, RR"), "{}", said.err);
    // On the sheet of a bracket, in a picture, and for an axle.
    let bracket = "bracket alder tie-rod-down --normal 0,1,0 --of";
    let ours = fine(&format!("{bracket} front_right"));
    for word in ["RF", "fr", "Front-Right"] {
        assert_eq!(fine(&format!("{bracket} {word}")), ours, "{word}");
    }
    for word in ["LF", "fl", "Front-Left", "front_left"] {
        assert_eq!(wheelpath(&format!("picture alder -o x.png --view {word}")).code, 0, "{word}");
    }
    assert_eq!(fine("sweep alder --axle Front --count 3"), fine("sweep alder --axle front --count 3"));
    let refused = wheelpath("picture alder -o x.png --view XF");
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("front-left"), "{}", refused.err);
}

#[test]
fn readings_are_understood_or_answered() {
    let ours = fine("sweep alder --count 3 --readings caster,bump_steer");
    for words in ["Caster,bump-steer", "caster_deg,Bump_Steer", "CASTER,bumpsteer"] {
        assert_eq!(fine(&format!("sweep alder --count 3 --readings {words}")), ours, "{words}");
    }
    let check = |word: &str, meant: &[&str]| {
        let said = wheelpath(&format!("sweep alder --readings {word}"));
        assert_eq!(said.code, 2, "{word}");
        for part in meant {
            assert!(said.err.contains(part), "{word}: no {part} in {}", said.err);
        }
    };
    check("ackerman", &["did you mean one of ", "ackermann_inner", "ackermann_error"]);
    check("camber", &["did you mean one of ", "camber_to_road", "camber_to_body"]);
    check("castter", &["did you mean caster?"]);
    check("wings", &["there is no reading wings (`wheelpath schema` lists them)"]);
}

#[test]
fn files_take_the_same_words() {
    let folder = tempfile::tempdir().unwrap();
    let limits = folder.path().join("limits.ron");
    let written = |of: &str, reading: &str| {
        let text = format!(
            "(format: \"wheelpath limits\", version: 1, units: Millimetre, axes: (x: Forward, y: Left, z: Up), limits: [\n\
             Reading(name: \"One\", reading: {reading}, of: {of}, over: Design, most_deg: 60.0)])"
        );
        std::fs::write(&limits, text).unwrap();
        wheelpath(&format!("limits hazel --limits {} --format json", limits.display()))
    };
    let ours = written("front_left", "caster");
    assert_eq!(ours.code, 0, "{ours:?}");
    assert!(ours.out.contains("\"front_left\""), "{}", ours.out);
    for (of, reading) in [("LF", "Caster"), ("fl", "caster_deg"), ("Lf", "\"castor\"")] {
        assert_eq!(written(of, reading).out, ours.out, "{of} {reading}");
    }
    let said = written("LF", "ackerman");
    assert_eq!(said.code, 1);
    assert!(said.err.contains("did you mean ackermann_"), "{}", said.err);
    // A proposal, and a table of points.
    let proposal = folder.path().join("down.ron");
    let of = |word: &str| {
        let text = format!(
            "(format: \"wheelpath proposal\", version: 1, name: \"Down\", car: \"Alder\", units: Millimetre, axes: (x: Forward, y: Left, z: Up), changes: [\n\
             Move(point: tie_rod_inner, of: {word}, was: (88.0, 240.0, 169.0), now: (88.0, 240.0, 166.5))])"
        );
        std::fs::write(&proposal, text).unwrap();
        wheelpath(&format!("compare alder {} --format json", proposal.display())).out
    };
    let ours = of("front_left");
    assert!(ours.contains("\"after\""), "{ours}");
    for word in ["LF", "FL", "lf"] {
        assert_eq!(of(word), ours, "{word}");
    }
    let table = folder.path().join("points.csv");
    for (corner, z) in [("LF", 168.0), ("rf", 167.0), ("FL", 166.0)] {
        std::fs::write(&table, format!("corner,name,x_mm,y_mm,z_mm\n{corner},tie_rod_inner,88,240,{z}\n"))
            .unwrap();
        let said = wheelpath(&format!("import alder {} --format json", table.display()));
        let out: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let wheel = if corner == "rf" { "front_right" } else { "front_left" };
        assert_eq!((&out["set"][0]["wheel"], &out["set"][0]["z_mm"]), (&wheel.into(), &z.into()), "{said:?}");
    }
}
