//! Which way to go, the map of places, and whether it fits: by mouse and keyboard.

use super::{Bench, FRONT_LEFT, FRONT_RIGHT, Task, bench, bench_of, rod_inner};
use crate::session::{Aim, Owner};
use bevy_egui::egui::{Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::time::{Duration, Instant};
use wheelpath_geometry::Pickup;

fn on_the_rod(size: Vec2, prepare: impl FnOnce(&mut Bench)) -> Harness<'static, Bench> {
    bench(size, |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((FRONT_LEFT.into(), Pickup::TieRodInner)));
        prepare(bench);
    })
}

/// Runs until a thread beside the window has answered.
fn wait(harness: &mut Harness<'static, Bench>, until: impl Fn(&Harness<'static, Bench>) -> bool) {
    let start = Instant::now();
    while !until(harness) {
        assert!(start.elapsed() < Duration::from_secs(120), "it never came");
        std::thread::sleep(Duration::from_millis(5));
        harness.run();
    }
}

#[test]
fn a_point_says_which_way_bump_steer_falls_and_is_told_otherwise_by_a_click() {
    let mut harness = on_the_rod(vec2(1280.0, 1400.0), |_| {});
    let said = |harness: &Harness<'static, Bench>| {
        let found = harness.query_all_by_label_contains("Bump steer").find_map(|node| {
            let label = node.value().or_else(|| node.accesskit_node().label())?;
            label.contains("per mm").then_some(label)
        });
        found.unwrap()
    };
    let first = said(&harness);
    harness.get_by_label("Bump steer: wanted").click();
    harness.run();
    assert_eq!(harness.state().state.ways[0].aim, Aim::More);
    harness.get_by_label("Bump steer: wanted").click();
    harness.run();
    assert_eq!(harness.state().state.ways[0].aim, Aim::Less);
    let last = said(&harness);
    assert!(first.contains(" per mm: ") && last.contains('−'), "{first} {last}");
    harness.get_by_label("Close Bump steer").click();
    harness.run();
    assert!(harness.state().state.ways.is_empty());
}

#[test]
fn a_click_in_the_map_puts_the_point_there_on_both_sides_and_undo_takes_it_back() {
    let mut harness = on_the_rod(vec2(1280.0, 1400.0), |_| {});
    let name = "Map of places: front left tie rod, inner end";
    assert!(harness.query_by_label(name).is_none());
    harness.get_by_label("Map of places").click();
    harness.run();
    wait(&mut harness, |harness| harness.state().state.map.shown(&harness.state().state).is_some());
    harness.run();
    let start = rod_inner(harness.state(), FRONT_LEFT);
    let rect = harness.get_by_label(name).rect();
    // A quarter of the way down from the middle: 5 of ±10 mm.
    let at = Pos2::new(rect.center().x, rect.center().y + 0.25 * rect.height());
    harness.hover_at(at);
    harness.run();
    harness.drag_at(at);
    harness.run();
    harness.drop_at(at);
    harness.run();
    for wheel in [FRONT_LEFT, FRONT_RIGHT] {
        let moved = rod_inner(harness.state(), wheel) - start;
        assert!((moved + 5e-3).abs() < 1.1e-4, "{wheel}: {moved}");
    }
    assert_eq!(harness.state().session.steps().count(), 1);
    harness.get_by_label("Undo").click();
    harness.run();
    assert!(!harness.state().session.is_changed());
    // Another point has a map of its own; a point of the axle as a whole has none.
    harness.get_by_label("Close the map").click();
    harness.run();
    assert!(harness.query_by_label(name).is_none() && !harness.state().state.map.open);
}

#[test]
fn a_beam_says_why_it_has_no_map() {
    let mut harness = bench_of("hazel", vec2(1280.0, 1400.0), |bench| {
        let rear = Owner::ALL[2];
        let (pickup, _) = rear.pickups(bench.session.car()).iter().next().unwrap();
        bench.state.task = Task::Change;
        bench.state.select(Some((rear, pickup)));
        bench.state.map.open = true;
    });
    harness.run();
    assert!(harness.query_by_label_contains("A beam axle's wheels move together").is_some());
}

#[test]
fn a_click_on_a_distance_goes_to_its_worst_pose_and_shows_it_there_only() {
    let mut harness = bench(vec2(1280.0, 1800.0), |bench| bench.state.task = Task::Decide);
    harness.get_by_label("Will it fit").click();
    harness.run();
    wait(&mut harness, |harness| {
        harness.query_all_by_label_contains(" to ").any(|node| {
            node.accesskit_node()
                .label()
                .is_some_and(|label| label.ends_with(" mm") && label.contains("ront left"))
                || node.value().is_some_and(|label| label.ends_with(" mm"))
        })
    });
    let before = *harness.state().session.held_pose();
    let row = |harness: &Harness<'static, Bench>| {
        let mut rows = harness.query_all_by_label_contains(" mm").filter_map(|node| {
            let label = node.accesskit_node().label().or_else(|| node.value())?;
            (label.starts_with(['✔', '!', '✖']) && label.contains(" to "))
                .then(|| (label, node.rect().center()))
        });
        rows.next().unwrap()
    };
    let (label, at) = row(&harness);
    harness.hover_at(at);
    harness.run();
    harness.drag_at(at);
    harness.run();
    harness.drop_at(at);
    harness.run();
    let bench = harness.state();
    assert_ne!(*bench.session.held_pose(), before, "{label}");
    let gap = bench.state.fit.gap(&bench.session).unwrap();
    let apart = (gap.at[0] - gap.at[1]).norm();
    let said: f64 = label.rsplit(": ").next().unwrap().trim_end_matches(" mm").parse().unwrap();
    assert!((apart * 1e3 - said).abs() < 0.051, "{label}: {apart}");
    harness.state_mut().session.apply(crate::session::Edit::ResetPose);
    harness.run();
    let bench = harness.state();
    assert!(bench.state.fit.gap(&bench.session).is_none(), "in another pose it says nothing");
}

