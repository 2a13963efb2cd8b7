//! One system of units a car: what is counted in inches is said in inches, and asked in inches too.

use crate::support::{Noting, Said, demo_cars, fine, json, wheelpath_with};
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Axes, Document, load};
use wheelpath_geometry::LengthUnit;

fn folder(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..").join(name)
}

/// A car's file in inches, in a folder.
fn in_inches(car: &Path, into: &Path) -> PathBuf {
    let loaded = load(car).unwrap();
    let name = loaded.car.name.clone();
    let document = Document::new(&loaded.car, &name, "In inches.", LengthUnit::Inch, Axes::VEHICLE).unwrap();
    let path = into.join(car.file_name().unwrap());
    std::fs::write(&path, document.text()).unwrap();
    path
}

fn said(words: &str, car: &Path) -> Said {
    let words: Vec<&str> = words.split_whitespace().collect();
    let car = car.to_str().unwrap();
    wheelpath_with(
        &words.iter().map(|&word| if word == "CAR" { car } else { word }).collect::<Vec<_>>(),
        &Noting::default(),
    )
}

/// Every subcommand that prints a table of a car; what a car cannot do (steer, carry loads) it refuses.
fn tables(car: &Path) -> Vec<(String, String)> {
    let alder = |name: &str| folder("demo-cars/alder").join(name).display().to_string();
    let own = car.file_stem().is_some_and(|stem| stem == "alder");
    let mut all: Vec<String> = [
        "check CAR",
        "readings CAR",
        "readings CAR --all --travel-mm front=10,rear_left=-5",
        "readings CAR --all --steering-wheel-deg 40",
        "sweep CAR --count 3",
        "sweep CAR --over roll --count 3",
        "sweep CAR --axle rear --count 3 --wheels opposite",
        "sweep CAR --count 3 --over steer",
        "sweep CAR --count 3 --over grid --wheels opposite",
        "sweep CAR --count 3 --readings all",
        "sweep CAR --count 5 --format chart",
        "sweep CAR --count 5 --format chart --readings front_view_swing_arm_inverse,bump_steer,half_track_gain",
        "sensitivity CAR --reading bump_steer",
        "sensitivity CAR --reading wheel_rate --axle rear",
        "sensitivity CAR --reading front_view_swing_arm_inverse",
        "clearances CAR --count 3 --steer-count 3",
        "clearances CAR --count 3 --steer-count 3 --all",
        "points CAR",
        "attitude CAR --roll-deg 1",
        "attitude CAR --travel-mm 5",
        "readings CAR --travel-mm 400",
        "readings CAR --travel-mm 60 --rack-mm 90",
        "sweep CAR --count 9 --travel-mm -300:300",
        "sweep CAR --count 5 --rack-mm -200:200",
        "points CAR --travel-mm -400,0,60",
        "clearances CAR --from-mm -300 --to-mm 300 --count 3 --steer-count 3",
        "cornering CAR --lateral-g 0.6",
        "cornering CAR --lateral-g 0.6 --roll-gradient-deg-per-g 1",
        "turn CAR",
        "turn CAR --steering-wheel-deg 60",
        "compare CAR --with hazel",
        "compare CAR --with hazel --all",
    ]
    .map(str::to_owned)
    .to_vec();
    if own {
        let (limits, down, out) =
            (alder("limits.ron"), alder("tie-rod-down.ron"), alder("arms-outboard.ron"));
        all.push(format!("limits CAR --limits {limits}"));
        all.push(format!("limits CAR --limits {limits} --proposal {down}"));
        all.push(format!("compare CAR {down} {out} --limits {limits}"));
        all.push(format!("compare CAR {down} {out} --all"));
        all.push(format!("bracket CAR {down} --normal 0,1,0 --limits {limits} --references rack_axis"));
        all.push(format!("bracket CAR {down} --normal 0,1,0 --limits {limits} --hole-mm 8"));
    }
    let (mut printed, mut messages) = (Vec::new(), Vec::new());
    for words in all {
        let said = said(&words, car);
        assert!(said.code != 2 || said.out.is_empty(), "{words}: {said:?}");
        printed.push((format!("{words} of {}", car.display()), said.out));
        // What is beside the results, names of options apart.
        let err: Vec<&str> = said.err.split(' ').filter(|word| !word.starts_with("--")).collect();
        messages.push((words, err.join(" ")));
    }
    let full = printed.iter().filter(|(_, out)| !out.is_empty()).count();
    assert!(full > 15, "{full} tables of {}", car.display());
    printed.extend(messages.into_iter().map(|(words, err)| (format!("messages of {words}"), err)));
    printed
}

