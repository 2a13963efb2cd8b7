mod decide;
mod in_place;
mod parameters;
mod pulls;
mod said_here;
mod sheets;
mod small;
mod which_way;

use super::{StageArea, Task, UiState, window_ui};
use bevy_egui::egui::{Key, Modifiers, Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use wheelpath_geometry::{Assembly, End, Hardpoint, LengthUnit, Side, WheelPosition};
use wheelpath_session::{Edit, Session, Wheels};
use wheelpath_stage::theme::ColourTheme;

struct Bench {
    session: Session,
    state: UiState,
    edits: Vec<Edit>,
    area: Option<StageArea>,
}

const FRONT_LEFT: WheelPosition = WheelPosition { end: End::Front, side: Side::Left };
const FRONT_RIGHT: WheelPosition = WheelPosition { end: End::Front, side: Side::Right };
const Z_OF_ROD: &str = "front left, tie rod, inner end, Z in mm";

fn bench(size: Vec2, prepare: impl FnOnce(&mut Bench)) -> Harness<'static, Bench> {
    bench_of("alder", size, prepare)
}

fn bench_of(car: &str, size: Vec2, prepare: impl FnOnce(&mut Bench)) -> Harness<'static, Bench> {
    let session = crate::test_cars::car(car);
    let state = UiState::new(&session);
    let mut bench = Bench { session, state, edits: Vec::new(), area: None };
    prepare(&mut bench);
    let mut harness = Harness::builder().with_size(size).with_max_steps(12).build_ui_state(
        |ui, bench: &mut Bench| {
            let mut edits = Vec::new();
            bench.area = Some(window_ui(ui, &bench.session, &mut bench.state, &mut edits));
            for edit in edits {
                bench.edits.push(edit.clone());
                bench.session.apply(edit);
            }
        },
        bench,
    );
    harness.run();
    harness
}

/// Waits for verdicts that are found beside the window: they move what stands below them.
fn settled(harness: &mut Harness<'static, Bench>) {
    for _ in 0..2000 {
        if !harness.state().state.derived.verdicts.is_waiting() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
        harness.step();
    }
    harness.run();
}

fn changing(size: Vec2) -> Harness<'static, Bench> {
    bench(size, |bench| bench.state.task = Task::Change)
}

fn rod_inner(bench: &Bench, at: WheelPosition) -> f64 {
    bench.session.car().corner(at).hardpoints.get(Hardpoint::TieRodInner).unwrap().z
}

#[test]
fn a_typed_number_moves_the_point_on_both_sides_in_one_step() {
    let mut harness = changing(vec2(1280.0, 720.0));
    harness.get_by_label(Z_OF_ROD).focus();
    harness.run();
    harness.get_by_label(Z_OF_ROD).type_text("166.5");
    harness.run();
    assert!(!harness.state().session.is_changed(), "not before Enter");
    harness.key_press(Key::Enter);
    harness.run();
    assert!((rod_inner(harness.state(), FRONT_LEFT) - 0.1665).abs() < 1e-12);
    assert!((rod_inner(harness.state(), FRONT_RIGHT) - 0.1665).abs() < 1e-12);
    assert_eq!(harness.state().session.next_undo(), Some("tie rod, inner end, front both: Z −2.5 mm"));
    harness.get_by_label("Undo").click();
    harness.run();
    assert!(!harness.state().session.is_changed());
}

#[test]
fn arrow_keys_step_by_one_ten_and_a_tenth() {
    let mut harness = changing(vec2(1280.0, 720.0));
    let start = rod_inner(harness.state(), FRONT_LEFT);
    harness.get_by_label(Z_OF_ROD).focus();
    harness.run();
    for (modifiers, key, total) in [
        (Modifiers::NONE, Key::ArrowUp, 1.0e-3),
        (Modifiers::ALT, Key::ArrowUp, 1.1e-3),
        (Modifiers::SHIFT, Key::ArrowDown, -8.9e-3),
        (Modifiers::CTRL, Key::ArrowDown, -9.0e-3),
    ] {
        harness.key_press_modifiers(modifiers, key);
        harness.run();
        let moved = rod_inner(harness.state(), FRONT_LEFT) - start;
        assert!((moved - total).abs() < 1e-12, "{moved} for {total}");
    }
    assert_eq!(harness.state().session.steps().count(), 1, "one step while the field is held");
}

