//! A picture of the car, drawn by whoever can draw.

use crate::arguments::subcommands::PictureArguments;
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::front::{Frontend, PictureRequest};
use crate::opened_car::ready;
use wheelpath_geometry::shown_name;

pub(crate) fn run(
    arguments: &PictureArguments,
    io: &mut Console,
    front: &dyn Frontend,
) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let solved = cars.each(io, |one, io| arguments.pose.solve(&one.car, &one.solver, io))?;
    let shown = solved.last();
    let mut car = at_hand.clone();
    let before = cars.after.map(|changed| {
        car.loaded.car = changed.car;
        (at_hand.loaded.car, solved.before.car.pose)
    });
    let request = PictureRequest {
        car,
        pose: shown.car.pose,
        before,
        file: arguments.output.clone(),
        view: arguments.view,
        sheet: arguments.sheet,
        size: arguments.size,
        overlays: arguments.overlays.clone(),
    };
    front.picture(&request).map_err(|no| Failure::wrong_use(no.why, no.remedy))?;
    io.print(&format!("wrote {}\n", shown_name(&request.file.display().to_string())))?;
    Ok(0)
}
