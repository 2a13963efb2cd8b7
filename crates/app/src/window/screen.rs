//! The window on its screen: no larger than the screen has room for beside the system's bars, whatever it was
//! left as on another.

use super::remembered::LEAST_SIZE;
use bevy::prelude::*;
use bevy::window::{Monitor, PrimaryMonitor, PrimaryWindow};

/// Room that the system's bars and the window's own frame take, width and height, logical pixels.
const BARS: (f32, f32) = (16.0, 72.0);

/// A size that fits on a screen, both in logical pixels; never less than the least size of the window.
pub(super) fn fitted(size: Vec2, screen: Vec2) -> Vec2 {
    let fits = |length: f32, screen: f32, bars: f32, least: f32| {
        let room = screen - bars;
        if room.is_finite() && length > room { room.max(least.min(length)).floor() } else { length }
    };
    Vec2::new(fits(size.x, screen.x, BARS.0, LEAST_SIZE.0), fits(size.y, screen.y, BARS.1, LEAST_SIZE.1))
}

/// Once, before the first frame: makes the window as small as its screen asks for. The window library names no
/// screen before the window is there; of several, the one that the system calls the first counts.
pub(super) fn fit_to_screen(
    monitors: Query<(&Monitor, Has<PrimaryMonitor>)>,
    mut windows: Query<&mut Window, With<PrimaryWindow>>,
) {
    let Some((monitor, _)) = monitors.iter().max_by_key(|(_, is_primary)| *is_primary) else { return };
    let scale = if monitor.scale_factor > 0.0 { monitor.scale_factor } else { 1.0 };
    let screen = (monitor.physical_size().as_dvec2() / scale).as_vec2();
    for mut window in &mut windows {
        let size = window.size();
        let fits = fitted(size, screen);
        if fits != size {
            window.resolution.set(fits.x, fits.y);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{fit_to_screen, fitted};
    use bevy::prelude::*;
    use bevy::window::{Monitor, PrimaryMonitor, PrimaryWindow, WindowResolution};

    #[test]
    fn a_size_is_made_as_small_as_the_screen_asks_for_and_no_smaller() {
        for (size, screen, fits) in [
            ((1440.0, 860.0), (1920.0, 1080.0), (1440.0, 860.0)),
            ((1440.0, 860.0), (1280.0, 720.0), (1264.0, 648.0)),
            ((1440.0, 860.0), (1440.0, 900.0), (1424.0, 828.0)),
            ((1440.0, 860.0), (320.0, 240.0), (480.0, 360.0)),
            ((1000.0, 700.0), (1280.0, 720.0), (1000.0, 648.0)),
            ((1440.0, 860.0), (f32::NAN, f32::INFINITY), (1440.0, 860.0)),
        ] {
            assert_eq!(fitted(size.into(), screen.into()), fits.into(), "{size:?} on {screen:?}");
        }
    }

    #[test]
    fn the_window_fits_the_first_screen_in_its_logical_pixels() {
        let monitor = |width, height, scale_factor| Monitor {
            name: None,
            physical_width: width,
            physical_height: height,
            physical_position: IVec2::ZERO,
            refresh_rate_millihertz: None,
            scale_factor,
            video_modes: Vec::new(),
        };
        let opened = |monitors: Vec<(Monitor, bool)>| {
            let mut app = App::new();
            app.add_systems(Startup, fit_to_screen);
            for (monitor, is_primary) in monitors {
                let mut entity = app.world_mut().spawn(monitor);
                if is_primary {
                    entity.insert(PrimaryMonitor);
                }
            }
            let window = Window { resolution: WindowResolution::new(1440, 860), ..default() };
            let window = app.world_mut().spawn((window, PrimaryWindow)).id();
            app.update();
            app.world().get::<Window>(window).unwrap().size()
        };
        assert_eq!(opened(Vec::new()), Vec2::new(1440.0, 860.0), "no screen is known");
        assert_eq!(opened(vec![(monitor(1280, 720, 1.0), false)]), Vec2::new(1264.0, 648.0));
        assert_eq!(opened(vec![(monitor(2560, 1440, 2.0), true)]), Vec2::new(1264.0, 648.0));
        let two = vec![(monitor(1280, 720, 1.0), false), (monitor(3840, 2160, 1.0), true)];
        assert_eq!(opened(two), Vec2::new(1440.0, 860.0));
    }
}