#[test]
fn what_cannot_be_solved_is_said_beside_its_cause() {
    let mut harness = changing(vec2(1280.0, 720.0));
    let mut type_into = |label: &str, text: &str| {
        harness.get_by_label(label).focus();
        harness.run();
        harness.get_by_label(label).type_text(text);
        harness.key_press(Key::Enter);
        harness.run();
        let said =
            harness.state().session.notices().into_iter().find(|notice| notice.severe).expect(text).text;
        let said = super::widgets::notices::sentence(&said);
        assert!(harness.query_all_by_label_contains(&said).next().is_some(), "not shown: {said}");
        harness.state().session.is_stale()
    };
    assert!(!type_into(Z_OF_ROD, "60000"), "60 m away is refused, the car stays");
    assert!(type_into("front left, tie rod, length in mm", "20"), "too short is kept, to be put right");
}

#[test]
fn travel_and_steer_are_typed_and_reset() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| {});
    for (label, text) in [("Travel in mm, + bump", "20"), ("Rack in mm, + left", "−12,5")] {
        harness.get_by_label(label).focus();
        harness.run();
        harness.get_by_label(label).type_text(text);
        harness.key_press(Key::Enter);
        harness.run();
    }
    let pose = *harness.state().session.held_pose();
    assert!(pose.travel.iter().all(|t| (t - 0.02).abs() < 1e-12));
    assert!((pose.steer + 0.0125).abs() < 1e-12);
    harness.get_by_label("Reset pose").click();
    harness.run();
    assert_eq!(harness.state().session.held_pose(), &wheelpath_geometry::CarPose::REFERENCE);
}

#[test]
fn a_point_of_the_axle_is_typed_in_the_list() {
    let mut harness = bench_of("hazel", vec2(1280.0, 2600.0), |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((Assembly::Axle(End::Rear), Hardpoint::PanhardRodBody)));
    });
    assert_eq!(harness.state().state.corner.end, End::Rear);
    assert!(harness.query_by_label("Rear axle as a whole").is_some());
    let field = "rear axle, Panhard rod, body end, Z in mm";
    harness.get_by_label(field).focus();
    harness.run();
    harness.get_by_label(field).type_text("316");
    harness.key_press(Key::Enter);
    harness.run();
    let z = harness.state().session.car().rear.hardpoints.get(Hardpoint::PanhardRodBody).unwrap().z;
    assert!((z - 0.316).abs() < 1e-12);
    harness.get_by_label("Reset rear axle Panhard rod, body end").click();
    harness.run();
    assert_eq!(harness.state().session.car(), harness.state().session.original());
    assert!(harness.query_by_label("rear axle, top link, length in mm").is_some());
}

#[test]
fn a_steering_box_is_typed_and_shown_in_degrees() {
    let mut harness = bench_of("hazel", vec2(1280.0, 720.0), |_| {});
    let field = "Pitman arm in degrees, + against the clock from above";
    harness.get_by_label(field).focus();
    harness.run();
    harness.get_by_label(field).type_text("12.5");
    harness.key_press(Key::Enter);
    harness.run();
    assert!((harness.state().session.held_pose().steer - 12.5_f64.to_radians()).abs() < 1e-12);
    assert!(harness.query_all_by_label_contains("pitman arm 12.50°").next().is_some());
    for word in ["mm rack", "rack 0", "Rack in"] {
        assert!(harness.query_all_by_label_contains(word).next().is_none(), "{word}");
    }
    harness.get_by_label("° pitman").click();
    harness.run();
    let wheel = "Steering wheel in degrees, + left";
    harness.get_by_label(wheel).focus();
    harness.run();
    harness.get_by_label(wheel).type_text("120");
    harness.key_press(Key::Enter);
    harness.run();
    assert!((harness.state().session.held_pose().steer - 10_f64.to_radians()).abs() < 1e-12);
}

#[test]
fn the_body_is_typed_over_the_road_and_shown_back() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| {});
    let mut type_into = |label: &str, text: &str| {
        harness.get_by_label(label).focus();
        harness.run();
        harness.get_by_label(label).type_text(text);
        harness.key_press(Key::Enter);
        harness.run();
        [
            "Ride height front in mm, + body higher",
            "Roll in degrees, + left side up",
            "Pitch in degrees, + nose down",
        ]
        .map(|name| harness.get_by_label(name).value().unwrap())
    };
    type_into("Ride height front in mm, + body higher", "-10");
    assert_eq!(type_into("Roll in degrees, + left side up", "1,5")[..2], ["−10.0", "1.50"]);
    let shown = type_into("Pitch in degrees, + nose down", "0.25");
    assert_eq!(shown[1..], ["1.50", "0.25"]);
    let front = type_into("Travel in mm, + bump", "10")[0].replace('−', "-").parse::<f64>().unwrap();
    assert!((front + 10.0).abs() < 0.3, "all wheels up is the body down: {front}");
    let mut harness = bench(vec2(1280.0, 720.0), |bench| {
        bench.session.apply(Edit::SetTravel { wheels: Wheels::One(FRONT_LEFT), travel: 0.02 });
    });
    let front = harness.get_by_label("Ride height front in mm, + body higher");
    assert_eq!(front.value().as_deref(), Some("—"));
    let at = front.rect().center();
    harness.hover_at(at);
    // The hint comes after its delay.
    harness.run_steps(40);
    assert!(harness.query_all_by_label_contains("no flat road touches all four").next().is_some());
}