/// The units of a text: what follows a number, or stands in a heading or cell of its own.
fn has_unit(text: &str, unit: &str) -> bool {
    let is_letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
    text.match_indices(unit).any(|(at, _)| {
        let (before, after) = (&text[..at], &text[at + unit.len()..]);
        let numbered = before.trim_end_matches(' ').ends_with(|c: char| c.is_ascii_digit());
        // A cell of its own; words of a cell that is broken over lines stand the same way, but go on.
        let alone = after.is_empty() || after.starts_with('\n') || after.starts_with("  ");
        let apart = before.ends_with('/') || (alone && (before.ends_with("  ") || before.ends_with('\n')));
        let ended = !is_letter(after.chars().next());
        // "mm" is never a word; "in", "ft" and "lb" are units where a number or a column is before them.
        !is_letter(before.chars().last()) && ended && (unit == "mm" || numbered || apart)
    })
}

#[test]
fn units_are_told_from_words() {
    for text in ["12.5 in", "°/in", "travel\n    in\n", "  3.2  in", "lb/in"] {
        assert!(has_unit(text, "in"), "{text:?}");
    }
    for text in ["in the plate", "right in front", "inner end", "turned in, as"] {
        assert!(!has_unit(text, "in"), "{text:?}");
    }
    assert!(has_unit("°/25 mm", "mm") && has_unit("N/mm", "mm") && !has_unit("comma", "mm"));
}

#[test]
fn a_car_in_inches_says_inches_everywhere_and_one_in_millimetres_millimetres() {
    let inches = tempfile::tempdir().unwrap();
    for car in demo_cars() {
        for (words, out) in tables(&in_inches(&car, inches.path())) {
            for unit in ["mm", "N", "kg"] {
                assert!(!has_unit(&out, unit), "{unit} in {words}\n{out}");
            }
        }
        for (words, out) in tables(&car) {
            for unit in ["in", "lb", "ft"] {
                assert!(!has_unit(&out, unit), "{unit} in {words}\n{out}");
            }
        }
    }
}

/// Nothing that is printed for people is wider than a hundred columns.
#[test]
fn no_line_is_wider_than_a_hundred_columns() {
    let inches = tempfile::tempdir().unwrap();
    let mut wide = Vec::new();
    for car in demo_cars() {
        for car in [car.clone(), in_inches(&car, inches.path())] {
            for (words, out) in tables(&car) {
                if words.starts_with("messages") {
                    continue;
                }
                let longest = out.lines().max_by_key(|line| line.chars().count()).unwrap_or_default();
                if longest.chars().count() > 100 {
                    wide.push(format!("{} columns in {words}\n{longest}", longest.chars().count()));
                }
            }
        }
    }
    for words in ["schema", "schema --units inch"] {
        let out = fine(words);
        wide.extend(out.lines().filter(|line| line.chars().count() > 100).map(str::to_owned));
    }
    assert!(wide.is_empty(), "{}", wide.join("\n"));
}

/// Rates are per 25 mm of travel or per inch on the surface, and per metre in data.
#[test]
fn rates_are_said_per_25_mm_and_kept_per_metre() {
    let data = json("readings alder --format json --travel-mm 10");
    let wheel = &data["wheels"]["front_left"];
    let per_metre = wheel["bump_steer_deg_per_m"].as_f64().unwrap();
    let arm = 1e3 / wheel["front_view_swing_arm_inverse_per_m"].as_f64().unwrap();
    let row = |out: &str, name: &str| -> Vec<String> {
        let line = out.lines().find(|line| line.starts_with(&format!("  {name}"))).unwrap();
        line.split_whitespace().map(str::to_owned).collect()
    };
    let out = fine("readings alder --travel-mm 10");
    let shown = |value: f64, decimals: usize| format!("{value:.decimals$}").replace('-', "−");
    // A quarter of a hundredth of a metre, and an inch.
    assert_eq!(row(&out, "Bump steer")[2], shown(per_metre * 0.025, 3));
    assert_eq!(row(&out, "Bump steer")[4..], ["°/25", "mm"]);
    assert_eq!(row(&out, "Front-view swing-arm length")[3], shown(arm, 1));
    let out = fine("readings alder --travel-mm 10 --units inch");
    assert_eq!(row(&out, "Bump steer")[2], shown(per_metre * 0.0254, 3));
    assert_eq!(row(&out, "Bump steer")[4], "°/in");
    assert_eq!(row(&out, "Front-view swing-arm length")[3], shown(arm / 25.4, 2));
}

