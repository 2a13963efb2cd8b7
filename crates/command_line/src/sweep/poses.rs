//! Which poses a sweep goes through.

use crate::arguments::sweep::{Over, SweepArguments, SweepFormat};
use crate::chart_of::Across;
use crate::console::data::decimal;
use crate::console::failure::Failure;
use crate::console::pose::metres;
use crate::console::steer::{fits, input_of, steering_of, unit_of};
use crate::poses_file::{PosesFile, of_axle};
use crate::span::{Span, between_ends, count_of, together};
use wheelpath_geometry::{AxlePose, Car, End, LengthUnit, SteerInput, Travelling, Unit, shown_name, spaced};

/// Steering inputs of a grid where nobody says how many.
const STEERS: u32 = 5;
/// Poses that are kept in memory at once for a table or chart, some 200 MB.
const MOST_SHOWN: u64 = 200_000;
/// Poses that are written as they are solved.
const MOST_WRITTEN: u64 = 5_000_000;

/// What a sweep runs over, and what it asks.
pub(crate) struct Asked<'a> {
    pub arguments: &'a SweepArguments,
    pub over: Over,
    /// The table of poses, where one is given.
    pub table: Option<PosesFile>,
}

impl<'a> Asked<'a> {
    /// Looks at the words before any car is solved.
    pub fn of(arguments: &'a SweepArguments) -> Result<Self, Failure> {
        let table = arguments.poses.as_deref().map(PosesFile::read).transpose()?;
        let asked = Asked { arguments, over: over(arguments), table };
        if asked.table.is_none() {
            asked.check()?;
        }
        Ok(asked)
    }

    /// Wrong combinations of words.
    fn check(&self) -> Result<(), Failure> {
        let arguments = self.arguments;
        if let Some(name) = self.idle() {
            if let Some(command) = self.one_pose() {
                return Err(Failure::wrong_use(
                    format!(
                        "{name} has no part in this kind of sweep: nothing runs, and one travel and one steering input \
                         are one pose"
                    ),
                    format!(
                        "one pose is `{command}`; to sweep, give one of them as a range, first and last with a colon \
                         between"
                    ),
                ));
            }
            return Err(Failure::wrong_use(
                format!("{name} has no part in this kind of sweep"),
                "leave it out, or choose another --over; `wheelpath sweep --help` says what goes with what",
            ));
        }
        let steers = [
            ("--rack-mm", &arguments.steer.rack_mm),
            ("--pitman-deg", &arguments.steer.pitman_deg),
            ("--steering-wheel-deg", &arguments.steer.steering_wheel_deg),
        ];
        let travels = [
            ("--travel-mm", &arguments.travel_mm),
            ("--left-travel-mm", &arguments.left_travel_mm),
            ("--right-travel-mm", &arguments.right_travel_mm),
        ];
        let held = match self.over {
            Over::Travel | Over::Roll => &steers,
            Over::Steer => &travels,
            Over::Grid => return Ok(()),
        };
        let runs = held.iter().find(|(_, given)| given.as_ref().is_some_and(Span::runs));
        runs.map_or(Ok(()), |(word, _)| {
            Err(Failure::wrong_use(
                format!("{word} is more than one number, and something else runs"),
                "give one number that is held, or ask for --over grid",
            ))
        })
    }

    /// The command for what was asked for, where that is a single pose.
    fn one_pose(&self) -> Option<String> {
        let (arguments, steer) = (self.arguments, &self.arguments.steer);
        let [all, left, right] =
            [&arguments.travel_mm, &arguments.left_travel_mm, &arguments.right_travel_mm];
        let runs = |given: &&Option<Span>| given.as_ref().is_some_and(Span::runs);
        let ends = [arguments.from_mm, arguments.to_mm].iter().any(Option::is_some)
            || [steer.rack_from_mm, steer.rack_to_mm, steer.pitman_from_deg, steer.pitman_to_deg]
                .iter()
                .any(Option::is_some);
        let said_steer = self.said_of_steer();
        let steer_runs = said_steer.is_some_and(|(_, span)| span.runs());
        let is_one = match self.over {
            Over::Travel => [all, left, right].iter().any(|given| given.is_some()),
            Over::Steer => said_steer.is_some(),
            Over::Roll | Over::Grid => false,
        };
        if !is_one || ends || steer_runs || [all, left, right].iter().any(runs) {
            return None;
        }
        let held = |given: &Option<Span>| match given {
            Some(Span::Held(value)) => Some(*value),
            _ => None,
        };
        let mut command = format!("wheelpath readings {}", shown_name(&arguments.car.display().to_string()));
        let end = arguments.axle.name();
        if let Some(travel) = held(all) {
            let whose = if arguments.axle == End::Front { String::new() } else { format!("{end}=") };
            command += &format!(" --travel-mm {whose}{travel}");
        } else if left.is_some() || right.is_some() {
            // One option takes the place of two, so that numbers may be counted otherwise than they were written.
            command += &format!(" --travel-mm {end}_left=…,{end}_right=…");
        }
        if let Some((word, Span::Held(value))) = said_steer {
            command += &format!(" {word} {value}");
        }
        Some(command)
    }