/// Names and values of every car have room, and absent readings say why.
#[test]
fn every_car_has_its_panels() {
    for car in crate::test_cars::every_car() {
        for task in [Task::Look, Task::Change] {
            for end in End::BOTH {
                let size = vec2(1280.0, 720.0);
                let mut harness = bench_of(&car, size, |bench| {
                    bench.state.text_scale = 1.45;
                    bench.state.task = task;
                    bench.state.end = end;
                    bench.state.corner.end = end;
                });
                harness.run();
                for name in ["Reset pose", "Play travel", "Dark sheet", "Overlays", "Add a curve"] {
                    let rect = harness.get_by_label(name).rect();
                    assert!(rect.left() >= 0.0 && rect.right() <= size.x, "{car}: {name} at {rect:?}");
                }
            }
        }
    }
}

#[test]
fn a_pointer_over_a_curve_takes_the_car_there_and_back_and_a_click_stays() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| {});
    let plot = harness.get_by_label("Curve: Toe over travel, front").rect();
    let at = |share: f32| Pos2::new(plot.left() + share * plot.width(), plot.center().y);
    harness.hover_at(at(0.8));
    harness.run();
    let shown = harness.state().session.shown().pose.travel_of(FRONT_LEFT);
    assert!(shown > 0.005, "{shown}");
    assert!(harness.state().session.held_pose().travel_of(FRONT_LEFT).abs() < 1e-12);
    harness.hover_at(Pos2::new(640.0, 360.0));
    harness.run();
    assert!(harness.state().session.shown().pose.travel_of(FRONT_LEFT).abs() < 1e-12);
    harness.hover_at(at(0.8));
    harness.run();
    harness.drag_at(at(0.8));
    harness.run();
    harness.drop_at(at(0.8));
    harness.run();
    harness.hover_at(Pos2::new(640.0, 360.0));
    harness.run();
    let held = harness.state().session.held_pose().travel_of(FRONT_LEFT);
    assert!((held - shown).abs() < 1e-6, "{held} and {shown}");
}

#[test]
fn a_curve_grows_and_closes_on_a_click() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| {});
    let cards = harness.state().state.wall.cards.len();
    harness.get_by_label("Close Toe over travel, front").click();
    harness.run();
    assert_eq!(harness.state().state.wall.cards.len(), cards - 1);
    assert!(harness.query_by_label("Close Toe over travel, front").is_none());
}

#[test]
fn every_reading_stands_in_the_table_with_real_minus_signs() {
    let mut harness = bench(vec2(1280.0, 2600.0), |_| {});
    // Level, body and road have one camber; toe stands as an angle and as a length.
    let is_there =
        |harness: &Harness<'_, Bench>, name: &str| harness.query_all_by_label(name).next().is_some();
    assert!(is_there(&harness, "Camber") && !is_there(&harness, "Camber to the road"));
    assert!(is_there(&harness, "Toe") && is_there(&harness, "Toe, one wheel over 540.0 mm"));
    // Those that are not asked for first unfold.
    assert!(!is_there(&harness, "Caster gain"));
    harness.get_by_label("All readings").click();
    harness.run();
    assert!(is_there(&harness, "Caster gain"));
    assert!(harness.query_all_by_label("−2.50°").count() >= 2, "left and right camber");
    assert!(harness.query_all_by_label_contains("-2.5").next().is_none());
}

/// At rest nothing asks to be drawn again: `run` panics where it does. And at every size and sheet
/// the stage keeps the most of the window.
#[test]
fn all_of_it_comes_to_rest_and_leaves_the_stage_the_middle() {
    for size in [vec2(1280.0, 720.0), vec2(1920.0, 1080.0)] {
        for sheet in [ColourTheme::Light, ColourTheme::Dark] {
            for task in [Task::Look, Task::Change] {
                let mut harness = bench(size, |bench| {
                    bench.state.sheet = sheet;
                    bench.state.task = task;
                });
                harness.run();
                let area = harness.state().area.unwrap();
                assert!(area.width > 0.48 * size.x, "{area:?} of {size:?}");
                assert!(area.height > 0.8 * size.y, "{area:?} of {size:?}");
            }
        }
    }
}

