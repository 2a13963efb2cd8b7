//! The demo cars and what stands beside them, inside the executable, so that it works from anywhere.

use wheelpath_car_file::{LoadError, parse};
use wheelpath_geometry::Car;

/// The text of the demo car Alder.
pub const ALDER: &str = include_str!("../../../demo-cars/alder.ron");

/// The demo cars, by the words for them where a car file is asked for.
pub(crate) const CARS: [(&str, &str); 4] = [
    ("alder", ALDER),
    ("hazel", include_str!("../../../demo-cars/hazel.ron")),
    ("rowan", include_str!("../../../demo-cars/rowan.ron")),
    ("sorrel", include_str!("../../../demo-cars/sorrel.ron")),
];

/// Files in the folders of the demo cars: car, name without ending, text.
const COMPANIONS: [(&str, &str, &str); 5] = [
    ("alder", "brackets", include_str!("../../../demo-cars/alder/brackets.ron")),
    ("alder", "limits", include_str!("../../../demo-cars/alder/limits.ron")),
    ("alder", "tie-rod-down", include_str!("../../../demo-cars/alder/tie-rod-down.ron")),
    ("alder", "arms-outboard", include_str!("../../../demo-cars/alder/arms-outboard.ron")),
    ("hazel", "right-rear-link-longer", include_str!("../../../demo-cars/hazel/right-rear-link-longer.ron")),
];

/// The demo cars as they were built: nobody measured a number of theirs.
///
/// # Errors
/// A demo car has a fault; a test sees to it that none has one.
pub fn demo_cars() -> Result<Vec<Car>, LoadError> {
    CARS.iter().map(|(word, text)| Ok(parse(text, word)?.car)).collect()
}

/// The words for the demo cars where a car file is asked for.
#[must_use]
pub fn demo_car_words() -> [&'static str; 4] {
    CARS.map(|(word, _)| word)
}

/// The names without ending of what stands beside the demo car of this word, sorted.
pub(crate) fn names_beside(word: &str) -> Vec<&'static str> {
    let mut names: Vec<_> =
        COMPANIONS.iter().filter(|(of, ..)| *of == word).map(|(_, name, _)| *name).collect();
    names.sort_unstable();
    names
}

/// A file of this name beside the demo car of this word: its text, and its name in messages.
pub(crate) fn file_beside(word: &str, name: &str) -> Option<(&'static str, String)> {
    let (of, one, text) = COMPANIONS.into_iter().find(|(of, one, _)| *of == word && *one == name)?;
    Some((text, format!("demo-cars/{of}/{one}.ron")))
}

#[cfg(test)]
mod tests {
    use super::{CARS, COMPANIONS, demo_cars};
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn the_executable_holds_every_demo_car_and_all_that_stands_beside_them() {
        assert_eq!(crate::demo_car().unwrap().loaded.car.name, "Alder");
        assert_eq!(demo_cars().unwrap().len(), CARS.len());
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
        let stems = |folder: &Path| -> BTreeSet<String> {
            let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
            let files = paths.filter(|path| path.extension().is_some_and(|end| end == "ron"));
            files.map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned()).collect()
        };
        let words: BTreeSet<String> = CARS.iter().map(|(word, _)| (*word).to_owned()).collect();
        assert_eq!(words, stems(&folder));
        for word in words {
            let beside = folder.join(&word);
            let there = if beside.is_dir() { stems(&beside) } else { BTreeSet::new() };
            let held =
                COMPANIONS.iter().filter(|(of, ..)| *of == word).map(|(_, name, _)| (*name).to_owned());
            assert_eq!(held.collect::<BTreeSet<_>>(), there, "{word}");
        }
    }
}
