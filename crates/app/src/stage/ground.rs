//! The sheet under the car: a grid of thin lines, the shadow that lies on it, and the
//! lights that throw it.

use bevy::asset::RenderAssetUsages;
use bevy::light::{CascadeShadowConfigBuilder, NotShadowCaster};
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;
use nalgebra::{Matrix3, Point3, Vector3};

use super::camera::StageEye;
use super::frame;
use super::palette::{Palette, Sheet};
use super::scene::colour;
use super::solids::axes_along;
use super::view::Stage;

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

/// Half the length of the grid's lines, in metres.
const REACH: f64 = 6.0;
/// Fraction of the reach from which the grid fades.
const FADE_FROM: f64 = 0.30;
/// Lines every so many metres.
const STEP: f64 = 0.1;

/// The grid's lines.
#[derive(Component)]
pub(super) struct GridLines;

/// What the shadow falls on.
#[derive(Component)]
pub(super) struct ShadowSheet;

/// The light that throws the shadow.
#[derive(Component)]
pub(super) struct KeyLight;

/// Share of the light that falls on a level sheet from everywhere; the rest comes
/// from the key light and is missing in its shadow.
const SOFT: f32 = 0.60;
/// Nits or lux that make a white sheet white at Bevy's default exposure (EV100 9.7:
/// one over 2^9.7 · 1.2).
const WHITE: f32 = 998.0;

pub(super) fn light_stage(mut commands: Commands) {
    commands.insert_resource(GlobalAmbientLight {
        brightness: SOFT * WHITE,
        ..default()
    });
    let toward_light = Vector3::new(0.35, 0.28, 1.0).normalize();
    let strength = (1.0 - SOFT) * WHITE * std::f32::consts::PI / frame::single(toward_light.z);
    commands.spawn((
        KeyLight,
        DirectionalLight {
            illuminance: strength,
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
        Transform::from_translation(frame::vector(toward_light * 10.0))
            .looking_at(Vec3::ZERO, Vec3::X),
    ));
}

/// Drops shadows and smooth edges where they would cost seconds a frame.
pub(super) fn set_quality(
    mut commands: Commands,
    quality: Res<Quality>,
    adapter: Option<Res<RenderAdapterInfo>>,
    mut lights: Query<&mut DirectionalLight, With<KeyLight>>,
    new_eyes: Query<Entity, Added<StageEye>>,
    eyes: Query<Entity, With<StageEye>>,
) {
    if !(quality.is_changed() || !new_eyes.is_empty()) {
        return;
    }
    let in_software = adapter.is_some_and(|adapter| {
        adapter.device_type == wgpu::DeviceType::Cpu
    });
    let full = match *quality {
        Quality::Auto => !in_software,
        Quality::Full => true,
        Quality::Plain => false,
    };
    for mut light in &mut lights {
        light.shadow_maps_enabled = full;
    }
    for eye in &eyes {
        commands
            .entity(eye)
            .insert(if full { Msaa::Sample4 } else { Msaa::Off });
    }
}

/// Lays the sheet: once, and again where colours or the car's middle changed; moves
/// it where the ground moved.
#[expect(
    clippy::too_many_arguments,
    reason = "a system's parameters are what it reads and writes"
)]
pub(super) fn lay_sheet(
    mut commands: Commands,
    stage: Res<Stage>,
    palette: Res<Palette>,
    mut laid: Local<Option<Point3<f64>>>,
    mut gizmos: ResMut<Assets<GizmoAsset>>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut clear: ResMut<ClearColor>,
    old: Query<Entity, Or<(With<GridLines>, With<ShadowSheet>)>>,
    mut places: Query<&mut Transform, Or<(With<GridLines>, With<ShadowSheet>)>>,
) {
    if !(stage.is_changed() || palette.is_changed()) {
        return;
    }
    let ground = stage.car.ground;
    let middle = ground.point;
    let level = ground_transform(middle, ground.normal);
    let moved = laid.is_none_or(|old| (old - middle).xy().norm() > 0.25);
    if !(moved || palette.is_changed()) {
        for mut place in &mut places {
            place.set_if_neq(level);
        }
        return;
    }
    *laid = Some(middle);
    clear.0 = colour(palette.paper);
    for entity in &old {
        commands.entity(entity).despawn();
    }
    commands.spawn((
        GridLines,
        Gizmo {
            handle: gizmos.add(grid(middle, &palette)),
            line_config: GizmoLineConfig {
                width: 1.0,
                ..default()
            },
            // Just enough to lie on the sheet instead of flickering in it.
            depth_bias: -0.0004,
        },
        level,
    ));
    let lit = match palette.sheet {
        Sheet::Light => palette.paper,
        // A dark sheet takes a little light, or no shadow could be seen on it.
        Sheet::Dark => palette.paper.mixed(palette.ink, 7),
    };
    commands.spawn((
        ShadowSheet,
        NotShadowCaster,
        Mesh3d(meshes.add(disc(middle))),
        MeshMaterial3d(materials.add(StandardMaterial {
            base_color: colour(lit),
            perceptual_roughness: 1.0,
            reflectance: 0.0,
            alpha_mode: AlphaMode::Blend,
            // Below everything else that is see-through.
            depth_bias: -10.0,
            ..default()
        })),
        level,
    ));
}

