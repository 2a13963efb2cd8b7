//! The camera in the window: where it stands, its moves, its rectangle.

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{ScalingMode, Viewport};
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::EguiContexts;

use crate::annotate::annotations::cut_depth;
use crate::annotate::frame;
use crate::camera::projection::{ScreenRect, StageProjection};
use crate::camera::turntable::{FLAT_DISTANCE, Move, Turntable};
use crate::view::Stage;
use crate::view::standard_views::StandardView;

/// Marks the entities of the cameras that draw a car.
#[derive(Component, Debug, Clone, Copy, PartialEq, Eq)]
pub enum StageEye {
    /// The car.
    Now,
    /// The car it was made from, beside it.
    Before,
}

impl StageEye {
    /// The layer that it sees, with its light.
    #[must_use]
    pub fn layer(self) -> RenderLayers {
        RenderLayers::layer(match self {
            StageEye::Now => 0,
            StageEye::Before => 1,
        })
    }
}

/// What the camera draws into, a window or a picture, in points of the panels: every rectangle and pixel of
/// the stage is in these points, whatever the zoom of the panels and the scale of the screen.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct StageTarget {
    /// Width in points, at least 1.
    pub width: f64,
    /// Height in points, at least 1.
    pub height: f64,
    /// Physical pixels a point: the screen's scale times the zoom of the panels.
    pub scale: f64,
}

impl StageTarget {
    /// A target of any numbers; what no target can have becomes a point, or a pixel a point.
    #[must_use]
    pub fn new(width: f64, height: f64, scale: f64) -> Self {
        let length = |length: f64| if length.is_finite() { length.max(1.0) } else { 1.0 };
        let scale = if scale.is_finite() && scale > 0.0 { scale } else { 1.0 };
        Self { width: length(width), height: length(height), scale }
    }
}

impl Default for StageTarget {
    fn default() -> Self {
        Self { width: 1280.0, height: 720.0, scale: 1.0 }
    }
}

/// The part of the target the car is drawn in, in points; none = all of it.
/// Panels set it to what they leave free.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Default)]
pub struct StageRect(pub Option<ScreenRect>);

/// The part of the target the car before is drawn in, in points, where it stands beside; it
/// needs [`Stage::before`] too.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Default)]
pub struct BeforeRect(pub Option<ScreenRect>);

impl BeforeRect {
    /// The car before and where it is drawn, while it stands beside.
    #[must_use]
    pub fn shown<'a>(&self, stage: &'a Stage) -> Option<(&'a Stage, StageRect)> {
        self.0.zip(stage.before.as_deref()).map(|(rect, before)| (before, StageRect(Some(rect))))
    }
}

impl StageRect {
    /// The rectangle on a target.
    #[must_use]
    pub fn on(&self, target: &StageTarget) -> ScreenRect {
        let whole = ScreenRect::new(0.0, 0.0, target.width, target.height);
        self.0.map_or(whole, |rect| {
            // Not-a-number too becomes a place on it.
            let left = rect.left.max(0.0).min((target.width - 1.0).max(0.0));
            let top = rect.top.max(0.0).min((target.height - 1.0).max(0.0));
            ScreenRect::new(
                left,
                top,
                rect.width.min(target.width - left).max(1.0),
                rect.height.min(target.height - top).max(1.0),
            )
        })
    }
}

/// Where the camera stands and where it goes.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct StageCamera {
    /// Where it stands now.
    pub now: Turntable,
    /// The standing view it is in; none once it was moved by hand.
    pub standing: Option<StandardView>,
    /// Seconds a move to a standing view takes; 0 = at once.
    pub move_time: f64,
    going: Option<Move>,
    fitted: Option<(StandardView, ScreenRect, usize)>,
    asked: bool,
}

impl Default for StageCamera {
    fn default() -> Self {
        Self {
            now: StandardView::default().camera(&crate::view::StageView::default(), 16.0 / 9.0),
            standing: Some(StandardView::default()),
            move_time: 0.4,
            going: None,
            fitted: None,
            asked: false,
        }
    }
}

impl StageCamera {
    /// Sets off for a standing view.
    pub fn go(&mut self, view: StandardView) {
        self.standing = Some(view);
        self.fitted = None;
        self.asked = true;
    }

    /// Stands where the hand put it.
    pub fn put(&mut self, camera: Turntable) {
        self.now = camera;
        self.standing = None;
        self.going = None;
        self.fitted = None;
    }

    /// Whether it is on its way.
    #[must_use]
    pub const fn is_moving(&self) -> bool {
        self.going.is_some()
    }
}

/// Learns the target's size in the points that the panels are laid out in.
pub(crate) fn measure_target(mut contexts: EguiContexts, mut target: ResMut<StageTarget>) -> Result {
    let context = contexts.ctx_mut()?;
    let size = context.viewport_rect().size();
    let [width, height] = [size.x, size.y].map(f64::from);
    target.set_if_neq(StageTarget::new(width, height, f64::from(context.pixels_per_point())));
    Ok(())
}

/// Sets off for the standing view when it was asked for, or when the rectangle or the
/// car it was fitted to is another; and goes on with a move.
pub(crate) fn move_camera(
    mut camera: ResMut<StageCamera>,
    stage: Res<Stage>,
    rect: Res<StageRect>,
    target: Res<StageTarget>,
    time: Res<Time<Real>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let rect = rect.on(&target);
    if let Some(view) = camera.standing {
        let fit = (view, rect, stage.car.wheels.len());
        if camera.fitted != Some(fit) {
            let to = view.camera(&stage.car, rect.aspect());
            // A new rectangle or car is fitted at once; only a change of view travels.
            let travels = camera.asked && camera.move_time > 0.0 && camera.now != to;
            let from = camera.now;
            camera.fitted = Some(fit);
            camera.asked = false;
            if travels {
                let time = camera.move_time;
                camera.going = Some(Move::new(from, to, time));
            } else {
                camera.going = None;
                camera.now = to;
            }
        }
    }
    if let Some(mut going) = camera.going {
        let (now, arrived) = going.advance(time.delta_secs_f64());
        camera.now = now;
        camera.going = (!arrived).then_some(going);
    }
    if camera.is_moving() {
        redraw.write(RequestRedraw);
    }
}

