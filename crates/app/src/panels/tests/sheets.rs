//! Brackets in the window: plates kept beside the car, sheets written beside the window.

use super::which_way::wait;
use super::{Bench, FRONT_LEFT, FRONT_RIGHT, Task, bench, settled};
use crate::test_cars::copy_of_alder;
use bevy_egui::egui::vec2;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use std::path::Path;
use wheelpath_geometry::{Assembly, Hardpoint};
use wheelpath_session::{Beside, CarEdit, Edit, FileCommand, PlateBy, Session};

/// The drawer on a copy of Alder with its folder.
fn deciding(folder: &Path) -> Harness<'static, Bench> {
    let car = copy_of_alder(folder);
    bench(vec2(1280.0, 2200.0), |bench| {
        bench.session = Session::open(&car).unwrap();
        bench.state.task = Task::Decide;
    })
}

/// Both tie rods' inner ends, 2.5 mm.
fn lower_the_rod(harness: &mut Harness<'static, Bench>) {
    let assembly: Assembly = FRONT_LEFT.into();
    let from = assembly.hardpoints(harness.state().session.car()).get(Hardpoint::TieRodInner).unwrap();
    let to = from - nalgebra::Vector3::new(0.0, 0.0, 2.5e-3);
    let change = CarEdit::move_point(assembly, Hardpoint::TieRodInner, to, true);
    harness.state_mut().session.apply(Edit::Change(change));
    harness.run();
}

/// Clicks for a sheet of the left rack plate, and goes on for as many frames as it takes to be asked for.
fn ask_for(harness: &mut Harness<'static, Bench>, ending: &str) {
    settled(harness);
    harness.get_by_label(&format!("Sheet of Rack plate, left, {ending}")).click();
    until_asked(harness);
}

/// Goes on for as many frames as a click takes to ask for a sheet.
fn until_asked(harness: &mut Harness<'static, Bench>) {
    for _ in 0..6 {
        if harness.state().session.sheet_in_hand().is_none() {
            harness.step();
        }
    }
    assert!(harness.state().session.sheet_in_hand().is_some(), "{:?}", harness.state().session.notices());
}

fn done(harness: &Harness<'static, Bench>) -> bool {
    harness.state().session.sheet_in_hand().is_none()
}

fn shows(harness: &Harness<'static, Bench>, text: &str) -> bool {
    harness.query_all_by_label_contains(text).next().is_some()
}

#[test]
fn the_plate_of_a_bracket_is_known_and_its_sheet_is_written_for_what_is_moved() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    let assembly: Assembly = FRONT_LEFT.into();
    let normal = harness.state().session.plate(assembly, Hardpoint::TieRodInner).unwrap();
    assert!((normal - nalgebra::Vector3::y()).norm() < 1e-12, "the rack's plate faces left: {normal}");
    assert!(harness.query_by_label("Sheet of Rack plate, left, pdf").is_none(), "nothing is moved");
    lower_the_rod(&mut harness);
    harness.run();
    for ending in ["pdf", "svg", "dxf"] {
        ask_for(&mut harness, ending);
        wait(&mut harness, |harness| harness.state().session.sheet_in_hand().is_none());
        let written = harness.state().session.sheets_written().to_vec();
        assert!(!written.is_empty(), "{:?}", harness.state().session.notices());
        for file in written {
            assert!(file.starts_with(folder.path().join("alder")) && file.exists(), "{}", file.display());
        }
    }
    // The move in the plate and the caution stand on it.
    let svg =
        std::fs::read_to_string(folder.path().join("alder/unsaved-changes-rack-plate-left-1.svg")).unwrap();
    assert!(svg.contains("2.50") && svg.to_lowercase().contains("geometry only"), "{svg}");
}

