//! The offscreen app: same plugins, same systems as the window, an image as target.

use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use bevy::app::SubApps;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::render_resource::{PollType, TextureFormat, TextureUsages};
use bevy::render::renderer::RenderDevice;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use bevy_egui::EguiPlugin;

use wheelpath_car_file::{SaveError, put, system_words};

use super::adapter::{NoDriver, find_adapter};
use wheelpath_stage::StagePlugin;
use wheelpath_stage::render::light::Quality;
use wheelpath_stage::render::scene::TyreLook;
use wheelpath_stage::render::stage_camera::{StageCamera, StageTarget};
use wheelpath_stage::theme::{ColourTheme, Palette};
use wheelpath_stage::view::Stage;
use wheelpath_stage::view::standard_views::StandardView;

/// What a picture looks like.
#[derive(Debug, Clone, PartialEq)]
pub struct PictureOptions {
    /// The view.
    pub view: StandardView,
    /// The sheet.
    pub sheet: ColourTheme,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Pixels a logical pixel: 2 for text twice as large.
    pub scale: f64,
    /// How wheels are drawn.
    pub tyres: TyreLook,
    /// Whether shadows and smooth edges are drawn even in software.
    pub quality: Quality,
}

impl Default for PictureOptions {
    fn default() -> Self {
        Self {
            view: StandardView::default(),
            sheet: ColourTheme::Light,
            width: 1280,
            height: 720,
            scale: 1.0,
            tyres: TyreLook::Auto,
            quality: Quality::Full,
        }
    }
}

/// Largest picture side, in pixels: what every driver in use can draw.
pub const MOST_PIXELS: u32 = 8192;

/// Why there is no picture.
#[derive(Debug)]
pub enum PictureError {
    /// Nothing here can draw.
    NoAdapter(NoDriver),
    /// A side is zero or too large.
    Size {
        /// Asked width, in pixels.
        width: u32,
        /// Asked height, in pixels.
        height: u32,
    },
    /// The driver drew nothing within the frames it was given.
    NoImage,
    /// The file cannot be written.
    File {
        /// Which file.
        path: PathBuf,
        /// Why it was not drawn.
        reason: String,
    },
}

impl std::fmt::Display for PictureError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NoAdapter(none) => {
                write!(f, "{none}; install one (Debian and Ubuntu: mesa-vulkan-drivers)")
            }
            Self::Size { width, height } => write!(
                f,
                "a picture of {width} by {height} pixels cannot be drawn; \
                 each side must be from 16 to {MOST_PIXELS}",
            ),
            Self::NoImage => f.write_str(
                "the graphics driver returned no image; try a smaller picture \
                 or another driver (WGPU_ADAPTER_NAME chooses one)",
            ),
            Self::File { path, reason } => {
                write!(f, "{} cannot be written: {reason}", path.display())
            }
        }
    }
}

impl std::error::Error for PictureError {}

/// Draws a stage and writes it as PNG.
///
/// # Errors
/// Where nothing can draw, the size is out of range, or the file cannot be written.
pub fn render_png(stage: &Stage, options: &PictureOptions, path: &Path) -> Result<(), PictureError> {
    let stage = stage.clone();
    let image = render_app(options, move |app| {
        app.insert_resource(stage);
    })?;
    save(image, path)
}

/// Draws an app offscreen: the stage's plugin and whatever `furnish` adds (its stage,
/// panels in `EguiPrimaryContextPass`), and returns the last frame.
///
/// # Errors
/// Where nothing can draw or the size is out of range.
pub fn render_app(options: &PictureOptions, furnish: impl FnOnce(&mut App)) -> Result<Image, PictureError> {
    let (mut apps, target) = offscreen(options, furnish)?;
    pump(&mut apps, FRAMES_TO_SETTLE);
    shoot(&mut apps, target)
}

/// Draws an app offscreen, frame after frame, each waited for until it is drawn; `each` is told how long
/// it took and sees the app's world. Frames until everything has settled come first and are not counted.
///
/// # Errors
/// Where nothing can draw or the size is out of range.
pub fn render_frames(
    options: &PictureOptions,
    frames: u32,
    furnish: impl FnOnce(&mut App),
    mut each: impl FnMut(Duration, &mut World),
) -> Result<(), PictureError> {
    let (mut apps, _target) = offscreen(options, furnish)?;
    pump(&mut apps, FRAMES_TO_WARM);
    for _ in 0..frames {
        let start = Instant::now();
        pump(&mut apps, 1);
        each(start.elapsed(), apps.main.world_mut());
    }
    Ok(())
}

