//! What the words of the command line may be, and what they mean.

use crate::console::pose::finite;
use crate::front::{Overlays, Sheet, View};
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::error::ErrorKind;
use clap::{Arg, Command};
use std::ffi::OsStr;
use wheelpath_car_file::{Axes, AxesFault, Direction, NewSpringing, NewSteering, linkage_words, nearest};
use wheelpath_geometry::{
    BarKind, End, Hardpoint, LengthUnit, LinkageKind, Links, Reading, Side, Travelling, WheelPosition,
    axle_readings, reading_called, readings_beginning, wheel_readings,
};
use wheelpath_report::Paper;

/// A reading by its key, or all of them.
#[derive(Clone, Copy, Debug)]
pub(crate) enum ReadingOrAll {
    All,
    One(&'static Reading),
}

/// The ends of one axle or of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Ends(pub Option<End>);

impl Ends {
    pub fn ends(self) -> Vec<End> {
        self.0.map_or_else(|| End::BOTH.to_vec(), |end| vec![end])
    }
}

fn keys() -> impl Iterator<Item = &'static str> {
    wheel_readings().iter().chain(axle_readings()).map(|reading| reading.key)
}

pub(crate) fn known(word: &str) -> Result<&'static Reading, String> {
    let word = word.trim();
    reading_called(word).ok_or_else(|| {
        let beginning: Vec<&str> = readings_beginning(word).iter().map(|reading| reading.key).collect();
        let meant = match (beginning.as_slice(), nearest(word, keys())) {
            ([], None) => String::new(),
            ([], Some(key)) => format!("; did you mean {key}?"),
            (several, _) if several.len() == 1 => format!("; did you mean {}?", several.concat()),
            (several, _) => format!("; did you mean one of {}?", several.join(", ")),
        };
        format!("there is no reading {word}{meant} (`wheelpath schema` lists them)")
    })
}

pub(crate) fn reading_or_all(word: &str) -> Result<ReadingOrAll, String> {
    if word.trim() == "all" { Ok(ReadingOrAll::All) } else { known(word).map(ReadingOrAll::One) }
}

