//! The lights, and how much is asked of what draws.

use bevy::camera::visibility::RenderLayers;
use bevy::light::CascadeShadowConfigBuilder;
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;
use nalgebra::Vector3;

use crate::annotate::frame;
use crate::render::stage_camera::{StageCamera, StageEye};

/// How much the graphics hardware is asked for.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Quality {
    /// Full, but plain where the "hardware" is a processor drawing in software.
    #[default]
    Auto,
    /// Shadows and smooth edges whatever it takes: for pictures.
    Full,
    /// Neither.
    Plain,
}

/// The light that throws the shadow.
#[derive(Component)]
pub(crate) struct KeyLight(pub StageEye);

/// Share of the light that falls on a level sheet from everywhere; the rest comes
/// from the key light and is missing in its shadow.
const SOFT: f32 = 0.58;
/// Nits or lux that make a white sheet white at Bevy's default exposure (EV100 9.7:
/// one over 2^9.7 · 1.2).
const WHITE: f32 = 998.0;
/// What Bevy's approximation of ambient light returns of it from a matt surface
/// (its environment term at roughness 1).
const AMBIENT_RETURN: f32 = 0.452;

/// Toward the key light.
const TOWARD_KEY: [f64; 3] = [0.35, 0.28, 1.0];

/// Lights from the sides: (toward the light, share of white). They lie level, so they
/// shape the parts and leave the level sheet as it is.
const FILLS: [([f64; 2], f32); 4] =
    [([1.0, 0.35], 0.24), ([-0.2, 1.0], 0.18), ([-1.0, -0.4], 0.14), ([0.3, -1.0], 0.10)];

pub(crate) fn light_stage(mut commands: Commands) {
    commands.insert_resource(GlobalAmbientLight { brightness: SOFT * WHITE / AMBIENT_RETURN, ..default() });
    let white = WHITE * std::f32::consts::PI;
    let toward_light = Vector3::from(TOWARD_KEY).normalize();
    for eye in [StageEye::Now, StageEye::Before] {
        commands.spawn((
            KeyLight(eye),
            // Each picture has a light of its own, or one car's shadow would fall in the other's.
            eye.layer(),
            if eye == StageEye::Now { Visibility::Inherited } else { Visibility::Hidden },
            DirectionalLight {
                illuminance: (1.0 - SOFT) * white / frame::single(toward_light.z),
                shadow_maps_enabled: true,
                ..default()
            },
            CascadeShadowConfigBuilder {
                num_cascades: 1,
                minimum_distance: 0.1,
                maximum_distance: 60.0,
                first_cascade_far_bound: 60.0,
                ..default()
            }
            .build(),
            shining(toward_light),
        ));
    }
    for ([x, y], share) in FILLS {
        commands.spawn((
            RenderLayers::from_layers(&[0, 1]),
            DirectionalLight { illuminance: share * white, shadow_maps_enabled: false, ..default() },
            shining(Vector3::new(x, y, 0.0)),
        ));
    }
}

/// Directional lights, the key light first.
pub(crate) const LIGHTS: usize = 1 + FILLS.len();

/// All light as sums of plain numbers: the share that comes from everywhere, and unit vectors toward each
/// light in drawing axes, scaled by the share of white it brings to a surface that faces it.
pub(crate) fn shares() -> (f32, [Vec3; LIGHTS]) {
    let key = Vector3::from(TOWARD_KEY).normalize();
    let mut lights = [frame::vector(key * (1.0 / key.z)) * (1.0 - SOFT); LIGHTS];
    for (light, ([x, y], share)) in lights.iter_mut().skip(1).zip(FILLS) {
        *light = frame::vector(Vector3::new(x, y, 0.0).normalize()) * share;
    }
    (SOFT, lights)
}

/// A light standing in a direction and shining back.
fn shining(toward_light: Vector3<f64>) -> Transform {
    let from = frame::vector(toward_light.normalize() * 10.0);
    // Neither the key light nor the level ones stand along the diagonal.
    Transform::from_translation(from).looking_at(Vec3::ZERO, Vec3::new(0.577, 0.577, -0.577))
}

/// How much is drawn, once it is known what draws.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Drawing {
    /// Shadows, smooth edges, surfaces that shine.
    #[default]
    Full,
    /// None of them.
    Plain,
}

/// Drops what would cost seconds a frame.
pub(crate) fn set_quality(
    mut commands: Commands,
    quality: Res<Quality>,
    adapter: Option<Res<RenderAdapterInfo>>,
    mut drawing: ResMut<Drawing>,
    mut lights: Query<&mut DirectionalLight, With<KeyLight>>,
    mut camera: ResMut<StageCamera>,
    eyes: Query<(Entity, Ref<StageEye>)>,
) {
    if !quality.is_changed() && !eyes.iter().any(|(_, eye)| eye.is_added()) {
        return;
    }
    let in_software = adapter.is_some_and(|adapter| adapter.device_type == wgpu::DeviceType::Cpu);
    let full = match *quality {
        Quality::Auto => !in_software,
        Quality::Full => true,
        Quality::Plain => false,
    };
    drawing.set_if_neq(if full { Drawing::Full } else { Drawing::Plain });
    if !full {
        // Half a second of slow frames is a wait, not a movement.
        camera.move_time = 0.0;
    }
    for mut light in &mut lights {
        light.shadow_maps_enabled = full;
    }
    for (eye, _) in &eyes {
        commands.entity(eye).insert(if full { Msaa::Sample4 } else { Msaa::Off });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_sheet_gets_white_light_and_no_side_more_than_it() {
        let (soft, lights) = shares();
        let on = |normal: Vec3| soft + lights.iter().map(|light| light.dot(normal).max(0.0)).sum::<f32>();
        assert!((on(Vec3::Y) - 1.0).abs() < 1e-6, "{}", on(Vec3::Y));
        for side in [Vec3::X, Vec3::NEG_X, Vec3::Z, Vec3::NEG_Z] {
            assert!((0.55..1.1).contains(&on(side)), "{side}: {}", on(side));
        }
        assert!((on(Vec3::NEG_Y) - soft).abs() < 1e-6);
    }
}
