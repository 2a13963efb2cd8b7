//! Which folder of a crate may take from which: inside each crate, too, every arrow points down.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use wheelpath_tests::sources::{code, files_below};

/// The folders and single files of geometry, the lowest first: each takes only from those before it.
const GEOMETRY: [&str; 15] = [
    "number",
    "car",
    "mechanism",
    "linkage",
    "change",
    "driven",
    "corner",
    "axle",
    "readings",
    "sensitivity",
    "range",
    "sweep",
    "road",
    "requirement",
    "check",
];

/// The same of car_file.
const CAR_FILE: [&str; 8] = ["text", "fault", "read", "disk", "schema", "write", "table", "companion"];

/// What stands directly below a crate's `src`, and what each of them takes from the others, with a file that does.
type Arrows = BTreeMap<String, BTreeMap<String, PathBuf>>;

fn source_of(package: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates").join(package).join("src")
}

/// The names that follow a path such as `crate::`, those in braces too.
fn taken(code: &str, path: &str) -> BTreeSet<String> {
    let word = |text: &str| -> String {
        text.chars().take_while(|letter| letter.is_ascii_alphanumeric() || *letter == '_').collect()
    };
    let mut all = BTreeSet::new();
    for (at, call) in code.match_indices(path) {
        let rest = &code[at + call.len()..];
        match rest.strip_prefix('{') {
            Some(list) => {
                let end = list.find(';').unwrap_or(list.len());
                all.extend(list[..end].split([',', '{', '}']).map(|one| word(one.trim())));
            }
            None => drop(all.insert(word(rest))),
        }
    }
    all.remove("");
    all
}

fn arrows(package: &str) -> Arrows {
    arrows_below(&source_of(package), "crate::")
}

/// The same of what stands directly below a folder, `path` being what leads there.
fn arrows_below(source: &Path, path: &str) -> Arrows {
    let files: Vec<PathBuf> = files_below(source);
    let place = |file: &Path| {
        let below = file.strip_prefix(source).unwrap();
        let first = below.components().next().unwrap().as_os_str().to_str().unwrap();
        first.trim_end_matches(".rs").to_owned()
    };
    let places: BTreeSet<String> = files.iter().map(|file| place(file)).collect();
    let mut arrows = Arrows::new();
    for file in &files {
        let from = place(file);
        let below = file.strip_prefix(source).unwrap();
        let is_test =
            below.components().any(|part| part.as_os_str() == "tests") || file.ends_with("tests.rs");
        if is_test || from == "lib" || from == "main" || from == "mod" {
            continue;
        }
        let own = arrows.entry(from.clone()).or_default();
        for name in taken(&code(&std::fs::read_to_string(file).unwrap()), path) {
            if name != from && places.contains(&name) {
                own.insert(name, file.clone());
            }
        }
    }
    arrows
}

/// Asserts that everything in a crate takes only from what stands before it in the list; gives the number of arrows.
fn arrows_point_down(package: &str, order: &[&str]) -> usize {
    let arrows = arrows(package);
    let listed: BTreeSet<&str> = order.iter().copied().collect();
    let there: BTreeSet<&str> = arrows.keys().map(String::as_str).collect();
    assert_eq!(listed, there, "the list above names what stands in {package}");
    let floor = |name: &str| order.iter().position(|one| *one == name).unwrap();
    let mut count = 0;
    for (from, all) in &arrows {
        for (to, file) in all {
            assert!(floor(to) < floor(from), "{from} takes from {to}: {}", file.display());
            count += 1;
        }
    }
    count
}

#[test]
fn each_folder_of_geometry_and_car_file_takes_only_from_those_below_it() {
    for (package, order, least) in [("geometry", &GEOMETRY[..], 50), ("car_file", &CAR_FILE, 10)] {
        let count = arrows_point_down(package, order);
        assert!(count > least, "only {count} arrows in {package}: the reading of the sources fails");
    }
}

/// A folder, or a file beside folders, that takes from itself by way of others.
fn circle(source: &Path, path: &str) -> Option<String> {
    let arrows = arrows_below(source, path);
    let reached = |start: &String| {
        let mut seen = BTreeSet::new();
        let mut next = vec![start];
        while let Some(one) = next.pop() {
            for to in arrows.get(one).into_iter().flatten().map(|(to, _)| to) {
                if arrows.contains_key(to) && seen.insert(to) {
                    next.push(to);
                }
            }
        }
        seen
    };
    arrows.keys().find(|name| reached(name).contains(name)).map(|name| format!("{path}{name}"))
}

#[test]
fn folders_and_files_of_a_crate_form_no_circle_but_within_a_folder() {
    for package in
        ["geometry", "car_file", "project", "studies", "report", "command_line", "session", "stage", "app"]
    {
        assert_eq!(circle(&source_of(package), "crate::"), None, "{package}");
    }
    for (source, path) in
        [(source_of("app").join("panels"), "crate::panels::"), (source_of("stage"), "crate::")]
    {
        let count: usize = arrows_below(&source, path).values().map(BTreeMap::len).sum();
        assert!(count > 4, "only {count} arrows below {path}: the reading of the sources fails");
        assert_eq!(circle(&source, path), None);
    }
}

/// The reading of the sources finds what it is there for.
#[test]
fn an_arrow_is_seen_in_every_way_of_writing_it() {
    let text = "use crate::one::{A, B};\nuse crate::{two::C, three};\nfn f() { crate::four::g() } // crate::five\n\
                #[cfg(test)]\nmod tests {\n    use crate::six;\n}\n";
    let found = taken(&code(text), "crate::");
    assert_eq!(found, ["four", "one", "three", "two"].map(str::to_owned).into());
}

/// A page that names a file which is not there any more leads a newcomer nowhere.
#[test]
fn the_page_for_developers_names_files_that_exist() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let page = std::fs::read_to_string(root.join("DEVELOPERS.md")).unwrap();
    let below = ["crates", "tests", "examples"].map(|folder| files_below(&root.join(folder)));
    let files: Vec<String> =
        below.iter().flatten().map(|file| file.to_string_lossy().replace('\\', "/")).collect();
    let mut count = 0;
    for name in page.split('`').skip(1).step_by(2).filter(|name| name.ends_with(".rs") && !name.contains('*'))
    {
        assert!(files.iter().any(|file| file.ends_with(&format!("/{name}"))), "there is no {name}");
        count += 1;
    }
    assert!(count > 40, "only {count} names: the page is read wrongly");
}
