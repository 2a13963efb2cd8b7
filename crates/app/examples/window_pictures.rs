//! Draws the whole window without a display into PNG files, to be looked at:
//! `cargo run --example window_pictures -- CAR FOLDER [WORD]`; of the pictures only those whose name
//! holds WORD.

use nalgebra::Vector3;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use wheelpath::front::beside;
use wheelpath::panels::Task;
use wheelpath::picture::{PictureOptions, render_app, save};
use wheelpath::session::{Change, Edit, Owner, Session, Wheels};
use wheelpath::stage::palette::Sheet;
use wheelpath::stage::standard_views::StandardView;
use wheelpath::window::Workbench;
use wheelpath_car_file::Loaded;
use wheelpath_command_line::CarAtHand;
use wheelpath_geometry::{CarPose, End, Pickup, WheelAt};

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let car = PathBuf::from(arguments.next().unwrap_or_else(|| "demo-cars/alder.ron".to_owned()));
    let folder = PathBuf::from(arguments.next().unwrap_or_else(|| ".".to_owned()));
    let only = arguments.next().unwrap_or_default();
    let Ok(session) = Session::open(&car) else { return ExitCode::FAILURE };
    let Some(session) = session.document().cloned().map(|document| {
        let loaded = Loaded { car: session.car().clone(), document, warnings: Vec::new() };
        let beside = beside(&CarAtHand { loaded, path: Some(car.clone()) });
        session.with_beside(beside)
    }) else {
        return ExitCode::FAILURE;
    };
    for (width, height) in [(1280, 720), (1920, 1080)] {
        for sheet in [Sheet::Light, Sheet::Dark] {
            for (task, name) in [(Task::Look, "look"), (Task::Change, "change"), (Task::Decide, "decide")] {
                let file = format!("{name}-{width}-{sheet:?}.png").to_lowercase();
                if file.contains(&only)
                    && draw(&session, &folder.join(file), task, sheet, [width, height]).is_none()
                {
                    return ExitCode::FAILURE;
                }
            }
        }
    }
    ExitCode::SUCCESS
}

fn draw(session: &Session, file: &Path, task: Task, sheet: Sheet, size: [u32; 2]) -> Option<()> {
    let mut session = session.clone();
    let (owner, pickup) = point(&session);
    if task == Task::Change {
        let to = owner.pickups(session.car()).get(pickup)? - Vector3::new(0.0, 0.0, 2.5e-3);
        session.apply(Edit::Change(Change::MovePickup { owner, pickup, to, mirrored: true }));
        session.apply(Edit::SetPose(CarPose { steer: 0.02, ..CarPose::REFERENCE }));
        session.apply(Edit::SetTravel { wheels: Wheels::Roll, travel: 0.012 });
    }
    let mut bench = Workbench::new(session);
    bench.panels.task = task;
    if task == Task::Change {
        bench.panels.select(Some((owner, pickup)));
    }
    bench.panels.sheet = sheet;
    let [width, height] = size;
    let view = match (task, owner) {
        (Task::Change, Owner::Corner(_)) => StandardView::Front,
        (Task::Change, Owner::Axle(_)) => StandardView::Plan,
        (Task::Look | Task::Decide, _) => StandardView::ThreeQuarter,
    };
    let options = PictureOptions { view, sheet, width, height, ..PictureOptions::default() };
    let image = render_app(&options, |app| {
        app.add_plugins(bench);
    });
    save(image.ok()?, file).ok()
}

/// The point that is changed: one of an axle as a whole, where the car has one.
fn point(session: &Session) -> (Owner, Pickup) {
    let of = |end| {
        let owner = Owner::Axle(end);
        owner.pickups(session.car()).iter().next().map(|(pickup, _)| (owner, pickup))
    };
    End::BOTH.into_iter().find_map(of).unwrap_or((WheelAt::ALL[0].into(), Pickup::TieRodInner))
}
