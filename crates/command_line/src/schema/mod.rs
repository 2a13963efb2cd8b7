//! Every key of every JSON and CSV output, collected from the records that declare them.

pub(crate) mod record;

use crate::arguments::subcommands::{Format, SchemaArguments};
use crate::attitude::record::AttitudeOutput;
use crate::bracket::record::BracketOutput;
use crate::check::record::CheckOutput;
use crate::clearances::record::ClearancesOutput;
use crate::compare::record::CompareOutput;
use crate::console::failure::Failure;
use crate::console::key_docs::KeyDocs;
use crate::console::record::{Declared, Heading, Output, csv, json};
use crate::console::streams::Console;
use crate::cornering::record::CorneringOutput;
use crate::exit_codes;
use crate::import::record::{ImportOutput, ImportedProposalOutput};
use crate::limits::record::LimitsOutput;
use crate::points::record::{PointsOutput, PointsRunOutput};
use crate::readings::record::ReadingsOutput;
use crate::schema::record::{KeyRecord, SchemaOutput};
use crate::sensitivity::record::SensitivityOutput;
use crate::sweep::record::SweepOutput;
use crate::turn::record::TurnOutput;
use wheelpath_geometry::LengthUnit;
use wheelpath_report::{folded, wrap};

/// What each output declares. A subcommand that writes JSON or CSV has a line here.
const OUTPUTS: &[fn(&mut KeyDocs, LengthUnit)] = &[
    declare::<ReadingsOutput>,
    declare::<SweepOutput>,
    declare::<PointsOutput>,
    declare::<PointsRunOutput>,
    declare::<SensitivityOutput>,
    declare::<CheckOutput>,
    declare::<ImportOutput>,
    declare::<ImportedProposalOutput>,
    declare::<SchemaOutput>,
    declare::<AttitudeOutput>,
    declare::<CorneringOutput>,
    declare::<TurnOutput>,
    declare::<CompareOutput>,
    declare::<LimitsOutput>,
    declare::<BracketOutput>,
    declare::<ClearancesOutput>,
];

fn declare<O: Output>(docs: &mut KeyDocs, lengths: LengthUnit) {
    docs.of_output(O::NAME, O::ALWAYS_IN.unwrap_or(lengths));
    Heading::declare(docs);
    O::declare(docs);
    O::Row::declare(docs);
}

/// The readings, then every other key.
fn keys(lengths: LengthUnit) -> Vec<KeyRecord> {
    let mut docs = KeyDocs::new(lengths);
    OUTPUTS.iter().for_each(|declare| declare(&mut docs, lengths));
    let readings = docs.documented_readings().map(|(reading, outputs)| KeyRecord {
        key: format!("{}{}", reading.key, reading.unit.key_suffix(lengths)),
        outputs,
        unit: reading.unit.data_symbol(lengths).to_owned(),
        motion: reading.motion.in_words(),
        sign: reading.sign,
        definition: format!("{}. {}", reading.name, reading.definition),
        formula: reading.formula,
        source: reading.source,
        absent: reading.absent,
    });
    let others = docs.keys().iter().map(|doc| KeyRecord {
        key: doc.key.clone(),
        outputs: docs.outputs_of(doc),
        unit: doc.unit.clone(),
        motion: "",
        sign: "",
        definition: doc.words.clone(),
        formula: "",
        source: "",
        absent: "",
    });
    readings.chain(others).collect()
}

impl KeyRecord {
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
    let lengths = arguments.output.units.lengths(io);
    let keys = keys(lengths);
    let text = match arguments.output.format {
        Format::Table => {
            let head = "Keys of the JSON and CSV outputs. Units stand at the end of the key. Lengths are in \
                        mm, or of a car whose file counts in inches, or with --units inch, in inches and _in. A value that does not exist is null, in \
                        CSV empty. Vehicle axes: X forward, Y left, Z up (ISO 8855).";
            let words: Vec<String> = keys.iter().map(KeyRecord::words).collect();
            format!("{}\n\n{}\n{}", wrap(head, 96, ""), words.join("\n"), exit_codes::in_words())
        }
        Format::Json => json(&SchemaOutput { keys, exit_codes: exit_codes::records() }, lengths)?,
        Format::Csv => csv::<SchemaOutput>(&keys, lengths)?,
    };
    io.print(&text)?;
    Ok(0)
}
