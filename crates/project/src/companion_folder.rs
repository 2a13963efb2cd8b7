//! Where the files of a car stand: the folder of its name.

use std::path::{Path, PathBuf};
use wheelpath_car_file::target_of;

/// The folder of what stands beside a car.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CompanionFolder {
    /// The folder, there or not: the one beside the car's file as it is named; where that is not there and
    /// the file is a link, the one beside the file to which it leads.
    pub folder: PathBuf,
    /// Another folder that could be meant and is not looked into: beside the file to which the link leads,
    /// where there is one beside the link too.
    pub passed_over: Option<PathBuf>,
}

impl CompanionFolder {
    /// Those of a car's file.
    #[must_use]
    pub fn of(car: &Path) -> CompanionFolder {
        let folder = car.with_extension("");
        let linked = target_of(car).ok().map(|target| target.with_extension(""));
        let linked = linked.filter(|linked| linked.is_dir() && !is_same(linked, &folder));
        match linked {
            Some(linked) if !folder.is_dir() => CompanionFolder { folder: linked, passed_over: None },
            passed_over => CompanionFolder { folder, passed_over },
        }
    }
}

fn is_same(a: &Path, b: &Path) -> bool {
    match (std::fs::canonicalize(a), std::fs::canonicalize(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => a == b,
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::CompanionFolder;

    #[test]
    fn beside_a_link_comes_before_beside_the_file_that_it_leads_to() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        std::fs::create_dir_all(at("real/car")).unwrap();
        std::fs::write(at("real/car.ron"), "").unwrap();
        std::os::unix::fs::symlink("real/car.ron", at("link.ron")).unwrap();
        let found = CompanionFolder::of(&at("link.ron"));
        assert_eq!(found, CompanionFolder { folder: at("real/car"), passed_over: None });
        std::fs::create_dir(at("link")).unwrap();
        let found = CompanionFolder::of(&at("link.ron"));
        assert_eq!(found, CompanionFolder { folder: at("link"), passed_over: Some(at("real/car")) });
        let found = CompanionFolder::of(&at("real/car.ron"));
        assert_eq!(found, CompanionFolder { folder: at("real/car"), passed_over: None });
        // One folder by two names is one.
        std::os::unix::fs::symlink("real/car.ron", at("third.ron")).unwrap();
        std::os::unix::fs::symlink("real/car", at("third")).unwrap();
        assert_eq!(
            CompanionFolder::of(&at("third.ron")),
            CompanionFolder { folder: at("third"), passed_over: None }
        );
    }
}
