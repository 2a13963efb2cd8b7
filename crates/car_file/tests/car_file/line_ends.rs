//! Files with Windows' line ends and a byte-order mark in front, as some editors there write them: each is read
//! as the same file, with faults at the same lines, and what is saved over it keeps its line ends.

use crate::CAR;
use std::fs;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{
    FileSnapshot, LimitsFile, ProposalFile, TableOptions, import_points, load, load_limits, load_proposal,
    parse, parse_limits, parse_poses, parse_proposal, put, save,
};
use wheelpath_geometry::{End, Hardpoint, Side};

const ALDER: &str = include_str!("../../../../demo-cars/alder.ron");
const LIMITS: &str = include_str!("../../../../demo-cars/alder/limits.ron");
const TIE_ROD_DOWN: &str = include_str!("../../../../demo-cars/alder/tie-rod-down.ron");

fn of_windows(text: &str) -> String {
    assert!(!text.contains('\r'));
    text.replace('\n', "\r\n")
}

/// The text with Windows' line ends in a file, with a mark in front.
fn file_of(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, format!("\u{feff}{}", of_windows(text))).unwrap();
    path
}

#[test]
fn a_car_is_the_same_and_keeps_its_line_ends() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_of(folder.path(), "car.ron", CAR);
    let mut loaded = load(&path).unwrap();
    assert_eq!(loaded.car, parse(CAR, "car.ron").unwrap().car);
    loaded.car.wheelbase += 0.001;
    let hardpoints = &mut loaded.car.front.left.hardpoints;
    let at = hardpoints.get(Hardpoint::TieRodInner).unwrap();
    hardpoints.set(Hardpoint::TieRodInner, at + nalgebra::Vector3::new(0.0, 0.0, 1e-3));
    save(&loaded.document, &loaded.car, &path).unwrap();
    let saved = fs::read_to_string(&path).unwrap();
    // One side alone moved: lines are written anew, and they end as the others do.
    assert!(saved.lines().count() > CAR.lines().count());
    assert_eq!(saved.matches("\r\n").count(), saved.matches('\n').count());
    let comments = |text: &str| text.matches("//").count();
    assert_eq!(comments(&saved), comments(CAR));
    assert_eq!(load(&path).unwrap().car, loaded.car);
}

#[test]
fn limits_and_proposals_are_the_same_and_keep_their_line_ends() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_of(folder.path(), "limits.ron", LIMITS);
    let limits = load_limits(&path).unwrap();
    assert_eq!(limits, parse_limits(LIMITS, "limits.ron").unwrap());
    let car = parse(CAR, "car.ron").unwrap().car;
    let read = LimitsFile::parse(&fs::read_to_string(&path).unwrap(), "limits.ron").unwrap();
    let mut more = limits.clone();
    more[0].name = "Another name".into();
    more.push(limits[0].clone());
    let saved = read.with_limits(&more, &car).unwrap();
    put(&path, saved.text(), None).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    assert!(text.contains("Another name"));
    assert_eq!(text.matches("\r\n").count(), text.matches('\n').count());
    assert_eq!(load_limits(&path).unwrap(), more);

    let path = file_of(folder.path(), "low.ron", TIE_ROD_DOWN);
    let read = load_proposal(&path).unwrap().proposal;
    assert_eq!(read, parse_proposal(TIE_ROD_DOWN, "low.ron").unwrap().proposal);
    let alder = parse(ALDER, "alder.ron").unwrap().car;
    let mut to = read.applied(&alder).unwrap().car;
    for side in Side::BOTH {
        let hardpoints = &mut to.axle_mut(End::Front).corner_mut(side).hardpoints;
        let at = hardpoints.get(Hardpoint::TieRodOuter).unwrap();
        hardpoints.set(Hardpoint::TieRodOuter, at + nalgebra::Vector3::new(0.0, 0.0, 2e-3));
    }
    let revised = read.revised(&alder, &to).unwrap();
    assert_eq!(revised.changes.len(), read.changes.len() + 1);
    let over = |text: &str| ProposalFile::text_over(text, "low.ron", &revised).unwrap();
    let text = over(&fs::read_to_string(&path).unwrap());
    assert!(text.lines().count() > TIE_ROD_DOWN.lines().count());
    assert_eq!(text, of_windows(&over(TIE_ROD_DOWN)));
}

#[test]
fn tables_are_the_same() {
    let car = parse(CAR, "car.ron").unwrap().car;
    let table = "corner,name,x_mm,y_mm,z_mm\nfront left,tie_rod_inner,88.5,240,166.5\n";
    let import = |text: &str| import_points(&car, text, "points.csv", &TableOptions::default()).unwrap();
    let imported = import(table);
    assert_eq!(import(&format!("\u{feff}{}", of_windows(table))).car, imported.car);
    let at = imported.car.front.left.hardpoints.get(Hardpoint::TieRodInner).unwrap();
    assert!((at.x - 0.0885).abs() < 1e-12);

    let poses = "travel_mm,rack_mm\n0,0\n10,-5\n";
    let read = |text: &str| format!("{:?}", parse_poses(text, "poses.csv").unwrap());
    assert_eq!(read(&format!("\u{feff}{}", of_windows(poses))), read(poses));
}

#[test]
fn faults_stand_at_the_same_line_and_column() {
    let broken = CAR.replacen("wheelbase:", "wheelbaze:", 1);
    assert_ne!(broken, CAR);
    let said = |text: &str| parse(text, "car.ron").unwrap_err().to_string();
    let marked = format!("\u{feff}{}", of_windows(&broken));
    assert_eq!(said(&of_windows(&broken)), said(&broken));
    assert_eq!(said(&marked), said(&broken));
}

#[test]
fn a_window_sees_that_its_own_save_is_no_change_by_another() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_of(folder.path(), "car.ron", CAR);
    let seen = FileSnapshot::now(&path).unwrap();
    assert_eq!(seen, FileSnapshot::text(&of_windows(CAR)), "the mark counts for nothing");
    assert_ne!(seen, FileSnapshot::text(CAR), "line ends do");
    let again = put(&path, of_windows(CAR), Some(&seen)).unwrap();
    assert_eq!(again, FileSnapshot::now(&path).unwrap());
}
