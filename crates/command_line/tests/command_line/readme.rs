//! The commands of the README do what it says they do.

use crate::support::{Noting, json, wheelpath, wheelpath_with};
use std::path::Path;

#[test]
fn every_command_of_the_readme_runs() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let readme = std::fs::read_to_string(root.join("README.md")).unwrap();
    let mut commands = 0;
    for line in readme.lines().filter_map(|line| line.strip_prefix("wheelpath ")) {
        let words = line.split('#').next().unwrap_or_default();
        // The README is read at the top of the repository, tests run elsewhere.
        let here = |word: &str| match word.strip_prefix("demo-cars/") {
            Some(file) => root.join("demo-cars").join(file).display().to_string(),
            None => word.to_owned(),
        };
        let words: Vec<String> = words.split_whitespace().map(here).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let said = wheelpath_with(&words, &Noting::default());
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{line}");
        commands += 1;
    }
    assert!(commands >= 5, "{commands} commands in the README");
}

/// What the README shows of a proposal and of a link's length is read and does what it says.
#[test]
fn the_proposal_and_the_length_of_the_readme_can_be_made() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let readme = std::fs::read_to_string(root.join("README.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let proposal = readme.split("```ron\n").nth(1).unwrap().split("```").next().unwrap();
    for change in ["Move(", "Set(", "Shim(", "Length("] {
        assert!(proposal.contains(change), "no {change}");
    }
    let file = folder.path().join("four-ways.ron");
    std::fs::write(&file, proposal).unwrap();
    let said = wheelpath(&format!("readings alder --proposal {} --format json", file.display()));
    assert_eq!(said.code, 0, "{said:?}");
    let made: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let toe = |of: &str| made[of]["wheels"]["front_right"]["toe_deg"].as_f64().unwrap();
    assert!((toe("before") + 0.1).abs() < 1e-9 && (toe("after") + 0.05).abs() < 1e-9, "{}", toe("after"));

    // The words stand in a corner, the front left one.
    let from = readme.find("`lengths: (").unwrap();
    let lengths = readme[from + 1..].split('`').next().unwrap();
    let alder = std::fs::read_to_string(root.join("demo-cars/alder.ron")).unwrap();
    let longer = alder.replacen("pickups: (", &format!("{lengths},\n            pickups: ("), 1);
    assert_ne!(alder, longer);
    let file = folder.path().join("longer.ron");
    std::fs::write(&file, longer).unwrap();
    let said = wheelpath(&format!("readings {} --format json", file.display()));
    assert_eq!(said.code, 0, "{said:?}");
    let longer: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let toe = |car: &serde_json::Value, wheel: &str| car["wheels"][wheel]["toe_deg"].as_f64().unwrap();
    let alder = json("readings alder --format json");
    assert!((toe(&alder, "front_left") - toe(&longer, "front_left")).abs() > 0.01, "the link is longer");
}