/// Whichever is given is taken: an inch is 25.4 mm exactly (international yard and pound agreement, 1959; NIST
/// SP 811 has it in appendix B; both from memory).
#[test]
fn every_option_in_millimetres_has_a_twin_in_inches() {
    for (inches, millimetres) in [
        (
            "readings alder --travel-in front=1,rear_left=-0.5 --rack-in=0.25",
            "readings alder --travel-mm front=25.4,rear_left=-12.7 --rack-mm 6.35",
        ),
        (
            "sweep alder --from-in −1 --to-in 1 --count 3",
            "sweep alder --from-mm -25.4 --to-mm 25.4 --count 3",
        ),
        ("sweep alder --travel-in -1:1 --count 3", "sweep alder --travel-mm -25.4:25.4 --count 3"),
        ("attitude alder --front-in -0.5 --rear-in 0.25", "attitude alder --front-mm -12.7 --rear-mm 6.35"),
        (
            "cornering alder --lateral-g 1 --roll-gradient-deg-per-g 1 --front-gradient-in-per-g 0.1",
            "cornering alder --lateral-g 1 --roll-gradient-deg-per-g 1 --front-gradient-mm-per-g 2.54",
        ),
        ("readings alder --toe-over-in 20", "readings alder --toe-over-mm 508"),
    ] {
        assert_eq!(fine(inches), fine(millimetres), "{inches}");
    }
    let help = fine("attitude --help");
    for option in help.split_whitespace().filter(|word| word.starts_with("--") && word.ends_with("-mm")) {
        assert!(help.contains(&option.replace("-mm", "-in")), "{option} in\n{help}");
    }
    let wrong = said("bracket CAR --normal 0,1,0 --hole-in -1 x", Path::new("alder"));
    assert!(wrong.err.contains("'-1' for '--hole-in <IN>'") && !wrong.err.contains("mm"), "{wrong:?}");
    let wrong = said("points CAR --travel-in 0,1 --rack-in 0,1,2", Path::new("alder"));
    assert!(
        wrong.err.contains("--travel-in has 2 numbers, --rack-in has 3") && !wrong.err.contains("-mm"),
        "{wrong:?}"
    );
    let wrong = said("readings CAR --travel-in ten", Path::new("alder"));
    assert!(wrong.code == 2 && wrong.err.contains("--travel-in") && wrong.err.contains("ten"), "{wrong:?}");
}

/// The sheet to drill by: lengths in inches, and a line of four inches to measure.
#[test]
fn the_sheet_of_a_car_in_inches_is_in_inches() {
    let place = tempfile::tempdir().unwrap();
    let car = in_inches(&folder("demo-cars/alder.ron"), place.path());
    let sheet = place.path().join("plate.svg");
    let down = folder("demo-cars/alder/tie-rod-down.ron");
    let words =
        format!("bracket CAR {} --normal 0,1,0 --hole-in 0.3125 -o {}", down.display(), sheet.display());
    assert_eq!(said(&words, &car).code, 0);
    let mut text = String::new();
    for page in 1..=2 {
        let page = std::fs::read_to_string(place.path().join(format!("plate-{page}.svg"))).unwrap();
        // What is written, not how large the paper is.
        text.extend(
            page.split("<text")
                .skip(1)
                .filter_map(|rest| Some(rest.split_once('>')?.1.split_once('<')?.0.to_owned() + "\n")),
        );
    }
    assert!(
        text.contains("Check line: 4 in.") && text.contains("Ø 0.312") && !has_unit(&text, "mm"),
        "{text}"
    );
    let cut = place.path().join("plate.dxf");
    let words =
        format!("bracket CAR {} --normal 0,1,0 --hole-in 0.3125 -o {}", down.display(), cut.display());
    assert_eq!(said(&words, &car).code, 0);
    let text = std::fs::read_to_string(cut).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines.contains(&"Units: inches"), "{text}");
    let number = |code: &str, from: usize| -> f64 {
        let at = lines.iter().skip(from).position(|line| *line == code).unwrap() + from;
        lines[at + 1].parse().unwrap()
    };
    // The first line on the layer of the check line is four inches long, in inches; a hole's radius is half of 5/16.
    let check = lines.windows(4).position(|four| four[0] == "LINE" && four[2] == "CHECK").unwrap();
    let long = number("11", check + 3) - number("10", check + 3);
    assert!((long - 4.0).abs() < 1e-5, "{long}");
    let circle = lines.iter().position(|line| *line == "CIRCLE").unwrap();
    assert!((number("40", circle + 3) - 0.156_25).abs() < 1e-5);
}