    /// What was said but has no part in this kind of sweep.
    fn idle(&self) -> Option<&'static str> {
        let (arguments, steer) = (self.arguments, &self.arguments.steer);
        let of_grid =
            [("--rack-count", steer.rack_count.is_some()), ("--pitman-count", steer.pitman_count.is_some())];
        let of_steer = [
            ("--rack-from-mm", steer.rack_from_mm.is_some()),
            ("--rack-to-mm", steer.rack_to_mm.is_some()),
            ("--pitman-from-deg", steer.pitman_from_deg.is_some()),
            ("--pitman-to-deg", steer.pitman_to_deg.is_some()),
        ];
        let is_held = |given: &Option<Span>| given.as_ref().is_some_and(|span| !span.runs());
        let held_steer = [
            ("--rack-mm", is_held(&steer.rack_mm)),
            ("--pitman-deg", is_held(&steer.pitman_deg)),
            ("--steering-wheel-deg", is_held(&steer.steering_wheel_deg)),
        ];
        let held_travel = ("--travel-mm", is_held(&arguments.travel_mm));
        let (left, right) = (&arguments.left_travel_mm, &arguments.right_travel_mm);
        let runs = |given: &Option<Span>| given.as_ref().is_some_and(Span::runs);
        let neither = !runs(left) && !runs(right);
        let held_sides = [
            ("--left-travel-mm", neither && left.is_some()),
            ("--right-travel-mm", neither && right.is_some()),
        ];
        let wheels = ("--wheels", arguments.wheels.is_some());
        let idle = match self.over {
            Over::Travel => [of_grid.as_slice(), &of_steer, &[held_travel], &held_sides].concat(),
            Over::Roll => {
                let sides =
                    [("--left-travel-mm", left.is_some()), ("--right-travel-mm", right.is_some()), wheels];
                [of_grid.as_slice(), &of_steer, &[held_travel], &sides].concat()
            }
            Over::Steer => [of_grid.as_slice(), &held_steer, &[wheels]].concat(),
            Over::Grid => [held_steer.as_slice(), &[held_travel], &held_sides].concat(),
        };
        idle.into_iter().find(|(_, given)| *given).map(|(name, _)| name)
    }

    /// The poses of a car; `usual` is the travel to either side where none is given, metres. Steering that runs from stop to stop goes to the stops of `stops_of`.
    pub fn poses(&self, car: &Car, stops_of: &Car, usual: f64) -> Result<Vec<AxlePose>, Failure> {
        let arguments = self.arguments;
        if let Some(table) = &self.table {
            self.few_enough(u64::try_from(table.table.rows().len()).unwrap_or(u64::MAX))?;
            return of_axle(table, car, arguments.axle);
        }
        let span = |from, to| Span::Range(from, to);
        let travels = |held: bool| -> (Span, Span) {
            match (&arguments.left_travel_mm, &arguments.right_travel_mm, &arguments.travel_mm) {
                (None, None, Some(both)) => (both.clone(), both.clone()),
                (None, None, None) if held => (Span::Held(0.0), Span::Held(0.0)),
                (None, None, None) => {
                    let or = |given: Option<f64>, default: f64| given.unwrap_or(default);
                    let usual = Unit::Length.shown(usual, LengthUnit::Millimetre);
                    let both = span(or(arguments.from_mm, -usual), or(arguments.to_mm, usual));
                    (both.clone(), both)
                }
                (left, right, _) => {
                    let or_none = |given: &Option<Span>| given.clone().unwrap_or(Span::Held(0.0));
                    (or_none(left), or_none(right))
                }
            }
        };
        let (left, right) = travels(self.over == Over::Steer);
        let words = if arguments.travel_mm.is_some() {
            ["--travel-mm"; 2]
        } else {
            ["--left-travel-mm", "--right-travel-mm"]
        };
        let travelling = self.travelling();
        let sides = arguments.left_travel_mm.is_some() || arguments.right_travel_mm.is_some();
        let lay = |count: usize| -> Vec<[f64; 2]> {
            let [left, right] = together([&left, &right], count);
            let pair = |(left, right): (f64, f64)| match sides {
                true => [left, right].map(metres),
                false => travelling.travels(metres(left)),
            };
            left.into_iter().zip(right).map(pair).collect()
        };
        let of_travel = |count: Option<u32>| count_of(&[(words[0], &left), (words[1], &right)], count);
        match self.over {
            Over::Travel | Over::Roll => {
                let count = of_travel(arguments.count)?;
                self.few_enough(u64::try_from(count).unwrap_or(u64::MAX))?;
                let steer = self.held_steer(car)?;
                Ok(lay(count).into_iter().map(|travel| AxlePose { travel, steer }).collect())
            }
            Over::Steer => {
                let (word, steers) = self.running_steer(car, stops_of)?;
                let count = count_of(&[(word, &steers)], arguments.count)?;
                self.few_enough(u64::try_from(count).unwrap_or(u64::MAX))?;
                let travel = lay(1).first().copied().unwrap_or_default();
                let steers = self.inside(car, word, &steers, count);
                Ok(steers.into_iter().map(|steer| AxlePose { travel, steer }).collect())
            }
            Over::Grid => {
                let (word, steers) = self.running_steer(car, stops_of)?;
                let given = self.steer_count(car)?;
                let listed = matches!(steers, Span::List(_));
                let rows = count_of(&[(word, &steers)], given.or((!listed).then_some(STEERS)))?;
                let count = of_travel(arguments.count)?;
                let asked = |count: usize| u64::try_from(count).unwrap_or(u64::MAX);
                self.few_enough(asked(rows).saturating_mul(asked(count)))?;
                let line = lay(count);
                let row = |steer: f64| line.iter().map(move |&travel| AxlePose { travel, steer });
                Ok(self.inside(car, word, &steers, rows).into_iter().flat_map(row).collect())
            }
        }
    }

    fn few_enough(&self, asked: u64) -> Result<(), Failure> {
        let written = matches!(self.arguments.format, SweepFormat::Json | SweepFormat::Csv);
        let most = if written { MOST_WRITTEN } else { MOST_SHOWN };
        if asked <= most {
            return Ok(());
        }
        let hint = if written || asked > MOST_WRITTEN {
            "ask for fewer, or for parts of the range one after the other"
        } else {
            "ask for fewer, or for --format csv, which is written as it is solved"
        };
        Err(Failure::wrong_use(format!("{asked} poses are more than {most}"), hint))
    }

    fn travelling(&self) -> Travelling {
        match self.over {
            Over::Roll => Travelling::Opposite,
            _ => self.arguments.wheels.unwrap_or(Travelling::Both),
        }
    }

    /// The word by which the steering was given, and what it says; `None` where nothing was said.
    fn said_of_steer(&self) -> Option<(&'static str, &Span)> {
        let steer = &self.arguments.steer;
        let words = [
            ("--rack-mm", &steer.rack_mm),
            ("--pitman-deg", &steer.pitman_deg),
            ("--steering-wheel-deg", &steer.steering_wheel_deg),
        ];
        words.into_iter().find_map(|(word, given)| Some((word, given.as_ref()?)))
    }

    fn held_steer(&self, car: &Car) -> Result<f64, Failure> {
        let Some((word, given)) = self.said_of_steer() else { return Ok(0.0) };
        fits(car, self.arguments.axle, word)?;
        Ok(self.inside(car, word, given, 1).first().copied().unwrap_or(0.0))
    }

    /// Steering that runs, in the unit of the word that comes with it.
    fn running_steer(&self, car: &Car, stops_of: &Car) -> Result<(&'static str, Span), Failure> {
        let end = self.arguments.axle;
        let steering = steering_of(car, end, "sweep over travel, or the other axle")?;
        let travels = [("--from-mm", self.arguments.from_mm), ("--to-mm", self.arguments.to_mm)];
        if let (Over::Steer, Some((word, _))) = (self.over, travels.iter().find(|(_, given)| given.is_some()))
        {
            let own = match steering.input() {
                SteerInput::RackTravel => {
                    "--rack-from-mm and --rack-to-mm, or a range, first and last with a colon between, with --rack-mm"
                }
                SteerInput::PitmanAngle => {
                    "--pitman-from-deg and --pitman-to-deg, or a range such as --pitman-deg -20:20"
                }
            };
            return Err(Failure::wrong_use(
                format!("{word} counts wheel travel, and here the steering runs"),
                format!("give {own}"),
            ));
        }
        if let Some((word, given)) = self.said_of_steer() {
            fits(car, self.arguments.axle, word)?;
            return Ok((word, given.clone()));
        }
        let steer = &self.arguments.steer;
        for (word, given) in [
            ("--rack-from-mm", steer.rack_from_mm),
            ("--rack-to-mm", steer.rack_to_mm),
            ("--pitman-from-deg", steer.pitman_from_deg),
            ("--pitman-to-deg", steer.pitman_to_deg),
        ] {
            if given.is_some() {
                fits(car, self.arguments.axle, word)?;
            }
        }
        // The stops are in metres or radians already: so is the range, and it has no word.
        let inside = |given: f64| inside_of(steering.input(), given);
        let (from, to) = match steering.input() {
            SteerInput::RackTravel => (steer.rack_from_mm, steer.rack_to_mm),
            SteerInput::PitmanAngle => (steer.pitman_from_deg, steer.pitman_to_deg),
        };
        let [first, last] = stops_of.axle(end).steering.stops();
        Ok(("", Span::Range(from.map_or(first, inside), to.map_or(last, inside))))
    }

    /// Steering inputs in metres or radians.
    fn inside(&self, car: &Car, word: &str, given: &Span, count: usize) -> Vec<f64> {
        if let ("", Span::Range(from, to)) = (word, given) {
            // Those between the ends are decimals in millimetres or degrees; a stop is not gone beyond by the
            // last digit.
            let input = car.axle(self.arguments.axle).steering.input();
            let shown = |value: f64| decimal(value * unit_of(input).data_factor(LengthUnit::Millimetre));
            return between_ends(spaced(*from, *to, count), |value| inside_of(input, shown(value)));
        }
        let [values] = together([given], count);
        values.into_iter().map(|value| input_of(car, self.arguments.axle, word, value)).collect()
    }

    fn steer_count(&self, car: &Car) -> Result<Option<u32>, Failure> {
        let steer = &self.arguments.steer;
        for (word, given) in [("--rack-count", steer.rack_count), ("--pitman-count", steer.pitman_count)] {
            if given.is_some() {
                fits(car, self.arguments.axle, word)?;
            }
        }
        Ok(steer.rack_count.or(steer.pitman_count))
    }

    /// What a chart counts across.
    pub fn across(&self, car: &Car, poses: &[AxlePose]) -> Across {
        let input = car.axle(self.arguments.axle).steering.input();
        let (left, right) = (&self.arguments.left_travel_mm, &self.arguments.right_travel_mm);
        match self.over {
            _ if self.table.is_some() => Across::of(poses, input),
            Over::Steer => Across::Steer(input),
            _ if left.is_some() || right.is_some() => Across::of(poses, input),
            _ => Across::Travel(self.travelling()),
        }
    }
}

/// A steering input in metres or radians, from millimetres or degrees.
fn inside_of(input: SteerInput, given: f64) -> f64 {
    match input {
        SteerInput::RackTravel => metres(given),
        SteerInput::PitmanAngle => given.to_radians(),
    }
}

/// What runs: as said, or else what is given as more than one number.
fn over(arguments: &SweepArguments) -> Over {
    let steer = &arguments.steer;
    let runs = |given: &[&Option<Span>]| given.iter().any(|span| span.as_ref().is_some_and(Span::runs));
    let steers = runs(&[&steer.rack_mm, &steer.pitman_deg, &steer.steering_wheel_deg]);
    let travels = runs(&[&arguments.travel_mm, &arguments.left_travel_mm, &arguments.right_travel_mm])
        || arguments.from_mm.is_some()
        || arguments.to_mm.is_some();
    match arguments.over {
        Some(over) => over,
        None if steers && travels => Over::Grid,
        None if steers => Over::Steer,
        None => Over::Travel,
    }
}
