//! The invented car in a real window, to try the pointer by hand: what the stage says
//! is printed, with the number of frames drawn so far (it stands still at rest).

#[path = "../../stage/tests/scene/invented_car.rs"]
#[expect(dead_code, reason = "the pictures need more of it")]
mod car;

use std::io::Write;

use bevy::prelude::*;
use bevy_egui::{EguiContexts, EguiPlugin, EguiPrimaryContextPass, egui};
use wheelpath_stage::annotate::frame;
use wheelpath_stage::render::messages::{StageClick, StageLabelClick, StagePull, StageSteer};
use wheelpath_stage::render::redraw_policy;
use wheelpath_stage::render::stage_camera::{StageCamera, StageRect};
use wheelpath_stage::view::standard_views::StandardView;
use wheelpath_stage::{StagePlugin, StageSet};

#[derive(Resource, Default)]
struct Frames(u32);

#[derive(Resource, Default)]
struct Clicks(u32);

fn main() {
    App::new()
        .insert_resource(redraw_policy::at_rest())
        .add_plugins(DefaultPlugins.set(WindowPlugin {
            primary_window: Some(Window {
                title: "Stage".into(),
                resolution: (1000, 600).into(),
                ..default()
            }),
            ..default()
        }))
        .add_plugins(EguiPlugin::default())
        .add_plugins(StagePlugin::default())
        .insert_resource(car::stage())
        .init_resource::<Frames>()
        .init_resource::<Clicks>()
        .add_systems(Update, say.after(StageSet::Read))
        .add_systems(EguiPrimaryContextPass, panel.before(StageSet::Overlays))
        .run();
}

fn panel(
    mut contexts: EguiContexts,
    mut rect: ResMut<StageRect>,
    mut camera: ResMut<StageCamera>,
    mut clicks: ResMut<Clicks>,
) -> Result {
    let context = contexts.ctx_mut()?;
    let mut ui = egui::Ui::new(
        context.clone(),
        "root".into(),
        egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(context.viewport_rect()),
    );
    egui::Panel::left("views").show(&mut ui, |ui| {
        ui.label(format!("Clicks: {}", clicks.0));
        for view in StandardView::ALL {
            if ui.button(view.name()).on_hover_text("Goes to this view").clicked() {
                clicks.0 += 1;
                camera.go(view);
            }
        }
    });
    let left = frame::screen_rect(ui.available_rect_before_wrap());
    rect.set_if_neq(StageRect(Some(left)));
    Ok(())
}

#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
fn say(
    mut frames: ResMut<Frames>,
    clicks: Res<Clicks>,
    mut pulls: MessageReader<StagePull>,
    mut steers: MessageReader<StageSteer>,
    mut picked: MessageReader<StageClick>,
    mut labels: MessageReader<StageLabelClick>,
) {
    frames.0 += 1;
    let mut out = std::io::stdout().lock();
    let mut line = |text: String| {
        let _ = writeln!(out, "frame {}: {text}", frames.0);
    };
    if clicks.is_changed() {
        line(format!("{} buttons clicked", clicks.0));
    }
    for pull in pulls.read() {
        line(format!("{pull:?}"));
    }
    for steer in steers.read() {
        line(format!("{steer:?}"));
    }
    for click in picked.read() {
        line(format!("{click:?}"));
    }
    for label in labels.read() {
        line(format!("{label:?}"));
    }
    if frames.0.is_multiple_of(10) {
        line("drawn".to_owned());
    }
}
