//! Files that the commands read and write: one name taken by one, names that mean something else, folders,
//! links, and what a file's words may do to a terminal.

use crate::support::{Noting, Said, alder_with, fine, wheelpath, wheelpath_with};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Barrier;

/// Tells the process of a test that it stands in the folder it is to work in.
const IN_PLACE: &str = "WHEELPATH_TEST_IN_PLACE";

/// Runs one test of this file as a process of its own in a folder: a process has one current folder.
fn run_in(test: &str, folder: &Path) {
    let out = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", &format!("files::{test}"), "--nocapture"])
        .current_dir(folder)
        .env(IN_PLACE, "yes")
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}

fn is_in_place() -> bool {
    std::env::var_os(IN_PLACE).is_some()
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// Alder's points with the left tie rod's inner end at this height.
fn moved(folder: &Path, name: &str, height: f64) -> PathBuf {
    let text = fine("points alder --format csv").replace(
        "front_left,tie_rod_inner,88.0,240.0,169.0",
        &format!("front_left,tie_rod_inner,88.0,240.0,{height:.1}"),
    );
    let file = folder.join(name);
    fs::write(&file, text).unwrap();
    file
}

#[test]
fn of_two_who_save_one_new_name_one_says_wrote() {
    let folder = tempfile::tempdir().unwrap();
    let tables = [166.5, 165.5].map(|height| moved(folder.path(), &format!("{height}.csv"), height));
    for round in 0..60 {
        let (as_proposal, option) =
            if round % 2 == 0 { ("", "--save") } else { ("--as-proposal Down", "--output") };
        let new = folder.path().join(format!("new-{round}.ron"));
        let barrier = Barrier::new(2);
        let said: Vec<Said> = std::thread::scope(|scope| {
            let both = tables.iter().map(|table| {
                let (barrier, new) = (&barrier, &new);
                scope.spawn(move || {
                    barrier.wait();
                    let (table, new) = (table.display(), new.display());
                    wheelpath(&format!("import alder {table} {as_proposal} {option} {new}"))
                })
            });
            let both: Vec<_> = both.collect();
            both.into_iter().map(|one| one.join().unwrap()).collect()
        });
        let text = fs::read_to_string(&new).unwrap();
        for (said, height) in said.iter().zip(["166.5", "165.5"]) {
            let wrote = text.contains(&format!("88.0, 240.0, {height}"));
            assert_eq!(
                (said.code, said.out.contains("wrote ")),
                if wrote { (0, true) } else { (2, false) },
                "{said:?}"
            );
            assert_eq!(said.err.contains("is there already; nothing was written"), !wrote, "{}", said.err);
        }
        assert_eq!(said.iter().filter(|said| said.code == 0).count(), 1);
    }
}

#[test]
fn a_proposal_never_takes_the_place_of_limits_or_brackets() {
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("car.ron");
    fs::write(&car, wheelpath_project::ALDER).unwrap();
    let table = moved(folder.path(), "table.csv", 166.5);
    let beside = folder.path().join("car");
    fs::create_dir(&beside).unwrap();
    for name in ["limits", "brackets"] {
        let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder");
        fs::copy(demo.join(format!("{name}.ron")), beside.join(format!("{name}.ron"))).unwrap();
    }
    let before = fs::read(beside.join("limits.ron")).unwrap();
    let propose = |name: &str, more: &[&str]| {
        let (car, table) = (car.to_string_lossy(), table.to_string_lossy());
        let words = ["import", &car, &table, "--as-proposal", name];
        wheelpath_with(&[&words, more].concat(), &Noting::default())
    };
    for (name, file) in [
        ("Limits", "limits-proposal.ron"),
        ("BRACKETS!", "brackets-proposal.ron"),
        ("nul", "nul-proposal.ron"),
    ] {
        let said = propose(name, &[]);
        assert_eq!(said.code, 0, "{said:?}");
        assert!(beside.join(file).exists(), "{:?}", names_in(&beside));
        let stem = file.trim_end_matches(".ron");
        let said = wheelpath(&format!("compare {} {stem}", car.display()));
        assert!(said.out.contains(name), "{said:?}");
    }
    let new = folder.path().join("Limits.ron");
    let said = propose("Another", &["--output", &new.to_string_lossy()]);
    assert_eq!(said.code, 2, "{said:?}");
    assert!(said.err.contains("is the name of a list of limits"), "{}", said.err);
    assert!(!new.exists());
    assert_eq!(fs::read(beside.join("limits.ron")).unwrap(), before);
}

#[test]
fn a_folder_hides_no_demo_car_and_what_could_be_meant_is_said() {
    if is_in_place() {
        for car in ["alder", "hazel", "rowan", "sorrel"] {
            fs::create_dir(car).unwrap();
            let said = wheelpath(&format!("check {car}"));
            assert!(said.code == 0 && !said.err.contains("file"), "{said:?}");
        }
        // A folder is no proposal either.
        fs::create_dir("tie-rod-down").unwrap();
        assert!(fine("compare alder tie-rod-down").contains("Tie rod down"));
        fs::write("hazel.ron", alder_with("name: \"Alder\"", "name: \"Mine\"")).unwrap();
        for command in ["check", "readings", "points"] {
            let said = wheelpath(&format!("{command} hazel"));
            assert!(said.code == 0 && !said.out.contains("Mine"), "{said:?}");
            assert!(
                said.err.contains("hazel is the demo car of that name, not the file hazel.ron here"),
                "{}",
                said.err
            );
            assert!(said.err.contains("hint: write hazel.ron to have the file"), "{}", said.err);
        }
        assert!(fine("check hazel.ron").contains("Mine"));
        fs::remove_dir("hazel").unwrap();
        fs::rename("hazel.ron", "hazel").unwrap();
        let said = wheelpath("check hazel");
        assert!(said.code == 0 && said.out.contains("Mine"), "{said:?}");
        assert!(
            said.err.contains("hazel is the file hazel here, not the demo car of that name"),
            "{}",
            said.err
        );
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    run_in("a_folder_hides_no_demo_car_and_what_could_be_meant_is_said", folder.path());
}

#[cfg(unix)]
#[test]
fn a_car_that_is_a_link_keeps_what_stands_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    fs::create_dir_all(at("real/car")).unwrap();
    fs::copy(demo.join("alder.ron"), at("real/car.ron")).unwrap();
    fs::copy(demo.join("alder/tie-rod-down.ron"), at("real/car/low.ron")).unwrap();
    std::os::unix::fs::symlink("real/car.ron", at("link.ron")).unwrap();
    let compared = |name: &str| wheelpath(&format!("compare {} {name}", at("link.ron").display()));
    let said = compared("low");
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    // One beside the link comes first, and it is said.
    fs::create_dir(at("link")).unwrap();
    fs::copy(demo.join("alder/arms-outboard.ron"), at("link/arms.ron")).unwrap();
    let said = compared("arms");
    assert_eq!(said.code, 0, "{said:?}");
    let (taken, passed) = (at("link"), at("real/car"));
    let expected = format!("{} is taken, {} is not looked into", taken.display(), passed.display());
    assert!(said.err.contains(&expected), "{}", said.err);
    assert_eq!(compared("low").code, 2);
}

/// Whatever acts in a name is seen in every output and acts in none.
#[test]
fn no_word_of_a_file_steers_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let evil = "\u{1b}]0;x\u{7}\u{9b}31m\u{202e}\nerror: forged";
    let seen = "\\u{1b}]0;x\\u{7}\\u{9b}31m\\u{202e}\\nerror: forged";
    fs::write(at("car.ron"), alder_with("name: \"Alder\"", &format!("name: \"Alder{evil}\""))).unwrap();
    fs::create_dir(at("car")).unwrap();
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder");
    for (file, name) in
        [("tie-rod-down", "Tie rod down"), ("limits", "Bump steer"), ("brackets", "Rack plate, left")]
    {
        let text = fs::read_to_string(demo.join(format!("{file}.ron"))).unwrap();
        assert!(text.contains(&format!("name: \"{name}")), "{file}");
        let text = text.replacen(&format!("name: \"{name}"), &format!("name: \"{name}{evil}"), 1);
        fs::write(at("car").join(format!("{file}.ron")), text).unwrap();
    }
    let car = at("car.ron").display().to_string();
    let sheet = at("sheet.svg").display().to_string();
    let bracket = format!("Rack plate, left{evil}");
    let table = at("table.csv");
    let text = format!("name,x_mm,y_mm,z_mm\n\"{}\",1,2,3\n", evil);
    fs::write(&table, text).unwrap();
    let table = table.display().to_string();
    let mut commands: Vec<Vec<&str>> = vec![
        vec!["check", &car],
        vec!["import", &car, &table],
        vec!["import", &car, &table, "--as-proposal", evil],
        vec!["bracket", &car, "tie-rod-down", "--bracket", &bracket, "-o", &sheet],
        vec!["bracket", &car, "tie-rod-down", "--bracket", evil],
        vec!["readings", evil],
        vec!["readings", &car, evil],
        vec!["sweep", &car, "--format", "svg", "--readings", "toe"],
        vec!["sweep", &car, "--format", "chart"],
    ];
    for format in ["table", "json", "csv"] {
        for command in ["readings", "points", "limits", "clearances", "attitude", "turn", "cornering"] {
            commands.push(vec![command, &car, "--format", format]);
        }
        commands.push(vec!["compare", &car, "tie-rod-down", "--format", format]);
    }
    let mut as_seen = 0;
    for words in &commands {
        let said = wheelpath_with(words, &Noting::default());
        for text in [&said.out, &said.err] {
            let acting = text.chars().find(|c| *c != '\n' && wheelpath_geometry::acts(*c));
            assert_eq!(acting, None, "{words:?}: {text}");
            assert!(!text.lines().any(|line| line.starts_with("error: forged")), "{words:?}: {text}");
            as_seen += usize::from(text.contains(seen));
        }
    }
    assert!(as_seen >= 12, "{as_seen}");
    let drawn = fs::read_to_string(at("sheet-1.svg")).unwrap();
    assert!(
        drawn.chars().all(|c| c == '\n' || !wheelpath_geometry::acts(c)) && drawn.contains("u{1b}"),
        "{drawn}"
    );
}
