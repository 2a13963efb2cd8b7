use super::DragOrigin;
use super::answer::answer_stage;
use super::work::{Panels, Work};
use super::workbench::{Fed, feed_stage, play};
use crate::adapter::{handle_key, key_of};
use crate::panels::{Task, UiState};
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use nalgebra::Point3;
use wheelpath_geometry::{Assembly, Axis, End, Hardpoint, Link, WheelPosition};
use wheelpath_session::{CarEdit, Cycle, Edit, Handle, Wheels};
use wheelpath_stage::pick::Target;
use wheelpath_stage::pick::pointer_input::Phase;
use wheelpath_stage::render::messages::{
    StageClick, StageHandlePull, StageLabelClick, StagePointPull, StagePull, StageSteer,
};
use wheelpath_stage::view::{Stage, WheelSlot};

/// The systems between stage and session, without a window.
fn bench() -> App {
    bench_of("alder")
}

fn bench_of(car: &str) -> App {
    let session = crate::test_cars::car(car);
    let panels = UiState::new(&session);
    let mut app = App::new();
    app.add_message::<StagePull>()
        .add_message::<StageSteer>()
        .add_message::<StagePointPull>()
        .add_message::<StageHandlePull>()
        .add_message::<StageClick>()
        .add_message::<StageLabelClick>()
        .add_message::<RequestRedraw>()
        .init_resource::<Time>()
        .init_resource::<DragOrigin>()
        .init_resource::<Fed>()
        .init_resource::<Stage>()
        .insert_resource(Work(session))
        .insert_resource(Panels(panels))
        .add_systems(Update, (answer_stage, play, feed_stage).chain());
    app.update();
    app
}

fn redraws(app: &mut App) -> usize {
    let count = app.world().resource::<Messages<RequestRedraw>>().len();
    app.world_mut().resource_mut::<Messages<RequestRedraw>>().clear();
    count
}

fn travel(app: &App) -> f64 {
    app.world().resource::<Work>().0.held_pose().travel[0]
}

#[test]
fn a_pulled_tyre_takes_its_wheel_with_it_and_goes_back_when_given_up() {
    let mut app = bench();
    for (change, phase, then) in [
        (0.0, Phase::Began, 0.0),
        (0.011, Phase::Going, 0.011),
        (0.02, Phase::Going, 0.02),
        (0.02, Phase::Ended, 0.02),
        (0.0, Phase::Began, 0.02),
        (-0.005, Phase::Going, 0.015),
        (-0.005, Phase::GivenUp, 0.02),
    ] {
        app.world_mut().write_message(StagePull {
            place: WheelSlot::FrontLeft,
            travel_change: change,
            phase,
        });
        app.update();
        assert!((travel(&app) - then).abs() < 1e-12, "{change} {phase:?}: {}", travel(&app));
        let wheel = app.world().resource::<Stage>().car.wheel(WheelSlot::FrontLeft).unwrap().centre;
        assert!((wheel.z - 0.27 - then).abs() < 1e-9, "the stage shows it in the same frame");
    }
}

#[test]
fn a_wheel_turned_by_hand_turns_by_about_that_angle() {
    let mut app = bench();
    let steer = wheelpath_geometry::reading("steer_angle").unwrap();
    let angle =
        |app: &App| app.world().resource::<Work>().0.values().wheel(WheelPosition::ALL[1], steer).unwrap();
    let before = angle(&app);
    for (angle_change, phase) in [(0.0, Phase::Began), (0.05, Phase::Ended)] {
        app.world_mut().write_message(StageSteer { place: WheelSlot::FrontRight, angle_change, phase });
        app.update();
    }
    let turned = angle(&app) - before;
    assert!((turned - 0.05).abs() < 2e-3, "{turned} rad");
}

