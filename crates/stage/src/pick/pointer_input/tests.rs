use nalgebra::{Vector2, Vector3};

use super::*;
use crate::camera::turntable::Turntable;
use crate::view::handle;
use crate::view::standard_views::StandardView;
use crate::view::{Emphasis, PointView, WheelView};

#[path = "../../../tests/scene/invented_car.rs"]
#[allow(dead_code, reason = "what else is changed in it is for the pictures")]
mod invented_car;

fn car() -> StageView {
    StageView {
        wheels: vec![WheelView {
            place: WheelSlot::FrontLeft,
            centre: Point3::new(0.0, 0.75, 0.26),
            spin_axis: Vector3::y(),
            radius: 0.26,
            width: 0.2,
            rim_radius: 0.165,
            contact: Point3::new(0.0, 0.75, 0.0),
            steers: true,
        }],
        points: vec![PointView {
            key: "tip".into(),
            name: "Tip".into(),
            at: Point3::new(0.0, 0.1, 0.5),
            emphasis: Emphasis::Plain,
        }],
        ..StageView::default()
    }
}

fn front() -> StageProjection {
    StageProjection::new(
        Turntable {
            focus: Point3::new(0.0, 0.4, 0.3),
            azimuth: 0.0,
            elevation: 0.0,
            height: 1.0,
            field_of_view: 0.0,
        },
        ScreenRect::new(0.0, 0.0, 1400.0, 1000.0),
    )
}

struct Bench {
    car: StageView,
    handles: Vec<HandleView>,
    lens: StageProjection,
    labels: Vec<ScreenRect>,
    held: Held,
    covered: bool,
    only_seen: bool,
    hand: PointerInput,
}

impl Bench {
    fn new() -> Self {
        Self {
            car: car(),
            handles: Vec::new(),
            lens: front(),
            labels: Vec::new(),
            held: Held::default(),
            covered: false,
            only_seen: false,
            hand: PointerInput::default(),
        }
    }

    fn pixel(&self, at: Point3<f64>) -> Pixel {
        self.lens.project(at).expect("in front of the eye")
    }

    fn read(&mut self, events: &[Event]) -> Vec<Act> {
        let mut around = Surroundings {
            car: &self.car,
            handles: &self.handles,
            lens: self.lens,
            labels: &self.labels,
            held: self.held,
            covered: self.covered,
            only_seen: self.only_seen,
        };
        let mut acts = Vec::new();
        for event in events {
            acts.extend(self.hand.read(*event, &mut around, &HandSettings::default()));
        }
        self.lens = around.lens;
        acts
    }
}

const TREAD: Point3<f64> = Point3::new(0.26, 0.75, 0.26);

#[test]
fn pulling_a_tyre_up_gives_its_travel_and_ends() {
    let mut bench = Bench::new();
    let (from, to) = (bench.pixel(TREAD), bench.pixel(TREAD + Vector3::z() * 0.03));
    let acts = bench.read(&[
        Event::Moved(from),
        Event::Pressed(Button::Left),
        Event::Moved(to),
        Event::Released(Button::Left),
    ]);
    let [
        Act::Pull { phase: Phase::Began, .. },
        Act::Pull { change: going, phase: Phase::Going, .. },
        Act::Pull { change, place: WheelSlot::FrontLeft, phase: Phase::Ended },
    ] = acts[..]
    else {
        panic!("{acts:?}");
    };
    assert!((going - 0.03).abs() < 1e-9 && (change - 0.03).abs() < 1e-9);
    assert!(!bench.hand.is_holding());
}

#[test]
fn pulling_a_tyre_sideways_steers_it_and_escape_gives_up() {
    let mut bench = Bench::new();
    let (from, to) = (bench.pixel(TREAD), bench.pixel(TREAD + Vector3::y() * 0.02));
    let acts = bench.read(&[Event::Moved(from), Event::Pressed(Button::Left), Event::Moved(to)]);
    assert!(matches!(acts[1], Act::Steer { change, .. } if change > 0.05));
    let given_up = bench.hand.give_up();
    assert!(matches!(given_up[..], [Act::Steer { phase: Phase::GivenUp, .. }]));
}

#[test]
fn a_wheel_that_does_not_steer_is_pulled_either_way() {
    let mut bench = Bench::new();
    bench.car.wheels[0].steers = false;
    bench.held.shift = true;
    let (from, to) = (bench.pixel(TREAD), bench.pixel(TREAD + Vector3::y() * 0.02));
    let acts = bench.read(&[Event::Moved(from), Event::Pressed(Button::Left), Event::Moved(to)]);
    assert!(matches!(acts[0], Act::Pull { .. }));
}