/// However long a value, it does not run into its neighbour, and no name is cut.
#[test]
fn values_of_left_and_right_keep_apart_at_every_size_of_text() {
    for scale in [1.0, 1.45] {
        let harness = bench(vec2(1280.0, 4000.0), |bench| {
            bench.state.text_scale = scale;
            bench.state.readings.all = true;
        });
        let mut rows = 0;
        for reading in wheelpath_geometry::wheel_readings() {
            let Some(name) = harness.query_by_label(reading.name).map(|node| node.rect()) else { continue };
            let at = |side| {
                let value = harness.state().session.values().get(End::Front, side, reading);
                let text = reading.unit.write(value.unwrap_or(f64::NAN), LengthUnit::Millimetre);
                harness
                    .query_all_by_label(&text)
                    .map(|node| node.rect())
                    .filter(|rect| (rect.top() - name.top()).abs() < 2.0)
                    .collect::<Vec<_>>()
            };
            let (left, right) = (at(Side::Left), at(Side::Right));
            let (first, last) = (left.first().unwrap(), right.last().unwrap());
            assert!(name.right() <= first.left(), "{}: {name:?} {first:?}", reading.name);
            assert!(first.right() < last.left(), "{}: {first:?} {last:?}", reading.name);
            rows += 1;
        }
        assert!(rows > 15, "{rows} rows of {scale}");
    }
}

/// Every widget with a name stays inside the window; what is scrolled away has no business beside it.
#[test]
fn nothing_is_cut_off_at_the_sides() {
    for (size, scale) in [
        (vec2(1280.0, 720.0), 1.0),
        (vec2(1920.0, 1080.0), 1.0),
        (vec2(1280.0, 720.0), 1.45),
        (vec2(1920.0, 1080.0), 1.75),
    ] {
        for task in [Task::Look, Task::Change] {
            let harness = bench(size, |bench| {
                bench.state.task = task;
                bench.state.text_scale = scale;
            });
            for name in
                ["Reset pose", "Play travel", "Play steer", "Dark sheet", "Overlays", "Corner", "Add a curve"]
            {
                let rect = harness.get_by_label(name).rect();
                assert!(rect.left() >= 0.0 && rect.right() <= size.x, "{name} at {rect:?} in {size:?}");
            }
            let area = harness.state().area.unwrap();
            if task == Task::Change {
                let save = harness.get_by_label("Save as new car").rect();
                assert!(save.right() <= area.left, "{save:?} beside {area:?}");
            }
            let drawer_name = if task == Task::Look { "Rear axle" } else { "Both sides" };
            let drawer = harness.get_by_label(drawer_name).rect();
            assert!(drawer.right() <= area.left, "{drawer:?} beside {area:?}");
        }
    }
}

/// What the real car would not take, and what the linkage cannot, stands over the controls of the pose.
#[test]
fn a_wheel_past_its_stop_is_said_over_the_pose_bar() {
    for task in [Task::Look, Task::Change] {
        for (millimetres, words) in
            [(60.0, "than fully compressed"), (400.0, "the last pose that closes is shown")]
        {
            let size = vec2(1280.0, 720.0);
            let mut harness = bench(size, |bench| bench.state.task = task);
            assert!(harness.query_all_by_label_contains(words).next().is_none(), "{words} at rest");
            let wheels = Wheels::One(FRONT_LEFT);
            harness.state_mut().session.apply(Edit::SetTravel { wheels, travel: millimetres * 1e-3 });
            harness.run();
            let area = harness.state().area.unwrap();
            let said = harness.get_by_label_contains(words).rect();
            let control = harness.get_by_label("Reset pose").rect();
            assert!(said.top() >= area.top + area.height && said.bottom() <= control.top() + 1.0, "{said:?}");
            assert!(said.left() >= 0.0 && said.right() <= size.x, "{said:?}");
        }
    }
}

#[test]
fn a_playing_cycle_is_stopped_by_the_same_button() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| {});
    harness.get_by_label("Play travel").click();
    harness.run();
    assert!(harness.state().session.playing().is_some());
    harness.get_by_label("Stop travel").click();
    harness.run();
    assert!(harness.state().session.playing().is_none());
}
