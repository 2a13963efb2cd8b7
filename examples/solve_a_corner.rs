//! Solves one corner at a pose and prints its readings:
//! `cargo run -p wheelpath-examples --bin solve_a_corner`

use nalgebra::Vector3;
use std::error::Error;
use std::io::{Write, stdout};
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, CornerSolver, LengthUnit, OnGround, Side, Stop, wheel_readings, wheel_values};

/// The readings of the front left wheel at a wheel travel and rack travel, metres, on level ground.
fn front_left_readings(car: &Car, travel: f64, rack: f64) -> Result<String, Stop> {
    let solver = CornerSolver::new(&car.front.left, Side::Left, &car.front.steering, None)?;
    let solved = solver.solve(travel, rack)?;
    let values = wheel_values(&solved.motion, &OnGround::of(&solved.motion, Vector3::z()));
    let line = |reading| {
        let value = values.get(reading).unwrap_or(f64::NAN);
        format!("{}: {}\n", reading.name, reading.unit.write(value, LengthUnit::Millimetre))
    };
    Ok(wheel_readings().iter().map(line).collect())
}

fn main() -> Result<(), Box<dyn Error>> {
    let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron")?.car;
    // 20 mm of bump, 10 mm of rack toward the left.
    stdout().write_all(front_left_readings(&car, 0.020, 0.010)?.as_bytes())?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_at_the_design_pose_are_those_the_car_file_states() {
        let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron").unwrap().car;
        let text = front_left_readings(&car, 0.0, 0.0).unwrap();
        for line in ["Camber to the body: −2.50°", "Toe: −0.10°", "Damper length: 230.0 mm"] {
            assert!(text.lines().any(|l| l == line), "no {line:?} in\n{text}");
        }
        assert!(main().is_ok());
    }

    #[test]
    fn a_travel_out_of_reach_says_which_link() {
        let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron").unwrap().car;
        let stop = front_left_readings(&car, 0.5, 0.0).unwrap_err();
        assert!(!stop.links.is_empty(), "{stop}");
    }
}
