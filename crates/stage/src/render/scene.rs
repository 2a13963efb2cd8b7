//! The solids as Bevy entities. Meshes are made once; a pose only writes transforms.

use std::collections::HashMap;

use bevy::asset::RenderAssetUsages;
use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::annotate::annotations::drawing_plane;
use crate::annotate::frame;
use crate::pick::pointer_input::{Over, PointerInput};
use crate::render::stage_camera::{StageCamera, StageEye};
use crate::render::surface_material::{Finish, SurfaceMaterial, SurfaceMaterials};
use crate::solids::shape::Shape;
use crate::solids::surface::Surface;
use crate::solids::{Paint, Solid, solids};
use crate::theme::Palette;
use crate::view::standard_views::StandardView;
use crate::view::{Emphasis, Stage};

/// How tyres and wheels are drawn.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TyreLook {
    /// Clear where they would hide the linkage: in drawing views and in the corner
    /// view; solid elsewhere.
    #[default]
    Auto,
    /// Always solid.
    Solid,
    /// Always clear.
    Clear,
}

/// How see-through a solid is, or how it answers the pointer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Veil {
    Solid,
    Clear,
    Ghost,
    Hovered,
}

#[derive(Debug)]
struct Slot {
    entity: Entity,
    shape: Shape,
    look: (Paint, Emphasis, Veil),
}

/// What is drawn of the car and its ghost.
#[derive(Resource, Default)]
pub(crate) struct Drawn {
    car: Vec<Slot>,
    ghost: Vec<Slot>,
    meshes: Vec<(Shape, Handle<Mesh>)>,
    coats: HashMap<(Paint, Emphasis, Veil), SurfaceMaterial>,
    last_look: Option<(bool, Over)>,
    /// Whether the predecessor stood beside the car, not in it.
    was_beside: bool,
}

/// Meshes kept for shapes no longer drawn, so that undo finds them again.
const MOST_MESHES: usize = 600;

impl Drawn {
    fn mesh(&mut self, shape: &Shape, meshes: &mut Assets<Mesh>) -> Handle<Mesh> {
        if let Some((_, handle)) = self.meshes.iter().find(|(made, _)| made.matches(shape)) {
            return handle.clone();
        }
        if self.meshes.len() > MOST_MESHES {
            self.meshes.clear();
        }
        let handle = meshes.add(mesh_of(&shape.surface()));
        self.meshes.push((shape.clone(), handle.clone()));
        handle
    }

    fn coat(
        &mut self,
        look: (Paint, Emphasis, Veil),
        palette: &Palette,
        coats: &mut SurfaceMaterials,
    ) -> SurfaceMaterial {
        self.coats.entry(look).or_insert_with(|| coats.mix(&finish_of(look, palette))).clone()
    }
}

fn finish_of((paint, emphasis, veil): (Paint, Emphasis, Veil), palette: &Palette) -> Finish {
    let base = palette.paint(paint, emphasis);
    let (rgb, alpha) = match veil {
        Veil::Solid => (base, 1.0),
        Veil::Hovered => (base.mixed(palette.accent, 22), 1.0),
        Veil::Clear => (base, if paint == Paint::Tyre { 0.22 } else { 0.16 }),
        Veil::Ghost => (palette.faint, 0.34),
    };
    Finish { rgb, alpha, roughness: 0.82, reflectance: if paint == Paint::Tyre { 0.18 } else { 0.32 } }
}

/// A mesh for a surface, in drawing axes.
fn mesh_of(surface: &Surface) -> Mesh {
    let positions: Vec<[f32; 3]> = surface.positions.iter().map(|p| frame::point(*p).to_array()).collect();
    let normals: Vec<[f32; 3]> = surface.normals.iter().map(|n| frame::vector(*n).to_array()).collect();
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::RENDER_WORLD)
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_indices(Indices::U32(surface.triangles.iter().flatten().copied().collect()))
}

/// Whether wheels are clear in the present picture.
pub(crate) fn clear_wheels(look: TyreLook, camera: &StageCamera) -> bool {
    match look {
        TyreLook::Solid => false,
        TyreLook::Clear => true,
        TyreLook::Auto => {
            matches!(camera.standing, Some(StandardView::Corner(_))) || drawing_plane(&camera.now).is_some()
        }
    }
}

/// The ghost's solids that the car has not got at the very same place: what did not
/// change would only darken the car it lies in.
fn differing(ghost: Vec<Solid>, car: &[(Solid, Veil)]) -> Vec<Solid> {
    const SAME: f64 = 1e-5;
    ghost
        .into_iter()
        .enumerate()
        .filter(|(number, old)| {
            car.get(*number).is_none_or(|(new, _)| {
                !(old.shape.matches(&new.shape)
                    && (old.centre - new.centre).norm() < SAME
                    && (old.axes - new.axes).norm() < SAME
                    && (old.scale - new.scale).norm() < SAME)
            })
        })
        .map(|(_, solid)| solid)
        .collect()
}

