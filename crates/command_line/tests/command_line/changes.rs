//! Proposals beside their car: compared, judged by limits, and put on a sheet to drill by.

use crate::support::{Noting, csv, found, json, wheelpath, wheelpath_with};
use std::io::Read;
use wheelpath_geometry::{AxleSolver, CarSolver, End, Side, reading};

#[test]
fn a_comparison_has_what_both_cars_read() {
    let all = json("compare alder tie-rod-down --travel-mm 20 --format json");
    let rows = all["rows"].as_array().unwrap();
    let row = rows.iter().find(|r| r["place"] == "front_left" && r["reading"] == "toe").unwrap();
    // The same by hand.
    let car = wheelpath_project::demo_car().unwrap().loaded.car;
    let mut lower = car.clone();
    for corner in [&mut lower.front.left, &mut lower.front.right] {
        let mut at = corner.hardpoints.get(wheelpath_geometry::Hardpoint::TieRodInner).unwrap();
        at.z = 0.1665;
        corner.hardpoints.set(wheelpath_geometry::Hardpoint::TieRodInner, at);
    }
    let toe = |car| {
        let solved = AxleSolver::new(car, End::Front).unwrap().solve([0.02, 0.02], 0.0).unwrap();
        solved.wheel_values(Side::Left).get(reading("toe").unwrap()).unwrap().to_degrees()
    };
    let value = |key: &str| row[key].as_f64().unwrap();
    assert!((value("before") - toe(&car)).abs() < 1e-10);
    assert!((value("after") - toe(&lower)).abs() < 1e-10);
    assert!((value("change") - (toe(&lower) - toe(&car))).abs() < 1e-10);
    assert_eq!(row["unit"], "deg");
    // Csv holds the same rows.
    let (headings, lines) = csv("compare alder tie-rod-down --travel-mm 20 --format csv");
    assert_eq!(headings, ["proposal", "place", "reading", "unit", "before", "after", "change"]);
    assert_eq!(lines.len(), rows.len());
}

#[test]
fn several_stand_side_by_side_or_are_made_as_one() {
    let text = found("compare alder tie-rod-down arms-outboard --rack-mm 20");
    assert!(text.starts_with("Alder beside Tie rod down, Steering arms outboard\n"), "{text}");
    let value = |words: &str, place: &str, key: &str| {
        let said = wheelpath(words);
        let all: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let rows = all["rows"].as_array().unwrap().clone();
        rows.iter().find(|r| r["place"] == place && r["reading"] == key).unwrap()["after"].as_f64().unwrap()
    };
    let both = "compare alder tie-rod-down arms-outboard --combined --rack-mm 20 --format json";
    let other_way = "compare alder arms-outboard tie-rod-down --combined --rack-mm 20 --format json";
    let one = value(both, "front", "ackermann_inner");
    assert!((one - value(other_way, "front", "ackermann_inner")).abs() < 1e-9);
    let alone = value("compare alder arms-outboard --rack-mm 20 --format json", "front", "ackermann_inner");
    assert!((one - alone).abs() < 1.0 && one > 45.0, "{one} {alone}");
    // A car beside itself has nothing to tell.
    let same = found("compare alder --with alder");
    assert!(same.contains("other readings are the same"), "{same}");
}

#[test]
fn limits_are_broken_and_mended() {
    let all: serde_json::Value = serde_json::from_str(&found("limits alder --format json")).unwrap();
    // Under both names: `broken` is the older one.
    assert_eq!((&all["failed"], &all["broken"]), (&1.into(), &1.into()));
    let first = &all["rows"][0];
    assert_eq!(
        (first["limit"].as_str(), first["verdict"].as_str()),
        (Some("Bump steer, front"), Some("fail"))
    );
    let worst = first["worst"].as_f64().unwrap();
    let solver = CarSolver::new(&wheelpath_project::demo_car().unwrap().loaded.car).unwrap();
    let toe = |travel: f64| {
        let solved = solver.axle(End::Front).solve([travel; 2], 0.0).unwrap();
        solved.wheel_values(Side::Left).get(reading("toe").unwrap()).unwrap().to_degrees()
    };
    assert!((worst - (toe(0.025) - toe(0.0))).abs() < 1e-9, "{worst}");
    assert_eq!(json("limits alder --proposal tie-rod-down --format json")["broken"], 0);
    assert!(found("limits alder").contains("fail  front left: travel 25.0 mm\n"));
}

