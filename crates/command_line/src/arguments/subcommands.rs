//! The words of the command line.

use crate::arguments::new::NewArguments;
use crate::arguments::on_road::{AttitudeArguments, CorneringArguments, TurnArguments};
use crate::arguments::points::PointsArguments;
use crate::arguments::proposal::ProposalArguments;
use crate::arguments::sweep::SweepArguments;
use crate::console::pose::{PoseArguments, finite};
use crate::console::streams::Console;
use crate::console::vocabulary::{
    Ends, axes, count, direction_of_three, end, ends, hardpoint, held, known, length_unit, overlays, paper,
    positive, sheet, side, size, view,
};
use crate::front::{Overlays, Sheet, View};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;
use wheelpath_car_file::Axes;
use wheelpath_geometry::{End, Hardpoint, LengthUnit, Links, Reading, Side};
use wheelpath_report::{Paper, Style};

/// Steering and suspension geometry of a car in 3D: where its wheels stand and how they move
///
/// Reads a car file, solves its linkages, and gives camber, caster, toe, trail, scrub radius, bump
/// steer, instant centres, roll centre, Ackermann and the rest, at any wheel travel and steer.
/// Without a subcommand it opens the window on the demo car.
#[derive(Debug, Parser)]
#[command(name = "wheelpath", version, after_help = AFTER)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub command: Option<Command>,
}

const AFTER: &str = "\
CAR is a car file, or a demo car: alder, hazel, rowan, or sorrel, a bare corner to learn on.
Exit codes: 0 fine; 1 the car has a fault, a limit fails, or what was asked for is not reached;
2 wrong use. `wheelpath schema` says for each subcommand when it ends with 1.
Geometry only, no strength. Series rules, local codes and a qualified person decide.";

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Opens the window on a car (also: no subcommand at all)
    Open(OpenArguments),
    /// Writes a new car file for chosen linkages: commented, complete but for its numbers
    New(NewArguments),
    /// Looks a car over: faults, warnings, and how far each wheel can go
    Check(CheckArguments),
    /// Readings at one pose: those asked for first, with --all every one
    Readings(ReadingsArguments),
    /// Readings along wheel travel, steer, or a grid of both
    Sweep(SweepArguments),
    /// Which coordinates move a reading most (exact derivatives)
    Sensitivity(SensitivityArguments),
    /// Will it fit: distances of parts, angles of joints, what is left to stops, over travel and steer
    Clearances(ClearancesArguments),
    /// Where every point stands at a pose
    Points(PointsArguments),
    /// Ride height and attitude: the body held over the road at a ride height, roll and pitch, or laid down on its wheels
    #[command(alias = "stand")]
    Attitude(AttitudeArguments),
    /// The car cornering steadily: what each tyre shows to the road as the body rolls
    #[command(alias = "bend")]
    Cornering(CorneringArguments),
    /// The car in a slow turn: turn centre, radii, scrub, kerb-to-kerb turning circle, rise and fall of the body
    Turn(TurnArguments),
    /// A car beside what proposals make of it, or beside another car
    Compare(CompareArguments),
    /// Whether each limit passes, and where its margin is least
    Limits(LimitsArguments),
    /// Moved pickups of a proposal on a sheet to drill by: old and new place, tolerance, full-size template
    Bracket(BracketArguments),
    /// Puts the points of a CSV table (as CAD exports it) into a car file, or into a proposal
    Import(ImportArguments),
    /// Draws the car in 3D into a PNG file, no display needed
    Picture(PictureArguments),
    /// Every key of the JSON and CSV outputs: unit, sign, definition
    Schema(SchemaArguments),
}

