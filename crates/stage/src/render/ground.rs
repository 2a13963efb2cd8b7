//! The sheet under the car: a grid of thin lines, and what the shadow lies on.

use bevy::asset::RenderAssetUsages;
use bevy::light::NotShadowCaster;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use nalgebra::{Matrix3, Point3, Vector3};

use crate::annotate::frame;
use crate::render::light::KeyLight;
use crate::render::stage_camera::{BeforeRect, StageEye};
use crate::render::surface_material::colour;
use crate::render::surface_material::{Finish, SurfaceMaterials};
use crate::solids::axes_along;
use crate::theme::{ColourTheme, Palette};
use crate::view::Stage;

/// Half the length of the grid's lines, in metres.
const REACH: f64 = 6.0;
/// Fraction of the reach from which the grid fades.
const FADE_FROM: f64 = 0.30;
/// Lines every so many metres.
const STEP: f64 = 0.1;

/// The grid's lines, and what the shadow falls on.
#[derive(Component)]
pub(crate) struct Sheeting(StageEye);

/// Lays the sheet: once, and again where colours or the car's middle changed; moves
/// it where the ground moved.
#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
pub(crate) fn lay_sheet(
    mut commands: Commands,
    stage: Res<Stage>,
    palette: Res<Palette>,
    before: Res<BeforeRect>,
    mut laid: Local<Option<(Point3<f64>, bool)>>,
    mut gizmos: ResMut<Assets<GizmoAsset>>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut coats: SurfaceMaterials,
    mut clear: ResMut<ClearColor>,
    mut sheet: Query<(Entity, &mut Transform, &Sheeting)>,
    mut lights: Query<(&KeyLight, &mut Visibility)>,
) {
    let is_new = palette.is_changed() || coats.drawing.is_changed();
    if !stage.is_changed() && !is_new && !before.is_changed() {
        return;
    }
    let beside = before.shown(&stage).map(|(before, _)| before);
    let middle = stage.car.ground.point;
    let is_same = |(old, was_beside): &(Point3<f64>, bool)| {
        (old - middle).xy().norm() < 0.25 && *was_beside == beside.is_some()
    };
    let level = |stage: &Stage| ground_transform(stage.car.ground.point, stage.car.ground.normal);
    if laid.as_ref().is_some_and(is_same) && !is_new {
        for (_, mut place, of) in &mut sheet {
            let stage = if of.0 == StageEye::Before { beside } else { Some(&*stage) };
            if let Some(stage) = stage {
                place.set_if_neq(level(stage));
            }
        }
        return;
    }
    *laid = Some((middle, beside.is_some()));
    clear.0 = colour(palette.paper);
    for (light, mut visibility) in &mut lights {
        if light.0 == StageEye::Before {
            *visibility = if beside.is_some() { Visibility::Inherited } else { Visibility::Hidden };
        }
    }
    for (entity, ..) in &sheet {
        commands.entity(entity).despawn();
    }
    let sheets = [(StageEye::Now, Some(&*stage)), (StageEye::Before, beside)];
    for (eye, stage) in sheets {
        if let Some(stage) = stage {
            let assets = (&mut *gizmos, &mut *meshes, &mut coats);
            lay(&mut commands, assets, &palette, eye, (stage.car.ground.point, level(stage)));
        }
    }
}

fn lay(
    commands: &mut Commands,
    (gizmos, meshes, coats): (&mut Assets<GizmoAsset>, &mut Assets<Mesh>, &mut SurfaceMaterials),
    palette: &Palette,
    eye: StageEye,
    (middle, level): (Point3<f64>, Transform),
) {
    commands.spawn((
        Sheeting(eye),
        eye.layer(),
        Gizmo {
            handle: gizmos.add(grid(middle, palette)),
            line_config: GizmoLineConfig { width: 1.0, ..default() },
            // Just enough to lie on the sheet instead of flickering in it.
            depth_bias: -0.0004,
        },
        level,
    ));
    // Lit by exactly white light this is the paper's colour: the disc's edge cannot be
    // seen, only the shadow on it. At this roughness Bevy's diffuse term hardly depends
    // on where one looks from.
    let paper = Finish { rgb: palette.paper, alpha: 1.0, roughness: 0.6, reflectance: 0.0 };
    let mut disc = commands.spawn((
        Sheeting(eye),
        eye.layer(),
        NotShadowCaster,
        Mesh3d(meshes.add(disc(middle))),
        level,
    ));
    coats.mix(&paper).put_on(&mut disc);
}

/// Where the sheet lies: lines keep their whole metres in the car's axes.
fn ground_transform(middle: Point3<f64>, normal: Vector3<f64>) -> Transform {
    let axes: Matrix3<f64> = axes_along(normal, Vector3::x());
    let rotation = frame::rotation(&axes);
    let pivot = frame::point(Point3::new(middle.x, middle.y, 0.0));
    Transform { translation: frame::point(middle) - rotation * pivot, rotation, scale: Vec3::ONE }
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
        ColourTheme::Light => (0.20, 0.62),
        ColourTheme::Dark => (0.16, 0.50),
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

/// A level disc.
fn disc(middle: Point3<f64>) -> Mesh {
    let around = 64_u32;
    let mut positions = vec![frame::point(Point3::new(middle.x, middle.y, 0.0)).to_array()];
    for step in 0..around {
        let (sin, cos) = (std::f64::consts::TAU * f64::from(step) / f64::from(around)).sin_cos();
        let at = Point3::new(middle.x + REACH * cos, middle.y + REACH * sin, 0.0);
        positions.push(frame::point(at).to_array());
    }
    let triangles = (0..around).flat_map(|step| [0, 1 + step, 1 + (step + 1) % around]).collect();
    let normals = vec![[0.0, 1.0, 0.0]; positions.len()];
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::RENDER_WORLD)
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
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