#[test]
fn a_plate_that_was_described_is_kept_beside_the_car_for_both_sides() {
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("alder.ron");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder.ron");
    std::fs::copy(demo, &copy).unwrap();
    let mut harness = bench(vec2(1280.0, 2600.0), |bench| {
        bench.session = Session::open(&copy).unwrap();
    });
    harness.state_mut().state.task = Task::Change;
    harness.state_mut().state.select(Some((FRONT_LEFT.into(), Hardpoint::TieRodInner)));
    harness.run();
    assert!(harness.query_by_label("Keep the plate").is_none());
    let normal = nalgebra::Vector3::new(0.1, 1.0, 0.0);
    let by = PlateBy::Normal(normal);
    harness.state_mut().session.apply(Edit::SetPlate {
        assembly: FRONT_LEFT.into(),
        hardpoint: Hardpoint::TieRodInner,
        by,
        mirrored: true,
    });
    harness.run();
    harness.get_by_label("Keep the plate").click();
    harness.run();
    assert!(harness.query_by_label("Keep the plate").is_none(), "{:?}", harness.state().session.notices());
    let file = wheelpath_car_file::load_brackets(&folder.path().join("alder/brackets.ron")).unwrap();
    let planes: Vec<_> = file.brackets().iter().map(|bracket| bracket.plane).collect();
    let [wheelpath_geometry::BracketPlane::Normal(left), wheelpath_geometry::BracketPlane::Normal(right)] =
        planes.as_slice()
    else {
        panic!("{planes:?}")
    };
    assert!((left - normal.normalize()).norm() < 1e-9 && (right.y + left.y).abs() < 1e-9);
    // Opened again, it is known.
    let beside = Beside { brackets: file.brackets().to_vec(), ..Default::default() };
    let again = Session::open(&copy).unwrap().with_beside(beside);
    assert!(again.plate(FRONT_RIGHT.into(), Hardpoint::TieRodInner).is_some());
}

#[test]
fn a_sheet_is_written_beside_the_window_and_is_that_of_the_click() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    lower_the_rod(&mut harness);
    let file = folder.path().join("alder/unsaved-changes-rack-plate-left-1.svg");
    ask_for(&mut harness, "svg");
    assert!(!file.exists(), "nothing is computed in the frame of the click");
    harness.step();
    assert!(shows(&harness, "Writing…"));
    // The window goes on, in another drawer; what is asked for stays that of the click.
    harness.state_mut().session.apply(Edit::Undo);
    harness.state_mut().state.task = Task::Look;
    wait(&mut harness, done);
    assert!(!harness.state().session.is_changed());
    let svg = std::fs::read_to_string(&file).unwrap();
    assert!(svg.contains("2.50"), "{svg}");
    harness.state_mut().state.task = Task::Decide;
    harness.run();
    assert!(shows(&harness, "rack-plate-left-1.svg") && !shows(&harness, "Writing…"));
}

#[test]
fn what_became_of_a_sheet_is_told_in_another_car_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    lower_the_rod(&mut harness);
    let other = folder.path().join("hazel.ron");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/hazel.ron"), &other).unwrap();
    ask_for(&mut harness, "pdf");
    harness.step();
    harness.state_mut().session.apply(Edit::File(FileCommand::OpenCar { path: other, proposal: None }));
    assert!(harness.state().session.title().starts_with("Hazel"));
    wait(&mut harness, done);
    assert!(folder.path().join("alder/unsaved-changes-rack-plate-left.pdf").exists());
    assert!(shows(&harness, "rack-plate-left.pdf"));
}

#[test]
fn a_sheet_that_cannot_be_written_is_said_to_be_so_when_it_is_known() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    lower_the_rod(&mut harness);
    let blocked = folder.path().join("alder/unsaved-changes-rack-plate-left.pdf");
    std::fs::create_dir(&blocked).unwrap();
    // It is there already, so that it is asked about first.
    settled(&mut harness);
    harness.get_by_label("Sheet of Rack plate, left, pdf").click();
    harness.run();
    harness.get_by_label("Replace unsaved-changes-rack-plate-left.pdf").click();
    until_asked(&mut harness);
    // Another asked for meanwhile is refused, and its button is off.
    let other = Edit::File(FileCommand::WriteSheet {
        bracket: "Rack plate, right".into(),
        path: folder.path().join("alder/right.pdf"),
        replace: false,
    });
    harness.state_mut().session.apply(other);
    harness.step();
    assert!(shows(&harness, "Another sheet is being written"));
    harness.get_by_label("Sheet of Rack plate, left, dxf").click();
    wait(&mut harness, done);
    assert!(shows(&harness, "Cannot write") && shows(&harness, "Give a place that can be written to"));
    assert!(!folder.path().join("alder/unsaved-changes-rack-plate-left.dxf").exists());
    // In its place, the next one is.
    std::fs::remove_dir(&blocked).unwrap();
    harness.run();
    ask_for(&mut harness, "pdf");
    harness.step();
    assert!(!shows(&harness, "Cannot write"), "what was refused before is said no more");
    wait(&mut harness, done);
    assert!(blocked.is_file() && shows(&harness, "Wrote "));
}

