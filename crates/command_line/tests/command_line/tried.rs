//! What somebody meets who tries the tool for the first time: numbers that run away, slips in words, and what is
//! said of them.

use crate::support::{fine, json, wheelpath};

/// The same with every run of white space as one blank.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Words that are refused, and what is said then.
fn refused(words: &str, parts: &[&str]) {
    let said = wheelpath(words);
    assert_eq!(said.code, 2, "{words}: {said:?}");
    for part in parts {
        assert!(said.err.contains(part), "{words}: no {part:?} in {}", said.err);
    }
}

/// A roll centre kilometres away is none to a person; data have the number.
#[test]
fn a_roll_centre_far_away_is_told_as_none() {
    let words = "attitude sorrel --front-mm -10 --roll-deg 1";
    let data = json(&format!("{words} --format json"));
    let far =
        |end: &str| data["axles"][end]["roll_centre_lateral_mm"].as_f64().is_some_and(|at| at.abs() > 1e5);
    assert!(far("front") || far("rear"), "{data}");
    let text = fine(words);
    let row = text.lines().find(|line| line.contains("Roll-centre height  ")).unwrap();
    assert!(row.contains('—'), "{row}");
    assert!(
        plain(&text).contains("nearly parallel: it lies over 100 m away: Roll-centre height ("),
        "{text}"
    );
}

#[test]
fn points_of_another_pose_are_not_passed_off_as_the_design_pose() {
    let said = wheelpath("points alder --travel-mm 20 --format csv");
    assert_eq!(said.code, 0, "{said:?}");
    assert!(said.err.contains("not of the design pose, which `import` takes them for"), "{}", said.err);
    assert!(wheelpath("points alder --rack-mm 5 --format csv").err.contains("not of the design pose"));
    fine("points alder --travel-mm 0 --rack-mm 0 --format csv");
}

#[test]
fn one_pose_is_no_sweep_and_the_command_for_it_is_named() {
    let check = |words: &str, command: &str| refused(words, &["are one pose", command]);
    check(
        "sweep alder --travel-mm 10 --rack-mm 15",
        "`wheelpath readings alder --travel-mm 10 --rack-mm 15`",
    );
    check("sweep alder --travel-mm=-10", "`wheelpath readings alder --travel-mm -10`");
    check("sweep hazel --over steer --pitman-deg 5", "`wheelpath readings hazel --pitman-deg 5`");
    check("sweep alder --axle rear --travel-mm 10", "`wheelpath readings alder --travel-mm rear=10`");
    check("sweep alder --travel-in 1", "`wheelpath readings alder --travel-in 1`");
    check("sweep alder --axle rear --travel-in 1", "`wheelpath readings alder --travel-in rear=1`");
    // What is named runs.
    fine("readings alder --travel-mm 10 --rack-mm 15");
    fine("readings alder --travel-in rear=1");
}

#[test]
fn a_bend_beyond_all_bounds_is_refused_for_what_it_is() {
    let said = wheelpath("cornering hazel --lateral-g 1e9");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("beyond what the car can stand on its wheels"), "{}", said.err);
    assert!(!said.err.contains("not a finite number"), "{}", said.err);
    let text = fine("cornering hazel --lateral-g 0");
    assert!(text.contains(", 0.00 g lateral"), "{text}");
    assert!(fine("cornering hazel --lateral-g 0.5").contains(" in a left-hand corner: 0.50 g lateral"));
}

#[test]
fn slips_in_options_are_told_plainly() {
    refused("readings alder --travel 20", &["'--travel-mm'"]);
    refused("sweep alder --count -4", &["-4 is no count: give a whole number of 1 or more"]);
    refused("sweep alder --count 2.5", &["2.5 is no count: give a whole number of 1 or more"]);
    refused("sweep alder --count 0", &["0 is no count"]);
    refused("sweep alder --count many", &["many is not a number"]);
    refused("sweep alder --count 5000000000", &["is too many"]);
    refused("bracket alder tie-rod-down --hole-mm -3", &["-3 is no length: give a positive number"]);
    refused(
        "readings alder --travel-mm 1 --travel-in 1",
        &["--travel-mm and --travel-in are one option in two units"],
    );
    refused(
        "readings alder --travel-in 1 --travel-mm=1",
        &["--travel-mm and --travel-in are one option in two units"],
    );
    for words in
        ["readings alder --travel 20", "sweep alder --count -4", "bracket alder tie-rod-down --hole-mm -3"]
    {
        let said = wheelpath(words);
        assert!(!said.err.contains("-- -"), "{}", said.err);
        assert!(!said.err.contains("'--travel-in'"), "{}", said.err);
    }
}

#[test]
fn a_car_that_is_not_there_is_guessed() {
    refused("readings adler", &["did you mean the demo car alder?"]);
    refused("check hazl", &["did you mean the demo car hazel?"]);
    refused("readings quince", &["or a demo car: alder, hazel, rowan, sorrel"]);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("myalder");
    std::fs::write(path.with_extension("ron"), include_str!("../../../../demo-cars/alder.ron")).unwrap();
    let file = format!("did you mean the file {}.ron?", path.display());
    refused(&format!("readings {}", path.display()), &[&file, "is no file"]);
    std::fs::create_dir(&path).unwrap();
    refused(&format!("readings {}", path.display()), &[&file, "is a folder"]);
    // The unit's own word is found from its plural.
    let text = include_str!("../../../../demo-cars/alder.ron").replace("units: Millimetre", "units: Inches");
    std::fs::write(path.with_extension("ron"), text).unwrap();
    let said = wheelpath(&format!("check {}.ron", path.display()));
    assert!((said.out + &said.err).contains("did you mean Inch?"));
}

#[test]
fn two_cars_of_one_name_are_told_apart_by_their_files() {
    let folder = tempfile::tempdir().unwrap();
    let text = include_str!("../../../../demo-cars/alder.ron");
    let [a, b] = ["a.ron", "b.ron"].map(|name| folder.path().join(name));
    std::fs::write(&a, text).unwrap();
    std::fs::write(&b, text).unwrap();
    let said = wheelpath(&format!("compare {} --with {}", a.display(), b.display()));
    let found = plain(&said.out);
    assert!(found.contains("a.ron beside") && found.contains("b.ron"), "{found}");
    let other = wheelpath("compare alder --with hazel");
    assert!(other.out.starts_with("Alder beside Hazel"), "{}", other.out);
}

/// A change between numbers that read differently never reads nought.
#[test]
fn before_after_and_change_agree() {
    for proposal in ["tie-rod-down", "arms-outboard"] {
        let text = wheelpath(&format!("compare alder {proposal}")).out;
        let mut rows = 0;
        for line in text.lines().take_while(|line| !line.starts_with("Limit")) {
            let cells: Vec<&str> = line.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
            let [_, before, after, change, ..] = cells.as_slice() else { continue };
            let nought = |text: &str| text.bytes().all(|b| b == b'0' || b == b'.');
            if before != after && before.chars().any(|c| c.is_ascii_digit()) {
                assert!(!nought(change), "{line}");
                rows += 1;
            }
        }
        assert!(rows > 10, "{text}");
    }
}
