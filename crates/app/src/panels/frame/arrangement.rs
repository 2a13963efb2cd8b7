//! How the width of a window is shared out: the drawer, the stage and the curves stand side by side where
//! there is room for all three, else they take turns.

use wheelpath_session::between::between;

/// Least width of the drawer at the designed size of text, points.
const LEAST_DRAWER: f32 = 300.0;
/// Least width of the wall of curves, points.
const LEAST_WALL: f32 = 270.0;
/// Least width of the stage between the drawer and the wall, points.
const LEAST_STAGE: f32 = 360.0;
/// Least width of the stage beside the drawer alone, points.
const LEAST_STAGE_ALONE: f32 = 260.0;

/// What stands beside what, with widths in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::panels) enum Arrangement {
    /// The drawer, the stage and the wall of curves.
    All {
        /// Width of the drawer.
        drawer: f32,
        /// Width of the wall.
        wall: f32,
    },
    /// The drawer and the stage; the curves are a tab of the drawer.
    NoWall {
        /// Width of the drawer.
        drawer: f32,
    },
    /// One of stage, drawer and curves at a time.
    One,
}

impl Arrangement {
    /// The arrangement of a window so many points wide, with text so many times as large as designed.
    /// `wide_wall` says that something on the wall is drawn large. Any numbers give an arrangement that
    /// fits, not-a-number too.
    pub(in crate::panels) fn of(width: f32, scale: f32, wide_wall: bool) -> Self {
        let scale = if scale.is_finite() { scale.max(0.1) } else { 1.0 };
        let least_drawer = LEAST_DRAWER * scale.min(1.3);
        let share = if wide_wall { 0.38 } else { 0.24 };
        let drawer = (width * 0.24 * scale).min(0.32 * width.max(900.0)).max(least_drawer);
        let wall = between(width * share, LEAST_WALL, 900.0);
        if width >= drawer + wall + LEAST_STAGE {
            Arrangement::All { drawer, wall }
        } else if width >= least_drawer + LEAST_WALL + LEAST_STAGE {
            // The stage keeps its least; the drawer gives way before the wall does.
            let drawer = (width - wall - LEAST_STAGE).max(least_drawer);
            Arrangement::All { drawer, wall: width - drawer - LEAST_STAGE }
        } else if width >= least_drawer + LEAST_STAGE_ALONE {
            Arrangement::NoWall { drawer: drawer.min(width - LEAST_STAGE_ALONE) }
        } else {
            Arrangement::One
        }
    }

    /// Whether the wall of curves has a place of its own.
    pub(in crate::panels) fn has_wall(self) -> bool {
        matches!(self, Arrangement::All { .. })
    }
}

#[cfg(test)]
mod tests {
    use super::{Arrangement, LEAST_STAGE, LEAST_STAGE_ALONE};

    #[test]
    fn every_width_has_an_arrangement_that_fits() {
        let sizes = (0..4000).map(|width| width as f32).chain([f32::NAN, f32::INFINITY, -5.0, 1e-30]);
        for width in sizes {
            for scale in [0.0, 0.2, 0.85, 1.0, 1.45, 1.75, 5.0, f32::NAN, -1.0] {
                for wide in [false, true] {
                    match Arrangement::of(width, scale, wide) {
                        Arrangement::All { drawer, wall } => {
                            let stage = width - drawer - wall;
                            assert!(drawer > 0.0 && wall > 0.0, "{width} {scale}: {drawer} {wall}");
                            assert!(
                                stage >= LEAST_STAGE - 1e-2 || width.is_infinite(),
                                "{width} {scale}: {stage}"
                            );
                        }
                        Arrangement::NoWall { drawer } => {
                            let stage = width - drawer;
                            assert!(stage >= LEAST_STAGE_ALONE - 1e-2, "{width} {scale}: {stage}");
                        }
                        Arrangement::One => {}
                    }
                }
            }
        }
    }

    #[test]
    fn usual_windows_have_room_for_what_they_should() {
        let at = |width, scale| Arrangement::of(width, scale, false);
        assert!(at(1920.0, 1.75).has_wall() && at(1280.0, 1.75).has_wall() && at(960.0, 1.0).has_wall());
        for width in [900.0, 800.0, 640.0] {
            assert!(matches!(at(width, 1.0), Arrangement::NoWall { .. }), "{width}");
        }
        assert_eq!(at(480.0, 1.0), Arrangement::One);
        assert_eq!(at(f32::NAN, 1.0), Arrangement::One);
    }
}
