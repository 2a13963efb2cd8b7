//! Draws the whole window without a display into PNG files, to be looked at:
//! `cargo run --example window_pictures -- CAR FOLDER [WORD]`; of the pictures only those whose name
//! holds WORD.

use nalgebra::Vector3;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use wheelpath::adapter::place_of;
use wheelpath::panels::Task;
use wheelpath::picture::{PictureOptions, render_app, save};
use wheelpath::window::Workbench;
use wheelpath_car_file::Loaded;
use wheelpath_geometry::{Assembly, CarPose, End, Hardpoint, WheelPosition};
use wheelpath_project::{Companions, LoadedCar};
use wheelpath_session::{Beside, CarEdit, Edit, Session, Wheels};
use wheelpath_stage::theme::ColourTheme;
use wheelpath_stage::view::standard_views::StandardView;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let car = PathBuf::from(arguments.next().unwrap_or_else(|| "demo-cars/alder.ron".to_owned()));
    let folder = PathBuf::from(arguments.next().unwrap_or_else(|| ".".to_owned()));
    let only = arguments.next().unwrap_or_default();
    let Ok(session) = Session::open(&car) else { return ExitCode::FAILURE };
    let Some(session) = session.document().cloned().map(|document| {
        let loaded = Loaded { car: session.car().clone(), document, warnings: Vec::new() };
        let companions = Companions::of(&LoadedCar { loaded, path: Some(car.clone()) });
        session.with_beside(Beside::from(companions))
    }) else {
        return ExitCode::FAILURE;
    };
    for (width, height) in [(1280, 720), (1920, 1080)] {
        for sheet in [ColourTheme::Light, ColourTheme::Dark] {
            for what in
                [What::Look, What::Change, What::Map, What::Beside, What::Decide, What::Fit, What::Table]
            {
                let file = format!("{what:?}-{width}-{sheet:?}.png").to_lowercase();
                if file.contains(&only)
                    && draw(&session, &folder.join(file), what, sheet, [width, height]).is_none()
                {
                    return ExitCode::FAILURE;
                }
            }
        }
    }
    ExitCode::SUCCESS
}

/// What is in a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Look,
    Change,
    /// A contour map for the point that is changed.
    Map,
    /// Before and now in two pictures.
    Beside,
    Decide,
    /// Distances of parts.
    Fit,
    /// Before and after in a table.
    Table,
}

fn draw(session: &Session, file: &Path, what: What, sheet: ColourTheme, size: [u32; 2]) -> Option<()> {
    let mut session = session.clone();
    let (assembly, hardpoint) = if what == What::Map { ROD } else { point(&session) };
    let changes = matches!(what, What::Change | What::Map | What::Beside | What::Table);
    if changes {
        let to = assembly.hardpoints(session.car()).get(hardpoint)? - Vector3::new(0.0, 0.0, 2.5e-3);
        session.apply(Edit::Change(CarEdit::move_point(assembly, hardpoint, to, true)));
        session.apply(Edit::SetPose(CarPose { steer: 0.02, ..CarPose::REFERENCE }));
        session.apply(Edit::SetTravel { wheels: Wheels::Roll, travel: 0.012 });
    }
    let mut bench = Workbench::new(session);
    bench.panels.task = match what {
        What::Look => Task::Look,
        What::Decide | What::Fit | What::Table => Task::Decide,
        _ => Task::Change,
    };
    if changes {
        bench.panels.select(Some((assembly, hardpoint)));
    }
    bench.panels.beside = what == What::Beside;
    bench.panels.map.open = what == What::Map;
    bench.panels.map.grown = what == What::Map && size[0] > 1500;
    bench.panels.decide.fit.open = what == What::Fit;
    bench.panels.decide.table = what == What::Table;
    bench.panels.sheet = sheet;
    let [width, height] = size;
    let view = match (what, assembly) {
        (What::Map, Assembly::Corner(at)) => StandardView::Corner(place_of(at)),
        (What::Change, Assembly::Corner(_)) => StandardView::Front,
        (What::Change, Assembly::Axle(_)) => StandardView::Plan,
        _ => StandardView::ThreeQuarter,
    };
    let options = PictureOptions { view, sheet, width, height, ..PictureOptions::default() };
    let image = render_app(&options, |app| {
        app.add_plugins(bench);
    });
    save(image.ok()?, file).ok()
}

/// A point that a map is drawn for.
const ROD: (Assembly, Hardpoint) = (Assembly::Corner(WheelPosition::ALL[0]), Hardpoint::TieRodInner);

/// The point that is changed: one of an axle as a whole, where the car has one.
fn point(session: &Session) -> (Assembly, Hardpoint) {
    let of = |end| {
        let assembly = Assembly::Axle(end);
        assembly.hardpoints(session.car()).iter().next().map(|(hardpoint, _)| (assembly, hardpoint))
    };
    End::BOTH.into_iter().find_map(of).unwrap_or((WheelPosition::ALL[0].into(), Hardpoint::TieRodInner))
}