/// Brings the entities in line with the stage.
#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
pub(crate) fn show(
    mut commands: Commands,
    stage: Res<Stage>,
    palette: Res<Palette>,
    look: Res<TyreLook>,
    camera: Res<StageCamera>,
    hand: Res<PointerInput>,
    mut drawn: ResMut<Drawn>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut coats: SurfaceMaterials,
    mut transforms: Query<&mut Transform>,
) {
    let clear = clear_wheels(*look, &camera);
    let hovered = match hand.over() {
        Over::Tyre(place) => Over::Tyre(*place),
        _ => Over::Nothing,
    };
    let now = Some((clear, hovered.clone()));
    let is_redrawn = coats.drawing.is_changed();
    if !(stage.is_changed() || palette.is_changed() || is_redrawn || drawn.last_look != now) {
        return;
    }
    if is_redrawn {
        drawn.coats.clear();
    } else if palette.is_changed() {
        // New colours for what is already in use; nothing is rebuilt.
        for (look, coat) in &drawn.coats {
            coats.mix_anew(coat, &finish_of(*look, &palette));
        }
    }
    drawn.last_look = now;
    // The wheels come first in the list, two solids each.
    let hovered_wheel = match hovered {
        Over::Tyre(place) => stage.car.wheels.iter().position(|wheel| wheel.place == place),
        _ => None,
    };
    let car: Vec<(Solid, Veil)> = solids(&stage.car)
        .into_iter()
        .enumerate()
        .map(|(number, solid)| {
            let is_wheel = matches!(solid.paint, Paint::Tyre | Paint::Rim);
            let veil = if is_wheel && clear {
                Veil::Clear
            } else if is_wheel && hovered_wheel == Some(number / 2) {
                Veil::Hovered
            } else {
                Veil::Solid
            };
            (solid, veil)
        })
        .collect();
    let as_solid = |solid: Solid| {
        let is_wheel = matches!(solid.paint, Paint::Tyre | Paint::Rim);
        (solid, if is_wheel && clear { Veil::Clear } else { Veil::Solid })
    };
    let beside = stage.before.is_some();
    let ghost: Vec<(Solid, Veil)> = match &stage.before {
        Some(before) => solids(&before.car).into_iter().map(as_solid).collect(),
        None => stage
            .ghost
            .iter()
            .flat_map(|view| differing(solids(view), &car))
            .map(|solid| (solid, Veil::Ghost))
            .collect(),
    };
    if beside != drawn.was_beside {
        drawn.was_beside = beside;
        for slot in std::mem::take(&mut drawn.ghost) {
            commands.entity(slot.entity).despawn();
        }
    }
    for is_ghost in [false, true] {
        let wanted = if is_ghost { &ghost } else { &car };
        let mut slots = std::mem::take(if is_ghost { &mut drawn.ghost } else { &mut drawn.car });
        for slot in slots.drain(wanted.len().min(slots.len())..) {
            commands.entity(slot.entity).despawn();
        }
        for (number, (solid, veil)) in wanted.iter().enumerate() {
            let look = (solid.paint, solid.emphasis, *veil);
            let transform = frame::transform(solid);
            if let Some(slot) = slots.get_mut(number) {
                if let Ok(mut old) = transforms.get_mut(slot.entity) {
                    old.set_if_neq(transform);
                }
                if !slot.shape.matches(&solid.shape) {
                    let mesh = drawn.mesh(&solid.shape, &mut meshes);
                    commands.entity(slot.entity).insert(Mesh3d(mesh));
                    slot.shape = solid.shape.clone();
                }
                if slot.look != look || is_redrawn {
                    drawn.coat(look, &palette, &mut coats).put_on(&mut commands.entity(slot.entity));
                    slot.look = look;
                }
            } else {
                let mesh = drawn.mesh(&solid.shape, &mut meshes);
                let mut entity = commands.spawn((Mesh3d(mesh), transform));
                drawn.coat(look, &palette, &mut coats).put_on(&mut entity);
                if is_ghost && beside {
                    entity.insert(StageEye::Before.layer());
                } else if is_ghost {
                    entity.insert((NotShadowCaster, NotShadowReceiver));
                }
                slots.push(Slot { entity: entity.id(), shape: solid.shape.clone(), look });
            }
        }
        if is_ghost {
            drawn.ghost = slots;
        } else {
            drawn.car = slots;
        }
    }
}
