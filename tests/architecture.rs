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
    check("wheelpath-report", &["wheelpath-geometry"], &[&WINDOW[..], &files].concat());
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
fn the_command_line_reaches_no_window() {
    let ours = ["wheelpath-geometry", "wheelpath-car-file", "wheelpath-report", "wheelpath-studies"];
    check("wheelpath-command-line", &ours, &WINDOW);
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
