//! Paths as people write them: with blanks and letters beyond ASCII, from where one stands, with either of
//! Windows' separators there, and with names that Windows keeps for itself.

use crate::support::{Noting, Said, wheelpath_with};
use std::fs;
use std::path::{Path, PathBuf};

fn run(words: &[&str]) -> Said {
    wheelpath_with(words, &Noting::default())
}

fn text_of(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// Alder and what stands beside it, in a folder with blanks and an umlaut in its name.
fn own_car(folder: &Path) -> PathBuf {
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    let place = folder.join("my cars, \u{e4}lter");
    fs::create_dir_all(place.join("Car 1")).unwrap();
    let car = place.join("Car 1.ron");
    fs::copy(demo.join("alder.ron"), &car).unwrap();
    for name in ["limits.ron", "tie-rod-down.ron"] {
        fs::copy(demo.join("alder").join(name), place.join("Car 1").join(name)).unwrap();
    }
    car
}

/// The ways to write a path here: on Windows with both separators, mixed too, and with a drive.
fn ways(path: &Path) -> Vec<String> {
    let text = text_of(path).to_owned();
    let round = path.parent().unwrap().join("Car 1").join("..").join(path.file_name().unwrap());
    let mut all = vec![text.clone(), text_of(&round).to_owned()];
    if cfg!(windows) {
        assert!(text.contains('\\'), "{text}");
        all.push(text.replace('\\', "/"));
        all.push(text.replacen('\\', "/", 2));
        all.push(format!(r"\\?\{text}"));
        // Windows takes letters of either case for the same.
        all.push(text.to_uppercase());
    }
    all
}

#[test]
fn a_car_is_found_with_what_stands_beside_it_however_its_path_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let car = own_car(folder.path());
    let plain = run(&["check", "alder"]);
    assert_eq!(plain.code, 0, "{plain:?}");
    for way in ways(&car) {
        let said = run(&["check", &way]);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{way}");
        let said = run(&["compare", &way, "tie-rod-down"]);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{way}");
        let said = run(&["limits", &way]);
        assert!(said.code < 2 && said.out.contains("Bump steer"), "{way}: {said:?}");
    }
}

#[test]
fn what_is_written_lands_where_its_path_leads() {
    let folder = tempfile::tempdir().unwrap();
    let car = own_car(folder.path());
    let table = car.with_file_name("points \u{fc}.csv");
    fs::write(&table, "corner,name,x_mm,y_mm,z_mm\nfront left,tie_rod_inner,88,240,166.5\n").unwrap();
    for (n, way) in ways(&car.with_file_name("low rack.ron")).into_iter().enumerate() {
        let written = car.with_file_name("low rack.ron");
        let words =
            ["import", text_of(&car), text_of(&table), "--mirror", "--as-proposal", "Low", "--output", &way];
        let said = run(&words);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{n}: {way}");
        let text = fs::read_to_string(&written).unwrap();
        assert!(text.contains("166.5"), "{way}");
        // It is there now, whichever way it is named.
        assert_eq!(run(&words).code, 2, "{way}");
        fs::remove_file(&written).unwrap();
    }
    let left: Vec<String> = fs::read_dir(car.parent().unwrap())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with('.'))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_path_that_leads_nowhere_is_said_as_it_was_written() {
    let folder = tempfile::tempdir().unwrap();
    let no = folder.path().join("no such folder").join("car.ron");
    let said = run(&["check", text_of(&no)]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains(text_of(&no)), "{}", said.err);
    assert!(said.err.contains("there is no such file or folder"), "{}", said.err);
    assert!(!said.err.contains("os error"), "{}", said.err);
    // A folder is no car.
    let said = run(&["check", text_of(folder.path())]);
    assert!(said.code == 2 && said.err.contains("it is a folder"), "{}", said.err);
}

/// Windows, "Naming Files, Paths, and Namespaces" (Microsoft, from memory): these characters are in no name.
#[cfg(windows)]
#[test]
fn a_name_that_windows_does_not_allow_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let car = own_car(folder.path());
    let table = car.with_file_name("points.csv");
    fs::write(&table, "corner,name,x_mm,y_mm,z_mm\nfront left,tie_rod_inner,88,240,166.5\n").unwrap();
    for name in ["a?.ron", "a*.ron", "a|b.ron", "a<b>.ron"] {
        let out = folder.path().join(name);
        let said = run(&[
            "import",
            text_of(&car),
            text_of(&table),
            "--as-proposal",
            "Low",
            "--output",
            text_of(&out),
        ]);
        assert_eq!(said.code, 2, "{name}");
        assert!(said.err.contains("cannot write") && !said.err.contains("os error"), "{}", said.err);
        assert!(said.err.contains("the system does not allow it"), "{}", said.err);
    }
}