/// Where the sheet lies: lines keep their whole metres in the car's axes.
fn ground_transform(middle: Point3<f64>, normal: Vector3<f64>) -> Transform {
    let axes: Matrix3<f64> = axes_along(normal, Vector3::x());
    let rotation = frame::rotation(&axes);
    let pivot = frame::point(Point3::new(middle.x, middle.y, 0.0));
    Transform {
        translation: frame::point(middle) - rotation * pivot,
        rotation,
        scale: Vec3::ONE,
    }
}

fn fade(distance: f64) -> f64 {
    let share = ((distance / REACH - FADE_FROM) / (1.0 - FADE_FROM)).clamp(0.0, 1.0);
    (1.0 - share) * (1.0 - share)
}

/// Lines every 100 mm, stronger every metre, fading out from the middle.
fn grid(middle: Point3<f64>, palette: &Palette) -> GizmoAsset {
    let mut lines = GizmoAsset::default();
    let colour = colour(palette.grid);
    let strengths = match palette.sheet {
        Sheet::Light => (0.20, 0.62),
        Sheet::Dark => (0.16, 0.50),
    };
    let count = 60_i32;
    for along_x in [true, false] {
        let across_middle = if along_x { middle.y } else { middle.x };
        let along_middle = if along_x { middle.x } else { middle.y };
        let first = (across_middle / STEP).round();
        for number in -count..=count {
            let line = first + f64::from(number);
            let across = line * STEP;
            let is_metre = (line / 10.0 - (line / 10.0).round()).abs() < 1e-6;
            let strength = if is_metre { strengths.1 } else { strengths.0 };
            let pieces = 24_i32;
            let points: Vec<(Vec3, Color)> = (-pieces..=pieces)
                .map(|piece| {
                    let along = REACH * f64::from(piece) / f64::from(pieces);
                    let distance = along.hypot(across - across_middle);
                    let at = if along_x {
                        Point3::new(along_middle + along, across, 0.0)
                    } else {
                        Point3::new(across, along_middle + along, 0.0)
                    };
                    let alpha = frame::single(strength * fade(distance));
                    (frame::point(at), colour.with_alpha(alpha))
                })
                .filter(|(_, colour)| colour.alpha() > 0.004)
                .collect();
            if points.len() > 1 {
                lines.linestrip_gradient(points);
            }
        }
    }
    lines
}

/// A disc that fades out toward its edge.
fn disc(middle: Point3<f64>) -> Mesh {
    let rings = [0.0, 0.15, 0.30, 0.42, 0.54, 0.66, 0.78, 0.9, 1.0];
    let around = 48_u32;
    let mut positions: Vec<[f32; 3]> = Vec::new();
    let mut colours: Vec<[f32; 4]> = Vec::new();
    for ring in rings {
        for step in 0..around {
            let angle = std::f64::consts::TAU * f64::from(step) / f64::from(around);
            let at = Point3::new(
                middle.x + REACH * ring * angle.cos(),
                middle.y + REACH * ring * angle.sin(),
                0.0,
            );
            positions.push(frame::point(at).to_array());
            colours.push([1.0, 1.0, 1.0, frame::single(fade(REACH * ring))]);
        }
    }
    let mut triangles: Vec<u32> = Vec::new();
    let count = u32::try_from(rings.len()).unwrap_or(1);
    for ring in 0..count - 1 {
        for step in 0..around {
            let next = (step + 1) % around;
            let (a, b) = (ring * around + step, ring * around + next);
            let (c, d) = (a + around, b + around);
            triangles.extend([a, c, d, a, d, b]);
        }
    }
    let normals = vec![[0.0, 1.0, 0.0]; positions.len()];
    Mesh::new(
        PrimitiveTopology::TriangleList,
        RenderAssetUsages::RENDER_WORLD,
    )
    .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
    .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
    .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
    .with_inserted_indices(Indices::U32(triangles))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sheet_lies_on_the_ground_plane() {
        let middle = Point3::new(-1.3, 0.2, 0.03);
        let normal = Vector3::new(0.02, -0.05, 1.0).normalize();
        let place = ground_transform(middle, normal);
        let at_middle = place.transform_point(frame::point(Point3::new(-1.3, 0.2, 0.0)));
        assert!((at_middle - frame::point(middle)).length() < 1e-6);
        let off = place.transform_point(frame::point(Point3::new(1.0, -2.0, 0.0)));
        let height = (off - frame::point(middle)).dot(frame::vector(normal));
        assert!(height.abs() < 1e-5);
    }

    #[test]
    fn the_grid_fades_to_nothing() {
        assert!((fade(0.0) - 1.0).abs() < 1e-12);
        assert!(fade(REACH) < 1e-12);
        assert!(fade(0.5 * REACH) < 1.0);
    }
}
