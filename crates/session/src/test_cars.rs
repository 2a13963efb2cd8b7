//! Sessions on the shipped cars, for tests.

#![allow(dead_code, reason = "each crate whose tests take this file uses a part of it")]

use nalgebra::Vector3;
use std::path::{Path, PathBuf};
use wheelpath_geometry::{Car, End, Hardpoint, Proposal, Side, WheelPosition};
use wheelpath_session::{CarEdit, Edit, Session};

pub(crate) fn alder_path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder.ron")
}

pub(crate) fn alder() -> Session {
    Session::of(wheelpath_car_file::load(&alder_path()).expect("the demo car loads")).expect("and solves")
}

/// A session on a demo car or an example of a linkage, by the stem of its file.
pub(crate) fn car(stem: &str) -> Session {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let path = ["demo-cars", "examples/linkages"]
        .map(|folder| root.join(folder).join(format!("{stem}.ron")))
        .into_iter()
        .find(|path| path.exists())
        .expect(stem);
    Session::of(wheelpath_car_file::load(&path).expect(stem)).expect(stem)
}

/// The stems of all of them.
pub(crate) fn every_car() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut all = Vec::new();
    for folder in ["demo-cars", "examples/linkages"] {
        for file in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = file.unwrap().path();
            if path.extension().is_some_and(|end| end == "ron") {
                all.push(path.file_stem().unwrap().to_string_lossy().into_owned());
            }
        }
    }
    all.sort();
    assert!(all.len() >= 14, "{all:?}");
    all
}

/// A copy of Alder with its folder.
pub(crate) fn copy_of_alder(folder: &Path) -> PathBuf {
    let from = alder_path();
    let to = folder.join("alder.ron");
    std::fs::copy(&from, &to).unwrap();
    std::fs::create_dir(folder.join("alder")).unwrap();
    for entry in std::fs::read_dir(from.with_extension("")).unwrap() {
        let file = entry.unwrap().path();
        std::fs::copy(&file, folder.join("alder").join(file.file_name().unwrap())).unwrap();
    }
    to
}

/// The tie rod's inner end further up on both sides, as one step.
pub(crate) fn raise_rod(session: &mut Session, by: f64) {
    let wheel = WheelPosition { end: End::Front, side: Side::Left };
    let at = session.car().corner(wheel).hardpoints.get(Hardpoint::TieRodInner).unwrap();
    let to = at + Vector3::new(0.0, 0.0, by);
    let edit = Edit::Change(CarEdit::move_point(wheel.into(), Hardpoint::TieRodInner, to, true));
    session.apply(edit);
    session.apply(Edit::Settle);
}

/// Whether two cars are the same but for what writing and reading a number may round.
pub(crate) fn same(a: &Car, b: &Car) -> bool {
    Proposal::between("", a, b).changes.is_empty()
}