/// The row of a distance names its parts, that of a joint the joint, as `clearances` does at that travel.
#[test]
fn limits_on_distances_and_joints_name_the_parts() {
    let all: serde_json::Value = serde_json::from_str(&found("limits alder --format json")).unwrap();
    let row = |key: &str| {
        let rows = all["rows"].as_array().unwrap();
        rows.iter().find(|row| row["reading"] == key).unwrap_or_else(|| panic!("no {key}: {all}"))
    };
    let distance = row("distance");
    let study = json(
        "clearances alder --axle front --from-mm -25 --to-mm 25 --count 11 --steer-count 11 --format json",
    );
    let nearest = &study["axles"][0]["distances"][0];
    for key in ["first_place", "first_part", "second_place", "second_part", "rack_mm"] {
        assert_eq!(distance[key], nearest[key], "{key}");
    }
    assert_eq!(distance["worst"], nearest["distance_mm"]);
    assert_eq!((distance["unit"].as_str(), distance["verdict"].as_str()), (Some("mm"), Some("pass")));
    let (joint, least) = (row("joint_margin"), &study["axles"][0]["joints"][0]);
    assert_eq!((&joint["joint"], &joint["wheel"]), (&least["joint"], &least["wheel"]));
    assert_eq!(joint["worst"], least["margin_deg"]);
    let text = found("limits alder");
    // Broken over lines, the last column says where, number and unit together.
    let column = text.lines().find_map(|line| line.find("where")).unwrap();
    let mut lines = text.lines().skip_while(|line| !line.starts_with("Front tyre clear"));
    let first = lines.next().into_iter();
    let lines: Vec<&str> = first.chain(lines.take_while(|line| line.starts_with(' '))).collect();
    let cells = lines.iter().map(|line| line.chars().skip(column).collect::<String>());
    let place = cells.map(|cell| cell.trim().to_owned()).filter(|cell| !cell.is_empty()).collect::<Vec<_>>();
    assert!(
        place.join(" ").starts_with("front left tyre and tie rod: travel 25.0 mm; rack −40.0 mm"),
        "{text}"
    );
    assert!(place.iter().all(|line| !line.starts_with("mm")), "{text}");
    assert!(lines[0].contains("pass"), "{text}");
}

#[test]
fn a_bracket_sheet_is_written_once_and_says_what_moved() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheet.pdf");
    let words = ["bracket", "alder", "tie-rod-down", "--normal", "0,1,0", "-o", file.to_str().unwrap()];
    let said = wheelpath_with(&words, &Noting::default());
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.contains("in the plate 0.00 mm rearward, 2.50 mm down"), "{}", said.out);
    assert!(said.out.contains("Geometry only"), "{}", said.out);
    let bytes = std::fs::read(&file).unwrap();
    assert!(bytes.starts_with(b"%PDF-"));
    // What is there is not written over unasked.
    let said = wheelpath_with(&words, &Noting::default());
    assert_eq!(said.code, 2);
    assert!(said.err.contains("is there already"), "{}", said.err);
    assert_eq!(std::fs::read(&file).unwrap(), bytes);
    // Replaced, it is another file under that name: one that is being read goes on as it was. Windows lets nobody
    // replace a file that is open anywhere where it does not know POSIX renames (before version 1607 of Windows 10,
    // on disks that are not NTFS, under Wine 8): there it is said, and nothing changes until it is closed.
    let mut opened = std::fs::File::open(&file).unwrap();
    let again = [&words[..], &["--replace", "--date", "today"]].concat();
    let mut said = wheelpath_with(&again, &Noting::default());
    let is_refused = cfg!(windows) && said.code != 0;
    if is_refused {
        assert_eq!(said.code, 2);
        assert!(said.err.contains("another program has it open"), "{}", said.err);
    } else {
        assert_ne!(std::fs::read(&file).unwrap(), bytes);
    }
    let mut read = Vec::new();
    opened.read_to_end(&mut read).unwrap();
    assert_eq!(read, bytes);
    drop(opened);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left over");
    if is_refused {
        assert_eq!(std::fs::read(&file).unwrap(), bytes, "nothing changed");
        said = wheelpath_with(&again, &Noting::default());
        assert_ne!(std::fs::read(&file).unwrap(), bytes);
    }
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let row = &json("bracket alder tie-rod-down --normal 0,1,0 --format json")["rows"][0];
    assert_eq!(row["move_up_mm"].as_f64().map(|mm| (mm * 1e9).round()), Some(-2.5e9));
    assert!(row["tolerance_mm"].as_f64().unwrap() > 0.1);
}

