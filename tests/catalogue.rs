//! Every reading of the catalogue says, in `README.md`, what stands behind it.

use std::path::Path;
use wheelpath_geometry::{axle_readings, reading, wheel_readings};

fn readme() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap()
}

/// Names in back quotes in the first column of the last table.
fn named(text: &str) -> Vec<&str> {
    let table = text.split("## Reading by reading").nth(1).unwrap();
    let rows = table.lines().filter(|line| line.starts_with("| `"));
    rows.flat_map(|row| row.split('|').nth(1).unwrap().split('`').skip(1).step_by(2)).collect()
}

#[test]
fn every_reading_stands_in_the_table_once() {
    let text = readme();
    let named = named(&text);
    for reading in wheel_readings().iter().chain(axle_readings()) {
        let times = named.iter().filter(|name| **name == reading.key).count();
        assert_eq!(times, 1, "{} stands {times} times in tests/README.md", reading.key);
    }
    for name in named {
        assert!(reading(name).is_some(), "tests/README.md names `{name}`, which is no reading");
    }
}

/// Every test file stands in the table of tests.
#[test]
fn every_test_is_described() {
    let text = readme();
    let manifest = include_str!("Cargo.toml");
    let mut lines = manifest.lines().skip_while(|line| *line != "[[test]]");
    let mut seen = 0;
    while let Some(line) = lines.next() {
        if line == "[[test]]" {
            let name = lines.next().and_then(|line| line.split('"').nth(1)).unwrap();
            assert!(text.contains(&format!("| `{name}` |")), "tests/README.md does not describe `{name}`");
            seen += 1;
        }
    }
    assert!(seen > 8);
}
