//! Pictures drawn offscreen, on whatever draws here: the hardware's driver or one in
//! software. Where there is neither, the error must say so.

#![cfg(feature = "window")]

#[path = "../../stage/tests/scene/invented_car.rs"]
#[expect(dead_code, reason = "the pictures need more of it")]
mod car;

use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};
use wheelpath::picture::{PictureError, PictureOptions, find_adapter, render_app, render_png};
use wheelpath_stage::StageSet;
use wheelpath_stage::annotate::frame;
use wheelpath_stage::render::stage_camera::StageRect;
use wheelpath_stage::theme::{ColourTheme, Palette};
use wheelpath_stage::view::standard_views::StandardView;

const WIDTH: u32 = 320;
const HEIGHT: u32 = 200;

fn small() -> PictureOptions {
    PictureOptions {
        view: StandardView::Front,
        sheet: ColourTheme::Light,
        width: WIDTH,
        height: HEIGHT,
        ..PictureOptions::default()
    }
}

#[test]
fn a_size_out_of_range_is_refused_with_its_bounds() {
    for (width, height) in [(0, 200), (320, 100_000)] {
        let options = PictureOptions { width, height, ..small() };
        let error = render_png(&car::stage(), &options, "unused.png".as_ref()).expect_err("no such picture");
        assert!(matches!(error, PictureError::Size { .. }), "{error}");
        assert!(error.to_string().contains("from 16 to"));
    }
}

/// A red bar of panel on the left, as wide as 80 pixels.
fn panel(mut contexts: EguiContexts, mut rect: bevy::prelude::ResMut<StageRect>) -> bevy::prelude::Result {
    let context = contexts.ctx_mut()?;
    let mut ui = egui::Ui::new(
        context.clone(),
        "root".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(context.viewport_rect()),
    );
    egui::Panel::left("bar")
        .exact_size(80.0)
        .resizable(false)
        .frame(egui::Frame::new().fill(egui::Color32::from_rgb(255, 0, 0)))
        .show(&mut ui, |ui| ui.take_available_space());
    let left = frame::screen_rect(ui.available_rect_before_wrap());
    *rect = StageRect(Some(left));
    Ok(())
}

/// The car beside a panel, in one picture: paper where nothing is, dark rubber or metal
/// where the car is, and the panel where the panel is.
#[test]
fn the_car_and_a_panel_stand_side_by_side() {
    use bevy::prelude::IntoScheduleConfigs as _;
    let drawn = render_app(&small(), |app| {
        app.insert_resource(car::stage())
            .add_systems(EguiPrimaryContextPass, panel.before(StageSet::Overlays));
    });
    if find_adapter().is_err() {
        assert!(matches!(drawn, Err(PictureError::NoAdapter(_))));
        assert!(
            std::env::var_os("WHEELPATH_MUST_DRAW").is_none(),
            "nothing here can draw, and something must"
        );
        return;
    }
    let image = drawn.expect("a driver is there");
    let pixels = image.data.expect("the picture came back");
    let at = |x: u32, y: u32| {
        let start = ((y * WIDTH + x) * 4) as usize;
        [pixels[start], pixels[start + 1], pixels[start + 2]]
    };
    assert_eq!(at(20, 100), [255, 0, 0], "the panel");
    let paper = Palette::of(ColourTheme::Light).paper;
    let near =
        |a: [u8; 3]| a[0].abs_diff(paper.0) < 4 && a[1].abs_diff(paper.1) < 4 && a[2].abs_diff(paper.2) < 4;
    assert!(near(at(WIDTH - 4, 4)), "paper in the corner: {:?}", at(WIDTH - 4, 4));
    let (mut left, mut right) = (0, 0);
    for y in 0..HEIGHT {
        for x in 81..WIDTH {
            if !near(at(x, y)) {
                if x < 200 {
                    left += 1;
                } else {
                    right += 1;
                }
            }
        }
    }
    // The front view is symmetrical about the middle of what the panel leaves.
    assert!(left > 1500 && right > 1500, "{left} {right}");
    let lopsided = f64::from(left - right) / f64::from(left + right);
    assert!(lopsided.abs() < 0.06, "{left} pixels left, {right} right");
}
