//! Files that take from each other in a circle can only be read together: few may, and only parts of one room.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use wheelpath_tests::sources::{code, files_below};

/// The rooms whose parts take from each other, by crate. A file and the files in its own folder may.
const KNOWN: [(&str, &str); 5] = [
    // A car's blocks stand in one another.
    ("car_file", "read"),
    ("command_line", "arguments"),
    ("command_line", "console"),
    // The solver of an axle, and the answers that are its methods.
    ("geometry", "axle"),
    ("session", "derived::curves"),
];

/// Which module takes from which.
type Arrows = BTreeMap<String, BTreeSet<String>>;

/// The module of a file: `a::b` for `a/b.rs` and `a/b/mod.rs`; `None` for tests and the crate's root.
fn module_of(below: &Path) -> Option<String> {
    let parts: Vec<&str> = below.iter().map(|part| part.to_str().unwrap()).collect();
    let name = parts.join("::");
    let name = name.strip_suffix(".rs")?;
    let name = name.strip_suffix("::mod").unwrap_or(name);
    let is_test = parts.contains(&"tests") || name.ends_with("tests");
    (!is_test && !["lib", "main"].contains(&name)).then(|| name.to_owned())
}

/// The paths that begin with `start`, written out where they stand in braces.
fn paths(code: &str, start: &str) -> Vec<String> {
    let is_word = |letter: char| letter.is_ascii_alphanumeric() || letter == '_';
    let mut all = Vec::new();
    for (at, _) in code.match_indices(start) {
        if code[..at].ends_with(is_word) || code[..at].ends_with("::") {
            continue;
        }
        written_out("", &code[at + start.len()..], &mut all);
    }
    all
}

/// Puts every path that begins here into the list; gives the rest behind it.
fn written_out<'t>(base: &str, text: &'t str, all: &mut Vec<String>) -> &'t str {
    let is_path = |letter: char| letter.is_ascii_alphanumeric() || letter == '_' || letter == ':';
    let end = text.find(|letter| !is_path(letter)).unwrap_or(text.len());
    let path = format!("{base}{}", &text[..end]);
    let Some(mut rest) = text[end..].strip_prefix('{').filter(|_| path.is_empty() || path.ends_with("::"))
    else {
        all.push(path);
        return &text[end..];
    };
    while !rest.is_empty() {
        rest = rest.trim_start_matches(|letter: char| letter.is_whitespace() || letter == ',');
        if let Some(after) = rest.strip_prefix('}') {
            return after;
        }
        let before = rest.len();
        rest = written_out(&path, rest, all);
        // Past what is no path, such as a name given after `as`.
        let next = rest.find([',', '}', '{', ';']).unwrap_or(rest.len());
        rest = &rest[next..];
        if rest.starts_with([';', '{']) || rest.len() == before {
            return rest;
        }
    }
    rest
}

fn arrows(source: &Path) -> Arrows {
    let texts: BTreeMap<String, String> = files_below(source)
        .into_iter()
        .filter_map(|file| {
            let module = module_of(file.strip_prefix(source).unwrap())?;
            Some((module, code(&std::fs::read_to_string(&file).unwrap())))
        })
        .collect();
    let mut arrows = Arrows::new();
    for (module, text) in &texts {
        let own = arrows.entry(module.clone()).or_default();
        let parts: Vec<&str> = module.split("::").collect();
        let above = |up: usize| parts[..parts.len().saturating_sub(up)].join("::");
        let bases = [
            ("crate::", String::new()),
            ("self::", module.clone()),
            ("super::super::", above(2)),
            ("super::", above(1)),
        ];
        for (start, base) in bases {
            for path in paths(text, start) {
                let whole = [base.as_str(), &path]
                    .iter()
                    .filter(|part| !part.is_empty())
                    .copied()
                    .collect::<Vec<_>>();
                let whole = whole.join("::");
                let names: Vec<&str> = whole.split("::").filter(|name| !name.is_empty()).collect();
                let found = (1..=names.len()).rev().map(|count| names[..count].join("::"));
                let found = found.into_iter().find(|name| texts.contains_key(name));
                own.extend(found.filter(|name| name != module));
            }
        }
    }
    arrows
}

fn reached<'a>(arrows: &'a Arrows, from: &str) -> BTreeSet<&'a str> {
    let mut seen = BTreeSet::new();
    let mut next: Vec<&str> = vec![from];
    while let Some(one) = next.pop() {
        for to in arrows.get(one).into_iter().flatten() {
            if seen.insert(to.as_str()) {
                next.push(to);
            }
        }
    }
    seen
}

/// The circles: sets of modules each of which takes from all of them by way of others.
fn circles(arrows: &Arrows) -> BTreeSet<BTreeSet<String>> {
    let mut all = BTreeSet::new();
    for module in arrows.keys() {
        let there = reached(arrows, module);
        if there.contains(module.as_str()) {
            let back = there.iter().filter(|other| reached(arrows, other).contains(module.as_str()));
            all.insert(back.map(|other| (*other).to_owned()).collect());
        }
    }
    all
}

#[test]
fn files_form_no_circle_but_the_parts_of_one_room() {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    let mut found: BTreeSet<&(&str, &str)> = BTreeSet::new();
    let mut count = 0;
    for entry in std::fs::read_dir(&crates).unwrap() {
        let package = entry.unwrap().file_name().into_string().unwrap();
        let arrows = arrows(&crates.join(&package).join("src"));
        count += arrows.values().map(BTreeSet::len).sum::<usize>();
        for circle in circles(&arrows) {
            let root = circle.iter().min_by_key(|name| name.len()).unwrap();
            if circle.iter().all(|name| name == root || name.starts_with(&format!("{root}::"))) {
                continue;
            }
            let room = KNOWN.iter().find(|(of, room)| {
                *of == package && circle.iter().all(|name| name.starts_with(&format!("{room}::")))
            });
            assert!(room.is_some(), "{package}: {circle:?} take from each other");
            found.extend(room);
        }
    }
    assert!(count > 800, "only {count} arrows: the reading of the sources fails");
    assert_eq!(found.len(), KNOWN.len(), "a circle that is listed is no more: {found:?}");
}

#[test]
fn a_path_is_found_in_every_way_of_writing_it() {
    let text = "use crate::a::{b::C, d::{E, F as G}, h};\nfn f() { crate::i::j(); other_crate::k() }";
    let found = paths(&code(text), "crate::");
    assert_eq!(found, ["a::b::C", "a::d::E", "a::d::F", "a::h", "i::j"]);
    let arrows: Arrows = [("x", vec!["y"]), ("y", vec!["z"]), ("z", vec!["y"])]
        .into_iter()
        .map(|(from, to)| (from.to_owned(), to.into_iter().map(str::to_owned).collect()))
        .collect();
    assert_eq!(circles(&arrows), [["y", "z"].map(str::to_owned).into()].into());
}
