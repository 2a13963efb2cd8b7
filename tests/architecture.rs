//! Which crate may reach which, and what must never be reached: the invariants of DEVELOPERS.md, read
//! off the resolved dependencies.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

/// Every crate a package's library reaches, however far: normal dependencies alone.
fn reached(package: &str, features: &[&str]) -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .args(["tree", "--package", package, "--edges", "normal", "--prefix", "none"])
        .args(["--format", "{p}", "--locked", "--offline"])
        .args(features)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(".."))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

/// The crates of this project that a package may reach, itself included, and families that it must not.
fn check(package: &str, ours: &[&str], never: &[&str]) {
    let all = reached(package, &[]);
    assert!(all.contains(package), "{package} is not in its own tree");
    let own: BTreeSet<&str> =
        all.iter().map(String::as_str).filter(|name| name.starts_with("wheelpath")).collect();
    let allowed: BTreeSet<&str> = ours.iter().copied().chain([package]).collect();
    let beyond: Vec<_> = own.difference(&allowed).collect();
    assert!(beyond.is_empty(), "{package} reaches {beyond:?}");
    for family in never {
        let found: Vec<_> =
            all.iter().filter(|name| name == family || name.starts_with(&format!("{family}_"))).collect();
        assert!(found.is_empty(), "{package} reaches {found:?}");
    }
}

const WINDOW: [&str; 5] = ["bevy", "wgpu", "winit", "egui", "egui_plot"];
const FILES: [&str; 5] = ["serde", "ron", "csv", "serde_json", "tempfile"];

#[test]
fn geometry_reaches_no_file_and_no_window() {
    check("wheelpath-geometry", &[], &[&WINDOW[..], &FILES, &["clap", "rayon"]].concat());
}

#[test]
fn car_files_reach_no_window() {
    check("wheelpath-car-file", &["wheelpath-geometry"], &WINDOW);
}

#[test]
fn reports_reach_no_file_and_no_window() {
    let files = ["ron", "csv", "tempfile"];
    check("wheelpath-report", &["wheelpath-geometry", "wheelpath-studies"], &[&WINDOW[..], &files].concat());
}

#[test]
fn studies_reach_no_file_and_no_window() {
    check(
        "wheelpath-studies",
        &["wheelpath-geometry"],
        &[&WINDOW[..], &["ron", "csv", "tempfile", "clap"]].concat(),
    );
}

#[test]
fn projects_reach_no_window_and_no_command_line() {
    let ours = ["wheelpath-geometry", "wheelpath-car-file"];
    check("wheelpath-project", &ours, &[&WINDOW[..], &["clap"]].concat());
}

#[test]
fn sessions_reach_no_window_and_no_command_line() {
    let ours = [
        "wheelpath-geometry",
        "wheelpath-car-file",
        "wheelpath-project",
        "wheelpath-report",
        "wheelpath-studies",
    ];
    check("wheelpath-session", &ours, &[&WINDOW[..], &["clap"]].concat());
}

#[test]
fn the_command_line_reaches_no_window() {
    let ours = [
        "wheelpath-geometry",
        "wheelpath-car-file",
        "wheelpath-project",
        "wheelpath-report",
        "wheelpath-studies",
    ];
    check("wheelpath-command-line", &ours, &WINDOW);
}

/// The stage draws what is described to it.
#[test]
fn the_stage_reaches_no_car_and_no_file() {
    check("wheelpath-stage", &[], &["csv", "clap"]);
    let all = reached("wheelpath-stage", &["--no-default-features"]);
    let found: Vec<_> = WINDOW.iter().chain(&FILES).filter(|name| all.contains(**name)).collect();
    assert!(found.is_empty(), "the arithmetic of the stage reaches {found:?}");
}

/// The executable without its window is the small one.
#[test]
fn the_small_executable_reaches_no_window() {
    let all = reached("wheelpath", &["--no-default-features"]);
    let found: Vec<_> = WINDOW.iter().filter(|name| all.contains(**name)).collect();
    assert!(found.is_empty(), "without its window the executable reaches {found:?}");
    let whole = reached("wheelpath", &[]);
    assert!(whole.contains("bevy"), "the check above looks for the wrong name");
}

/// Every package from elsewhere with the features that it is built with.
fn built_with(arguments: &[&str]) -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .args(["tree", "--prefix", "none", "--format", "{p} {f}", "--locked", "--offline"])
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(".."))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    let lines = text.lines().map(|line| line.trim_end_matches("(*)").trim_end().to_owned());
    lines.filter(|line| !line.is_empty() && !line.starts_with("wheelpath")).collect()
}

/// Another feature of one package would have the 3D engine built twice, once for `cargo run` and once for
/// `cargo test`.
#[test]
fn the_window_alone_is_built_as_it_is_with_everything() {
    let alone = built_with(&["--package", "wheelpath", "--edges", "normal,build"]);
    let with_all = built_with(&["--workspace", "--edges", "normal,build,dev"]);
    assert!(alone.iter().any(|line| line.starts_with("bevy ")), "the window is missing from {alone:?}");
    let differ: Vec<&String> = alone.difference(&with_all).collect();
    assert!(differ.is_empty(), "with other features than in the whole workspace: {differ:?}");
}

/// Every Rust file below a folder, with its text.
fn sources(folder: &Path) -> Vec<(std::path::PathBuf, String)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.append(&mut sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            all.push((path, text));
        }
    }
    all
}

/// The bounds of every `clamp` in a text, as they are written there.
fn clamps(text: &str) -> Vec<&str> {
    let after = |(at, call): (usize, &str)| {
        let rest = &text[at + call.len()..];
        let mut depth = 1_i32;
        let end = rest.find(|letter| {
            depth += i32::from(letter == '(') - i32::from(letter == ')');
            depth == 0
        });
        rest[..end.unwrap_or(rest.len())].trim()
    };
    text.match_indices(".clamp(").map(after).collect()
}

/// Whether bounds stand as numbers, so that whoever reads them sees that they do not cross.
fn are_numbers(bounds: &str) -> bool {
    let number = |bound: &str| {
        let bound = bound.trim().trim_start_matches('-');
        bound.starts_with(|letter: char| letter.is_ascii_digit())
            && bound.chars().all(|letter| letter.is_ascii_digit() || letter == '.' || letter == '_')
    };
    let ends: Vec<&str> = bounds.trim_end_matches(',').split(',').collect();
    ends.len() == 2 && ends.into_iter().all(number)
}

/// `clamp` panics where its bounds cross or one is not a number, and bounds that are computed from the size of
/// a window or of a car may do both: there `between` stands, or `max` and `min`, which never panic.
#[test]
fn the_window_clamps_between_numbers_alone() {
    let known = ["-FRAC_PI_2, FRAC_PI_2"];
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    let mut found = 0;
    for (path, text) in
        ["app", "session", "stage"].iter().flat_map(|one| sources(&crates.join(one).join("src")))
    {
        for bounds in clamps(&text) {
            found += 1;
            assert!(
                are_numbers(bounds) || known.contains(&bounds),
                "{}: clamp({bounds}) panics where these bounds cross; write between()",
                path.display()
            );
        }
    }
    assert!(found > 5, "{found} are found: is the folder the right one?");
    assert!(are_numbers("-0.09, -0.02") && are_numbers("480, 16_000") && !are_numbers("least, most"));
    assert_eq!(clamps("a.clamp(f(1), g(2)); b.clamp(0.0, 1.0)"), ["f(1), g(2)", "0.0, 1.0"]);
}