#[test]
fn a_pulled_point_moves_on_both_sides_and_opens_its_drawer() {
    let mut app = bench();
    let wheel = WheelPosition::ALL[0];
    let at =
        app.world().resource::<Work>().0.car().corner(wheel).hardpoints.get(Hardpoint::TieRodInner).unwrap();
    let key = key_of(wheel.into(), Hardpoint::TieRodInner);
    for (dz, phase) in [(0.0, Phase::Began), (1e-3, Phase::Going), (2e-3, Phase::Ended)] {
        let to = Point3::from(at + nalgebra::Vector3::new(0.0, 0.0, dz));
        app.world_mut().write_message(StagePointPull { key: key.clone(), to, snap_turned: false, phase });
        app.update();
    }
    let work = &app.world().resource::<Work>().0;
    assert_eq!(work.next_undo(), Some("tie rod, inner end, front both: Z +2.0 mm"));
    assert_eq!(work.steps().count(), 1);
    let panels = &app.world().resource::<Panels>().0;
    assert_eq!(panels.task, Task::Change);
    assert_eq!(panels.selected, Some((wheel.into(), Hardpoint::TieRodInner)));
}

#[test]
fn a_point_pulled_freely_moves_in_steps_from_the_original_along_what_it_is_pulled() {
    let mut app = bench();
    let (wheel, rod) = (WheelPosition::ALL[0], Hardpoint::TieRodInner);
    let place = |app: &App| app.world().resource::<Work>().0.car().corner(wheel).hardpoints.get(rod).unwrap();
    let home = place(&app);
    // Typed finer than the steps.
    let typed =
        CarEdit::move_point(wheel.into(), rod, home + nalgebra::Vector3::new(0.000_37, 0.0, 0.000_42), true);
    app.world_mut().resource_mut::<Work>().0.apply(Edit::Change(typed));
    app.world_mut().resource_mut::<Work>().0.apply(Edit::Settle);
    app.world_mut().resource_mut::<Panels>().0.snap = 1e-3;
    let from = place(&app);
    let pull = |app: &mut App, by: [f64; 3], snap_turned: bool, phase| {
        let to = Point3::from(from + nalgebra::Vector3::from(by));
        let key = key_of(wheel.into(), rod);
        app.world_mut().write_message(StagePointPull { key, to, snap_turned, phase });
        app.update();
        (place(app) - home) * 1e3
    };
    pull(&mut app, [0.0; 3], false, Phase::Began);
    // X is not pulled and stays; Y and Z go in whole millimetres from the original.
    for (by, snap_turned, then) in [
        ([0.0, 0.000_7, 0.001_2], false, [0.37, 1.0, 2.0]),
        ([0.0, 0.000_4, 0.001_2], false, [0.37, 0.0, 2.0]),
        ([0.0, 0.000_7, 0.001_2], true, [0.37, 0.7, 1.62]),
        ([0.002, 0.000_7, 0.0], false, [2.0, 1.0, 0.42]),
    ] {
        let moved = pull(&mut app, by, snap_turned, Phase::Going);
        assert!((moved - nalgebra::Vector3::from(then)).norm() < 1e-9, "{by:?} {snap_turned}: {moved:?}");
    }
    let moved = pull(&mut app, [0.0, 0.0, 0.001], false, Phase::Ended);
    assert!((moved - nalgebra::Vector3::new(0.37, 0.0, 1.0)).norm() < 1e-9, "{moved:?}");
}

#[test]
fn a_point_of_an_axle_is_pulled_and_given_up_or_kept() {
    let mut app = bench_of("hazel");
    let assembly = Assembly::Axle(End::Rear);
    let panhard = Hardpoint::PanhardRodBody;
    let place = |app: &App| assembly.hardpoints(app.world().resource::<Work>().0.car()).get(panhard).unwrap();
    let at = place(&app);
    let pull = |app: &mut App, dz: f64, phase| {
        let to = Point3::from(at + nalgebra::Vector3::new(0.0, 0.0, dz));
        app.world_mut().write_message(StagePointPull {
            key: key_of(assembly, panhard),
            to,
            snap_turned: false,
            phase,
        });
        app.update();
    };
    for (dz, phase, then) in [
        (0.0, Phase::Began, 0.0),
        (8e-3, Phase::Going, 8e-3),
        (8e-3, Phase::GivenUp, 0.0),
        (0.0, Phase::Began, 0.0),
        (4e-3, Phase::Going, 4e-3),
        (5e-3, Phase::Ended, 5e-3),
    ] {
        pull(&mut app, dz, phase);
        assert!((place(&app).z - at.z - then).abs() < 1e-12, "{dz} {phase:?}");
    }
    let work = &app.world().resource::<Work>().0;
    assert_eq!(work.next_undo(), Some("Panhard rod, body end, rear axle: Z +5.0 mm"));
    assert_eq!(work.steps().count(), 1);
    let panels = &app.world().resource::<Panels>().0;
    assert_eq!((panels.task, panels.corner.end), (Task::Change, End::Rear));
    assert_eq!(panels.selected, Some((assembly, panhard)));
}

