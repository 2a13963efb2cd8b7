//! Writes a new car file for chosen linkages: commented, and complete but for its numbers.

use crate::arguments::new::NewArguments;
use crate::console::failure::Failure;
use crate::console::streams::Console;
use wheelpath_car_file::{Axes, FILL_IN, FileSnapshot, NewCar, NewSteering, SaveError, put};
use wheelpath_geometry::LengthUnit;

pub(crate) fn run(arguments: &NewArguments, io: &mut Console) -> Result<u8, Failure> {
    let path = &arguments.file;
    let rear = match (arguments.bench, arguments.rear) {
        (true, None) => None,
        (_, Some(rear)) => Some(rear),
        (false, None) => {
            return Err(Failure::wrong_use(
                "the rear linkage is not chosen",
                "give it with --rear, or --bench for a single corner without a second axle",
            ));
        }
    };
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let usual = match arguments.front.spec() {
        spec if spec.has_track_rod => NewSteering::Box,
        spec if spec.has_toe_link => NewSteering::Rack,
        _ => NewSteering::Fixed,
    };
    let new = NewCar {
        name: arguments.name.clone().unwrap_or(stem),
        file: path.display().to_string(),
        units: arguments.units.unwrap_or(LengthUnit::Millimetre),
        axes: arguments.axes.unwrap_or(Axes::VEHICLE),
        front: arguments.front,
        rear,
        steering: arguments.steering.unwrap_or(usual),
        springing: arguments.springing,
        bar: arguments.anti_roll_bar,
    };
    let text = new.text().map_err(|[message, hint]| Failure::wrong_use(message, hint))?;
    put(path, &text, Some(&FileSnapshot::NOTHING)).map_err(|error| match error {
        SaveError::ChangedByAnother { .. } => Failure::wrong_use(
            format!("{} is there already; nothing was written", path.display()),
            "name a new file, or delete the old one first",
        ),
        _ => Failure::wrong_use(error.to_string(), "give a place that can be written to"),
    })?;
    let file = path.display();
    io.print(&format!(
        "wrote {file}\nEach {FILL_IN} in it is a number to be measured; `wheelpath check {file}` lists them by name and line.\n"
    ))?;
    Ok(0)
}
