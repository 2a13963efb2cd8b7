//! The stage as one Bevy plugin.

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraOutputMode, CameraUpdateSystems};
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::ecs::schedule::{ScheduleLabel, SingleThreadedExecutor};
use bevy::input::InputSystems;
use bevy::prelude::*;
use bevy::render::render_resource::BlendState;
use bevy::render::{Render, RenderApp, RenderSystems};
use bevy::transform::TransformSystems;
use bevy_egui::{
    EguiContexts, EguiGlobalSettings, EguiPostUpdateSet, EguiPreUpdateSet, EguiPrimaryContextPass,
    PrimaryEguiContext,
};

use crate::annotate::overlay_painter;
use crate::camera::projection::StageProjection;
use crate::pick::pointer_input::{HandSettings, Over, PointerInput};
use crate::render::ground;
use crate::render::input::{self, StageLabels};
use crate::render::light::{self, Drawing, Quality};
use crate::render::messages::{
    StageClick, StageHandlePull, StageLabelClick, StagePointPull, StagePull, StageSteer,
};
use crate::render::redraw_policy;
use crate::render::scene::{self, Drawn, TyreLook};
use crate::render::shortcut_order;
use crate::render::stage_camera::{self, BeforeRect, StageCamera, StageEye, StageRect, StageTarget};
use crate::render::surface_material;
use crate::theme::Palette;
use crate::view::Stage;

/// When the stage does what.
#[derive(SystemSet, Debug, Clone, PartialEq, Eq, Hash)]
pub enum StageSet {
    /// `Update`: the pointer is read and messages are written. Whoever answers them
    /// in the same frame runs after this and before [`StageSet::Show`].
    Read,
    /// `Update`: the car is brought in line with [`Stage`].
    Show,
    /// `EguiPrimaryContextPass`: overlays are painted. Panels that set
    /// [`StageRect`] run before this.
    Overlays,
}

/// Draws [`Stage`] and writes the stage's messages.
///
/// Needs `DefaultPlugins` and `EguiPlugin`. Spawns two cameras on the given target:
/// one for the car, limited to [`StageRect`], and over it one for egui.
#[derive(Debug, Clone, Default)]
pub struct StagePlugin {
    /// What the cameras draw into; none = the primary window.
    pub image: Option<Handle<Image>>,
}

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Stage>()
            .init_resource::<Palette>()
            .init_resource::<StageCamera>()
            .init_resource::<StageRect>()
            .init_resource::<BeforeRect>()
            .init_resource::<StageTarget>()
            .init_resource::<StageLabels>()
            .init_resource::<TyreLook>()
            .init_resource::<Quality>()
            .init_resource::<Drawing>()
            .init_resource::<PointerInput>()
            .init_resource::<HandSettings>()
            .init_resource::<Drawn>()
            .add_message::<StagePull>()
            .add_message::<StageSteer>()
            .add_message::<StagePointPull>()
            .add_message::<StageHandlePull>()
            .add_message::<StageClick>()
            .add_message::<StageLabelClick>();
        if let Some(mut settings) = app.world_mut().get_resource_mut::<EguiGlobalSettings>() {
            settings.auto_create_primary_context = false;
        }
        surface_material::add_matt(app);
        let building = redraw_policy::Building::default();
        app.insert_resource(building.clone());
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .insert_resource(building)
                .add_systems(Render, redraw_policy::note_building.in_set(RenderSystems::Cleanup));
        }
        // Small systems that wait for one another: handing them to threads would cost more than they do.
        let main = [First.intern(), PreUpdate.intern(), Update.intern(), PostUpdate.intern(), Last.intern()];
        for schedule in main.into_iter().chain([EguiPrimaryContextPass.intern()]) {
            app.edit_schedule(schedule, |schedule| {
                schedule.set_executor(SingleThreadedExecutor::new());
            });
        }
        let image = self.image.clone();
        app.add_systems(PreStartup, move |mut commands: Commands| spawn_eyes(&mut commands, image.as_ref()));
        app.add_systems(Startup, light::light_stage)
            .configure_sets(Update, (StageSet::Read, StageSet::Show).chain())
            .add_systems(
                Update,
                (input::read_pointer, input::read_view_keys, redraw_policy::wake_for_egui)
                    .chain()
                    .in_set(StageSet::Read),
            )
            .add_systems(
                Update,
                (stage_camera::move_camera, light::set_quality, ground::lay_sheet, scene::show)
                    .chain()
                    .in_set(StageSet::Show),
            )
            .add_systems(PreUpdate, shortcut_order::part_chords.before(InputSystems))
            .add_systems(
                PreUpdate,
                redraw_policy::drop_idle_modifiers
                    .after(EguiPreUpdateSet::ProcessInput)
                    .before(EguiPreUpdateSet::BeginPass),
            )
            .add_systems(
                EguiPrimaryContextPass,
                (stage_camera::measure_target, paint_overlays.in_set(StageSet::Overlays)).chain(),
            )
            .add_systems(
                PostUpdate,
                (stage_camera::apply_camera, redraw_policy::settle, redraw_policy::settle_after_input)
                    .after(EguiPostUpdateSet::EndPass)
                    .before(CameraUpdateSystems)
                    .before(TransformSystems::Propagate),
            );
    }
}

fn spawn_eyes(commands: &mut Commands, image: Option<&Handle<Image>>) {
    use bevy::camera::RenderTarget;
    for (eye, order) in [(StageEye::Now, 0), (StageEye::Before, -1)] {
        let is_active = eye == StageEye::Now;
        let camera = Camera { order, is_active, ..default() };
        let mut entity = commands.spawn((eye, eye.layer(), Camera3d::default(), Tonemapping::None, camera));
        if let Some(image) = image {
            entity.insert(RenderTarget::Image(image.clone().into()));
        }
    }
    let mut panels = commands.spawn((
        PrimaryEguiContext,
        Camera2d,
        Msaa::Off,
        RenderLayers::none(),
        Camera {
            order: 1,
            // What egui has painted is premultiplied already; blended as if it were
            // not, every edge and every plate of a label would turn grey.
            output_mode: CameraOutputMode::Write {
                blend_state: Some(BlendState::PREMULTIPLIED_ALPHA_BLENDING),
                clear_color: ClearColorConfig::None,
            },
            clear_color: ClearColorConfig::Custom(Color::NONE),
            ..default()
        },
    ));
    if let Some(image) = image {
        panels.insert(RenderTarget::Image(image.clone().into()));
    }
}

#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
fn paint_overlays(
    mut contexts: EguiContexts,
    stage: Res<Stage>,
    camera: Res<StageCamera>,
    (rect, before): (Res<StageRect>, Res<BeforeRect>),
    target: Res<StageTarget>,
    palette: Res<Palette>,
    hand: Res<PointerInput>,
    look: Res<TyreLook>,
    mut labels: ResMut<StageLabels>,
) -> Result {
    let context = contexts.ctx_mut()?;
    let solid = !scene::clear_wheels(*look, &camera);
    if let Some((before, rect)) = before.shown(&stage) {
        // What stands there can be looked at only: its labels are for nobody.
        let lens = stage_camera::lens(&camera, before, &rect, &target);
        let _ = overlay_painter::paint(context, before, &lens, &palette, &Over::Nothing, solid);
    }
    let lens: StageProjection = stage_camera::lens(&camera, &stage, &rect, &target);
    let drawn = overlay_painter::paint(context, &stage, &lens, &palette, hand.over(), solid);
    labels.set_if_neq(StageLabels(drawn));
    Ok(())
}
