//! The words of the command line.

use crate::front::{Overlays, Sheet, View};
use crate::pose::{PoseArguments, finite};
use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;
use wheelpath_car_file::{Axes, AxesFault, Direction};
use wheelpath_geometry::{
    End, Held, LengthUnit, Pickup, Reading, Side, Travelling, WheelAt, axle_readings, reading, wheel_readings,
};
use wheelpath_report::Style;

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
CAR is a car file, or the word `alder` for the demo car.
Exit codes: 0 fine; 1 the car has a fault or a pose cannot be reached; 2 wrong use.
Geometry only, no strength. Series rules, local codes and a qualified person decide.";

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Opens the window on a car (also: no subcommand at all)
    Open(OpenArguments),
    /// Looks a car over: faults, warnings, and how far each wheel can go
    Check(CheckArguments),
    /// All readings at one pose
    Readings(ReadingsArguments),
    /// Readings along wheel travel, steer, or a grid of both
    Sweep(SweepArguments),
    /// Which coordinates move a reading most (exact derivatives)
    Sensitivity(SensitivityArguments),
    /// Where every point stands at a pose
    Points(PointsArguments),
    /// Puts the points of a CSV table (as CAD exports it) into a car file
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
    #[command(flatten)]
    pub pose: PoseArguments,
    #[command(flatten)]
    pub output: Output,
    #[command(flatten)]
    pub toe: ToeArguments,
}

