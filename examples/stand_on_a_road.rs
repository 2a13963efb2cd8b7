//! Puts the demo car on a road in mid-corner and prints what its tyres show to it, and its locks:
//! `cargo run -p wheelpath-examples --bin stand_on_a_road`

use std::error::Error;
use std::fmt::Write as _;
use std::io::{Write, stdout};
use wheelpath_car_file::parse;
use wheelpath_geometry::{
    Car, CarSolver, Cornering, Gradients, RoadContact, RoadSolver, Stop, WheelPosition,
};

/// A left turn at 12 m/s² while braking at 3 m/s², on a car whose roll and pitch were measured.
fn in_a_left_turn(car: &Car, solver: &CarSolver) -> Result<String, Stop> {
    let road = RoadSolver::new(car, solver);
    // 0.09° of roll and 0.05° of dive for each m/s².
    let gradients =
        Gradients::of_roll(0.09_f64.to_radians()).with_pitch(-0.05_f64.to_radians(), car.wheelbase);
    let at = Cornering::level(12.0, -3.0);
    let mid = road.mid_corner(&at, 0.010, &gradients)?;
    let mut text = String::new();
    for wheel in WheelPosition::ALL {
        let shown = mid.wheels[wheel.index()];
        let _ = write!(
            text,
            "{wheel}: travel {:.1} mm, camber {:.2}°, steer {:.2}°",
            mid.standing.travel(wheel) * 1e3,
            shown.camber.to_degrees(),
            shown.steer.to_degrees(),
        );
        if let RoadContact::Hanging { gap, .. } = mid.standing.footing(wheel) {
            let _ = write!(text, ", in the air by {:.1} mm", gap * 1e3);
        }
        text.push('\n');
    }
    for stop in &mid.standing.exceeded {
        let _ = writeln!(text, "{stop}");
    }
    Ok(text)
}

/// Steer of both front wheels and the circle between kerbs at either lock.
fn locks(car: &Car, solver: &CarSolver) -> Result<String, Stop> {
    let mut text = String::new();
    for lock in RoadSolver::new(car, solver).locks()? {
        let [left, right] = lock.wheels.map(f64::to_degrees);
        let circle = lock.turn.map_or(f64::INFINITY, |turn| turn.kerb_circle);
        let _ = writeln!(text, "steer {left:.1}° left, {right:.1}° right: {circle:.2} m between kerbs");
    }
    Ok(text)
}

fn main() -> Result<(), Box<dyn Error>> {
    let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron")?.car;
    let solver = CarSolver::new(&car).map_err(|stops| format!("{stops:?}"))?;
    let text = in_a_left_turn(&car, &solver)? + &locks(&car, &solver)?;
    stdout().write_all(text.as_bytes())?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outer_wheels_are_pressed_in_and_the_locks_are_alike() {
        let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron").unwrap().car;
        let solver = CarSolver::new(&car).unwrap();
        let text = in_a_left_turn(&car, &solver).unwrap();
        let travel = |wheel: &str| -> f64 {
            let line = text.lines().find(|line| line.starts_with(wheel)).unwrap();
            line.split("travel ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap()
        };
        assert!(travel("front right") > 10.0 && travel("front left") < 0.0, "{text}");
        assert!(travel("front right") > travel("rear right"), "braking dives: {text}");
        let locks = locks(&car, &solver).unwrap();
        let circle = |line: &str| line.split(": ").nth(1).unwrap().to_owned();
        let circles: Vec<String> = locks.lines().map(circle).collect();
        assert_eq!(circles[0], circles[1]);
        assert!(main().is_ok());
    }
}