#[derive(Debug, Args)]
pub(crate) struct OpenArguments {
    /// Car file [default: the demo car]
    pub car: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct CheckArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct ReadingsArguments {
    /// Car file
    pub car: PathBuf,
    /// In the table, every reading that the car has, not only those asked for first
    #[arg(long)]
    pub all: bool,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    #[command(flatten)]
    pub pose: PoseArguments,
    #[command(flatten)]
    pub output: Output,
    #[command(flatten)]
    pub toe: ToeArguments,
}

#[derive(Debug, Args)]
pub(crate) struct CompareArguments {
    /// Car file
    pub car: PathBuf,
    /// Proposals: files, or names of files in the folder beside the car that has its name
    pub proposals: Vec<PathBuf>,
    /// All proposals made one after the other, as one
    #[arg(long)]
    pub combined: bool,
    /// Another car
    #[arg(long, value_name = "CAR")]
    pub with: Option<PathBuf>,
    /// File of limits [default: limits.ron in the folder beside the car]
    #[arg(long, value_name = "FILE")]
    pub limits: Option<PathBuf>,
    /// Readings that stay the same too
    #[arg(long)]
    pub all: bool,
    #[command(flatten)]
    pub pose: PoseArguments,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct LimitsArguments {
    /// Car file
    pub car: PathBuf,
    /// File of limits [default: limits.ron in the folder beside the car that has its name]
    #[arg(long, value_name = "FILE")]
    pub limits: Option<PathBuf>,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct BracketArguments {
    /// Car file
    pub car: PathBuf,
    /// The proposal: a file, or the name of one in the folder beside the car; with --bracket it may be left out
    #[arg(required_unless_present = "bracket")]
    pub proposal: Option<PathBuf>,
    /// A bracket of brackets.ron in the folder beside the car: its plane, points and reference holes
    #[arg(long, value_name = "NAME", conflicts_with_all = ["normal", "through", "of", "references"])]
    pub bracket: Option<String>,
    /// The way the plate's face looks, in car axes (X forward, Y left, Z up): 0,1,0 faces left
    #[arg(long, value_name = "X,Y,Z", allow_hyphen_values = true, value_parser = direction_of_three, conflicts_with = "through")]
    pub normal: Option<[f64; 3]>,
    /// Three points on the plate, by their keys, seen from where they turn left
    #[arg(long, value_name = "POINT,POINT,POINT", value_delimiter = ',', num_args = 1, value_parser = hardpoint(), hide_possible_values = true)]
    pub through: Vec<Hardpoint>,
    /// Whose pickups: front_left, rear_right, front, and so on [default: the first that moves]
    #[arg(long, value_name = "CORNER")]
    pub of: Option<String>,
    /// Only these moved pickups
    #[arg(long, value_name = "POINT,…", value_delimiter = ',', value_parser = hardpoint(), hide_possible_values = true)]
    pub holes: Vec<Hardpoint>,
    /// Pickups that stay and are measured from
    #[arg(long, value_name = "POINT,…", value_delimiter = ',', value_parser = hardpoint(), hide_possible_values = true)]
    pub references: Vec<Hardpoint>,
    /// Diameter of the holes, drawn on the template
    #[arg(long, value_name = "MM", value_parser = positive)]
    pub hole_mm: Option<f64>,
    /// Name of the part, the heading of the sheet
    #[arg(long, value_name = "WORDS")]
    pub part: Option<String>,
    /// The day, as it is to stand on the sheet
    #[arg(long, value_name = "WORDS")]
    pub date: Option<String>,
    /// Paper of the template
    #[arg(long, value_parser = paper(), default_value = "a4")]
    pub paper: Paper,
    /// File of limits that say how exactly a hole must be placed [default: limits.ron in the car's folder]
    #[arg(long, value_name = "FILE")]
    pub limits: Option<PathBuf>,
    /// Sheet to write: .pdf, .svg (one file a page) or .dxf
    #[arg(short = 'o', long = "output", value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct SchemaArguments {
    /// Every key of a car file in its place, and what it takes, instead
    #[arg(long, conflicts_with = "format")]
    pub car_file: bool,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct Output {
    /// Table for people, json or csv for programs
    #[arg(long, value_enum, default_value_t = Format::Table)]
    pub format: Format,
    #[command(flatten)]
    pub units: UnitArguments,
}

#[derive(Debug, Args)]
pub(crate) struct UnitArguments {
    /// Unit of lengths [default: that of the car's file]
    #[arg(long, value_enum)]
    units: Option<Lengths>,
}

impl UnitArguments {
    /// The unit asked for, or else that of the car that was read.
    pub fn lengths(&self, io: &Console) -> LengthUnit {
        match self.units {
            Some(Lengths::Mm) => LengthUnit::Millimetre,
            Some(Lengths::Inch) => LengthUnit::Inch,
            None => io.lengths(),
        }
    }
}

#[derive(Debug, Args)]
pub(crate) struct ToeArguments {
    /// In tables, the toe of one wheel as the length D·sin(toe) over this diameter D; `readings`, `attitude` and
    /// `cornering` always have it below the angle [default there: the front left tyre's diameter]
    #[arg(long, value_name = "D", allow_negative_numbers = true, value_parser = positive)]
    toe_over_mm: Option<f64>,
}

impl ToeArguments {
    /// How people's tables show readings.
    pub fn style(&self, lengths: LengthUnit) -> Style {
        Style { lengths, toe_over: self.toe_over_mm.map(|mm| mm / 1e3) }
    }

    pub fn given(&self) -> bool {
        self.toe_over_mm.is_some()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Table,
    Json,
    Csv,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Lengths {
    Mm,
    Inch,
}

#[derive(Debug, Args)]
pub(crate) struct SensitivityArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// Key of the reading (`wheelpath schema` lists them)
    #[arg(long, value_name = "KEY", value_parser = known)]
    pub reading: &'static Reading,
    /// Which axle
    #[arg(long, value_parser = end(), default_value = "front")]
    pub axle: End,
    /// Whose reading, for readings of a wheel
    #[arg(long, value_parser = side(), default_value = "left")]
    pub side: Side,
    /// Where points are moved; both is both sides alike, Y mirrored
    #[arg(long, value_enum, default_value_t = MovedOn::Both)]
    pub moved: MovedOn,
    /// Only this point, by its key (`wheelpath points` lists them)
    #[arg(long = "pickup", value_name = "POINT", value_parser = hardpoint(), hide_possible_values = true)]
    pub hardpoint: Option<Hardpoint>,
    /// What stays: the design pose, links being cut to length, or the links' lengths
    #[arg(long, value_parser = held(), default_value = "design-pose")]
    pub held: Links,
    #[command(flatten)]
    pub pose: PoseArguments,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum MovedOn {
    Both,
    Left,
    Right,
}

#[derive(Debug, Args)]
pub(crate) struct ClearancesArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// Which axle
    #[arg(long, value_parser = ends(), default_value = "both")]
    pub axle: Ends,
    /// First wheel travel [default: -30, on a car in inches -1.25 in]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub from_mm: Option<f64>,
    /// Last wheel travel [default: 30, on a car in inches 1.25 in]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub to_mm: Option<f64>,
    /// How many travels, both ends counted
    #[arg(long, value_name = "N", default_value_t = 21, value_parser = count)]
    pub count: u32,
    /// How many steering inputs from stop to stop
    #[arg(long, value_name = "N", default_value_t = 21, value_parser = count)]
    pub steer_count: u32,
    /// In the table, every pair and every joint, and the pairs that are left out
    #[arg(long)]
    pub all: bool,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct ImportArguments {
    /// Car file whose points are replaced
    pub car: PathBuf,
    /// Table with the columns name, x, y, z and perhaps corner; commas, semicolons or tabs between the cells,
    /// decimal commas where no comma stands between them
    pub points: PathBuf,
    /// What the table's lengths are counted in, where it does not say
    #[arg(long, value_parser = length_unit())]
    pub units: Option<LengthUnit>,
    /// Which way the table's axes point [default: x=forward,y=left,z=up]
    #[arg(long, value_name = "x=…,y=…,z=…", value_parser = axes)]
    pub axes: Option<Axes>,
    /// The axle of rows that name none
    #[arg(long, value_parser = end())]
    pub axle: Option<End>,
    /// The side of rows that name none
    #[arg(long, value_parser = side())]
    pub side: Option<Side>,
    /// Sets the mirror image of each point on the other side too
    #[arg(long)]
    pub mirror: bool,
    /// New car file to write; without it nothing is written
    #[arg(long, value_name = "NEW")]
    pub save: Option<PathBuf>,
    /// Writes the points that differ as a proposal of this name; a row that cannot be used is then a fault
    #[arg(long, value_name = "NAME", conflicts_with = "save")]
    pub as_proposal: Option<String>,
    /// Where the proposal goes [default: NAME.ron in the folder beside the car that has its name]
    #[arg(short, long, value_name = "FILE", requires = "as_proposal")]
    pub output: Option<PathBuf>,
    /// Table for people, json for programs
    #[arg(long, value_enum, default_value_t = ImportFormat::Table)]
    pub format: ImportFormat,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ImportFormat {
    Table,
    Json,
}

#[derive(Debug, Args)]
pub(crate) struct PictureArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// PNG file to write
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// From where; front-left and so on is one corner, close up
    #[arg(long, value_parser = view(), default_value = "three-quarter")]
    pub view: View,
    /// Paper
    #[arg(long, value_parser = sheet(), default_value = "light")]
    pub sheet: Sheet,
    /// Width and height in pixels
    #[arg(long, value_name = "WxH", value_parser = size, default_value = "1280x720")]
    pub size: [u32; 2],
    /// Dimensions drawn over the car: `all`, `none`, or keys of readings
    #[arg(long, value_name = "KEY,…", value_parser = overlays, default_value = "all")]
    pub overlays: Overlays,
    #[command(flatten)]
    pub pose: PoseArguments,
}