#[derive(Debug, Args)]
pub(crate) struct PointsArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub pose: PoseArguments,
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct SchemaArguments {
    #[command(flatten)]
    pub output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct Output {
    /// table for people, json or csv for programs
    #[arg(long, value_enum, default_value_t = Format::Table)]
    pub format: Format,
    #[command(flatten)]
    pub units: UnitArguments,
}

#[derive(Debug, Args)]
pub(crate) struct UnitArguments {
    /// Lengths in mm or inch
    #[arg(long, value_enum, default_value_t = Lengths::Mm)]
    units: Lengths,
}

impl UnitArguments {
    pub fn lengths(&self) -> LengthUnit {
        match self.units {
            Lengths::Mm => LengthUnit::Millimetre,
            Lengths::Inch => LengthUnit::Inch,
        }
    }
}

#[derive(Debug, Args)]
pub(crate) struct ToeArguments {
    /// In tables, the toe of one wheel as the length D·sin(toe) over this diameter D
    #[arg(long, value_name = "D", value_parser = positive)]
    toe_over_mm: Option<f64>,
}

impl ToeArguments {
    /// How people's tables show readings.
    pub fn style(&self, units: &UnitArguments) -> Style {
        Style { lengths: units.lengths(), toe_over: self.toe_over_mm.map(|mm| mm / 1e3) }
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
pub(crate) struct SweepArguments {
    /// Car file
    pub car: PathBuf,
    /// What runs: wheel travel, steer (rack travel), or a grid of both
    #[arg(long, value_enum, default_value_t = Over::Travel)]
    pub over: Over,
    /// front or rear
    #[arg(long, value_parser = end(), default_value = "front")]
    pub axle: End,
    /// Which wheels travel: both, left, right, or opposite (left up, right down)
    #[arg(long, value_parser = travelling(), default_value = "both")]
    pub wheels: Travelling,
    /// First wheel travel, or first rack travel with --over steer [default: -30, or the rack's stop]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub from_mm: Option<f64>,
    /// Last wheel travel, or last rack travel with --over steer [default: 30, or the rack's stop]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub to_mm: Option<f64>,
    /// How many, both ends counted
    #[arg(long, value_name = "N", default_value_t = 21, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub count: u32,
    /// Rack travel held while wheels travel
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, default_value = "0")]
    pub rack_mm: f64,
    /// Wheel travel of both wheels held while steering
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, default_value = "0")]
    pub travel_mm: f64,
    /// First rack travel of a grid [default: the rack's stop]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub rack_from_mm: Option<f64>,
    /// Last rack travel of a grid [default: the rack's stop]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite)]
    pub rack_to_mm: Option<f64>,
    /// How many rack travels in a grid
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u32).range(1..=1_000))]
    pub rack_count: u32,
    /// Keys of readings, or `all` [default: a few in tables and charts, all in json and csv]
    #[arg(long, value_delimiter = ',', value_name = "KEY,…", value_parser = reading_or_all(), hide_possible_values = true)]
    pub readings: Vec<ReadingOrAll>,
    /// table or chart for people, json or csv for programs
    #[arg(long, value_enum, default_value_t = SweepFormat::Table)]
    pub format: SweepFormat,
    #[command(flatten)]
    pub units: UnitArguments,
    #[command(flatten)]
    pub toe: ToeArguments,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SweepFormat {
    Table,
    Chart,
    Json,
    Csv,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Over {
    Travel,
    Steer,
    Grid,
}

#[derive(Debug, Args)]
pub(crate) struct SensitivityArguments {
    /// Car file
    pub car: PathBuf,
    /// Key of the reading (`wheelpath schema` lists them)
    #[arg(long, value_name = "KEY", value_parser = reading_key(), hide_possible_values = true)]
    pub reading: &'static Reading,
    /// front or rear
    #[arg(long, value_parser = end(), default_value = "front")]
    pub axle: End,
    /// Whose reading, for readings of a wheel: left or right
    #[arg(long, value_parser = side(), default_value = "left")]
    pub side: Side,
    /// Where the points are moved: both sides alike (Y mirrored), left or right
    #[arg(long, value_enum, default_value_t = MovedOn::Both)]
    pub moved: MovedOn,
    /// Only this point
    #[arg(long, value_name = "POINT", value_parser = pickup(), hide_possible_values = true)]
    pub pickup: Option<Pickup>,
    /// What stays: the design pose (links are cut to length) or the links' lengths
    #[arg(long, value_parser = held(), default_value = "design-pose")]
    pub held: Held,
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
pub(crate) struct ImportArguments {
    /// Car file whose points are replaced
    pub car: PathBuf,
    /// Table with the columns name, x, y, z and perhaps corner
    pub points: PathBuf,
    /// What the table's lengths are counted in, where it does not say [mm, inch]
    #[arg(long, value_parser = length_unit())]
    pub units: Option<LengthUnit>,
    /// Which way the table's axes point [default: x=forward,y=left,z=up]
    #[arg(long, value_name = "x=…,y=…,z=…", value_parser = axes)]
    pub axes: Option<Axes>,
    /// The axle of rows that name none: front or rear
    #[arg(long, value_parser = end())]
    pub axle: Option<End>,
    /// The side of rows that name none: left or right
    #[arg(long, value_parser = side())]
    pub side: Option<Side>,
    /// Sets the mirror image of each point on the other side too
    #[arg(long)]
    pub mirror: bool,
    /// New car file to write; without it nothing is written
    #[arg(long, value_name = "NEW")]
    pub save: Option<PathBuf>,
    /// table for people, json for programs
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
    /// PNG file to write
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// From where: front, side, plan, three-quarter, or one corner (front-left …)
    #[arg(long, value_parser = view(), default_value = "three-quarter")]
    pub view: View,
    /// light or dark paper
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

/// A reading by its key, or all of them.
#[derive(Clone, Copy, Debug)]
pub(crate) enum ReadingOrAll {
    All,
    One(&'static Reading),
}

fn keys() -> impl Iterator<Item = &'static str> {
    wheel_readings().iter().chain(axle_readings()).map(|reading| reading.key)
}

fn known(word: String) -> Result<&'static Reading, String> {
    reading(&word).ok_or_else(|| format!("there is no reading {word}"))
}

fn reading_key() -> impl TypedValueParser<Value = &'static Reading> {
    PossibleValuesParser::new(keys()).try_map(known)
}

fn reading_or_all() -> impl TypedValueParser<Value = ReadingOrAll> {
    PossibleValuesParser::new(std::iter::once("all").chain(keys())).try_map(|word| match word.as_str() {
        "all" => Ok(ReadingOrAll::All),
        _ => known(word).map(ReadingOrAll::One),
    })
}

/// One of a few words, each with its value.
fn choice<T: Copy + Send + Sync + 'static>(
    choices: impl IntoIterator<Item = (&'static str, T)>,
) -> impl TypedValueParser<Value = T> {
    let choices: Vec<(&'static str, T)> = choices.into_iter().collect();
    PossibleValuesParser::new(choices.iter().map(|(word, _)| *word)).try_map(move |word| {
        let found = choices.iter().find(|(known, _)| *known == word).map(|(_, value)| *value);
        found.ok_or_else(|| format!("{word} is none of the choices"))
    })
}

fn length_unit() -> impl TypedValueParser<Value = LengthUnit> {
    choice([("mm", LengthUnit::Millimetre), ("inch", LengthUnit::Inch)])
}

fn direction(word: &str) -> Result<Direction, String> {
    let found = Direction::ALL.into_iter().find(|d| d.word().eq_ignore_ascii_case(word.trim()));
    found.ok_or_else(|| format!("{word} is no direction: write forward, rearward, left, right, up or down"))
}

fn axes(words: &str) -> Result<Axes, String> {
    let mut directions = [None; 3];
    for word in words.split(',') {
        let (axis, way) = word.split_once('=').ok_or_else(|| format!("{word} says for no axis"))?;
        let place = ["x", "y", "z"].iter().position(|name| name.eq_ignore_ascii_case(axis.trim()));
        let place = place.and_then(|i| directions.get_mut(i));
        *place.ok_or_else(|| format!("there is no axis {axis}"))? = Some(direction(way)?);
    }
    let [Some(x), Some(y), Some(z)] = directions else {
        return Err("say for x, y and z, such as x=forward,y=left,z=up".to_owned());
    };
    Axes::new([x, y, z]).map_err(|fault| match fault {
        AxesFault::Parallel(..) => "two of these axes run along the same line".to_owned(),
        AxesFault::LeftHanded => "these axes are left-handed; turn one round".to_owned(),
    })
}

fn end() -> impl TypedValueParser<Value = End> {
    choice(End::BOTH.map(|end| (end.name(), end)))
}

fn side() -> impl TypedValueParser<Value = Side> {
    choice(Side::BOTH.map(|side| (side.name(), side)))
}

fn pickup() -> impl TypedValueParser<Value = Pickup> {
    choice(Pickup::ALL.iter().map(|&pickup| (pickup.key(), pickup)))
}

fn held() -> impl TypedValueParser<Value = Held> {
    choice([("design-pose", Held::DesignPose), ("link-lengths", Held::LinkLengths)])
}

fn sheet() -> impl TypedValueParser<Value = Sheet> {
    choice([("light", Sheet::Light), ("dark", Sheet::Dark)])
}

fn travelling() -> impl TypedValueParser<Value = Travelling> {
    choice([
        ("both", Travelling::Both),
        ("left", Travelling::One(Side::Left)),
        ("right", Travelling::One(Side::Right)),
        ("opposite", Travelling::Opposite),
    ])
}

fn view() -> impl TypedValueParser<Value = View> {
    let corner = |end, side| View::Corner(WheelAt { end, side });
    choice([
        ("front", View::Front),
        ("side", View::Side),
        ("plan", View::Plan),
        ("three-quarter", View::ThreeQuarter),
        ("front-left", corner(End::Front, Side::Left)),
        ("front-right", corner(End::Front, Side::Right)),
        ("rear-left", corner(End::Rear, Side::Left)),
        ("rear-right", corner(End::Rear, Side::Right)),
    ])
}

fn positive(word: &str) -> Result<f64, String> {
    finite(word).and_then(|value| {
        if value > 0.0 { Ok(value) } else { Err(format!("{word} is no length: give a positive number")) }
    })
}

/// Pixels in each direction that a graphics driver can be trusted with.
const PIXELS: std::ops::RangeInclusive<u32> = 64..=8192;

fn size(word: &str) -> Result<[u32; 2], String> {
    let sides = word.split_once('x').and_then(|(w, h)| Some([w.parse().ok()?, h.parse().ok()?]));
    sides.filter(|sides: &[u32; 2]| sides.iter().all(|side| PIXELS.contains(side))).ok_or_else(|| {
        format!("write width x height, such as 1280x720, each {} to {}", PIXELS.start(), PIXELS.end())
    })
}

fn overlays(words: &str) -> Result<Overlays, String> {
    match words {
        "all" => Ok(Overlays::All),
        "none" => Ok(Overlays::Nothing),
        _ => words
            .split(',')
            .map(|word| known(word.trim().to_owned()))
            .collect::<Result<_, _>>()
            .map(Overlays::Of),
    }
}
