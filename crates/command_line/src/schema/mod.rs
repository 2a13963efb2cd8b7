//! Every key of every JSON and CSV output.

pub(crate) mod before_after;
pub(crate) mod clearances;
pub(crate) mod on_changes;
pub(crate) mod on_road;

use crate::arguments::subcommands::{Format, SchemaArguments};
use crate::console::data::{Record, csv, heading, json};
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::exit_codes;
use crate::schema::before_after::BEFORE_AFTER;
use crate::schema::clearances::CLEARANCES;
use crate::schema::on_changes::ON_CHANGES;
use crate::schema::on_road::ON_ROAD;
use serde_json::Value;
use wheelpath_geometry::{LengthUnit, Scope, Unit, axle_readings, wheel_readings};
use wheelpath_report::{folded, wrap};

/// A key as it is documented.
#[derive(Clone, Debug)]
struct Key {
    key: String,
    /// Which motion a reading is a rate of.
    motion: &'static str,
    /// The outputs that have it.
    outputs: String,
    unit: String,
    sign: String,
    definition: String,
    formula: String,
    source: String,
    /// Why there may be none.
    absent: String,
}

/// A key beside the readings: outputs, name, unit (a length where `None` is given for text), words.
pub(crate) struct KeyDoc(pub &'static str, pub &'static str, pub Kind, pub &'static str);

pub(crate) enum Kind {
    Text,
    Count,
    Length,
    Degree,
    /// The key as it stands, its unit in writing.
    In(&'static str),
    Records,
}

use Kind::{Count, Degree, In, Length, Records, Text};

const BESIDE: &[KeyDoc] = &[
    KeyDoc("all", "output", Text, "Which subcommand wrote it."),
    KeyDoc("all", "output_version", Count, "Version of the keys of this output; 1."),
    KeyDoc("all", "car", Text, "Name of the car; null where the file has a fault."),
    KeyDoc(
        "all",
        "warnings",
        Records,
        "What is doubtful: in `check`, of the file; else stops of steering, damper or joint that the pose exceeds and dead points it is near, in words.",
    ),
    KeyDoc(
        "readings points sensitivity attitude cornering compare",
        "pose",
        Records,
        "The pose: the travel of each wheel, rack or pitman arm, steering wheel.",
    ),
    KeyDoc(
        "readings points sensitivity attitude cornering compare limits",
        "front_left_travel",
        Length,
        "Wheel travel, + bump. Also front_right, rear_left, rear_right.",
    ),
    KeyDoc(
        "readings points sensitivity attitude cornering compare limits",
        "front_right_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    KeyDoc(
        "readings points sensitivity attitude cornering compare limits",
        "rear_left_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    KeyDoc(
        "readings points sensitivity attitude cornering compare limits",
        "rear_right_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    KeyDoc(
        "readings points sensitivity sweep clearances attitude cornering turn compare limits",
        "rack",
        Length,
        "Rack travel, + toward the left; where the axle has a steering box: pitman_deg.",
    ),
    KeyDoc(
        "readings points sensitivity sweep clearances attitude cornering turn compare limits",
        "pitman_deg",
        Degree,
        "Turn of the steering box's pitman arm, + anticlockwise seen from above; where the axle has one.",
    ),
    KeyDoc(
        "readings points sensitivity sweep clearances attitude cornering turn compare limits",
        "steering_wheel_deg",
        Degree,
        "Steering-wheel angle, + a left turn; null where nothing steers.",
    ),
    KeyDoc(
        "readings attitude cornering turn",
        "wheels",
        Records,
        "Readings of each wheel: front_left, front_right, rear_left, rear_right.",
    ),
    KeyDoc("readings attitude", "axles", Records, "Readings of each axle: front, rear."),
    KeyDoc("readings attitude cornering turn", "place", Text, "CSV: the wheel or axle of the row."),
    KeyDoc("readings points attitude cornering turn", "front_left", Records, "The front left wheel."),
    KeyDoc("readings points attitude cornering turn", "front_right", Records, "The front right wheel."),
    KeyDoc("readings points attitude cornering turn", "rear_left", Records, "The rear left wheel."),
    KeyDoc("readings points attitude cornering turn", "rear_right", Records, "The rear right wheel."),
    KeyDoc(
        "readings points attitude cornering",
        "front",
        Records,
        "The front axle; in points its own points.",
    ),
    KeyDoc("readings points attitude cornering", "rear", Records, "The rear axle; in points its own points."),
    KeyDoc("sweep sensitivity clearances check import", "axle", Text, "front or rear."),
    KeyDoc(
        "sweep sensitivity points",
        "rows",
        Records,
        "The rows, one a pose or number. Readings of a wheel stand as left_… and right_….",
    ),
    KeyDoc("sweep clearances", "left_travel", Length, "Travel of the left wheel, + bump."),
    KeyDoc("sweep clearances", "right_travel", Length, "Travel of the right wheel, + bump."),
    KeyDoc(
        "sweep points",
        "stop",
        Text,
        "Why the pose cannot be reached: dead_point, out_of_reach; null where it is reached.",
    ),
    KeyDoc("sweep points", "stop_wheel", Text, "The wheel whose linkage stops."),
    KeyDoc("sweep points", "stop_travel", Length, "Travel of the last pose on the way that closes."),
    KeyDoc("sweep points", "stop_rack", Length, "Rack travel of the last pose on the way that closes."),
    KeyDoc(
        "sweep points",
        "stop_pitman_deg",
        Degree,
        "The pitman arm's turn of that pose, where there is one.",
    ),
    KeyDoc("sweep points", "stop_links", Text, "The links that are the reason."),
    KeyDoc(
        "sweep points",
        "exceeds",
        Records,
        "Stops of steering, damper or joint that the pose goes beyond, in words.",
    ),
    KeyDoc(
        "points",
        "points",
        Records,
        "Points of each wheel, by the keys of the car file, and wheel_centre and contact_point; then those of an axle as a whole.",
    ),
    KeyDoc(
        "points",
        "corner",
        Text,
        "CSV: the wheel, or the axle as a whole, of the row. The CSV is a point table that `import` reads.",
    ),
    KeyDoc(
        "points",
        "<wheel or axle>_<point>_x",
        Length,
        "Where poses run, a row a pose: place of the point on the body, + forward; also _y, + left, and _z, + up.",
    ),
    KeyDoc("points", "name", Text, "CSV: the point of the row."),
    KeyDoc("points import", "x", Length, "Place on the body, + forward."),
    KeyDoc("points import", "y", Length, "Place on the body, + left."),
    KeyDoc("points import", "z", Length, "Place on the body, + up."),
    KeyDoc("sensitivity", "side", Text, "Whose reading; null for readings of an axle."),
    KeyDoc(
        "sensitivity",
        "moved",
        Text,
        "Where numbers are changed: both (Y mirrored, signs as on the left), left, right.",
    ),
    KeyDoc("sensitivity", "held", Text, "What stays: design-pose or link-lengths."),
    KeyDoc(
        "sensitivity",
        "reading",
        Text,
        "Key of the reading; its value at the pose stands under its key with unit.",
    ),
    KeyDoc("sensitivity", "rank", Count, "1 moves the reading most."),
    KeyDoc(
        "sensitivity",
        "parameter",
        Text,
        "A point of the car file, wheel_centre, tyre_radius, or a link with _length.",
    ),
    KeyDoc("sensitivity", "of", Text, "Whose number: corner, or axle for those of the axle as a whole."),
    KeyDoc("sensitivity", "coordinate", Text, "x, y or z; null for a length."),
    KeyDoc(
        "sensitivity",
        "slope<unit of the reading>_per",
        Length,
        "Exact derivative of the reading to the number.",
    ),
    KeyDoc("check import", "file", Text, "The file."),
    KeyDoc("check", "faults", Records, "What makes the car impossible."),
    KeyDoc("check", "severity", Text, "CSV: fault or warning."),
    KeyDoc("check import", "line", Count, "Line in the file, from 1."),
    KeyDoc("check import", "column", Count, "Column in the line, in characters, from 1."),
    KeyDoc("check import", "wheel", Text, "The corner it is about; null for the whole car."),
    KeyDoc("check import", "message", Text, "What is the matter."),
    KeyDoc("check import", "hint", Text, "What to do."),
    KeyDoc(
        "check",
        "cause",
        Count,
        "Warnings of one number may have one cause, the first of them to be looked at first.",
    ),
    KeyDoc("check", "reach", Records, "How far the links of each wheel reach, stops not counted."),
    KeyDoc(
        "check",
        "reach_with_stops",
        Records,
        "How far each axle goes, both wheels alike, stops of steering, dampers and joints counted.",
    ),
    KeyDoc(
        "check",
        "other_wheel",
        Length,
        "On a beam axle: the travel at which the other wheel is held; else null.",
    ),
    KeyDoc("check", "droop", Length, "Least travel at which the links close; null where none was met."),
    KeyDoc("check", "bump", Length, "Greatest travel at which the links close; null where none was met."),
    KeyDoc(
        "check",
        "rack_right",
        Length,
        "Rack travel to the right at which they still close; null where none was met.",
    ),
    KeyDoc(
        "check",
        "rack_left",
        Length,
        "Rack travel to the left at which they still close; null where none was met.",
    ),
    KeyDoc("check", "pitman_negative_deg", Degree, "The same for a pitman arm, its negative way."),
    KeyDoc("check", "pitman_positive_deg", Degree, "The same for a pitman arm, its positive way."),
    KeyDoc("check", "droop_links", Text, "The links that are the reason."),
    KeyDoc("check", "bump_links", Text, "The links that are the reason."),
    KeyDoc("check", "rack_right_links", Text, "The links that are the reason."),
    KeyDoc("check", "rack_left_links", Text, "The links that are the reason."),
    KeyDoc("check", "pitman_negative_links", Text, "The links that are the reason."),
    KeyDoc("check", "pitman_positive_links", Text, "The links that are the reason."),
    KeyDoc("check", "droop_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("check", "bump_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("check", "rack_right_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("check", "rack_left_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("check", "pitman_negative_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("check", "pitman_positive_ended_by", Text, "What ends it: links, a stop, or a joint."),
    KeyDoc("import", "saved", Text, "The car file or proposal written; null where none was."),
    KeyDoc("import", "proposal", Text, "Name of the proposal made of the table; only with --as-proposal."),
    KeyDoc("import", "of", Text, "Whose point a proposal moves: a wheel, an axle, or front_both, rear_both."),
    KeyDoc("import", "set", Records, "Points that were set."),
    KeyDoc("import", "point", Text, "A point of the car file, or wheel_centre."),
    KeyDoc("import", "unknown", Records, "Rows whose name is no point."),
    KeyDoc("import", "unused", Records, "Points of the table that their corner has no use for."),
    KeyDoc("import", "missing", Records, "Points that their corner uses but the table lacks: they stay."),
    KeyDoc(
        "import",
        "left_over",
        Records,
        "Those of the missing that nobody measured: a demo car's or stand-in's.",
    ),
    KeyDoc(
        "import",
        "one_sided",
        Records,
        "Points that were the mirror image of one that was set, and stay.",
    ),
    KeyDoc(
        "import",
        "contact_points",
        Count,
        "Rows of a contact point: it follows from the wheel, and is not set.",
    ),
    KeyDoc("import", "name", Text, "The name in the table."),
    KeyDoc("import", "nearest", Text, "The nearest point, if one is near."),
    KeyDoc("import", "from_x", Length, "Where the point was; null where it was not."),
    KeyDoc("import", "from_y", Length, "Where the point was; null where it was not."),
    KeyDoc("import", "from_z", Length, "Where the point was; null where it was not."),
    KeyDoc("schema", "keys", Records, "The rows of this output."),
    KeyDoc("schema", "key", Text, "The key, with its unit."),
    KeyDoc("schema", "outputs", Text, "The outputs that have it."),
    KeyDoc("schema", "unit", Text, "Its unit; empty for plain numbers."),
    KeyDoc(
        "schema",
        "motion",
        Text,
        "Which motion of the axle a rate is of. On an axle whose wheels each move on their own the other wheel makes no difference; on a beam axle it does.",
    ),
    KeyDoc("schema", "sign", Text, "What + and - mean."),
    KeyDoc("schema", "definition", Text, "What it is."),
    KeyDoc("schema", "formula", Text, "How it is computed."),
    KeyDoc("schema", "source", Text, "Where the term or relation comes from."),
    KeyDoc(
        "schema",
        "exit_codes",
        Records,
        "When each subcommand ends with exit code 1; 0 is fine, 2 wrong use.",
    ),
    KeyDoc("schema", "subcommand", Text, "The subcommand."),
    KeyDoc("schema", "ends_with_1_where", Text, "When it ends with exit code 1."),
    KeyDoc("schema", "absent", Text, "Why a value may be null (empty in CSV)."),
];

fn keys(lengths: LengthUnit) -> Vec<Key> {
    let beside = BESIDE.iter().chain(BEFORE_AFTER).chain(ON_ROAD).chain(ON_CHANGES).chain(CLEARANCES).map(
        |KeyDoc(outputs, name, kind, definition)| Key {
            key: match kind {
                Length => format!("{name}{}", Unit::Length.key_suffix(lengths)),
                _ => (*name).to_owned(),
            },
            outputs: (*outputs).to_owned(),
            unit: match kind {
                Text => "text".to_owned(),
                Count => "count".to_owned(),
                Records => "records".to_owned(),
                Degree => Unit::Degree.symbol(lengths).to_owned(),
                In(unit) => (*unit).to_owned(),
                Length => Unit::Length.symbol(lengths).to_owned(),
            },
            motion: "",
            sign: String::new(),
            definition: (*definition).to_owned(),
            formula: String::new(),
            source: String::new(),
            absent: String::new(),
        },
    );
    let readings = wheel_readings().iter().chain(axle_readings()).map(|reading| Key {
        key: crate::console::data::key_of(reading, lengths),
        outputs: match reading.scope {
            Scope::Wheel => {
                "readings and attitude (wheel), sweep (as left_… and right_…), sensitivity".to_owned()
            }
            Scope::Axle => "readings and attitude (axle), sweep, sensitivity".to_owned(),
        },
        unit: reading.unit.data_symbol(lengths).to_owned(),
        motion: reading.motion.in_words(),
        sign: reading.sign.to_owned(),
        definition: format!("{}. {}", reading.name, reading.definition),
        formula: reading.formula.to_owned(),
        source: reading.source.to_owned(),
        absent: reading.absent.to_owned(),
    });
    readings.chain(beside).collect()
}

impl Key {
    fn record(&self) -> Record {
        let pairs = [
            ("key", self.key.as_str()),
            ("outputs", &self.outputs),
            ("unit", self.unit.as_str()),
            ("motion", self.motion),
            ("sign", &self.sign),
            ("definition", &self.definition),
            ("formula", &self.formula),
            ("source", &self.source),
            ("absent", &self.absent),
        ];
        pairs.into_iter().map(|(key, value)| (key.to_owned(), Value::from(value))).collect()
    }

    fn words(&self) -> String {
        let mut text = format!("{}\n", self.key);
        let mut line = |words: String| text += &format!("    {}\n", wrap(&words, 96, "    "));
        line(self.definition.clone());
        if !self.sign.is_empty() {
            line(format!("sign: {}", self.sign));
        }
        if !self.unit.is_empty() {
            line(format!("unit: {}", self.unit));
        }
        if !self.motion.is_empty() {
            line(format!("motion: {}", self.motion));
        }
        if !self.formula.is_empty() {
            line(format!("formula: {} ({})", self.formula, self.source));
        }
        if !self.absent.is_empty() {
            line(format!("none where {}", self.absent));
        }
        line(format!("in: {}", self.outputs));
        text
    }
}

pub(crate) fn run(arguments: &SchemaArguments, io: &mut Console) -> Result<u8, Failure> {
    if arguments.car_file {
        io.print(&folded(&wheelpath_car_file::schema()))?;
        return Ok(0);
    }
    let keys = keys(arguments.output.units.lengths(io));
    let text = match arguments.output.format {
        Format::Table => {
            let head = "Keys of the JSON and CSV outputs. Units stand at the end of the key. Lengths are in \
                        mm, or of a car whose file counts in inches, or with --units inch, in inches and _in. A value that does not exist is null, in \
                        CSV empty. Vehicle axes: X forward, Y left, Z up (ISO 8855).";
            let words: Vec<String> = keys.iter().map(Key::words).collect();
            format!("{}\n\n{}\n{}", wrap(head, 96, ""), words.join("\n"), exit_codes::in_words())
        }
        Format::Json => {
            let mut record = heading("schema");
            let keys: Vec<Value> = keys.iter().map(|key| Value::Object(key.record())).collect();
            record.insert("keys".into(), keys.into());
            record.insert("exit_codes".into(), exit_codes::records().into());
            json(record)?
        }
        Format::Csv => csv(&keys.iter().map(Key::record).collect::<Vec<_>>())?,
    };
    io.print(&text)?;
    Ok(0)
}