#[test]
fn pages_of_a_sheet_are_written_all_or_said_to_be_missing() {
    let folder = tempfile::tempdir().unwrap();
    let (one, two) = (folder.path().join("s-1.svg"), folder.path().join("s-2.svg"));
    let file = folder.path().join("s.svg");
    let words = ["bracket", "alder", "tie-rod-down", "--normal", "0,1,0", "-o", file.to_str().unwrap()];
    let again = [&words[..], &["--replace"]].concat();
    std::fs::write(&two, "mine").unwrap();
    let said = wheelpath_with(&words, &Noting::default());
    assert_eq!(said.code, 2);
    assert!(said.err.contains("s-2.svg is there already"), "{}", said.err);
    assert!(!one.exists(), "no page without the others");
    let said = wheelpath_with(&again, &Noting::default());
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let whole = [&one, &two].map(|page| std::fs::read_to_string(page).unwrap());
    assert!(whole.iter().all(|page| page.trim_end().ends_with("</svg>")));
    // The second's place cannot be taken: a folder stands there.
    std::fs::remove_file(&two).unwrap();
    std::fs::create_dir(&two).unwrap();
    let said = wheelpath_with(&again, &Noting::default());
    assert_eq!(said.code, 2);
    let (done, not) = said.err.split_once("; not written: ").unwrap();
    assert!(done.contains("s-1.svg") && !done.contains("s-2.svg") && not.contains("s-2.svg"), "{}", said.err);
    assert!(!said.out.contains("wrote"), "{}", said.out);
}

#[test]
fn a_car_of_ones_own_has_its_proposals_in_the_folder_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    let car = folder.path().join("mine.ron");
    std::fs::copy(root.join("alder.ron"), &car).unwrap();
    std::fs::create_dir(folder.path().join("mine")).unwrap();
    std::fs::copy(root.join("alder/tie-rod-down.ron"), folder.path().join("mine/lower.ron")).unwrap();
    let said = wheelpath_with(&["compare", car.to_str().unwrap(), "lower"], &Noting::default());
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{said:?}");
    let said = wheelpath_with(&["compare", car.to_str().unwrap(), "lowr"], &Noting::default());
    assert_eq!(said.code, 2);
    assert!(said.err.contains("there is no proposal lowr; did you mean lower?"), "{}", said.err);
    // Without a file of limits there is nothing to judge by.
    let said = wheelpath_with(&["limits", car.to_str().unwrap()], &Noting::default());
    assert_eq!(said.code, 2);
    assert!(said.err.contains("there are no limits for"), "{}", said.err);
    // On another car the move is made from where the point stands, and that is said.
    let text = std::fs::read_to_string(&car).unwrap().replace("(88.0, 240.0, 169.0)", "(88.0, 240.0, 170.0)");
    std::fs::write(&car, text).unwrap();
    let said = wheelpath_with(&["compare", car.to_str().unwrap(), "lower"], &Noting::default());
    assert_eq!(said.code, 0);
    assert!(said.err.contains("is (88.0, 240.0, 170.0) mm, not (88.0, 240.0, 169.0) mm"), "{}", said.err);
}

