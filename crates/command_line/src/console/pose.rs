//! The pose asked for: wheel travel and steering.

use crate::console::failure::Failure;
use crate::console::field::Among;
use crate::console::quantity::{Given, Length};
use crate::console::record::record;
use crate::console::steer::{SteerArguments, SteerRecord, steer_in_words};
use crate::console::streams::Console;
use crate::console::vocabulary::says;
use clap::Args;
use wheelpath_geometry::{
    AxlePose, Car, CarPose, CarSolver, End, LengthUnit, Side, SolvedCar, Unit, WheelPosition,
};

#[derive(Debug, Args)]
pub(crate) struct PoseArguments {
    /// Wheel travel, + bump: one number for all wheels, or such as front=10,rear_left=-5
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = travels, default_value = "0")]
    travel_mm: [f64; 4],
    #[command(flatten)]
    steer: SteerArguments,
}

/// A finite number.
pub(crate) fn finite(word: &str) -> Result<f64, String> {
    // People paste real minus signs from our own tables.
    let value: f64 = word.trim().replace('−', "-").parse().map_err(|_| format!("{word} is not a number"))?;
    if value.is_finite() { Ok(value) } else { Err(format!("{word} is not a finite number")) }
}

/// Travel of each wheel, mm: `10`, or `front=10,rear_left=-5` with later words over earlier ones that say for
/// more wheels or fewer; nothing is said twice for the same.
pub(crate) fn travels(words: &str) -> Result<[f64; 4], String> {
    if !words.contains('=') {
        return finite(words).map(|value| [value; 4]);
    }
    let mut travels = [0.0; 4];
    let mut given: Vec<[bool; 4]> = Vec::new();
    for word in words.split(',') {
        let (name, value) = word.split_once('=').ok_or_else(|| format!("{word} says for no wheel"))?;
        let value = finite(value)?;
        let name = name.trim();
        let of = WheelPosition::ALL
            .map(|wheel| says(name, "all") || says(name, wheel.end.name()) || says(name, wheel.key()));
        for (travel, _) in travels.iter_mut().zip(of).filter(|(_, is_met)| *is_met) {
            *travel = value;
        }
        if given.contains(&of) {
            return Err(format!("the travel of {name} is given twice; keep one of the two"));
        }
        given.push(of);
        if !of.contains(&true) {
            let keys = WheelPosition::ALL.map(WheelPosition::key).join(", ");
            return Err(format!(
                "there is no wheel {name}; wheels are all, front, rear, {keys}, or LF, RF, LR, RR, or FL, FR, RL, RR"
            ));
        }
    }
    Ok(travels)
}

impl PoseArguments {
    /// The pose of this car.
    pub fn pose(&self, car: &Car) -> Result<CarPose, Failure> {
        let steer = self.steer.input(car, End::Front)?;
        Ok(CarPose { travel: self.travel_mm.map(metres), steer })
    }

    /// The car at the pose; stops that the pose exceeds are warned of.
    pub fn solve(&self, car: &Car, solver: &CarSolver, io: &mut Console) -> Result<Solved, Failure> {
        solve_at(&self.pose(car)?, solver, io)
    }
}

/// The car at a pose; stops that the pose exceeds are warned of.
pub(crate) fn solve_at(pose: &CarPose, solver: &CarSolver, io: &mut Console) -> Result<Solved, Failure> {
    let mut solved = solver.solve(pose)?;
    for (axle, end) in solved.axles.iter_mut().zip(End::BOTH) {
        *axle = solver.axle(end).rated(axle);
    }
    let warnings = beyond_stops(solver, &solved, io)?;
    Ok(Solved { car: solved, warnings })
}

/// Warns of each stop of steering, damper or joint that a pose goes beyond, and of each dead point that it
/// is near; returns the warnings.
pub(crate) fn beyond_stops(
    solver: &CarSolver,
    solved: &SolvedCar,
    io: &mut Console,
) -> Result<Vec<String>, Failure> {
    let mut warnings: Vec<String> = Vec::new();
    for end in End::BOTH {
        let (solver, axle) = (solver.axle(end), solved.axle(end));
        for exceeded in solver.exceeded(axle) {
            let message = exceeded.in_words(io.lengths());
            io.warn(&message, "the links close there, but the car cannot go so far")?;
            warnings.push(message);
        }
        let near: Vec<_> =
            Side::BOTH.into_iter().filter_map(|side| solver.near_dead_point(axle, side)).collect();
        for (index, one) in near.iter().enumerate() {
            // A beam axle comes to its dead point as a whole.
            if solver.corner(one.wheel.side).is_none() && index > 0 {
                continue;
            }
            let message = one.in_words(io.lengths());
            io.warn(&message, "the numbers are soft there; `wheelpath check` lists how far each wheel goes")?;
            warnings.push(message);
        }
    }
    Ok(warnings)
}