/// Toe is also said as a length in a bend and on the road, over the tyre's diameter or the one that is given.
#[test]
fn toe_is_a_length_too_where_the_car_stands_and_in_a_bend() {
    for words in
        ["attitude alder --roll-deg 1", "cornering alder --lateral-g 0.6 --roll-gradient-deg-per-g 1"]
    {
        let out = fine(&format!("{words} --toe-over-mm 400"));
        let row = |name: &str| -> Vec<f64> {
            let line = out.lines().find(|line| line.starts_with(&format!("  {name}"))).unwrap();
            line.split("  ").filter_map(|cell| cell.trim().replace('−', "-").parse().ok()).collect()
        };
        let cornering = words.starts_with("cornering");
        let angles = row(if cornering { "Toe, + in" } else { "Toe  " });
        let lengths = row("Toe over 400.0 mm, one wheel");
        assert_eq!((angles.len(), lengths.len()), (4, 4), "{out}");
        for (angle, length) in angles.iter().zip(&lengths) {
            // Both are rounded: the angle to 0.01°, the length to 0.01 mm.
            assert!((400.0 * angle.to_radians().sin() - length).abs() < 400.0 * 0.0001 + 0.006, "{out}");
        }
        assert!(fine(&format!("{words} --units inch")).contains("Toe over 21.260 in, one wheel"), "{words}");
        let wrong = said(&format!("{words} --toe-over-mm 400 --format json"), Path::new("alder"));
        assert!(wrong.code == 2 && wrong.err.contains("--toe-over-mm is for tables"), "{wrong:?}");
    }
}

/// The stops, warnings and faults of a car in inches are in inches; one of its links' ends is a length too.
#[test]
fn messages_of_a_car_in_inches_are_in_inches() {
    let place = tempfile::tempdir().unwrap();
    let car = in_inches(&folder("demo-cars/alder.ron"), place.path());
    let stop = said("readings CAR --travel-in 20", &car);
    assert!(stop.code == 1 && stop.err.contains(" in travel"), "{stop:?}");
    let beyond = said("readings CAR --rack-in 2", &car);
    assert!(beyond.err.contains("the rack stands") && has_unit(&beyond.err, "in"), "{beyond:?}");
    // A wheelbase of 100 m, of which `check` tells.
    let text = std::fs::read_to_string(&car).unwrap();
    let start = text.find("wheelbase:").unwrap();
    let end = start + text[start..].find(',').unwrap();
    std::fs::write(&car, format!("{}wheelbase: 3937.0{}", &text[..start], &text[end..])).unwrap();
    let faults = said("check CAR", &car);
    assert!(faults.err.contains("the wheelbase comes to 3937.000 in"), "{faults:?}");
    for said in [stop, beyond, faults] {
        assert!(!has_unit(&said.err, "mm"), "{said:?}");
    }
}

/// A limit of a beam axle's rate says of which motion, in its own table and beside proposals.
#[test]
fn limits_of_a_beam_say_their_motion() {
    let place = tempfile::tempdir().unwrap();
    let limits = place.path().join("limits.ron");
    let text = "(format: \"wheelpath limits\", version: 1, units: Millimetre, axes: (x: Forward, y: Left, z: Up),\n\
        limits: [Reading(name: \"Toe rate\", reading: bump_steer, of: rear_both,\n\
        over: Travel(from: -5.0, to: 5.0), least_deg_per_m: -50.0, most_deg_per_m: 50.0)])";
    std::fs::write(&limits, text).unwrap();
    for words in [
        format!("limits hazel --limits {}", limits.display()),
        format!("compare hazel --with hazel --limits {}", limits.display()),
    ] {
        let out = fine(&words);
        assert!(out.contains("Toe rate, in heave"), "{words}\n{out}");
    }
    let words = format!("limits rowan --limits {}", limits.display());
    assert!(!fine(&words).contains("in heave"), "{words}");
}
