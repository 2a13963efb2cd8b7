//! What was found at the window, kept: each played through the whole app as the monkey plays.

use super::bench::Bench;
use super::deeds::{click_at_once, press_with_control};
use super::{lay_out, open};
use bevy::prelude::*;
use wheelpath::adapter::point_of;
use wheelpath::panels::Task;
use wheelpath_stage::camera::projection::{Pixel, StageProjection};
use wheelpath_stage::pick::{Target, under};
use wheelpath_stage::render::input::StageLabels;
use wheelpath_stage::render::stage_camera::{StageCamera, StageEye, StageRect, StageTarget, lens};
use wheelpath_stage::view::Stage;
use wheelpath_stage::view::handle::nearest;
use wheelpath_stage::view::standard_views::StandardView;

fn alder(folder: &std::path::Path) -> Bench {
    lay_out(folder);
    let mut bench = Bench::new(open(folder));
    bench.resize([1280, 720], 1.0);
    for _ in 0..6 {
        bench.frame();
    }
    bench
}

fn seen_through(bench: &mut Bench) -> StageProjection {
    let world = bench.world();
    let (camera, stage) = (world.resource::<StageCamera>(), world.resource::<Stage>());
    lens(camera, stage, world.resource::<StageRect>(), world.resource::<StageTarget>())
}

/// Points that lie open to the pointer: key, and where they appear in points of the panels.
fn open_points(bench: &mut Bench) -> Vec<(String, Pixel)> {
    let lens = seen_through(bench);
    let world = bench.world();
    let (car, labels) = (&world.resource::<Stage>().car, world.resource::<StageLabels>());
    let at = |key: &str, at| {
        let pixel = lens.project(at)?;
        let found = under(car, &lens, pixel);
        let is_free = !labels.0.iter().any(|label| label.rect.contains(pixel));
        (is_free && matches!(&found, Target::Point { key: found, .. } if found == key))
            .then(|| (key.to_owned(), pixel))
    };
    car.points.iter().filter_map(|point| at(&point.key, point.at)).collect()
}

fn logical(at: Pixel, zoom: f64) -> Vec2 {
    #[expect(clippy::cast_possible_truncation, reason = "pixels of a window")]
    let single = |x: f64| (x * zoom) as f32;
    Vec2::new(single(at.x), single(at.y))
}

/// A press and its release that come in one frame, with the pointer's way to the point: it is selected. So at
/// every zoom of the panels.
#[test]
fn a_click_on_a_point_that_is_shorter_than_a_frame_selects_it() {
    let home = tempfile::tempdir().unwrap();
    let mut bench = alder(home.path());
    for zoomed in 0..3 {
        for _ in 0..zoomed {
            press_with_control(&mut bench, "+");
            for _ in 0..4 {
                bench.frame();
            }
        }
        let zoom = bench.world().resource::<StageTarget>().scale;
        assert!((zoom > 1.05) == (zoomed > 0), "{zoom} after {zoomed}");
        let mut count = 0;
        let all = open_points(&mut bench).len();
        for number in 0..all {
            // With nothing selected, since what is shown of a selected point may cover others.
            bench.panels().select(None);
            bench.panels().task = Task::Look;
            for _ in 0..3 {
                bench.frame();
            }
            let Some((key, at)) = open_points(&mut bench).into_iter().nth(number) else { continue };
            click_at_once(&mut bench, logical(at, zoom));
            bench.frame();
            assert_eq!(bench.panels().selected, point_of(&key), "{key} at {at}, zoom {zoom}");
            assert_eq!(bench.panels().task, Task::Change);
            count += 1;
        }
        assert!(count >= 5, "{count} points lie open");
    }
}

/// Everything that can hide a point from a click but another point: every point of the picture that is the
/// foremost there, with whatever is drawn over it, with a point selected or none, from every standing view.
#[test]
fn a_click_reaches_a_point_under_a_label_and_under_a_handle() {
    let home = tempfile::tempdir().unwrap();
    let mut bench = alder(home.path());
    let (mut under_labels, mut by_handles) = (0, 0);
    for view in StandardView::ALL {
        bench.panels().view = Some(view);
        for _ in 0..60 {
            bench.frame();
        }
        let keys: Vec<String> =
            bench.world().resource::<Stage>().car.points.iter().map(|p| p.key.clone()).collect();
        for (number, key) in keys.iter().enumerate() {
            // Another point is selected, with its handles, or none.
            let other = &keys[(number + 1) % keys.len()];
            bench.panels().task = Task::Change;
            bench.panels().select(point_of(other).filter(|_| number % 2 == 0));
            for _ in 0..3 {
                bench.frame();
            }
            let lens = seen_through(&mut bench);
            let world = bench.world();
            let (stage, labels) = (world.resource::<Stage>(), world.resource::<StageLabels>());
            let point = stage.car.points.iter().find(|point| point.key == *key).unwrap();
            let Some(pixel) = lens.project(point.at).filter(|at| lens.rect.shrunk(2.0).contains(*at)) else {
                continue;
            };
            if !matches!(under(&stage.car, &lens, pixel), Target::Point { key: found, .. } if found == *key) {
                continue;
            }
            under_labels += usize::from(labels.0.iter().any(|label| label.rect.contains(pixel)));
            by_handles += usize::from(nearest(&stage.handles, &lens, pixel).is_some());
            click_at_once(&mut bench, logical(pixel, 1.0));
            bench.frame();
            assert_eq!(
                bench.panels().selected,
                point_of(key),
                "{view:?}: {key} at {pixel}, {other} was selected"
            );
        }
    }
    println!("{under_labels} lay under a label, {by_handles} under a handle");
    assert!(under_labels > 0 && by_handles > 0, "{under_labels} under labels, {by_handles} under handles");
}

/// At any zoom of the panels and any scale of the screen, the picture of the car fills the place that the
/// panels leave it, to the pixel.
#[test]
fn the_picture_fills_its_frame_at_every_zoom_and_scale() {
    let home = tempfile::tempdir().unwrap();
    let mut bench = alder(home.path());
    for scale in [1.0, 1.5, 2.0] {
        bench.resize([1600, 900], scale);
        for key in ["0", "+", "+", "+", "+", "+", "-", "-", "-", "-", "-", "-", "-", "-"] {
            press_with_control(&mut bench, key);
            for _ in 0..5 {
                bench.frame();
            }
            let rect = seen_through(&mut bench).rect;
            let target = *bench.world().resource::<StageTarget>();
            for (length, of_window) in [(target.width, 1600.0), (target.height, 900.0)] {
                assert!((length * target.scale - of_window).abs() < 0.5, "{target:?}");
            }
            let mut eyes = bench.world().query::<(&StageEye, &Camera)>();
            let drawn = eyes.iter(bench.world()).find(|(eye, _)| **eye == StageEye::Now).unwrap().1;
            let viewport = drawn.viewport.clone().unwrap();
            let ends = [
                (viewport.physical_position.x, rect.left),
                (viewport.physical_position.y, rect.top),
                (viewport.physical_position.x + viewport.physical_size.x, rect.right()),
                (viewport.physical_position.y + viewport.physical_size.y, rect.bottom()),
            ];
            for (pixel, point) in ends {
                let off = f64::from(pixel) - point * target.scale;
                assert!(off.abs() < 1.01, "{off} pixels: {viewport:?} of {rect:?}, {target:?}");
            }
        }
    }
}