/// A solved pose and what is doubtful about it.
pub(crate) struct Solved {
    pub car: SolvedCar,
    pub warnings: Vec<String>,
}

/// Millimetres of the command line in metres. Dividing gives the double nearest to the decimal.
pub(crate) fn metres(mm: f64) -> f64 {
    mm / 1e3
}

/// The pose in words.
pub(crate) fn pose_in_words(car: &Car, pose: &CarPose, lengths: LengthUnit) -> String {
    let one = |travel: f64| Unit::Length.write(travel, lengths);
    let [first, rest @ ..] = pose.travel;
    let travel = if rest.iter().all(|t| t.to_bits() == first.to_bits()) {
        one(first)
    } else {
        let each = |wheel: WheelPosition| format!("{wheel} {}", one(pose.travel_of(wheel)));
        WheelPosition::ALL.map(each).join(", ")
    };
    format!("wheel travel {travel}; {}", steer_in_words(car, End::Front, pose.steer, lengths))
}

record! {
    /// The pose for programs.
    pub(crate) struct PoseRecord {
        /// Wheel travel, + bump. Also front_right, rear_left, rear_right.
        front_left_travel: Given<Length>,
        /// Wheel travel, + bump.
        front_right_travel: Given<Length>,
        /// Wheel travel, + bump.
        rear_left_travel: Given<Length>,
        /// Wheel travel, + bump.
        rear_right_travel: Given<Length>,
        steer: Among<SteerRecord>,
    }
}

impl PoseRecord {
    pub fn of(car: &Car, pose: &CarPose) -> Self {
        let [front_left_travel, front_right_travel, rear_left_travel, rear_right_travel] =
            WheelPosition::ALL.map(|wheel| Given(Length(pose.travel_of(wheel))));
        PoseRecord {
            front_left_travel,
            front_right_travel,
            rear_left_travel,
            rear_right_travel,
            steer: Among(SteerRecord::of(car, End::Front, pose.steer)),
        }
    }
}

record! {
    /// The pose of an axle, for programs.
    pub(crate) struct AxlePoseRecord {
        /// Travel of the left wheel, + bump.
        left_travel: Given<Length>,
        /// Travel of the right wheel, + bump.
        right_travel: Given<Length>,
        steer: Among<SteerRecord>,
    }
}

impl AxlePoseRecord {
    pub fn of(car: &Car, end: End, pose: &AxlePose) -> Self {
        let [left_travel, right_travel] = pose.travel.map(|travel| Given(Length(travel)));
        AxlePoseRecord { left_travel, right_travel, steer: Among(SteerRecord::of(car, end, pose.steer)) }
    }
}

#[cfg(test)]
mod tests {
    use super::travels;

    #[test]
    fn travels_name_wheels_axles_or_all() {
        let check = |words: &str, expected: [f64; 4]| assert_eq!(travels(words), Ok(expected), "{words}");
        check("10", [10.0; 4]);
        check("−2.5", [-2.5; 4]);
        check("front=10,rear_left=-5", [10.0, 10.0, -5.0, 0.0]);
        check("all=3, front_right=1", [3.0, 1.0, 3.0, 3.0]);
        check("LF=1,rf=2,Lr=3,RR=4", [1.0, 2.0, 3.0, 4.0]);
        check("FL=1,FR=2,RL=3,rr=4", [1.0, 2.0, 3.0, 4.0]);
        check("Front=5,left-rear=-1", [5.0, 5.0, -1.0, 0.0]);
        for wrong in [
            "",
            "ten",
            "middle=3",
            "front=10,5",
            "front=inf",
            "NaN",
            "front=3,front=4",
            "FL=1,front_left=2",
            "all=1,all=1",
        ] {
            assert!(travels(wrong).is_err(), "{wrong} passes");
        }
    }
}