fn offscreen(
    options: &PictureOptions,
    furnish: impl FnOnce(&mut App),
) -> Result<(SubApps, Handle<Image>), PictureError> {
    let (width, height) = (options.width, options.height);
    let fits = 16..=MOST_PIXELS;
    if !fits.contains(&width) || !fits.contains(&height) {
        return Err(PictureError::Size { width, height });
    }
    let adapter = find_adapter().map_err(PictureError::NoAdapter)?;
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..default() })
            .set(RenderPlugin {
                // A picture drawn before its pipelines are ready would lack parts.
                synchronous_pipeline_compilation: true,
                render_creation: adapter.render_creation(),
                ..default()
            })
            .disable::<WinitPlugin>()
            .disable::<bevy::log::LogPlugin>(),
    )
    .add_plugins(EguiPlugin::default());
    let mut target = Image::new_target_texture(width, height, TextureFormat::Rgba8UnormSrgb, None);
    target.texture_descriptor.usage |= TextureUsages::COPY_SRC;
    let target = app.world_mut().resource_mut::<Assets<Image>>().add(target);
    app.insert_resource(Palette::of(options.sheet))
        .insert_resource(options.tyres)
        .insert_resource(options.quality)
        .insert_resource(StageTarget::new(
            f64::from(width) / options.scale,
            f64::from(height) / options.scale,
            options.scale,
        ))
        .insert_resource({
            let mut camera = StageCamera::default();
            camera.move_time = 0.0;
            camera.go(options.view);
            camera
        })
        .insert_resource(TextScale(options.scale))
        .add_plugins(StagePlugin { image: Some(target.clone()) })
        .add_systems(PreUpdate, scale_text.before(bevy_egui::EguiPreUpdateSet::ProcessInput));
    furnish(&mut app);
    app.finish();
    app.cleanup();
    Ok((std::mem::take(app.sub_apps_mut()), target))
}

/// Frames until panels, camera and pipelines have settled: egui lays out a panel in
/// its second pass, and the camera's rectangle follows the panels by a frame.
const FRAMES_TO_SETTLE: u32 = 4;
/// Frames before any is timed.
const FRAMES_TO_WARM: u32 = 30;
/// Frames the image may take to come back from the driver.
const FRAMES_TO_ARRIVE: u32 = 8;

#[derive(Resource)]
struct TextScale(f64);

#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
fn scale_text(scale: Res<TextScale>, mut contexts: Query<&mut bevy_egui::EguiContext>) {
    for mut context in &mut contexts {
        context.get_mut().set_zoom_factor(wheelpath_stage::annotate::frame::single(scale.0));
    }
}

fn pump(apps: &mut SubApps, frames: u32) {
    for _ in 0..frames {
        apps.update();
        if let Some(device) = apps.main.world().get_resource::<RenderDevice>() {
            // An error here means the device is lost; the image then never arrives,
            // which is reported.
            let _ = device.poll(PollType::wait_indefinitely());
        }
    }
}

#[derive(Resource)]
struct Arrived(Image);

fn shoot(apps: &mut SubApps, target: Handle<Image>) -> Result<Image, PictureError> {
    apps.main.world_mut().spawn(Screenshot::image(target)).observe(
        |captured: On<ScreenshotCaptured>, mut commands: Commands| {
            commands.insert_resource(Arrived(captured.image.clone()));
        },
    );
    for _ in 0..FRAMES_TO_ARRIVE {
        pump(apps, 1);
        if let Some(Arrived(image)) = apps.main.world_mut().remove_resource::<Arrived>() {
            return Ok(image);
        }
    }
    Err(PictureError::NoImage)
}

/// Writes an image as PNG, in one step.
///
/// # Errors
/// Where the file cannot be written.
pub fn save(image: Image, path: &Path) -> Result<(), PictureError> {
    let failed = |reason: String| PictureError::File { path: path.to_path_buf(), reason };
    let picture = image.try_into_dynamic().map_err(|error| failed(error.to_string()))?;
    let png = ImageFormat::Png
        .as_image_crate_format()
        .ok_or_else(|| failed("this build cannot write PNG".to_owned()))?;
    let mut bytes = Cursor::new(Vec::new());
    picture.to_rgb8().write_to(&mut bytes, png).map_err(|error| failed(error.to_string()))?;
    match put(path, bytes.into_inner(), None) {
        Ok(_) => Ok(()),
        Err(SaveError::Unwritable { source, .. }) => Err(failed(system_words(&source))),
        Err(error) => Err(failed(error.to_string())),
    }
}