#[test]
fn a_pulled_handle_moves_its_point_in_steps_and_in_the_same_frame() {
    let mut app = bench();
    let (assembly, rod) = (Assembly::Corner(WheelPosition::ALL[0]), Hardpoint::TieRodInner);
    app.world_mut()
        .write_message(StageClick(Target::Point { key: key_of(assembly, rod), at: Point3::origin() }));
    app.update();
    let handle = Handle::Link(Link::TieRod);
    let key = handle_key(assembly, rod, handle);
    let stands = |app: &App| {
        let all = &app.world().resource::<Stage>().handles;
        all.iter().find(|handle| handle.key == key).expect("the handle").clone()
    };
    let before = stands(&app);
    assert!(!before.chosen && before.label == "along the tie rod", "{before:?}");
    let pull = |app: &mut App, millimetres: f64, snap_turned, phase| {
        let by = [millimetres * 1e-3, 0.0];
        app.world_mut().write_message(StageHandlePull { key: key.clone(), by, snap_turned, phase });
        app.update();
    };
    for (millimetres, snap_turned, phase, then) in [
        (0.0, false, Phase::Began, 0.0),
        (-0.87, false, Phase::Going, -0.9),
        (-0.87, true, Phase::Going, -0.87),
        (-1.52, false, Phase::Ended, -1.5),
        (0.0, false, Phase::Began, -1.5),
        (3.0, false, Phase::Going, 1.5),
        (3.0, false, Phase::GivenUp, -1.5),
    ] {
        pull(&mut app, millimetres, snap_turned, phase);
        let now = stands(&app);
        let by = (now.at - before.at).dot(&before.along);
        assert!((by - then * 1e-3).abs() < 1e-12, "{millimetres} {phase:?}: {by}");
        assert!(now.chosen);
    }
    assert_eq!(stands(&app).label, "along the tie rod −1.5 mm");
    let work = &app.world().resource::<Work>().0;
    assert_eq!(work.next_undo(), Some("tie rod, inner end, front both: along the tie rod −1.5 mm"));
    assert_eq!(work.steps().count(), 1);
    assert_eq!(app.world().resource::<Panels>().0.handle, Some(handle));
}

#[test]
fn a_pulled_handle_rounds_the_distance_from_the_original() {
    let mut app = bench();
    let (assembly, rod) = (Assembly::Corner(WheelPosition::ALL[0]), Hardpoint::TieRodInner);
    app.world_mut().resource_mut::<Panels>().0.snap = 1e-3;
    let key = handle_key(assembly, rod, Handle::Axis(Axis::Z));
    for (by, phase) in [(0.0, Phase::Began), (0.4e-3, Phase::Going), (1.8e-3, Phase::Ended)] {
        let pull = StageHandlePull { key: key.clone(), by: [by, 0.0], snap_turned: false, phase };
        app.world_mut().write_message(pull);
        app.update();
    }
    let work = &app.world().resource::<Work>().0;
    assert_eq!(work.next_undo(), Some("tie rod, inner end, front both: Z +2.0 mm"));
}

#[test]
fn nothing_is_drawn_while_nothing_happens() {
    let mut app = bench();
    redraws(&mut app);
    let before = app.world().resource_ref::<Stage>().last_changed();
    for _ in 0..5 {
        app.update();
    }
    assert_eq!(redraws(&mut app), 0);
    assert_eq!(app.world().resource_ref::<Stage>().last_changed(), before, "the stage is left alone");
    app.world_mut().resource_mut::<Work>().0.apply(Edit::Play(Some(Cycle::Travel(Wheels::All))));
    app.update();
    assert!(redraws(&mut app) > 0, "a cycle asks for every frame");
    app.world_mut().resource_mut::<Work>().0.apply(Edit::Play(None));
    app.update();
    redraws(&mut app);
    app.update();
    assert_eq!(redraws(&mut app), 0);
}
