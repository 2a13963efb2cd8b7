//! Leans a car in a left bend by its own springs, bars and masses, and prints what each tyre shows to the
//! road: `cargo run -p wheelpath-examples --bin mid_corner`

use std::error::Error;
use std::io::{Write, stdout};
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, CarSolver, Cornering, GRAVITY, NoEstimate, RoadSolver, WheelPosition};

/// Camber to the road (radians, + = top outboard), load (newtons) of each wheel in a bend of that many g,
/// and the roll of the body (radians).
fn in_bend(car: &Car, solver: &CarSolver, lateral_g: f64) -> Result<([(f64, f64); 4], f64), NoEstimate> {
    let road = RoadSolver::new(car, solver);
    let at = Cornering::level(lateral_g * GRAVITY, 0.0);
    let (bend, estimate) = road.mid_corner_by_estimate(&at, 0.0)?;
    let mut wheels = bend.wheels.map(|wheel| (wheel.camber, 0.0));
    for ((_, load), estimated) in wheels.iter_mut().zip(estimate.loads(&at)) {
        *load = estimated;
    }
    Ok((wheels, bend.standing.body.roll))
}

fn main() -> Result<(), Box<dyn Error>> {
    let car = parse(include_str!("../demo-cars/rowan.ron"), "rowan.ron")?.car;
    let solver = CarSolver::new(&car).map_err(|stops| format!("{stops:?}"))?;
    let mut out = stdout();
    for lateral in [0.0, 0.3, 0.6, 0.9] {
        let (wheels, roll) = in_bend(&car, &solver, lateral)?;
        writeln!(out, "{lateral} g: body rolls {:.2} deg (an estimate)", roll.to_degrees())?;
        for (at, (camber, load)) in WheelPosition::ALL.into_iter().zip(wheels) {
            writeln!(out, "  {at}: camber to the road {:+.2} deg, load {load:.0} N", camber.to_degrees())?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_body_leans_outward_and_the_outer_wheels_carry_more() {
        let car = parse(include_str!("../demo-cars/rowan.ron"), "rowan.ron").unwrap().car;
        let solver = CarSolver::new(&car).unwrap();
        let (straight, level) = in_bend(&car, &solver, 0.0).unwrap();
        let (left_bend, roll) = in_bend(&car, &solver, 0.6).unwrap();
        assert!(level.abs() < 1e-12 && roll > 0.0, "{level} {roll}");
        let [fl, fr, rl, rr] = left_bend;
        assert!(fr.1 > fl.1 && rr.1 > rl.1, "{left_bend:?}");
        // The weight stays what it is.
        let weight = |wheels: &[(f64, f64); 4]| wheels.iter().map(|(_, load)| load).sum::<f64>();
        assert!((weight(&straight) - weight(&left_bend)).abs() < 1e-9);
        assert!((weight(&straight) - car.mass.unwrap() * GRAVITY).abs() < 1e-9);
        // The outer wheels lean out with the body, less than it does: that is what camber gain is for.
        assert!(fr.0 > straight[1].0 && fr.0 - straight[1].0 < roll, "{} {}", fr.0, straight[1].0);
        assert!(main().is_ok());
    }

    #[test]
    fn a_car_without_springs_says_what_it_lacks() {
        let car = parse(include_str!("../demo-cars/sorrel.ron"), "sorrel.ron").unwrap().car;
        let solver = CarSolver::new(&car).unwrap();
        assert!(in_bend(&car, &solver, 0.5).unwrap_err().to_string().contains("mass"));
    }
}
