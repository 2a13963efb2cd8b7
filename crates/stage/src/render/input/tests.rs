use super::*;
use crate::render::stage_camera::BeforeRect;
use crate::view::{Emphasis, PointView, StageView, WheelSlot};
use bevy::input::mouse::MouseButtonInput;
use bevy::window::{CursorMoved, WindowResolution};
use nalgebra::Point3;

#[test]
fn the_corner_key_goes_round_the_car() {
    let mut at = next_corner(StandardView::ALL[4], Some(StandardView::Front));
    let mut seen = Vec::new();
    for _ in 0..4 {
        if let StandardView::Corner(place) = at {
            seen.push(place);
        }
        at = next_corner(StandardView::ALL[4], Some(at));
    }
    assert_eq!(seen, WheelSlot::ALL);
}

/// A car of one point.
fn pinned() -> Stage {
    let at = Point3::new(0.0, 0.3, 0.4);
    let point = PointView { key: "tip".into(), name: "Tip".into(), at, emphasis: Emphasis::Plain };
    Stage { car: StageView { points: vec![point], ..StageView::default() }, ..Stage::default() }
}

/// The system alone, in a window of 1280 by 720 logical pixels on a screen of a scale, with panels zoomed.
fn bench(screen: f32, zoom: f64) -> (App, Entity) {
    let scale = f64::from(screen) * zoom;
    let target = StageTarget::new(1280.0 / zoom, 720.0 / zoom, scale);
    let rect = ScreenRect::new(0.5 * target.width, 30.0, 0.4 * target.width, target.height - 60.0);
    let mut app = App::new();
    app.add_message::<WindowEvent>()
        .add_message::<StagePull>()
        .add_message::<StageSteer>()
        .add_message::<StagePointPull>()
        .add_message::<StageHandlePull>()
        .add_message::<StageClick>()
        .add_message::<StageLabelClick>()
        .init_resource::<ButtonInput<Key>>()
        .init_resource::<HandSettings>()
        .init_resource::<StageLabels>()
        .init_resource::<StageCamera>()
        .init_resource::<BeforeRect>()
        .init_resource::<PointerInput>()
        .insert_resource(pinned())
        .insert_resource(target)
        .insert_resource(StageRect(Some(rect)))
        .add_systems(Update, read_pointer);
    let resolution = WindowResolution::new(1280, 720).with_scale_factor_override(screen);
    let window = app.world_mut().spawn((Window { resolution, ..default() }, PrimaryWindow)).id();
    (app, window)
}

fn button(window: Entity, state: ButtonState) -> WindowEvent {
    WindowEvent::MouseButtonInput(MouseButtonInput { button: MouseButton::Left, state, window })
}

fn moved(window: Entity, pixel: Pixel, zoom: f64) -> WindowEvent {
    let position = Vec2::new(frame::single(pixel.x * zoom), frame::single(pixel.y * zoom));
    WindowEvent::CursorMoved(CursorMoved { window, position, delta: None })
}

/// Where the point appears in a picture, in points.
fn tip(app: &App, rect: StageRect) -> Pixel {
    let world = app.world();
    let (camera, stage, target) =
        (world.resource::<StageCamera>(), world.resource::<Stage>(), world.resource::<StageTarget>());
    lens(camera, stage, &rect, target).project(Point3::new(0.0, 0.3, 0.4)).expect("in front of the eye")
}

/// A click that comes and goes within one frame, on any screen and at any zoom of the panels.
#[test]
fn a_click_shorter_than_a_frame_meets_what_is_drawn_there() {
    for screen in [1.0, 1.25, 1.5, 2.0] {
        for zoom in [0.5, 1.0, 1.1, 1.5, 3.0] {
            let (mut app, window) = bench(screen, zoom);
            let at = tip(&app, *app.world().resource::<StageRect>());
            for event in [
                moved(window, at, zoom),
                button(window, ButtonState::Pressed),
                button(window, ButtonState::Released),
            ] {
                app.world_mut().write_message(event);
            }
            app.update();
            let clicks: Vec<StageClick> =
                app.world_mut().resource_mut::<Messages<StageClick>>().drain().collect();
            assert!(
                matches!(&clicks[..], [StageClick(crate::pick::Target::Point { key, .. })] if key == "tip"),
                "{screen} {zoom}: {clicks:?}"
            );
        }
    }
}

/// The picture of the car before is turned like that of the car now, and both with one camera.
#[test]
fn a_drag_in_the_left_of_two_pictures_turns_both() {
    let (mut app, window) = bench(1.0, 1.0);
    let left = ScreenRect::new(100.0, 30.0, 512.0, 660.0);
    app.insert_resource(BeforeRect(Some(left)));
    let before = pinned();
    app.world_mut().resource_mut::<Stage>().before = Some(Box::new(before));
    let from = tip(&app, StageRect(Some(left)));
    assert!(left.contains(from));
    let camera = app.world().resource::<StageCamera>().now;
    for event in [moved(window, from, 1.0), button(window, ButtonState::Pressed)] {
        app.world_mut().write_message(event);
    }
    app.update();
    // Out of the left picture, into the right: still the same drag.
    for by in [40.0, 560.0] {
        let to = from + nalgebra::Vector2::new(by, 0.0);
        app.world_mut().write_message(moved(window, to, 1.0));
        app.update();
    }
    app.world_mut().write_message(button(window, ButtonState::Released));
    app.update();
    let now = app.world().resource::<StageCamera>().now;
    assert!((now.azimuth - camera.azimuth).abs() > 0.5, "{camera:?} {now:?}");
    let after = tip(&app, StageRect(Some(left)));
    assert!((after - from).norm() < 1e-6, "turned about the point that was grabbed: {from} {after}");
    for count in [
        app.world().resource::<Messages<StageClick>>().len(),
        app.world().resource::<Messages<StagePointPull>>().len(),
    ] {
        assert_eq!(count, 0, "what stood before can only be looked at");
    }
}