#[test]
fn a_press_and_release_in_one_frame_is_a_click() {
    let mut bench = Bench::new();
    let on_point = bench.pixel(Point3::new(0.0, 0.1, 0.5));
    let acts =
        bench.read(&[Event::Moved(on_point), Event::Pressed(Button::Left), Event::Released(Button::Left)]);
    assert!(matches!(&acts[..], [Act::Clicked(Target::Point { key, .. })] if key == "tip"));
    assert_eq!(bench.hand.over(), &Over::Point("tip".into()));
}

#[test]
fn a_label_goes_before_what_lies_under_it() {
    let mut bench = Bench::new();
    let on_tyre = bench.pixel(TREAD);
    bench.labels = vec![
        ScreenRect::new(0.0, 0.0, 20.0, 20.0),
        ScreenRect::new(on_tyre.x - 30.0, on_tyre.y - 9.0, 60.0, 18.0),
    ];
    let acts =
        bench.read(&[Event::Moved(on_tyre), Event::Pressed(Button::Left), Event::Released(Button::Left)]);
    assert_eq!(acts, vec![Act::Label(1)]);
    let drawn_away = bench.read(&[
        Event::Pressed(Button::Left),
        Event::Moved(on_tyre + Vector2::new(0.0, 40.0)),
        Event::Released(Button::Left),
    ]);
    assert!(drawn_away.is_empty());
}

#[test]
fn a_label_over_a_point_leaves_it_its_clicks() {
    let mut bench = Bench::new();
    let on_point = bench.pixel(Point3::new(0.0, 0.1, 0.5));
    bench.labels = vec![ScreenRect::new(on_point.x - 60.0, on_point.y - 9.0, 120.0, 18.0)];
    let mut click = |at: Pixel| {
        bench.read(&[Event::Moved(at), Event::Pressed(Button::Left), Event::Released(Button::Left)])
    };
    let clicked = click(on_point + Vector2::new(3.0, 2.0));
    assert!(matches!(&clicked[..], [Act::Clicked(Target::Point { key, .. })] if key == "tip"), "{clicked:?}");
    assert_eq!(
        click(on_point + Vector2::new(40.0, 2.0)),
        [Act::Label(0)],
        "beside the point it is the label's"
    );
    let over = |bench: &mut Bench, at| {
        bench.read(&[Event::Moved(at)]);
        bench.hand.over().clone()
    };
    assert_eq!(over(&mut bench, on_point), Over::Point("tip".into()));
    assert_eq!(over(&mut bench, on_point - Vector2::new(40.0, 0.0)), Over::Label(0));
}

#[test]
fn a_handle_that_runs_over_another_point_leaves_it_its_clicks() {
    let mut bench = Bench::new();
    let tip = Point3::new(0.0, 0.1, 0.5);
    // The selected point stands beside it, and its arrow runs right over it.
    bench.handles = vec![HandleView {
        key: "along Y".into(),
        label: "Y".into(),
        at: tip - Vector3::y() * 0.045,
        along: Vector3::y(),
        across: None,
        chosen: false,
    }];
    let on_point = bench.pixel(tip);
    assert!(handle::nearest(&bench.handles, &bench.lens, on_point).is_some(), "the arrow is there");
    let mut click = |at: Pixel| {
        bench.read(&[Event::Moved(at), Event::Pressed(Button::Left), Event::Released(Button::Left)])
    };
    let clicked = click(on_point);
    assert!(matches!(&clicked[..], [Act::Clicked(Target::Point { .. })]), "{clicked:?}");
    let beside = on_point + Vector2::new(-14.0, 0.0);
    let away = on_point + Vector2::new(14.0, 0.0);
    let on_arrow =
        [beside, away].into_iter().any(|at| matches!(&click(at)[..], [Act::Clicked(Target::Handle { .. })]));
    assert!(on_arrow, "elsewhere the arrow is the arrow");
}

#[test]
fn a_release_that_nobody_heard_of_costs_no_click() {
    let mut bench = Bench::new();
    let on_point = bench.pixel(Point3::new(0.0, 0.1, 0.5));
    let on_tyre = bench.pixel(TREAD);
    bench.read(&[Event::Moved(on_tyre), Event::Pressed(Button::Left)]);
    // Let go over another program's window.
    let acts =
        bench.read(&[Event::Moved(on_point), Event::Pressed(Button::Left), Event::Released(Button::Left)]);
    let ends = matches!(
        &acts[..],
        [
            ..,
            Act::Pull { phase: Phase::GivenUp, .. } | Act::Steer { phase: Phase::GivenUp, .. },
            Act::Clicked(Target::Point { .. })
        ]
    );
    assert!(ends, "{acts:?}");
}

