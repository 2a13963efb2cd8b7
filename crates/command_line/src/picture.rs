//! A picture of the car, drawn by whoever can draw.

use crate::arguments::PictureArguments;
use crate::car_at_hand::CarAtHand;
use crate::failure::Failure;
use crate::front::{Front, PictureRequest};
use crate::io::Io;

pub(crate) fn run(arguments: &PictureArguments, io: &mut Io, front: &dyn Front) -> Result<u8, Failure> {
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let solved = arguments.pose.solve(&car.loaded.car, &solver, io)?;
    let request = PictureRequest {
        car,
        pose: solved.car.pose,
        file: arguments.output.clone(),
        view: arguments.view,
        sheet: arguments.sheet,
        size: arguments.size,
        overlays: arguments.overlays.clone(),
    };
    front.picture(&request).map_err(|no| Failure::wrong_use(no.why, no.remedy))?;
    io.print(&format!("wrote {}\n", request.file.display()))?;
    Ok(0)
}
