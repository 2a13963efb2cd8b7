//! The words of `sweep`.

use crate::arguments::proposal::ProposalArguments;
use crate::arguments::subcommands::{ToeArguments, UnitArguments};
use crate::console::pose::finite;
use crate::console::vocabulary::{ReadingOrAll, count, end, reading_or_all, travelling};
use crate::span::{Span, span};
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use wheelpath_geometry::{End, Travelling};

#[derive(Debug, Args)]
pub(crate) struct SweepArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// What runs; roll is travel with left and right opposed, steer is rack travel or the pitman arm's turn,
    /// grid is travel and steer [default: what is given as a list or range, else travel]
    #[arg(long, value_enum)]
    pub over: Option<Over>,
    /// Which axle
    #[arg(long, value_parser = end(), default_value = "front")]
    pub axle: End,
    /// Which wheels travel; opposite is left up, right down [default: both]
    #[arg(long, value_parser = travelling())]
    pub wheels: Option<Travelling>,
    /// Wheel travel, + bump: a range -30:30 or a list -30,-10,0 runs, one number is held while steering
    /// [default: -30:30, on a car in inches -1.25:1.25 in; while steering 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with_all = ["from_mm", "to_mm"])]
    pub travel_mm: Option<Span>,
    /// Travel of the left wheel in place of --travel-mm: range, list or one number [default: 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with_all = ["travel_mm", "from_mm", "to_mm", "wheels"])]
    pub left_travel_mm: Option<Span>,
    /// Travel of the right wheel in place of --travel-mm: range, list or one number [default: 0]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with_all = ["travel_mm", "from_mm", "to_mm", "wheels"])]
    pub right_travel_mm: Option<Span>,
    /// First wheel travel: with --to-mm the same as a range in --travel-mm
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub from_mm: Option<f64>,
    /// Last wheel travel
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub to_mm: Option<f64>,
    /// How many of a range, both ends counted; of a grid, how many wheel travels [default: 21]
    #[arg(long, value_name = "N", value_parser = count)]
    pub count: Option<u32>,
    #[command(flatten)]
    pub steer: SteerSpans,
    /// Poses from a CSV table, - for standard input: columns travel_mm or left_travel_mm and right_travel_mm,
    /// rack_mm or pitman_deg or steering_wheel_deg (_in for inches)
    #[arg(long, value_name = "FILE", conflicts_with_all = [
        "over", "wheels", "travel_mm", "left_travel_mm", "right_travel_mm", "from_mm", "to_mm", "count", "rack_mm",
        "pitman_deg", "steering_wheel_deg", "rack_from_mm", "rack_to_mm", "rack_count", "pitman_from_deg",
        "pitman_to_deg", "pitman_count",
    ])]
    pub poses: Option<PathBuf>,
    /// Keys of readings, or `all` [default: a few in tables and charts, all in json and csv]
    #[arg(long, value_delimiter = ',', value_name = "KEY,…", value_parser = reading_or_all)]
    pub readings: Vec<ReadingOrAll>,
    /// Table or chart for people, svg for a document (one reading), json or csv for programs
    #[arg(long, value_enum, default_value_t = SweepFormat::Table)]
    pub format: SweepFormat,
    #[command(flatten)]
    pub units: UnitArguments,
    #[command(flatten)]
    pub toe: ToeArguments,
}

/// The steering of a sweep: held by one number, or running over a range or list.
#[derive(Debug, Args)]
pub(crate) struct SteerSpans {
    /// Rack travel, + toward the left, for an axle with a rack: a range -40:40 or a list runs, one number is
    /// held [default: 0; where it runs, from stop to stop]
    #[arg(long, value_name = "MM", allow_hyphen_values = true, value_parser = span, conflicts_with_all = ["pitman_deg", "steering_wheel_deg"])]
    pub rack_mm: Option<Span>,
    /// Turn of the pitman arm, + anticlockwise seen from above, for an axle with a steering box: the same
    #[arg(long, value_name = "DEG", allow_hyphen_values = true, value_parser = span, conflicts_with = "steering_wheel_deg")]
    pub pitman_deg: Option<Span>,
    /// Steering-wheel angle, + a left turn, for either: the same
    #[arg(long, value_name = "DEG", allow_hyphen_values = true, value_parser = span)]
    pub steering_wheel_deg: Option<Span>,
    /// First rack travel that runs: with --rack-to-mm the same as a range in --rack-mm
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rack_mm", "pitman_deg", "steering_wheel_deg"])]
    pub rack_from_mm: Option<f64>,
    /// Last rack travel that runs
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rack_mm", "pitman_deg", "steering_wheel_deg"])]
    pub rack_to_mm: Option<f64>,
    /// How many rack travels in a grid [default: 5]
    #[arg(long, value_name = "N", value_parser = count)]
    pub rack_count: Option<u32>,
    /// First turn of the pitman arm that runs: with --pitman-to-deg the same as a range in --pitman-deg
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rack_mm", "pitman_deg", "steering_wheel_deg"])]
    pub pitman_from_deg: Option<f64>,
    /// Last turn of the pitman arm that runs
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rack_mm", "pitman_deg", "steering_wheel_deg"])]
    pub pitman_to_deg: Option<f64>,
    /// How many turns of the pitman arm in a grid [default: 5]
    #[arg(long, value_name = "N", value_parser = count)]
    pub pitman_count: Option<u32>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SweepFormat {
    Table,
    Chart,
    Svg,
    Json,
    Csv,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Over {
    Travel,
    Roll,
    Steer,
    Grid,
}