#[test]
fn a_covered_stage_answers_nothing() {
    let mut bench = Bench::new();
    bench.covered = true;
    let on_tyre = bench.pixel(TREAD);
    let acts = bench.read(&[
        Event::Moved(on_tyre),
        Event::Pressed(Button::Left),
        Event::Wheel(2.0),
        Event::Released(Button::Left),
    ]);
    assert!(acts.is_empty());
    assert_eq!(bench.hand.over(), &Over::Nothing);
}

#[test]
fn the_wheel_zooms_to_the_pointer() {
    let mut bench = Bench::new();
    let on_tyre = bench.pixel(TREAD);
    let acts = bench.read(&[Event::Moved(on_tyre), Event::Wheel(1.0), Event::Wheel(1.0)]);
    assert_eq!(acts.len(), 2);
    assert!((bench.lens.camera.height - 1.0 / 1.15_f64.powi(2)).abs() < 1e-9);
    assert!((bench.pixel(TREAD) - on_tyre).norm() < 1e-6);
}

#[test]
fn a_middle_drag_pans_and_with_shift_orbits() {
    let mut bench = Bench::new();
    let from = bench.pixel(TREAD);
    let to = from + Vector2::new(-60.0, 35.0);
    bench.read(&[
        Event::Moved(from),
        Event::Pressed(Button::Middle),
        Event::Moved(to),
        Event::Released(Button::Middle),
    ]);
    assert!((bench.pixel(TREAD) - to).norm() < 1e-6);
    let azimuth = bench.lens.camera.azimuth;
    bench.held.shift = true;
    bench.read(&[Event::Pressed(Button::Middle), Event::Moved(from), Event::Released(Button::Middle)]);
    assert!((bench.lens.camera.azimuth - azimuth).abs() > 0.1);
    assert!((bench.pixel(TREAD) - to).norm() < 1e-6, "orbits about what was grabbed");
}

#[test]
fn two_fingers_pan_orbit_and_zoom() {
    let mut bench = Bench::new();
    let middle = bench.lens.rect.middle();
    let start = bench.lens.camera;
    bench.read(&[Event::Moved(middle), Event::Fingers(10.0, 0.0)]);
    assert!((bench.lens.camera.focus - start.focus).norm() > 1e-3);
    assert!((bench.lens.camera.height - start.height).abs() < 1e-12);
    bench.held.alt = true;
    bench.read(&[Event::Fingers(10.0, 0.0)]);
    assert!((bench.lens.camera.azimuth - start.azimuth).abs() > 1e-3);
    bench.held = Held { control: true, ..Held::default() };
    bench.read(&[Event::Fingers(0.0, 10.0)]);
    assert!(bench.lens.camera.height < start.height);
}

#[test]
fn a_second_button_does_not_steal_the_grip() {
    let mut bench = Bench::new();
    let (from, to) = (bench.pixel(TREAD), bench.pixel(TREAD + Vector3::z() * 0.03));
    let acts = bench.read(&[
        Event::Moved(from),
        Event::Pressed(Button::Left),
        Event::Pressed(Button::Right),
        Event::Released(Button::Right),
        Event::Moved(to),
    ]);
    assert!(matches!(acts[..], [Act::Pull { .. }, Act::Pull { .. }]));
    assert!(bench.hand.is_holding());
}

#[test]
fn a_handle_is_pulled_along_its_line_and_keeps_where_it_was_grabbed() {
    let mut bench = Bench::new();
    let tip = bench.car.points[0].at;
    let along = Vector3::new(0.0, 0.6, 0.8);
    let handle =
        HandleView { key: "up".into(), label: "up".into(), at: tip, along, across: None, chosen: false };
    bench.handles = vec![handle];
    let grabbed = tip + along * 0.04;
    let from = bench.pixel(grabbed);
    // Besides its line the pointer may stray; only the part along it counts.
    let square = Vector3::new(0.0, -0.8, 0.6);
    let to = bench.pixel(grabbed + along * 0.013 + square * 0.02);
    let acts = bench.read(&[Event::Moved(from), Event::Pressed(Button::Left), Event::Moved(to)]);
    let [Act::PullHandle { phase: Phase::Began, .. }, Act::PullHandle { by, snap_turned: false, .. }] =
        &acts[..]
    else {
        panic!("{acts:?}");
    };
    assert!((by[0] - 0.013).abs() < 1e-9 && by[1] == 0.0, "{by:?}");
    assert_eq!(bench.hand.over(), &Over::Handle("up".into()));
    bench.held.control = true;
    let acts = bench.read(&[Event::Moved(from), Event::Released(Button::Left)]);
    let [
        Act::PullHandle { snap_turned: true, .. },
        Act::PullHandle { by, snap_turned: true, phase: Phase::Ended, .. },
    ] = &acts[..]
    else {
        panic!("{acts:?}");
    };
    assert!(by[0].abs() < 1e-9);
    let click = bench.read(&[Event::Pressed(Button::Left), Event::Released(Button::Left)]);
    assert!(matches!(&click[..], [Act::Clicked(Target::Handle { key, .. })] if key == "up"), "{click:?}");
}

