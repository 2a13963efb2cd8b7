//! The words of `points`: one pose, or poses that run.

use crate::arguments::proposal::ProposalArguments;
use crate::arguments::subcommands::Output;
use crate::console::failure::Failure;
use crate::console::pose::{metres, travels};
use crate::console::steer::{fits, input_of};
use crate::poses_file::{PosesFile, of_car};
use crate::span::{Span, count_of, span, together};
use clap::Args;
use std::path::PathBuf;
use wheelpath_geometry::{Car, CarPose, End, Side, WheelPosition};

#[derive(Debug, Args)]
pub(crate) struct PointsArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// Wheel travel, + bump: one number for all wheels, or such as front=10,rear_left=-5; a range -30:30 or a
    /// list -30,-10,0 for all wheels gives a pose each [default: 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = travel)]
    travel_mm: Option<Travel>,
    /// Travel of the left wheels in place of --travel-mm: range, list or one number [default: 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with = "travel_mm")]
    left_travel_mm: Option<Span>,
    /// Travel of the right wheels in place of --travel-mm: range, list or one number [default: 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with = "travel_mm")]
    right_travel_mm: Option<Span>,
    /// Rack travel, + toward the left; for an axle with a rack: one number, a range or a list, which run
    /// together with those of the travel
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with_all = ["pitman_deg", "steering_wheel_deg"])]
    rack_mm: Option<Span>,
    /// Turn of the pitman arm, + anticlockwise seen from above; for an axle with a steering box: the same
    #[arg(long, value_name = "DEG", allow_hyphen_values = true, value_parser = span, conflicts_with = "steering_wheel_deg")]
    pitman_deg: Option<Span>,
    /// Steering-wheel angle, + a left turn; for either: the same
    #[arg(long, value_name = "DEG", allow_hyphen_values = true, value_parser = span)]
    steering_wheel_deg: Option<Span>,
    /// How many of a range, both ends counted [default: 21]
    #[arg(long, value_name = "N", value_parser = crate::console::vocabulary::count)]
    count: Option<u32>,
    /// Poses from a CSV table, - for standard input: columns travel_mm, left_travel_mm, front_travel_mm,
    /// front_left_travel_mm and so on, rack_mm or pitman_deg or steering_wheel_deg (_in for inches)
    #[arg(long, value_name = "FILE", conflicts_with_all = [
        "travel_mm", "left_travel_mm", "right_travel_mm", "rack_mm", "pitman_deg", "steering_wheel_deg", "count",
    ])]
    poses: Option<PathBuf>,
    #[command(flatten)]
    pub output: Output,
}

/// What is said of the travel of all wheels.
#[derive(Clone, Debug)]
enum Travel {
    /// Of each wheel, in one pose.
    Each([f64; 4]),
    /// Of all alike.
    All(Span),
}

fn travel(words: &str) -> Result<Travel, String> {
    if words.contains('=') { travels(words).map(Travel::Each) } else { span(words).map(Travel::All) }
}

/// The poses that were asked for.
pub(crate) enum Poses<'a> {
    Of(&'a PointsArguments),
    Table(PosesFile),
}

impl PointsArguments {
    /// The poses asked for; reads the table, where one is given.
    pub fn poses(&self) -> Result<Poses<'_>, Failure> {
        match &self.poses {
            Some(path) => PosesFile::read(path).map(Poses::Table),
            None => Ok(Poses::Of(self)),
        }
    }

    fn steer(&self) -> Option<(&'static str, &Span)> {
        let words = [
            ("--rack-mm", &self.rack_mm),
            ("--pitman-deg", &self.pitman_deg),
            ("--steering-wheel-deg", &self.steering_wheel_deg),
        ];
        words.into_iter().find_map(|(word, given)| Some((word, given.as_ref()?)))
    }

    fn of(&self, car: &Car) -> Result<Vec<CarPose>, Failure> {
        let held = Span::Held(0.0);
        let (steer_word, steer) = self.steer().unwrap_or(("", &held));
        if !steer_word.is_empty() {
            fits(car, End::Front, steer_word)?;
        }
        let (left, right) = match &self.travel_mm {
            Some(Travel::All(all)) => (all, all),
            _ => (
                self.left_travel_mm.as_ref().unwrap_or(&held),
                self.right_travel_mm.as_ref().unwrap_or(&held),
            ),
        };
        let words = match self.travel_mm {
            Some(_) => ["--travel-mm"; 2],
            None => ["--left-travel-mm", "--right-travel-mm"],
        };
        let count = count_of(&[(words[0], left), (words[1], right), (steer_word, steer)], self.count)?;
        let [left, right, steer] = together([left, right, steer], count);
        let pose = |((left, right), steer): ((f64, f64), f64)| {
            let travel = match self.travel_mm {
                Some(Travel::Each(each)) => each,
                _ => WheelPosition::ALL.map(|wheel| if wheel.side == Side::Left { left } else { right }),
            };
            CarPose { travel: travel.map(metres), steer: input_of(car, End::Front, steer_word, steer) }
        };
        Ok(left.into_iter().zip(right).zip(steer).map(pose).collect())
    }
}

impl Poses<'_> {
    /// Whether more than one pose was asked for, be it a list or table of one.
    pub fn run(&self) -> bool {
        match self {
            Poses::Table(_) => true,
            Poses::Of(arguments) => {
                let all = match &arguments.travel_mm {
                    Some(Travel::All(span)) => Some(span),
                    _ => None,
                };
                let sides = [&arguments.left_travel_mm, &arguments.right_travel_mm];
                let spans =
                    sides.into_iter().flatten().chain(all).chain(arguments.steer().map(|(_, span)| span));
                spans.into_iter().any(Span::runs)
            }
        }
    }

    /// The poses of a car.
    pub fn of(&self, car: &Car) -> Result<Vec<CarPose>, Failure> {
        match self {
            Poses::Table(table) => of_car(table, car),
            Poses::Of(arguments) => arguments.of(car),
        }
    }
}
