//! The hand: from what the pointer does to what it does to the camera and the car.
//!
//! | button or gesture | on a tyre | on a point or a handle | elsewhere |
//! |---|---|---|---|
//! | left drag | pull it up and down, or turn it | pull the point, freely or along the handle | orbit |
//! | left click | select the wheel | select it | select nothing |
//! | middle drag | pan | pan | pan |
//! | right drag | orbit about it | orbit about it | orbit |
//! | Shift + right or middle drag | the other of orbit and pan | | |
//! | wheel, pinch | zoom to the pointer | | |
//! | two fingers on a trackpad | pan; with Alt orbit, with Ctrl zoom | | |
//!
//! An orbit turns about what is grabbed, or, where that is not the car nor near it, about the car's middle;
//! close up about the middle of the picture.
//! On a car that can be looked at only (the one before, beside the one now) a left drag orbits.
//!
//! A left drag on a tyre decides by its first millimetres: upright it pulls the
//! wheel's travel, sideways it steers (wheels that steer only). Shift held at the
//! press always steers; from straight above there is no travel to pull, so it steers.
//!
//! Control held while a point or its handle is pulled turns snapping to steps round.
//!
//! It reads a list of events in the order they happened, so a press and a release
//! within one frame are both seen. It knows no window and no Bevy.

use nalgebra::Point3;

use crate::camera::projection::{Pixel, ScreenRect, StageProjection};
use crate::pick::{Target, steer_under, travel_under, under};
use crate::view::handle::{self, HandleView};
use crate::view::standard_views::extent;
use crate::view::{StageView, WheelSlot};
use reached::{label, target};

mod reached;

pub use crate::pick::gesture::{Act, Button, Event, HandSettings, Held, Over, Phase};

/// What the hand looks at while it reads events.
#[derive(Debug, Clone, Copy)]
pub struct Surroundings<'a> {
    /// The car.
    pub car: &'a StageView,
    /// Handles of the selected point.
    pub handles: &'a [HandleView],
    /// Camera and rectangle.
    pub lens: StageProjection,
    /// The labels drawn last.
    pub labels: &'a [ScreenRect],
    /// Keys held.
    pub held: Held,
    /// Whether something else lies over the stage where the pointer is (a window, a
    /// menu): presses and wheels are not the stage's then.
    pub covered: bool,
    /// Whether this car can be looked at only: nothing of it is pulled or selected, every drag moves the
    /// camera.
    pub only_seen: bool,
}

#[derive(Debug, Clone, PartialEq)]
enum DragState {
    Label {
        number: usize,
        from: Pixel,
    },
    /// A press that has turned out to be for nothing.
    Nothing,
    /// Pressed, not yet moved far enough to say what it is.
    Undecided {
        target: Target,
        from: Pixel,
        steer: bool,
    },
    Orbit {
        about: Point3<f64>,
        last: Pixel,
    },
    Pan {
        at: Point3<f64>,
    },
    Pull {
        place: WheelSlot,
        at: Point3<f64>,
        last: f64,
    },
    Steer {
        place: WheelSlot,
        at: Point3<f64>,
        wheel: Box<crate::view::WheelView>,
        last: f64,
    },
    Point {
        key: String,
        at: Point3<f64>,
        last: Point3<f64>,
        snap_turned: bool,
    },
    Handle {
        handle: Box<HandleView>,
        /// Where along it it was grabbed.
        from: [f64; 2],
        last: [f64; 2],
        snap_turned: bool,
    },
}

/// The hand's state between frames.
#[derive(Debug, Clone, Default, PartialEq)]
#[cfg_attr(feature = "window", derive(bevy::prelude::Resource))]
pub struct PointerInput {
    pointer: Option<Pixel>,
    grip: Option<(Button, DragState)>,
    over: Over,
}

/// A press that moves less than this (px) is a click.
const CLICK: f64 = 4.0;

impl PointerInput {
    /// What the pointer is over, or holds.
    #[must_use]
    pub const fn over(&self) -> &Over {
        &self.over
    }

    /// Where the pointer is.
    #[must_use]
    pub const fn pointer(&self) -> Option<Pixel> {
        self.pointer
    }

    /// Whether something is held.
    #[must_use]
    pub const fn is_holding(&self) -> bool {
        self.grip.is_some()
    }