#[test]
fn what_makes_no_sense_is_said_with_a_remedy() {
    let check = |words: &str, code: u8, says: &str| {
        let said = wheelpath(words);
        assert_eq!(said.code, code, "{words}: {said:?}");
        assert!(said.err.contains(says), "{words}: {said:?}");
    };
    check("compare alder", 2, "nothing to compare the car with");
    check("compare rowan tie-rod-down", 2, "there is no proposal tie-rod-down\n");
    check("limits rowan", 2, "demo-cars/alder/limits.ron shows");
    check("limits alder --limits nowhere.ron", 2, "cannot read nowhere.ron");
    check("bracket alder tie-rod-down", 2, "plane is not known");
    check("bracket alder tie-rod-down --normal 0,0,0", 2, "no direction");
    check("bracket alder tie-rod-down --normal 0,1", 2, "not three numbers");
    check("bracket alder tie-rod-down --normal 0,1,0 --of rear_left", 2, "it moves some of front_left");
    check("bracket alder tie-rod-down --normal 0,1,0 --holes pushrod_inner", 2, "does not move");
    check("bracket alder tie-rod-down --normal 0,1,0 --references tie_rod_inner", 2, "is moved itself");
    check("bracket alder tie-rod-down --normal 0,1,0 -o sheet.doc", 2, "no ending that a sheet");
    check("bracket alder tie-rod-down --through tie_rod_inner,tie_rod_inner,pushrod_inner", 2, "line");
}

/// A length that is not as the proposal says is moved by as much, and the warning says what came of it; one that is
/// as it says to the digits written warns of nothing.
#[test]
fn a_length_is_moved_as_the_hint_says() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("leg.ron");
    let proposed = |was: &str, now: &str| {
        let text = format!(
            "(format: \"wheelpath proposal\", version: 1, name: \"Leg\", car: \"Hazel\", units: Millimetre, \
             axes: (x: Forward, y: Left, z: Up), \
             changes: [Length(link: upper_front_leg, of: front_left, was: {was}, now: {now})])"
        );
        std::fs::write(&file, text).unwrap();
        let said = wheelpath_with(
            &["compare", "hazel", file.to_str().unwrap(), "--format", "json"],
            &Noting::default(),
        );
        let all: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
        let rows = all["rows"].as_array().unwrap();
        let row = rows.iter().find(|r| r["place"] == "front_left" && r["reading"] == "caster").unwrap();
        (said.err, row["change"].as_f64().unwrap())
    };
    let (warned, moved) = proposed("276.4", "278.4");
    assert!(
        warned.contains("upper wishbone, front leg, length, front left, is 281.5 mm, not 276.4 mm"),
        "{warned}"
    );
    assert!(warned.contains("moved by the same amount from where it is, to 283.5 mm"), "{warned}");
    let (silent, set) = proposed("281.5", "283.5");
    assert_eq!(silent, "");
    assert!((0.4..0.55).contains(&moved) && (moved - set).abs() < 0.01, "{moved} {set}");
}

/// A slipped number of a proposal is as doubtful as one of a car file; what was doubtful before is not said again.
#[test]
fn what_a_proposal_makes_doubtful_is_warned_of() {
    let folder = tempfile::tempdir().unwrap();
    let proposal = |name: &str, change: &str| {
        let path = folder.path().join(name);
        let text = format!(
            "(format: \"wheelpath proposal\", version: 1, name: \"Wide\", car: \"Alder\", units: Millimetre, axes: \
             (x: Forward, y: Left, z: Up), changes: [{change}])"
        );
        std::fs::write(&path, text).unwrap();
        path
    };
    let width = |now: f64| format!("Set(number: tyre_width, of: front_both, was: 190.0, now: {now:?})");
    for (name, now, is_doubtful) in [("slipped.ron", 19.0, true), ("wider.ron", 200.0, false)] {
        let path = proposal(name, &width(now));
        let said =
            wheelpath_with(&["readings", "alder", "--proposal", path.to_str().unwrap()], &Noting::default());
        assert_eq!(said.code, 0, "{}", said.err);
        let count = said.err.matches("Wide: the front tyre's width over the rear one's is").count();
        assert_eq!(count, usize::from(is_doubtful), "{now}: {}", said.err);
    }
}