#[test]
fn a_file_of_brackets_with_a_fault_is_said_to_have_it() {
    let folder = tempfile::tempdir().unwrap();
    let car = copy_of_alder(folder.path());
    let file = folder.path().join("alder/brackets.ron");
    let broken = std::fs::read_to_string(&file).unwrap().replace("[tie_rod_outer]", "[tie_rod_oter]");
    std::fs::write(&file, broken).unwrap();
    let harness = bench(vec2(1280.0, 2200.0), |bench| {
        bench.session = Session::open(&car).unwrap();
        bench.state.task = Task::Decide;
    });
    assert!(shows(&harness, "did you mean tie_rod_outer?") && shows(&harness, "brackets.ron:"));
}

fn open_proposal(harness: &mut Harness<'static, Bench>, file: &str) {
    harness.state_mut().session.apply(Edit::File(FileCommand::OpenProposal(file.to_owned())));
    harness.run();
}

fn write(harness: &mut Harness<'static, Bench>, ending: &str) {
    ask_for(harness, ending);
    wait(harness, done);
    assert!(!harness.state().session.sheets_written().is_empty(), "{:?}", harness.state().session.notices());
}

/// Two proposals that move the same bracket have a sheet each, under their own names, and each says whose it
/// is; what was written for the one is not said under the other.
#[test]
fn each_proposal_has_sheets_of_its_own_that_bear_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    let sheet = |name: &str| folder.path().join(format!("alder/{name}-rack-plate-left-1.svg"));
    for (lower, name) in [(1, "Rod lower"), (2, "Rod lowest")] {
        for _ in 0..lower {
            lower_the_rod(&mut harness);
        }
        let path = harness.state().session.proposal_path(name);
        harness.state_mut().session.apply(Edit::File(FileCommand::SaveProposal {
            name: name.into(),
            path,
            replace: false,
        }));
    }
    open_proposal(&mut harness, "rod-lower");
    write(&mut harness, "svg");
    let first = std::fs::read_to_string(sheet("rod-lower")).unwrap();
    assert!(first.contains("Rod lower") && !first.contains("proposal: "), "{first}");
    assert!(shows(&harness, "of Rod lower"));
    open_proposal(&mut harness, "rod-lowest");
    assert!(!shows(&harness, "Wrote "), "that was the other proposal");
    write(&mut harness, "svg");
    assert!(std::fs::read_to_string(sheet("rod-lowest")).unwrap().contains("Rod lowest"));
    assert_eq!(std::fs::read_to_string(sheet("rod-lower")).unwrap(), first, "the first is still there");
    // What is changed since is not the proposal's any more.
    lower_the_rod(&mut harness);
    write(&mut harness, "svg");
    assert!(std::fs::read_to_string(sheet("rod-lowest-changed")).unwrap().contains("Rod lowest (changed)"));
}

#[test]
fn a_sheet_that_is_there_is_replaced_only_when_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = deciding(folder.path());
    open_proposal(&mut harness, "tie-rod-down");
    let file = folder.path().join("alder/tie-rod-down-rack-plate-left.pdf");
    std::fs::write(&file, "an older sheet with notes on it").unwrap();
    let click = |harness: &mut Harness<'static, Bench>, label: &str| {
        settled(harness);
        harness.get_by_label(label).click();
        harness.run();
    };
    click(&mut harness, "Sheet of Rack plate, left, pdf");
    assert!(harness.state().session.sheet_in_hand().is_none(), "not unasked");
    assert!(shows(&harness, "tie-rod-down-rack-plate-left.pdf is there already."));
    click(&mut harness, "Write tie-rod-down-rack-plate-left-2.pdf beside it");
    wait(&mut harness, done);
    assert!(folder.path().join("alder/tie-rod-down-rack-plate-left-2.pdf").exists());
    assert_eq!(std::fs::read(&file).unwrap(), b"an older sheet with notes on it");
    click(&mut harness, "Sheet of Rack plate, left, pdf");
    click(&mut harness, "Replace tie-rod-down-rack-plate-left.pdf");
    wait(&mut harness, done);
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF"));
}
