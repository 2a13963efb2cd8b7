//! What surfaces are coated with: a material that shines and takes shadows, or a matt one that a processor
//! can draw.

use bevy::asset::{load_internal_asset, uuid_handle};
use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, ShaderType};
use bevy::shader::{Shader, ShaderRef};

use crate::render::light::{self, Drawing, LIGHTS};
use crate::theme::Rgb;

/// A colour for drawing.
pub(crate) fn colour(rgb: Rgb) -> Color {
    Color::srgb_u8(rgb.0, rgb.1, rgb.2)
}

/// How a surface looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Finish {
    /// Colour.
    pub rgb: Rgb,
    /// 1 = nothing shines through.
    pub alpha: f32,
    /// Bevy's perceptual roughness.
    pub roughness: f32,
    /// Bevy's reflectance.
    pub reflectance: f32,
}

impl Finish {
    fn alpha_mode(&self) -> AlphaMode {
        if self.alpha < 1.0 { AlphaMode::Blend } else { AlphaMode::Opaque }
    }

    fn lit(&self) -> StandardMaterial {
        StandardMaterial {
            base_color: colour(self.rgb).with_alpha(self.alpha),
            perceptual_roughness: self.roughness,
            reflectance: self.reflectance,
            alpha_mode: self.alpha_mode(),
            ..default()
        }
    }

    fn matt(&self) -> Matt {
        let (soft, lights) = light::shares();
        Matt {
            look: MattLook {
                colour: colour(self.rgb).with_alpha(self.alpha).to_linear().to_vec4(),
                lights: lights.map(|light| light.extend(0.0)),
                soft,
            },
            alpha_mode: self.alpha_mode(),
        }
    }
}

/// A surface without shine or shadow: its colour times the light that falls on it. Bevy's own material
/// cost a software driver 0.7 s a frame, this one hundredths.
#[derive(Asset, TypePath, AsBindGroup, Debug, Clone)]
pub(crate) struct Matt {
    #[uniform(0)]
    look: MattLook,
    alpha_mode: AlphaMode,
}

/// As the shader reads it.
#[derive(ShaderType, Debug, Clone)]
struct MattLook {
    colour: Vec4,
    lights: [Vec4; LIGHTS],
    soft: f32,
}

const SHADER: Handle<Shader> = uuid_handle!("6c1de7a1-38b5-4c0f-9a55-0f2e4bb1d7c3");

impl Material for Matt {
    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        self.alpha_mode
    }

    fn enable_prepass() -> bool {
        false
    }

    fn enable_shadows() -> bool {
        false
    }
}

/// Makes the matt material known to Bevy.
pub(crate) fn add_matt(app: &mut App) {
    load_internal_asset!(app, SHADER, "matt.wgsl", Shader::from_wgsl);
    app.add_plugins(MaterialPlugin::<Matt>::default());
}

/// A material that was made.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum SurfaceMaterial {
    Lit(Handle<StandardMaterial>),
    Matt(Handle<Matt>),
}

impl SurfaceMaterial {
    /// Coats an entity, whatever it was coated with.
    pub(crate) fn put_on(&self, entity: &mut EntityCommands) {
        match self {
            Self::Lit(handle) => {
                entity.remove::<MeshMaterial3d<Matt>>().insert(MeshMaterial3d(handle.clone()));
            }
            Self::Matt(handle) => {
                entity.remove::<MeshMaterial3d<StandardMaterial>>().insert(MeshMaterial3d(handle.clone()));
            }
        }
    }
}

/// Makes coats.
#[derive(SystemParam)]
pub(crate) struct SurfaceMaterials<'w> {
    lit: ResMut<'w, Assets<StandardMaterial>>,
    matt: ResMut<'w, Assets<Matt>>,
    /// How much is drawn; where it changes, all coats are made anew.
    pub(crate) drawing: Res<'w, Drawing>,
}

impl SurfaceMaterials<'_> {
    /// A coat as the drawing now is.
    pub(crate) fn mix(&mut self, finish: &Finish) -> SurfaceMaterial {
        match *self.drawing {
            Drawing::Full => SurfaceMaterial::Lit(self.lit.add(finish.lit())),
            Drawing::Plain => SurfaceMaterial::Matt(self.matt.add(finish.matt())),
        }
    }

    /// Another finish for whatever has this coat.
    pub(crate) fn mix_anew(&mut self, coat: &SurfaceMaterial, finish: &Finish) {
        match coat {
            SurfaceMaterial::Lit(handle) => {
                if let Some(mut material) = self.lit.get_mut(handle) {
                    *material = finish.lit();
                }
            }
            SurfaceMaterial::Matt(handle) => {
                if let Some(mut material) = self.matt.get_mut(handle) {
                    *material = finish.matt();
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shader_counts_the_lights_that_there_are() {
        let shader = include_str!("matt.wgsl");
        assert!(shader.contains(&format!("array<vec4<f32>, {LIGHTS}>")));
        assert!(shader.contains(&format!("n < {LIGHTS}u")));
    }
}