    /// Reads one event. Acts on the camera are also worked into `around.lens`, so
    /// that events of one frame build on each other.
    pub fn read(&mut self, event: Event, around: &mut Surroundings, settings: &HandSettings) -> Vec<Act> {
        let acts = match event {
            Event::Moved(pixel) => {
                self.pointer = Some(pixel);
                self.moved(pixel, around, settings)
            }
            Event::Left => {
                if self.grip.is_none() {
                    self.pointer = None;
                }
                Vec::new()
            }
            Event::Pressed(button) => self.pressed(button, around, settings),
            Event::Released(button) => self.released(button),
            Event::Wheel(notches) => {
                let sign = if settings.zoom_turned_round { 1.0 } else { -1.0 };
                self.zoomed(1.15_f64.powf(sign * notches), around)
            }
            Event::Pinched(share) => self.zoomed((-share).exp(), around),
            Event::Fingers(x, y) => self.fingers(x, y, around, settings),
        };
        for act in &acts {
            if let Act::Camera(camera) = act {
                around.lens.camera = *camera;
            }
        }
        self.look(around);
        acts
    }

    /// Goes with a change of the size of a point: all that is known in old points is so many times as far
    /// from the corner now.
    pub fn rescale(&mut self, times: f64) {
        let scaled = |at: &mut Pixel| *at = Pixel::from(at.coords * times);
        self.pointer.iter_mut().for_each(scaled);
        match &mut self.grip {
            Some((_, DragState::Label { from: at, .. } | DragState::Undecided { from: at, .. })) => {
                scaled(at)
            }
            Some((_, DragState::Orbit { last, .. })) => scaled(last),
            _ => {}
        }
    }

    /// Lets go of what is held and gives it up.
    pub fn give_up(&mut self) -> Vec<Act> {
        self.grip.take().and_then(|(_, grip)| finished(grip, Phase::GivenUp)).into_iter().collect()
    }

    fn look(&mut self, around: &Surroundings) {
        if let Some((_, grip)) = &self.grip {
            match grip {
                DragState::Pull { place, .. } | DragState::Steer { place, .. } => {
                    self.over = Over::Tyre(*place)
                }
                DragState::Point { key, .. } => self.over = Over::Point(key.clone()),
                DragState::Handle { handle, .. } => self.over = Over::Handle(handle.key.clone()),
                DragState::Label { number, .. } => self.over = Over::Label(*number),
                DragState::Orbit { .. } | DragState::Pan { .. } | DragState::Nothing => {
                    self.over = Over::Nothing;
                }
                DragState::Undecided { .. } => {}
            }
            return;
        }
        self.over = match self.on_stage(around) {
            None => Over::Nothing,
            Some(pixel) => label(around, pixel).map_or_else(
                || match target(around, pixel) {
                    Target::Handle { key, .. } => Over::Handle(key),
                    Target::Point { key, .. } => Over::Point(key),
                    Target::Tyre { place, .. } => Over::Tyre(place),
                    _ => Over::Nothing,
                },
                Over::Label,
            ),
        };
    }

    fn on_stage(&self, around: &Surroundings) -> Option<Pixel> {
        self.pointer.filter(|pixel| !around.covered && around.lens.rect.contains(*pixel))
    }

    fn pressed(&mut self, button: Button, around: &Surroundings, settings: &HandSettings) -> Vec<Act> {
        // A button that is pressed while it is held was let go where nobody heard of it.
        let missed = self.grip.take_if(|(held, _)| *held == button);
        let given_up = missed.and_then(|(_, grip)| finished(grip, Phase::GivenUp)).into_iter().collect();
        let Some(pixel) = self.on_stage(around).filter(|_| self.grip.is_none()) else {
            return given_up;
        };
        let target = target(around, pixel);
        let grip = if button == Button::Left && around.only_seen {
            DragState::Orbit { about: turned_about(&target, around), last: pixel }
        } else if button == Button::Left {
            label(around, pixel)
                .map_or(DragState::Undecided { target, from: pixel, steer: around.held.shift }, |number| {
                    DragState::Label { number, from: pixel }
                })
        } else {
            let pans = (button == Button::Middle) != settings.middle_orbits;
            if pans == around.held.shift {
                DragState::Orbit { about: turned_about(&target, around), last: pixel }
            } else {
                DragState::Pan { at: held_point(&target, pixel, around) }
            }
        };
        self.grip = Some((button, grip));
        given_up
    }

