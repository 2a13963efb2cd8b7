//! The window; where there can be none, the car's readings and curves in the terminal.

use crate::chart_of;
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::front::Frontend;
use crate::opened_car::opened;
use crate::readings::tables;
use std::path::Path;
use wheelpath_geometry::{CarSolver, End};
use wheelpath_project::demo_car;
use wheelpath_report::{Rows, Style};

pub(crate) fn run(car: Option<&Path>, io: &mut Console, front: &dyn Frontend) -> Result<u8, Failure> {
    let car = match car {
        Some(name) => opened(name, io)?,
        None => demo_car()?,
    };
    // The window may stay for hours: what was said before it opens should be read by then.
    io.flush()?;
    let Err(no_window) = front.open(car.clone()) else { return Ok(0) };
    io.complain(&format!("{no_window}\n"))?;
    io.flush()?;
    let solver = CarSolver::new(&car.loaded.car)?;
    let style = Style { lengths: car.units(), ..Style::default() };
    io.print(&tables(&car.loaded.car, &solver.start(), &style, Rows::First))?;
    io.print(&format!("\n{}", chart_of::bump_steer(&car.loaded.car, &solver, End::Front, &style)))?;
    for chart in chart_of::ackermann(&car.loaded.car, &solver, &style) {
        io.print(&format!("\n{chart}"))?;
    }
    io.print("\n`wheelpath --help` lists what else can be had without a window.\n")?;
    Ok(0)
}
