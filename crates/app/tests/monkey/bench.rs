//! The whole app without a graphics card and without a system's window: the same plugins and systems, a
//! window that exists as data, a clock that goes by sixtieths of a second.

use bevy::app::SubApps;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::settings::WgpuSettings;
use bevy::time::TimeUpdateStrategy;
use bevy::window::{
    ExitCondition, PrimaryWindow, WindowEvent, WindowResized, WindowResolution, WindowScaleFactorChanged,
};
use bevy::winit::WinitPlugin;
use bevy_egui::{EguiContext, EguiPlugin, PrimaryEguiContext, egui};
use std::time::Duration;
use wheelpath::window::{Panels, Work, Workbench};
use wheelpath_session::Session;
use wheelpath_stage::StagePlugin;

pub struct Bench {
    apps: SubApps,
    pub window: Entity,
    /// Size in physical pixels, and pixels a logical one.
    pub size: [u32; 2],
    pub scale: f32,
    /// Where the pointer is, logical pixels.
    pub pointer: Vec2,
}

impl Bench {
    pub fn new(session: Session) -> Self {
        let size = [1280, 720];
        let window = Window { resolution: WindowResolution::new(size[0], size[1]), ..default() };
        let mut app = App::new();
        app.add_plugins(
            DefaultPlugins
                .set(WindowPlugin {
                    primary_window: Some(window),
                    exit_condition: ExitCondition::DontExit,
                    ..default()
                })
                .set(RenderPlugin {
                    render_creation: WgpuSettings { backends: None, ..default() }.into(),
                    ..default()
                })
                .disable::<WinitPlugin>()
                .disable::<bevy::log::LogPlugin>(),
        )
        .add_plugins(EguiPlugin::default())
        .add_plugins(StagePlugin::default())
        .add_plugins(Workbench::new(session))
        .insert_resource(TimeUpdateStrategy::ManualDuration(Duration::from_millis(17)));
        app.finish();
        app.cleanup();
        let window =
            app.world_mut().query_filtered::<Entity, With<PrimaryWindow>>().single(app.world()).unwrap();
        let apps = std::mem::take(app.sub_apps_mut());
        let mut bench = Bench { apps, window, size, scale: 1.0, pointer: Vec2::new(640.0, 360.0) };
        for _ in 0..4 {
            bench.frame();
        }
        bench
    }

    pub fn world(&mut self) -> &mut World {
        self.apps.main.world_mut()
    }

    pub fn frame(&mut self) {
        self.apps.update();
    }

    pub fn session(&mut self) -> &mut Session {
        &mut self.world().resource_mut::<Work>().into_inner().0
    }

    pub fn panels(&mut self) -> &mut wheelpath::panels::UiState {
        &mut self.world().resource_mut::<Panels>().into_inner().0
    }

    pub fn into_session(mut self) -> Session {
        let work = self.world().remove_resource::<Work>().unwrap();
        work.0
    }

    /// Something the system's window tells.
    pub fn tell(&mut self, event: impl Into<WindowEvent> + Message + Clone) {
        self.world().write_message(event.clone());
        self.world().write_message::<WindowEvent>(event.into());
    }

    pub fn resize(&mut self, size: [u32; 2], scale: f32) {
        (self.size, self.scale) = (size, scale);
        let entity = self.window;
        let mut window = self.world().get_mut::<Window>(entity).unwrap();
        window.resolution.set_scale_factor_override(Some(scale));
        window.resolution.set_physical_resolution(size[0], size[1]);
        let (width, height) = (window.width(), window.height());
        self.tell(WindowScaleFactorChanged { window: entity, scale_factor: f64::from(scale) });
        self.tell(WindowResized { window: entity, width, height });
    }

    /// Width and height in logical pixels.
    pub fn logical(&self) -> Vec2 {
        Vec2::new(self.size[0] as f32, self.size[1] as f32) / self.scale
    }

    /// Where the widgets are that can be clicked, in logical pixels.
    pub fn widgets(&mut self) -> Vec<Vec2> {
        let mut contexts =
            self.apps.main.world_mut().query_filtered::<&mut EguiContext, With<PrimaryEguiContext>>();
        let Ok(mut context) = contexts.single_mut(self.apps.main.world_mut()) else { return Vec::new() };
        let context = context.get_mut();
        let zoom = context.zoom_factor();
        context.viewport(|viewport| {
            let all = viewport.prev_pass.widgets.layers().flat_map(|(_, widgets)| widgets);
            let live = all.filter(|widget| widget.enabled && widget.sense.senses_click());
            let at = live.map(|widget| widget.interact_rect).filter(egui::Rect::is_positive);
            at.map(|rect| Vec2::new(rect.center().x, rect.center().y) * zoom).collect()
        })
    }
}