    fn released(&mut self, button: Button) -> Vec<Act> {
        match self.grip.take() {
            Some((held, grip)) if held == button => finished(grip, Phase::Ended).into_iter().collect(),
            other => {
                self.grip = other;
                Vec::new()
            }
        }
    }

    fn moved(&mut self, pixel: Pixel, around: &Surroundings, settings: &HandSettings) -> Vec<Act> {
        let Some((button, grip)) = self.grip.take() else {
            return Vec::new();
        };
        let (grip, acts) = dragged(grip, pixel, around, settings);
        self.grip = Some((button, grip));
        acts
    }

    fn zoomed(&self, factor: f64, around: &Surroundings) -> Vec<Act> {
        let Some(pixel) = self.on_stage(around) else {
            return Vec::new();
        };
        let target = under(around.car, &around.lens, pixel);
        let at = held_point(&target, pixel, around);
        vec![Act::Camera(around.lens.camera.zoomed(factor.clamp(0.1, 10.0), at))]
    }

    fn fingers(&self, x: f64, y: f64, around: &Surroundings, settings: &HandSettings) -> Vec<Act> {
        let Some(pixel) = self.on_stage(around) else {
            return Vec::new();
        };
        if around.held.control {
            let sign = if settings.zoom_turned_round { 1.0 } else { -1.0 };
            return self.zoomed((sign * y * 0.01).exp(), around);
        }
        let target = under(around.car, &around.lens, pixel);
        let camera = if around.held.alt {
            let at = turned_about(&target, around);
            around.lens.camera.orbited(-x * settings.orbit_speed, y * settings.orbit_speed, at)
        } else {
            let scale = around.lens.metres_per_pixel(held_point(&target, pixel, around));
            around.lens.camera.panned(-x * scale, y * scale)
        };
        vec![Act::Camera(camera)]
    }
}

/// What is under the pointer, if it is on the car or beside it. What lies far behind the car (the ground
/// toward the horizon) is nothing to hold on to: a small turn about it would throw the car out of sight.
fn near_point(target: &Target, around: &Surroundings) -> Option<Point3<f64>> {
    let (middle, reach) = extent(around.car);
    target.at().filter(|at| (at - middle).norm() < 1.25 * reach)
}

/// What panning and zooming hold on to: what is under the pointer, else the point in the focus's depth.
fn held_point(target: &Target, pixel: Pixel, around: &Surroundings) -> Point3<f64> {
    let lens = &around.lens;
    near_point(target, around).unwrap_or_else(|| lens.under_pixel(pixel, lens.camera.focus))
}

/// What the camera turns about: what is under the pointer, else the middle of the car while most of it is in
/// the picture, else, close up, the middle of the picture. Close up the ground is nothing to turn about either.
fn turned_about(target: &Target, around: &Surroundings) -> Point3<f64> {
    let lens = &around.lens;
    let (middle, reach) = extent(around.car);
    let in_picture = lens.project(middle).is_some_and(|at| lens.rect.contains(at));
    let is_whole = in_picture && lens.camera.height > reach;
    let is_held = is_whole || !matches!(target, Target::Ground { .. });
    let elsewhere = if is_whole { middle } else { lens.camera.focus };
    near_point(target, around).filter(|_| is_held).unwrap_or(elsewhere)
}