/// A whole car.
fn demo() -> StageView {
    invented_car::stage().car
}

/// Wherever a short drag begins, on the car, on the ground behind it or on nothing, the car stays in sight: in
/// a whole window and in half of one, with its tall and narrow picture.
#[test]
fn a_short_drag_keeps_the_car_in_sight_wherever_it_begins() {
    let demo = demo();
    let (middle, _) = extent(&demo);
    for rect in [ScreenRect::new(300.0, 30.0, 340.0, 600.0), ScreenRect::new(300.0, 30.0, 1000.0, 700.0)] {
        for view in StandardView::ALL {
            let camera = view.camera(&demo, rect.aspect());
            // What the view is of.
            let (middle, close_up) = match view {
                StandardView::Corner(place) => (demo.wheel(place).expect("four wheels").centre, true),
                _ => (middle, false),
            };
            for step in 0..81 {
                let (x, y) = (f64::from(step % 9), f64::from(step / 9));
                let from = Pixel::new(
                    rect.left + rect.width * (x + 0.5) / 9.0,
                    rect.top + rect.height * (y + 0.5) / 9.0,
                );
                for by in [Vector2::new(50.0, 0.0), Vector2::new(-50.0, 0.0), Vector2::new(0.0, 50.0)] {
                    for button in [Button::Left, Button::Right, Button::Middle] {
                        let lens = StageProjection::new(camera, rect);
                        let grabbed = match under(&demo, &lens, from) {
                            Target::Ground { .. } | Target::Nothing => None,
                            of_car => of_car.at(),
                        };
                        let mut bench = Bench::new();
                        bench.car = demo.clone();
                        // Nothing of it is pulled: every drag moves the camera.
                        bench.only_seen = true;
                        bench.lens = lens;
                        bench.read(&[
                            Event::Moved(from),
                            Event::Pressed(button),
                            Event::Moved(from + by),
                            Event::Released(button),
                        ]);
                        let is_seen = |at| bench.lens.project(at).is_some_and(|at| rect.contains(at));
                        // Close up, what was grabbed stays; all else may go out of such a narrow picture.
                        let stays = is_seen(middle) || close_up && grabbed.is_some_and(is_seen);
                        assert!(stays, "{view:?} from {from} by {by} {button:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn zooming_on_the_ground_far_behind_keeps_the_car_in_sight() {
    let demo = demo();
    let (middle, _) = extent(&demo);
    let rect = ScreenRect::new(0.0, 0.0, 340.0, 600.0);
    let mut bench = Bench::new();
    bench.lens = StageProjection::new(StandardView::ThreeQuarter.camera(&demo, rect.aspect()), rect);
    bench.car = demo;
    let horizon = Pixel::new(170.0, 60.0);
    bench.read(&[Event::Moved(horizon), Event::Wheel(1.0), Event::Wheel(1.0)]);
    let at = bench.lens.project(middle).expect("in front of the eye");
    assert!(rect.contains(at), "{at}");
}

#[test]
fn a_car_that_is_only_seen_is_turned_and_never_pulled() {
    let mut bench = Bench::new();
    bench.only_seen = true;
    let before = bench.lens.camera;
    for at in [TREAD, Point3::new(0.0, 0.1, 0.5)] {
        let from = bench.pixel(at);
        let acts = bench.read(&[
            Event::Moved(from),
            Event::Pressed(Button::Left),
            Event::Moved(from + Vector2::new(30.0, 10.0)),
            Event::Released(Button::Left),
        ]);
        assert!(!acts.is_empty() && acts.iter().all(|act| matches!(act, Act::Camera(_))), "{acts:?}");
        let click = bench.read(&[Event::Pressed(Button::Left), Event::Released(Button::Left)]);
        assert!(click.is_empty(), "{click:?}");
    }
    assert!((bench.lens.camera.azimuth - before.azimuth).abs() > 0.1);
}

#[test]
fn another_size_of_a_point_moves_what_is_known_in_points() {
    let mut bench = Bench::new();
    let on_tyre = bench.pixel(TREAD);
    bench.read(&[Event::Moved(on_tyre), Event::Pressed(Button::Left)]);
    bench.hand.rescale(0.5);
    assert!((bench.hand.pointer().expect("it is there") - on_tyre * 0.5).norm() < 1e-9);
    // The press has not moved: it is a click all the same.
    bench.lens.rect = ScreenRect::new(0.0, 0.0, 700.0, 500.0);
    let acts = bench.read(&[Event::Moved(on_tyre * 0.5), Event::Released(Button::Left)]);
    assert!(matches!(&acts[..], [Act::Clicked(Target::Tyre { .. })]), "{acts:?}");
}
