//! The commands of the README do what it says they do.

use crate::support::{Noting, wheelpath_with};
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