/// Puts the drawn camera where the turntable says, into its rectangle.
pub(crate) fn apply_camera(
    camera: Res<StageCamera>,
    rect: Res<StageRect>,
    target: Res<StageTarget>,
    stage: Res<Stage>,
    before: Res<BeforeRect>,
    mut eyes: Query<(&StageEye, &mut Camera, &mut Projection, &mut Transform)>,
) {
    for (eye, mut drawn, mut projection, mut transform) in &mut eyes {
        let (car, rect) = match (eye, before.shown(&stage)) {
            (StageEye::Now, _) => (&stage.car, rect.on(&target)),
            (StageEye::Before, Some((before, rect))) => (&before.car, rect.on(&target)),
            (StageEye::Before, None) => {
                if drawn.is_active {
                    drawn.is_active = false;
                }
                continue;
            }
        };
        let woken = !drawn.is_active;
        if woken {
            drawn.is_active = true;
        }
        let viewport = viewport(&rect, &target);
        let same = drawn.viewport.as_ref().is_some_and(|old| {
            old.physical_position == viewport.physical_position && old.physical_size == viewport.physical_size
        });
        if !same {
            drawn.viewport = Some(viewport);
        } else if !(woken || camera.is_changed() || stage.is_changed()) {
            continue;
        }
        transform.set_if_neq(frame::camera_transform(&camera.now));
        *projection = projection_of(&camera.now, cut_depth(&camera.now, car));
    }
}

/// The rectangle in physical pixels, at least one of them and all of them on the target.
fn viewport(rect: &ScreenRect, target: &StageTarget) -> Viewport {
    let physical = |x: f64, y: f64| {
        Vec2::new(frame::single(x * target.scale), frame::single(y * target.scale)).round().as_uvec2()
    };
    let whole = physical(target.width, target.height).max(UVec2::ONE);
    let from = physical(rect.left, rect.top).min(whole - UVec2::ONE);
    let to = physical(rect.right(), rect.bottom()).min(whole).max(from + UVec2::ONE);
    Viewport { physical_position: from, physical_size: to - from, ..default() }
}

fn projection_of(camera: &Turntable, cut: Option<f64>) -> Projection {
    if camera.is_flat() {
        Projection::Orthographic(OrthographicProjection {
            near: 0.0,
            far: frame::single(cut.unwrap_or(2.0 * FLAT_DISTANCE).max(1.0)),
            scaling_mode: ScalingMode::FixedVertical { viewport_height: frame::single(camera.height) },
            ..OrthographicProjection::default_3d()
        })
    } else {
        // Long lenses stand far off; a near plane that goes with the distance keeps
        // the depth precise.
        let distance = frame::single(camera.distance());
        Projection::Perspective(PerspectiveProjection {
            fov: frame::single(camera.field_of_view),
            near: (distance * 0.02).clamp(0.005, 0.5),
            far: distance + 200.0,
            ..default()
        })
    }
}

/// The lens the car is seen through at present.
#[must_use]
pub fn lens(camera: &StageCamera, stage: &Stage, rect: &StageRect, target: &StageTarget) -> StageProjection {
    StageProjection {
        cut: cut_depth(&camera.now, &stage.car),
        ..StageProjection::new(camera.now, rect.on(target))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rectangle_drawn_in_is_the_one_of_the_panels_at_every_scale() {
        for scale in [0.2, 0.5, 1.0, 1.1, 1.25, 1.5, 2.0, 3.0, 5.0] {
            let target = StageTarget::new(1280.0 / scale, 720.0 / scale, scale);
            // A rectangle of the panels that covers these physical pixels.
            let rect = ScreenRect::new(300.0 / scale, 30.0 / scale, 700.0 / scale, 600.0 / scale);
            let seen = viewport(&StageRect(Some(rect)).on(&target), &target);
            assert_eq!(seen.physical_position, UVec2::new(300, 30), "{scale}");
            assert_eq!(seen.physical_size, UVec2::new(700, 600), "{scale}");
        }
    }

    #[test]
    fn any_rectangle_has_a_picture_on_the_target() {
        let odd = [-1e9, -3.0, 0.0, 0.4, 1.0, 639.7, 640.0, 700.0, 1e9, f64::NAN, f64::INFINITY];
        for scale in [0.0, f64::NAN, 0.2, 1.0, 1.3, 5.0] {
            for (width, height) in [(640.0, 480.0), (0.0, 0.0), (f64::NAN, -5.0), (1.0, 4000.0)] {
                let target = StageTarget::new(width, height, scale);
                let whole = Vec2::new(
                    frame::single(target.width * target.scale),
                    frame::single(target.height * target.scale),
                );
                for left in odd {
                    for length in odd {
                        let rect = ScreenRect { left, top: length, width: length, height: left };
                        let rect = StageRect(Some(rect)).on(&target);
                        let seen = viewport(&rect, &target);
                        let end = (seen.physical_position + seen.physical_size).as_vec2();
                        assert!(seen.physical_size.min_element() >= 1, "{rect:?} {target:?}");
                        assert!(end.cmple(whole.round().max(Vec2::ONE)).all(), "{seen:?} {target:?}");
                    }
                }
            }
        }
    }
}
