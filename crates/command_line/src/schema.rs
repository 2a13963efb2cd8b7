//! Every key of every JSON and CSV output.

use crate::arguments::{Format, SchemaArguments};
use crate::data::{Record, csv, heading, json};
use crate::exit_codes;
use crate::failure::Failure;
use crate::io::Console;
use crate::schema_before_after::BEFORE_AFTER;
use crate::schema_clearances::CLEARANCES;
use crate::schema_on_changes::ON_CHANGES;
use crate::schema_on_road::ON_ROAD;
use serde_json::Value;
use wheelpath_geometry::{LengthUnit, Scope, Unit, axle_readings, wheel_readings};
use wheelpath_report::wrap;

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
pub(crate) struct Beside(pub &'static str, pub &'static str, pub Kind, pub &'static str);

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

const BESIDE: &[Beside] = &[
    Beside("all", "output", Text, "Which subcommand wrote it."),
    Beside("all", "output_version", Count, "Version of the keys of this output; 1."),
    Beside("all", "car", Text, "Name of the car; null where the file has a fault."),
    Beside(
        "all",
        "warnings",
        Records,
        "What is doubtful: in `check`, of the file; else stops of steering, damper or joint that the pose exceeds and dead points it is near, in words.",
    ),
    Beside(
        "readings points sensitivity stand bend compare",
        "pose",
        Records,
        "The pose: the travel of each wheel, rack or pitman arm, steering wheel.",
    ),
    Beside(
        "readings points sensitivity stand bend compare limits",
        "front_left_travel",
        Length,
        "Wheel travel, + bump. Also front_right, rear_left, rear_right.",
    ),
    Beside(
        "readings points sensitivity stand bend compare limits",
        "front_right_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    Beside(
        "readings points sensitivity stand bend compare limits",
        "rear_left_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    Beside(
        "readings points sensitivity stand bend compare limits",
        "rear_right_travel",
        Length,
        "Wheel travel, + bump.",
    ),
    Beside(
        "readings points sensitivity sweep clearances stand bend turn compare limits",
        "rack",
        Length,
        "Rack travel, + toward the left; where the axle has a steering box: pitman_deg.",
    ),
    Beside(
        "readings points sensitivity sweep clearances stand bend turn compare limits",
        "pitman_deg",
        Degree,
        "Turn of the steering box's pitman arm, + anticlockwise seen from above; where the axle has one.",
    ),
    Beside(
        "readings points sensitivity sweep clearances stand bend turn compare limits",
        "steering_wheel_deg",
        Degree,
        "Steering-wheel angle, + a left turn; null where nothing steers.",
    ),
    Beside(
        "readings stand bend turn",
        "wheels",
        Records,
        "Readings of each wheel: front_left, front_right, rear_left, rear_right.",
    ),
    Beside("readings stand", "axles", Records, "Readings of each axle: front, rear."),
    Beside("readings stand bend turn", "place", Text, "CSV: the wheel or axle of the row."),
    Beside("readings points stand bend turn", "front_left", Records, "The front left wheel."),
    Beside("readings points stand bend turn", "front_right", Records, "The front right wheel."),
    Beside("readings points stand bend turn", "rear_left", Records, "The rear left wheel."),
    Beside("readings points stand bend turn", "rear_right", Records, "The rear right wheel."),
    Beside("readings points stand bend", "front", Records, "The front axle; in points its own points."),
    Beside("readings points stand bend", "rear", Records, "The rear axle; in points its own points."),
    Beside("sweep sensitivity clearances check import", "axle", Text, "front or rear."),
    Beside(
        "sweep sensitivity points",
        "rows",
        Records,
        "The rows, one a pose or number. Readings of a wheel stand as left_… and right_….",
    ),
    Beside("sweep clearances", "left_travel", Length, "Travel of the left wheel, + bump."),
    Beside("sweep clearances", "right_travel", Length, "Travel of the right wheel, + bump."),
    Beside(
        "sweep points",
        "stop",
        Text,
        "Why the pose cannot be reached: dead_point, out_of_reach; null where it is reached.",
    ),
    Beside("sweep points", "stop_wheel", Text, "The wheel whose linkage stops."),
    Beside("sweep points", "stop_travel", Length, "Travel of the last pose on the way that closes."),
    Beside("sweep points", "stop_rack", Length, "Rack travel of the last pose on the way that closes."),
    Beside(
        "sweep points",
        "stop_pitman_deg",
        Degree,
        "The pitman arm's turn of that pose, where there is one.",
    ),
    Beside("sweep points", "stop_links", Text, "The links that are the reason."),
    Beside(
        "sweep points",
        "exceeds",
        Records,
        "Stops of steering, damper or joint that the pose goes beyond, in words.",
    ),
    Beside(
        "points",
        "points",
        Records,
        "Points of each wheel, by the keys of the car file, and wheel_centre and contact_point; then those of an axle as a whole.",
    ),
    Beside(
        "points",
        "corner",
        Text,
        "CSV: the wheel, or the axle as a whole, of the row. The CSV is a point table that `import` reads.",
    ),
    Beside(
        "points",
        "<wheel or axle>_<point>_x",
        Length,
        "Where poses run, a row a pose: place of the point on the body, + forward; also _y, + left, and _z, + up.",
    ),
    Beside("points", "name", Text, "CSV: the point of the row."),
    Beside("points import", "x", Length, "Place on the body, + forward."),
    Beside("points import", "y", Length, "Place on the body, + left."),
    Beside("points import", "z", Length, "Place on the body, + up."),
    Beside("sensitivity", "side", Text, "Whose reading; null for readings of an axle."),
    Beside(
        "sensitivity",
        "moved",
        Text,
        "Where numbers are changed: both (Y mirrored, signs as on the left), left, right.",
    ),
    Beside("sensitivity", "held", Text, "What stays: design-pose or link-lengths."),
    Beside(
        "sensitivity",
        "reading",
        Text,
        "Key of the reading; its value at the pose stands under its key with unit.",
    ),
    Beside("sensitivity", "rank", Count, "1 moves the reading most."),
    Beside(
        "sensitivity",
        "parameter",
        Text,
        "A point of the car file, wheel_centre, tyre_radius, or a link with _length.",
    ),
    Beside("sensitivity", "of", Text, "Whose number: corner, or axle for those of the axle as a whole."),
    Beside("sensitivity", "coordinate", Text, "x, y or z; null for a length."),
    Beside(
        "sensitivity",
        "slope<unit of the reading>_per",
        Length,
        "Exact derivative of the reading to the number.",
    ),
    Beside("check import", "file", Text, "The file."),
    Beside("check", "faults", Records, "What makes the car impossible."),
    Beside("check", "severity", Text, "CSV: fault or warning."),
    Beside("check import", "line", Count, "Line in the file, from 1."),
    Beside("check import", "column", Count, "Column in the line, in characters, from 1."),
    Beside("check import", "wheel", Text, "The corner it is about; null for the whole car."),
    Beside("check import", "message", Text, "What is the matter."),
    Beside("check import", "hint", Text, "What to do."),
    Beside(
        "check",
        "cause",
        Count,
        "Warnings of one number may have one cause, the first of them to be looked at first.",
    ),
    Beside("check", "reach", Records, "How far the links of each wheel reach, stops not counted."),
    Beside(
        "check",
        "reach_with_stops",
        Records,
        "How far each axle goes, both wheels alike, stops of steering, dampers and joints counted.",
    ),
    Beside(
        "check",
        "other_wheel",
        Length,
        "On a beam axle: the travel at which the other wheel is held; else null.",
    ),
    Beside("check", "droop", Length, "Least travel at which the links close; null where none was met."),
    Beside("check", "bump", Length, "Greatest travel at which the links close; null where none was met."),
    Beside(
        "check",
        "rack_right",
        Length,
        "Rack travel to the right at which they still close; null where none was met.",
    ),
    Beside(
        "check",
        "rack_left",
        Length,
        "Rack travel to the left at which they still close; null where none was met.",
    ),
    Beside("check", "pitman_negative_deg", Degree, "The same for a pitman arm, its negative way."),
    Beside("check", "pitman_positive_deg", Degree, "The same for a pitman arm, its positive way."),
    Beside("check", "droop_links", Text, "The links that are the reason."),
    Beside("check", "bump_links", Text, "The links that are the reason."),
    Beside("check", "rack_right_links", Text, "The links that are the reason."),
    Beside("check", "rack_left_links", Text, "The links that are the reason."),
    Beside("check", "pitman_negative_links", Text, "The links that are the reason."),
    Beside("check", "pitman_positive_links", Text, "The links that are the reason."),
    Beside("check", "droop_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("check", "bump_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("check", "rack_right_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("check", "rack_left_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("check", "pitman_negative_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("check", "pitman_positive_ended_by", Text, "What ends it: links, a stop, or a joint."),
    Beside("import", "saved", Text, "The car file or proposal written; null where none was."),
    Beside("import", "proposal", Text, "Name of the proposal made of the table; only with --as-proposal."),
    Beside("import", "of", Text, "Whose point a proposal moves: a wheel, an axle, or front_both, rear_both."),
    Beside("import", "set", Records, "Points that were set."),
    Beside("import", "point", Text, "A point of the car file, or wheel_centre."),
    Beside("import", "unknown", Records, "Rows whose name is no point."),
    Beside("import", "unused", Records, "Points of the table that their corner has no use for."),
    Beside("import", "missing", Records, "Points that their corner uses but the table lacks: they stay."),
    Beside(
        "import",
        "left_over",
        Records,
        "Those of the missing that nobody measured: a demo car's or stand-in's.",
    ),
    Beside(
        "import",
        "one_sided",
        Records,
        "Points that were the mirror image of one that was set, and stay.",
    ),
    Beside(
        "import",
        "contact_points",
        Count,
        "Rows of a contact point: it follows from the wheel, and is not set.",
    ),
    Beside("import", "name", Text, "The name in the table."),
    Beside("import", "nearest", Text, "The nearest point, if one is near."),
    Beside("import", "from_x", Length, "Where the point was; null where it was not."),
    Beside("import", "from_y", Length, "Where the point was; null where it was not."),
    Beside("import", "from_z", Length, "Where the point was; null where it was not."),
    Beside("schema", "keys", Records, "The rows of this output."),
    Beside("schema", "key", Text, "The key, with its unit."),
    Beside("schema", "outputs", Text, "The outputs that have it."),
    Beside("schema", "unit", Text, "Its unit; empty for plain numbers."),
    Beside(
        "schema",
        "motion",
        Text,
        "Which motion of the axle a rate is of. On an axle whose wheels each move on their own the other wheel makes no difference; on a beam axle it does.",
    ),
    Beside("schema", "sign", Text, "What + and - mean."),
    Beside("schema", "definition", Text, "What it is."),
    Beside("schema", "formula", Text, "How it is computed."),
    Beside("schema", "source", Text, "Where the term or relation comes from."),
    Beside(
        "schema",
        "exit_codes",
        Records,
        "When each subcommand ends with exit code 1; 0 is fine, 2 wrong use.",
    ),
    Beside("schema", "subcommand", Text, "The subcommand."),
    Beside("schema", "ends_with_1_where", Text, "When it ends with exit code 1."),
    Beside("schema", "absent", Text, "Why a value may be null (empty in CSV)."),
];

fn keys(lengths: LengthUnit) -> Vec<Key> {
    let beside = BESIDE.iter().chain(BEFORE_AFTER).chain(ON_ROAD).chain(ON_CHANGES).chain(CLEARANCES).map(
        |Beside(outputs, name, kind, definition)| Key {
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
        key: crate::data::key_of(reading, lengths),
        outputs: match reading.scope {
            Scope::Wheel => {
                "readings and stand (wheel), sweep (as left_… and right_…), sensitivity".to_owned()
            }
            Scope::Axle => "readings and stand (axle), sweep, sensitivity".to_owned(),
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
            json(record)
        }
        Format::Csv => csv(&keys.iter().map(Key::record).collect::<Vec<_>>()),
    };
    io.print(&text)?;
    Ok(0)
}