fn dragged(
    grip: DragState,
    pixel: Pixel,
    around: &Surroundings,
    settings: &HandSettings,
) -> (DragState, Vec<Act>) {
    let lens = &around.lens;
    match grip {
        DragState::Undecided { target, from, steer } => {
            let moved = pixel - from;
            if moved.norm() < CLICK {
                return (DragState::Undecided { target, from, steer }, Vec::new());
            }
            let sideways = steer || moved.x.abs() > moved.y.abs();
            let (grip, first) = decided(target, from, sideways, around);
            let (grip, rest) = dragged(grip, pixel, around, settings);
            (grip, first.into_iter().chain(rest).collect())
        }
        DragState::Label { from, .. } if (pixel - from).norm() > 2.0 * CLICK => {
            // Drawn away from: not a click any more.
            (DragState::Nothing, Vec::new())
        }
        DragState::Label { .. } | DragState::Nothing => (grip, Vec::new()),
        DragState::Orbit { about, last } => {
            let d = pixel - last;
            let camera = lens.camera.orbited(-d.x * settings.orbit_speed, d.y * settings.orbit_speed, about);
            (DragState::Orbit { about, last: pixel }, vec![Act::Camera(camera)])
        }
        DragState::Pan { at } => (DragState::Pan { at }, vec![Act::Camera(lens.panned_to(at, pixel))]),
        DragState::Pull { place, at, last } => {
            let change = travel_under(lens, at, pixel).unwrap_or(last);
            let act = Act::Pull { place, change, phase: Phase::Going };
            (DragState::Pull { place, at, last: change }, vec![act])
        }
        DragState::Steer { place, at, wheel, .. } => {
            let change = steer_under(lens, &wheel, at, pixel);
            let act = Act::Steer { place, change, phase: Phase::Going };
            (DragState::Steer { place, at, wheel, last: change }, vec![act])
        }
        DragState::Point { key, at, .. } => {
            let (to, snap_turned) = (lens.under_pixel(pixel, at), around.held.control);
            let act = Act::PullPoint { key: key.clone(), to, snap_turned, phase: Phase::Going };
            (DragState::Point { key, at, last: to, snap_turned }, vec![act])
        }
        DragState::Handle { handle, from, last, .. } => {
            let snap_turned = around.held.control;
            let now = handle::amounts(&handle, lens, pixel);
            let by = now.map_or(last, |now| [now[0] - from[0], now[1] - from[1]]);
            let act = Act::PullHandle { key: handle.key.clone(), by, snap_turned, phase: Phase::Going };
            (DragState::Handle { handle, from, last: by, snap_turned }, vec![act])
        }
    }
}

/// What a left drag that has moved far enough is.
fn decided(target: Target, from: Pixel, sideways: bool, around: &Surroundings) -> (DragState, Vec<Act>) {
    let lens = &around.lens;
    match target {
        Target::Handle { key, at } => {
            let handle = around.handles.iter().find(|handle| handle.key == key);
            let held = handle.and_then(|handle| Some((handle, handle::amounts(handle, lens, from)?)));
            let Some((handle, from)) = held else {
                return (DragState::Orbit { about: at, last: from }, Vec::new());
            };
            let (by, snap_turned) = ([0.0; 2], around.held.control);
            let began = Act::PullHandle { key, by, snap_turned, phase: Phase::Began };
            (DragState::Handle { handle: Box::new(handle.clone()), from, last: by, snap_turned }, vec![began])
        }
        Target::Point { key, at } => {
            let snap_turned = around.held.control;
            let began = Act::PullPoint { key: key.clone(), to: at, snap_turned, phase: Phase::Began };
            (DragState::Point { key, at, last: at, snap_turned }, vec![began])
        }
        Target::Tyre { place, at } => {
            let wheel = around.car.wheel(place).filter(|wheel| wheel.steers);
            let no_travel = travel_under(lens, at, from).is_none();
            match wheel {
                Some(wheel) if sideways || no_travel => {
                    let began = Act::Steer { place, change: 0.0, phase: Phase::Began };
                    let wheel = Box::new(wheel.clone());
                    (DragState::Steer { place, at, wheel, last: 0.0 }, vec![began])
                }
                _ if no_travel => (DragState::Orbit { about: at, last: from }, Vec::new()),
                _ => {
                    let began = Act::Pull { place, change: 0.0, phase: Phase::Began };
                    (DragState::Pull { place, at, last: 0.0 }, vec![began])
                }
            }
        }
        other => {
            let about = turned_about(&other, around);
            (DragState::Orbit { about, last: from }, Vec::new())
        }
    }
}

/// The last act of a grip.
fn finished(grip: DragState, phase: Phase) -> Option<Act> {
    match grip {
        DragState::Label { number, .. } => (phase == Phase::Ended).then_some(Act::Label(number)),
        DragState::Undecided { target, .. } => (phase == Phase::Ended).then_some(Act::Clicked(target)),
        DragState::Orbit { .. } | DragState::Pan { .. } | DragState::Nothing => None,
        DragState::Pull { place, last, .. } => Some(Act::Pull { place, change: last, phase }),
        DragState::Steer { place, last, .. } => Some(Act::Steer { place, change: last, phase }),
        DragState::Point { key, last, snap_turned, .. } => {
            Some(Act::PullPoint { key, to: last, snap_turned, phase })
        }
        DragState::Handle { handle, last, snap_turned, .. } => {
            Some(Act::PullHandle { key: handle.key, by: last, snap_turned, phase })
        }
    }
}

#[cfg(test)]
mod tests;
