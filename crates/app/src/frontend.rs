//! What the command line asks of whoever has a window and a graphics driver.

use crate::adapter::{Marked, car_view, ghost_view, overlays, place_of};
use crate::picture::{PictureError, PictureOptions, render_png};
use crate::window;
use wheelpath_command_line as command_line;
use wheelpath_command_line::{Frontend, NoPicture, NoWindow, Overlays, PictureRequest, View};
use wheelpath_geometry::{Car, CarPose, CarSolver, LengthUnit, SolvedCar, Stop};
use wheelpath_project::{Companions, LoadedCar, Recents, state_folder};
use wheelpath_session::{Beside, Session, Values};
use wheelpath_stage::theme::ColourTheme;
use wheelpath_stage::view::standard_views::StandardView;
use wheelpath_stage::view::{Stage, WheelSlot};

/// The front of an executable that can open windows and draw.
#[derive(Clone, Copy, Debug, Default)]
pub struct WithWindow;

impl Frontend for WithWindow {
    fn open(&self, car: LoadedCar) -> Result<(), NoWindow> {
        let unsolved = |stops: Vec<Stop>| NoWindow {
            why: stops.first().map_or_else(|| "the car cannot be solved".to_owned(), ToString::to_string),
            remedy: "`wheelpath check` says more".to_owned(),
        };
        let beside = Beside::from(Companions::of(&car));
        let session = Session::of(car.loaded).map_err(unsolved)?.with_beside(beside);
        let session = match &car.path {
            Some(path) => session.at_path(path),
            // Unsaved changes of a demo car, which has no file to lie beside.
            None => match state_folder() {
                Some(folder) => {
                    let name = format!("{}.ron", session.car().name.to_lowercase());
                    session.with_recovery_beside(&folder.join(name))
                }
                None => session,
            },
        };
        let session = session.with_recents(Recents::of_user());
        window::open_window(session).map_err(|no| match no {
            window::NoWindow::NoDisplay => NoWindow::no_display(),
            window::NoWindow::NoGraphics(none) => {
                let why = none.to_string();
                NoWindow { why, ..NoWindow::no_graphics() }
            }
        })
    }

    fn picture(&self, request: &PictureRequest) -> Result<(), NoPicture> {
        let stage = staged(request)?;
        let options = PictureOptions {
            view: view_of(request.view),
            sheet: sheet_of(request.sheet),
            width: request.size[0],
            height: request.size[1],
            ..PictureOptions::default()
        };
        render_png(&stage, &options, &request.file).map_err(|error| NoPicture {
            why: error.to_string(),
            remedy: match error {
                PictureError::NoAdapter(_) => {
                    "the other commands need no driver: `wheelpath help` names them"
                }
                PictureError::Size { .. } => "give another `--size`",
                PictureError::NoImage => "try a smaller `--size`, or another graphics driver",
                PictureError::File { .. } => "give a file in a folder that can be written to",
            }
            .to_owned(),
        })
    }
}

/// The stage of a picture.
fn staged(request: &PictureRequest) -> Result<Stage, NoPicture> {
    let car = &request.car.loaded.car;
    let units = request.car.units();
    let (solver, solved) = posed(car, &request.pose, units)?;
    let mut drawn = overlays(car, &solved, &Values::of(&solved), units);
    match &request.overlays {
        Overlays::All => {}
        Overlays::Nothing => drawn.clear(),
        Overlays::Of(readings) => {
            drawn.retain(|overlay| readings.iter().any(|reading| reading.key == overlay.reading));
        }
    }
    let ghost = match &request.before {
        None => None,
        Some((car, pose)) => {
            let (solver, solved) = posed(car, pose, units)?;
            Some(ghost_view(car, &solver, &solved))
        }
    };
    let focus = match request.view {
        View::Corner(wheel) => place_of(wheel),
        _ => WheelSlot::FrontLeft,
    };
    Ok(Stage {
        car: car_view(car, &solver, &solved, &Marked::default()),
        ghost,
        overlays: drawn,
        focus: Some(focus),
        ..Stage::default()
    })
}

/// The car solved at a pose; what keeps it from being so is said in the car's own unit.
fn posed(car: &Car, pose: &CarPose, units: LengthUnit) -> Result<(CarSolver, SolvedCar), NoPicture> {
    let unsolved = |stop: Option<String>| NoPicture {
        why: stop.unwrap_or_else(|| "the car cannot be solved".to_owned()),
        remedy: "`wheelpath check` says more".to_owned(),
    };
    let in_words = |stop: &Stop| stop.in_words(units);
    let solver = CarSolver::new(car).map_err(|stops| unsolved(stops.first().map(in_words)))?;
    let solved = solver.solve(pose).map_err(|stop| unsolved(Some(in_words(&stop))))?;
    Ok((solver, solved))
}

fn view_of(view: View) -> StandardView {
    match view {
        View::Front => StandardView::Front,
        View::Side => StandardView::Side,
        View::Plan => StandardView::Plan,
        View::ThreeQuarter => StandardView::ThreeQuarter,
        View::Corner(wheel) => StandardView::Corner(place_of(wheel)),
    }
}

fn sheet_of(sheet: command_line::Sheet) -> ColourTheme {
    match sheet {
        command_line::Sheet::Light => ColourTheme::Light,
        command_line::Sheet::Dark => ColourTheme::Dark,
    }
}

#[cfg(test)]
mod tests {
    use super::staged;
    use std::path::PathBuf;
    use wheelpath_command_line::{Overlays, PictureRequest, Sheet, View};
    use wheelpath_geometry::{CarPose, Hardpoint, WheelPosition};
    use wheelpath_project::demo_car;

    fn request() -> PictureRequest {
        PictureRequest {
            car: demo_car().unwrap(),
            pose: CarPose::REFERENCE,
            before: None,
            file: PathBuf::from("unused.png"),
            view: View::Front,
            sheet: Sheet::Light,
            size: [320, 200],
            overlays: Overlays::Nothing,
        }
    }

    #[test]
    fn a_picture_with_proposals_has_the_car_before_them_behind_it() {
        let mut request = request();
        assert!(staged(&request).unwrap().ghost.is_none(), "one car");
        let car = &mut request.car.loaded.car;
        request.before = Some((car.clone(), CarPose::REFERENCE));
        let hardpoints = &mut car.corner_mut(WheelPosition::ALL[0]).hardpoints;
        let was = hardpoints.get(Hardpoint::TieRodInner).unwrap();
        hardpoints.set(Hardpoint::TieRodInner, was + nalgebra::Vector3::new(0.0, 0.0, 4e-3));
        let stage = staged(&request).unwrap();
        let ghost = stage.ghost.expect("the car before");
        assert!(ghost.points.is_empty(), "nothing of it can be pulled");
        assert_eq!(ghost.parts.len(), stage.car.parts.len());
        let moved: Vec<_> =
            ghost.parts.iter().zip(&stage.car.parts).filter(|(was, is)| was.kind != is.kind).collect();
        assert!(!moved.is_empty() && moved.len() < 6, "one tie rod and what hangs on it: {}", moved.len());
    }

    #[test]
    fn a_car_before_that_does_not_take_its_pose_is_said_to() {
        let mut request = request();
        let pose = CarPose { travel: [9.0; 4], steer: 0.0 };
        request.before = Some((request.car.loaded.car.clone(), pose));
        let no = staged(&request).unwrap_err();
        assert!(!no.why.is_empty() && no.remedy.contains("wheelpath check"), "{no:?}");
    }
}
