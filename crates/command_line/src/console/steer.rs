//! The steering input asked for: travel of a rack, turn of a steering box's pitman arm, or the angle of
//! the steering wheel.

use crate::console::failure::Failure;
use crate::console::field::LeftOut;
use crate::console::pose::{finite, metres};
use crate::console::quantity::{Degree, Given, InDegrees, Length};
use crate::console::record::record;
use clap::Args;
use wheelpath_geometry::{Car, End, LengthUnit, SteerInput, Steering, Unit};
use wheelpath_report::fixed;

#[derive(Debug, Args)]
pub(crate) struct SteerArguments {
    /// Rack travel, + toward the left; for an axle with a rack
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["pitman_deg", "steering_wheel_deg"])]
    rack_mm: Option<f64>,
    /// Turn of the pitman arm, + anticlockwise seen from above; for an axle with a steering box
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite, conflicts_with = "steering_wheel_deg")]
    pitman_deg: Option<f64>,
    /// Steering-wheel angle, + a left turn; for either
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite)]
    steering_wheel_deg: Option<f64>,
}

impl SteerArguments {
    /// The word by which it was given, if it was.
    pub fn given(&self) -> Option<&'static str> {
        let words = [
            ("--rack-mm", self.rack_mm),
            ("--pitman-deg", self.pitman_deg),
            ("--steering-wheel-deg", self.steering_wheel_deg),
        ];
        words.into_iter().find(|(_, value)| value.is_some()).map(|(word, _)| word)
    }

    /// The steering input of an axle; straight ahead where nothing was given.
    pub fn input(&self, car: &Car, end: End) -> Result<f64, Failure> {
        let Some(word) = self.given() else { return Ok(0.0) };
        let steering = steering_of(car, end, &format!("leave {word} out"))?;
        match (steering.input(), self.rack_mm, self.pitman_deg, self.steering_wheel_deg) {
            (SteerInput::RackTravel, Some(mm), ..) => Ok(metres(mm)),
            (SteerInput::PitmanAngle, _, Some(degrees), _) => Ok(degrees.to_radians()),
            (.., Some(degrees)) => Ok(car.axle(end).steer_at(degrees.to_radians())),
            (input, ..) => {
                let own = match input {
                    SteerInput::RackTravel => "--rack-mm, the travel of its rack",
                    SteerInput::PitmanAngle => "--pitman-deg, the turn of its pitman arm",
                };
                Err(wrong_word(car, end, word, &format!("give {own}, or --steering-wheel-deg")))
            }
        }
    }
}

/// Fails where the word of an option is for the other kind of steering than the axle's.
pub(crate) fn fits(car: &Car, end: End, word: &str) -> Result<(), Failure> {
    let steering = steering_of(car, end, &format!("leave {word} out"))?;
    let of_box = steering.input() == SteerInput::PitmanAngle;
    if word.starts_with("--steering-wheel") || word.starts_with("--pitman") == of_box {
        return Ok(());
    }
    let own = match (word.contains("-from-") || word.contains("-to-"), word.ends_with("-count"), of_box) {
        (true, _, false) => "--rack-from-mm and --rack-to-mm",
        (true, _, true) => "--pitman-from-deg and --pitman-to-deg",
        (_, true, false) => "--rack-count",
        (_, true, true) => "--pitman-count",
        (false, false, false) => "--rack-mm, the travel of its rack, or --steering-wheel-deg",
        (false, false, true) => "--pitman-deg, the turn of its pitman arm, or --steering-wheel-deg",
    };
    Err(wrong_word(car, end, word, &format!("give {own}")))
}

/// The steering input, metres or radians, of a number that was given with the word of an option.
pub(crate) fn input_of(car: &Car, end: End, word: &str, value: f64) -> f64 {
    match word {
        "--rack-mm" => metres(value),
        "--pitman-deg" => value.to_radians(),
        "--steering-wheel-deg" => car.axle(end).steer_at(value.to_radians()),
        _ => value,
    }
}

/// The steering of an axle that has one.
pub(crate) fn steering_of<'a>(car: &'a Car, end: End, hint: &str) -> Result<&'a Steering, Failure> {
    let steering = &car.axle(end).steering;
    if steering.steers() {
        return Ok(steering);
    }
    let name = &car.name;
    Err(Failure::wrong_use(
        format!("the {end} axle of {name} cannot be steered: it has neither rack nor steering box"),
        hint,
    ))
}

/// The word is for the other kind of steering.
pub(crate) fn wrong_word(car: &Car, end: End, word: &str, hint: &str) -> Failure {
    let (own, other) = match car.axle(end).steering.input() {
        SteerInput::RackTravel => ("a rack", "a steering box"),
        SteerInput::PitmanAngle => ("a steering box", "a rack"),
    };
    let name = &car.name;
    Failure::wrong_use(
        format!("the {end} axle of {name} is steered by {own}; {word} would be for {other}"),
        hint,
    )
}

/// The steering-wheel angle at a steering input of the axle, degrees; not a number where nothing steers.
pub(crate) fn steering_wheel(car: &Car, end: End, input: f64) -> f64 {
    let axle = car.axle(end);
    if axle.steering.steers() { axle.steering_wheel_at(input).to_degrees() } else { f64::NAN }
}

/// What moves.
pub(crate) fn name_of(input: SteerInput) -> &'static str {
    match input {
        SteerInput::RackTravel => "rack",
        SteerInput::PitmanAngle => "pitman arm",
    }
}

/// What the steering input is counted in.
pub(crate) fn unit_of(input: SteerInput) -> Unit {
    match input {
        SteerInput::RackTravel => Unit::Length,
        SteerInput::PitmanAngle => Unit::Degree,
    }
}

/// The steering in words.
pub(crate) fn steer_in_words(car: &Car, end: End, input: f64, lengths: LengthUnit) -> String {
    let steering = &car.axle(end).steering;
    if !steering.steers() {
        return format!("{end} wheels not steered");
    }
    let part = steering.input();
    let wheel = fixed(steering_wheel(car, end, input), 1);
    format!("{} {}; steering wheel {wheel}°", name_of(part), unit_of(part).write(input, lengths))
}

record! {
    /// The steering for programs.
    pub(crate) struct SteerRecord {
        /// Rack travel, + toward the left; where the axle has a steering box: pitman_deg.
        rack: LeftOut<Given<Length>>,
        /// Turn of the steering box's pitman arm, + anticlockwise seen from above; where the axle has one.
        pitman: LeftOut<Given<Degree>>,
        /// Steering-wheel angle, + a left turn; null where nothing steers.
        steering_wheel: InDegrees,
    }
}

impl SteerRecord {
    /// At a steering input of the axle, metres or radians.
    pub fn of(car: &Car, end: End, input: f64) -> Self {
        let (rack, pitman) = match car.axle(end).steering.input() {
            SteerInput::RackTravel => (Some(Given(Length(input))), None),
            SteerInput::PitmanAngle => (None, Some(Given(Degree(input)))),
        };
        let steering_wheel = InDegrees(steering_wheel(car, end, input));
        SteerRecord { rack: LeftOut(rack), pitman: LeftOut(pitman), steering_wheel }
    }
}
