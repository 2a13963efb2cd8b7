//! Moves the tie rod's inner end up or down until the front bump steer is zero at the design pose, by
//! Newton steps with the exact sensitivity:
//! `cargo run -p wheelpath-examples --bin flatten_bump_steer`

use std::error::Error;
use std::io::{Write, stdout};
use wheelpath_car_file::parse;
use wheelpath_geometry::{
    Axis, AxleSolver, Car, ChangedOn, End, Hardpoint, Links, ScalarParameter, Side, Stop, reading,
};

/// One step: the height of the tie rod's inner end (metres) and the bump steer there (radians per
/// metre).
#[derive(Clone, Copy, Debug)]
struct Step {
    height: f64,
    bump_steer: f64,
}

/// Flattens the bump steer of a car with a front rack; returns the steps. Stops early where the height
/// has no effect.
fn flatten(car: &mut Car) -> Result<Vec<Step>, Stop> {
    let height = ScalarParameter::point(Hardpoint::TieRodInner, Axis::Z);
    let mut steps = Vec::new();
    for _ in 0..12 {
        let axle = AxleSolver::new(car, End::Front)?;
        let here = axle.start();
        // The links are cut to length as the point moves: the design pose stays.
        let slopes = axle.sensitivity(&here, height, ChangedOn::Both, Links::Remade);
        let (Some(inner), Some(bump_steer), Some(slopes)) =
            (car.front.left.hardpoints.get(Hardpoint::TieRodInner), reading("bump_steer"), slopes)
        else {
            break;
        };
        let (Some(value), Some(slope)) =
            (here.wheel_values(Side::Left).get(bump_steer), slopes.wheels[0].get(bump_steer))
        else {
            break;
        };
        steps.push(Step { height: inner.z, bump_steer: value });
        if value.abs() < 1e-12 || slope == 0.0 {
            break;
        }
        for side in Side::BOTH {
            let hardpoints = &mut car.front.corner_mut(side).hardpoints;
            if let Some(mut inner) = hardpoints.get(Hardpoint::TieRodInner) {
                inner.z -= value / slope;
                hardpoints.set(Hardpoint::TieRodInner, inner);
            }
        }
    }
    Ok(steps)
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron")?.car;
    let mut out = stdout();
    for step in flatten(&mut car)? {
        let (height, bump_steer) = (step.height * 1e3, step.bump_steer.to_degrees());
        writeln!(out, "tie rod inner end {height:.4} mm up: bump steer {bump_steer:+.3e} deg per m")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn newton_squares_the_error_until_bump_steer_is_gone() {
        let mut car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron").unwrap().car;
        let steps = flatten(&mut car).unwrap();
        let sizes: Vec<f64> = steps.iter().map(|step| step.bump_steer.abs()).collect();
        assert!(sizes[0] > 0.05, "Alder has bump steer to find: {sizes:?}");
        assert!(*sizes.last().unwrap() < 1e-12, "{sizes:?}");
        // Exact derivatives make few steps; differences or a wrong sign would not.
        assert!(sizes.len() <= 6, "{sizes:?}");
        // The car file says where it will be: about 166.5 mm.
        let height = steps.last().unwrap().height;
        assert!((height - 0.1665).abs() < 0.0005, "{height}");
        assert!(main().is_ok());
    }
}