#[test]
fn side_by_side_is_for_what_differs() {
    let mut harness = on_the_rod(vec2(1280.0, 720.0), |_| {});
    harness.get_by_label("Side by side").click();
    harness.run();
    assert!(!harness.state().state.beside, "nothing differs");
    let session = &mut harness.state_mut().session;
    let owner: Owner = FRONT_LEFT.into();
    let to = owner.pickups(session.car()).get(Pickup::TieRodInner).unwrap()
        + nalgebra::Vector3::new(0.0, 0.0, -2e-3);
    session.apply(crate::session::Edit::Change(crate::session::Change::MovePickup {
        owner,
        pickup: Pickup::TieRodInner,
        to,
        mirrored: true,
    }));
    harness.run();
    harness.get_by_label("Side by side").click();
    harness.run();
    assert!(harness.state().state.beside);
}

#[test]
fn the_plate_of_a_bracket_is_known_and_its_sheet_is_written_for_what_is_moved() {
    use std::path::Path;
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("alder.ron");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    std::fs::copy(demo.join("alder.ron"), &copy).unwrap();
    std::fs::create_dir(folder.path().join("alder")).unwrap();
    for name in ["limits.ron", "brackets.ron"] {
        std::fs::copy(demo.join("alder").join(name), folder.path().join("alder").join(name)).unwrap();
    }
    let loaded = wheelpath_car_file::load(&copy).unwrap();
    let at_hand = wheelpath_command_line::CarAtHand { loaded, path: Some(copy.clone()) };
    let mut harness = bench(vec2(1280.0, 2200.0), |bench| {
        let beside = crate::front::beside(&at_hand);
        bench.session = crate::session::Session::open(&copy).unwrap().with_beside(beside);
        bench.state.task = Task::Decide;
    });
    let owner: Owner = FRONT_LEFT.into();
    let normal = harness.state().session.plate(owner, Pickup::TieRodInner).unwrap();
    assert!((normal - nalgebra::Vector3::y()).norm() < 1e-12, "the rack's plate faces left: {normal}");
    assert!(harness.query_by_label("Sheet of Rack plate, left, pdf").is_none(), "nothing is moved");
    let from = owner.pickups(harness.state().session.car()).get(Pickup::TieRodInner).unwrap();
    let to = from - nalgebra::Vector3::new(0.0, 0.0, 2.5e-3);
    harness.state_mut().session.apply(crate::session::Edit::Change(crate::session::Change::MovePickup {
        owner,
        pickup: Pickup::TieRodInner,
        to,
        mirrored: true,
    }));
    harness.run();
    for ending in ["pdf", "svg", "dxf"] {
        harness.get_by_label(&format!("Sheet of Rack plate, left, {ending}")).click();
        harness.run();
        let written = harness.state().session.sheets_written().to_vec();
        assert!(!written.is_empty(), "{:?}", harness.state().session.notices());
        for file in written {
            assert!(file.starts_with(folder.path().join("alder")) && file.exists(), "{}", file.display());
        }
    }
    // The move in the plate and the caution stand on it.
    let svg = std::fs::read_to_string(folder.path().join("alder/rack-plate-left-1.svg")).unwrap();
    assert!(svg.contains("2.50") && svg.to_lowercase().contains("geometry only"), "{svg}");
}

#[test]
fn a_plate_that_was_described_is_kept_beside_the_car_for_both_sides() {
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("alder.ron");
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder.ron");
    std::fs::copy(demo, &copy).unwrap();
    let mut harness = bench(vec2(1280.0, 2600.0), |bench| {
        bench.session = crate::session::Session::open(&copy).unwrap();
    });
    harness.state_mut().state.task = Task::Change;
    harness.state_mut().state.select(Some((FRONT_LEFT.into(), Pickup::TieRodInner)));
    harness.run();
    assert!(harness.query_by_label("Keep the plate").is_none());
    let normal = nalgebra::Vector3::new(0.1, 1.0, 0.0);
    let by = crate::session::PlateBy::Normal(normal);
    harness.state_mut().session.apply(crate::session::Edit::SetPlate {
        owner: FRONT_LEFT.into(),
        pickup: Pickup::TieRodInner,
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
    let beside = crate::session::Beside { brackets: file.brackets().to_vec(), ..Default::default() };
    let again = crate::session::Session::open(&copy).unwrap().with_beside(beside);
    assert!(again.plate(FRONT_RIGHT.into(), Pickup::TieRodInner).is_some());
}
