//! Draws an invented car in every standing view, on both sheets, into PNG files, to
//! be looked at: `cargo run --example stage_pictures -- FOLDER [WIDTH HEIGHT] [VIEW]`.

#[path = "../../stage/tests/scene/invented_car.rs"]
mod car;

use std::path::PathBuf;
use std::process::ExitCode;

use wheelpath::picture::{PictureOptions, render_png};
use wheelpath_stage::theme::ColourTheme;
use wheelpath_stage::view::standard_views::StandardView;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let folder = PathBuf::from(arguments.next().unwrap_or_else(|| ".".to_owned()));
    let width = arguments.next().and_then(|a| a.parse().ok()).unwrap_or(1280);
    let height = arguments.next().and_then(|a| a.parse().ok()).unwrap_or(720);
    let only = arguments.next();
    let mut stage = car::stage();
    if std::env::args().any(|argument| argument == "--changed") {
        car::change(&mut stage);
    }
    for sheet in [ColourTheme::Light, ColourTheme::Dark] {
        for view in StandardView::ALL {
            let name = format!("{}-{sheet:?}.png", view.name()).to_lowercase();
            if only.as_ref().is_some_and(|only| !name.contains(only)) {
                continue;
            }
            let options = PictureOptions { view, sheet, width, height, ..PictureOptions::default() };
            if render_png(&stage, &options, &folder.join(name)).is_err() {
                return ExitCode::FAILURE;
            }
        }
    }
    ExitCode::SUCCESS
}