/// One of a few words, each with its value: in any case of letters, with blanks, hyphens or underscores
/// alike, and a corner by any of its names.
#[derive(Clone)]
struct Choice<T>(Vec<(&'static str, T)>);

impl<T: Copy + Send + Sync + 'static> TypedValueParser for Choice<T> {
    type Value = T;

    fn parse_ref(&self, command: &Command, arg: Option<&Arg>, value: &OsStr) -> Result<T, clap::Error> {
        let asked = value.to_string_lossy();
        if let Some((_, value)) = self.0.iter().find(|(word, _)| says(&asked, word)) {
            return Ok(*value);
        }
        // The complaint is clap's own.
        let words = PossibleValuesParser::new(self.0.iter().map(|(word, _)| *word));
        words.parse_ref(command, arg, value)?;
        Err(clap::Error::new(ErrorKind::InvalidValue).with_cmd(command))
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        Some(Box::new(self.0.iter().map(|(word, _)| PossibleValue::new(*word))))
    }
}

fn choice<T: Copy + Send + Sync + 'static>(
    choices: impl IntoIterator<Item = (&'static str, T)>,
) -> impl TypedValueParser<Value = T> {
    Choice(choices.into_iter().collect())
}

/// Whether what was typed is a word, or names the same corner.
pub(crate) fn says(typed: &str, word: &str) -> bool {
    let plain = |text: &str| -> String {
        text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    let typed = typed.trim();
    plain(typed) == plain(word)
        || WheelPosition::from_word(word).is_some_and(|at| WheelPosition::from_word(typed) == Some(at))
}

pub(crate) fn length_unit() -> impl TypedValueParser<Value = LengthUnit> {
    choice([
        ("mm", LengthUnit::Millimetre),
        ("inch", LengthUnit::Inch),
        ("millimetre", LengthUnit::Millimetre),
        ("in", LengthUnit::Inch),
    ])
}

pub(crate) fn linkage() -> impl TypedValueParser<Value = LinkageKind> {
    choice(linkage_words())
}

pub(crate) fn new_steering() -> impl TypedValueParser<Value = NewSteering> {
    choice([("rack", NewSteering::Rack), ("box", NewSteering::Box), ("fixed", NewSteering::Fixed)])
}

pub(crate) fn new_springing() -> impl TypedValueParser<Value = NewSpringing> {
    choice([
        ("pushrod", NewSpringing::Rocker),
        ("pullrod", NewSpringing::Rocker),
        ("rocker", NewSpringing::Rocker),
        ("direct", NewSpringing::Direct),
        ("strut", NewSpringing::Strut),
        ("none", NewSpringing::None),
    ])
}

pub(crate) fn anti_roll_bar() -> impl TypedValueParser<Value = BarKind> {
    choice([("u", BarKind::U), ("t", BarKind::T)])
}

fn direction(word: &str) -> Result<Direction, String> {
    let found = Direction::ALL.into_iter().find(|d| d.word().eq_ignore_ascii_case(word.trim()));
    found.ok_or_else(|| format!("{word} is no direction: write forward, rearward, left, right, up or down"))
}

pub(crate) fn axes(words: &str) -> Result<Axes, String> {
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

pub(crate) fn end() -> impl TypedValueParser<Value = End> {
    choice(End::BOTH.map(|end| (end.name(), end)))
}

pub(crate) fn ends() -> impl TypedValueParser<Value = Ends> {
    choice([("front", Ends(Some(End::Front))), ("rear", Ends(Some(End::Rear))), ("both", Ends(None))])
}

pub(crate) fn side() -> impl TypedValueParser<Value = Side> {
    choice(Side::BOTH.map(|side| (side.name(), side)))
}

pub(crate) fn hardpoint() -> impl TypedValueParser<Value = Hardpoint> {
    choice(Hardpoint::ALL.iter().map(|&hardpoint| (hardpoint.key(), hardpoint)))
}

pub(crate) fn held() -> impl TypedValueParser<Value = Links> {
    choice([("design-pose", Links::Remade), ("link-lengths", Links::Kept)])
}

pub(crate) fn sheet() -> impl TypedValueParser<Value = Sheet> {
    choice([("light", Sheet::Light), ("dark", Sheet::Dark)])
}

pub(crate) fn paper() -> impl TypedValueParser<Value = Paper> {
    choice([("a4", Paper::A4), ("letter", Paper::Letter)])
}

/// Three numbers parted by commas that are a direction.
pub(crate) fn direction_of_three(words: &str) -> Result<[f64; 3], String> {
    let numbers: Vec<f64> = words.split(',').map(finite).collect::<Result<_, _>>()?;
    match <[f64; 3]>::try_from(numbers) {
        Ok(along) if along.iter().any(|part| *part != 0.0) => Ok(along),
        Ok(_) => Err(format!("{words} is no direction: one number must not be 0")),
        Err(_) => Err(format!("{words} is not three numbers such as 0,1,0")),
    }
}

pub(crate) fn travelling() -> impl TypedValueParser<Value = Travelling> {
    choice([
        ("both", Travelling::Both),
        ("left", Travelling::One(Side::Left)),
        ("right", Travelling::One(Side::Right)),
        ("opposite", Travelling::Opposite),
    ])
}

pub(crate) fn view() -> impl TypedValueParser<Value = View> {
    let corner = |end, side| View::Corner(WheelPosition { end, side });
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

pub(crate) fn positive(word: &str) -> Result<f64, String> {
    finite(word).and_then(|value| {
        if value > 0.0 { Ok(value) } else { Err(format!("{word} is no length: give a positive number")) }
    })
}

/// How many of something: a whole number of one or more.
pub(crate) fn count(word: &str) -> Result<u32, String> {
    let value = finite(word)?;
    let whole = word.trim().parse::<u32>().ok().filter(|count| *count > 0);
    whole.ok_or_else(|| match value {
        value if value < 1.0 || value.fract() != 0.0 => {
            format!("{word} is no count: give a whole number of 1 or more")
        }
        _ => format!("{word} is too many: give a whole number up to {}", u32::MAX),
    })
}

/// Pixels in each direction that a graphics driver can be trusted with.
const PIXELS: std::ops::RangeInclusive<u32> = 64..=8192;

pub(crate) fn size(word: &str) -> Result<[u32; 2], String> {
    let sides = word.split_once('x').and_then(|(w, h)| Some([w.parse().ok()?, h.parse().ok()?]));
    sides.filter(|sides: &[u32; 2]| sides.iter().all(|side| PIXELS.contains(side))).ok_or_else(|| {
        format!("write width x height, such as 1280x720, each {} to {}", PIXELS.start(), PIXELS.end())
    })
}

pub(crate) fn overlays(words: &str) -> Result<Overlays, String> {
    match words {
        "all" => Ok(Overlays::All),
        "none" => Ok(Overlays::Nothing),
        _ => words.split(',').map(|word| known(word)).collect::<Result<_, _>>().map(Overlays::Of),
    }
}
