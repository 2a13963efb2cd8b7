//! The schema for programs.

use crate::console::record::{Output, record};
use crate::exit_codes::ExitCodeRecord;

record! {
    /// The keys of every output, and what exit codes mean.
    pub(crate) struct SchemaOutput {
        /// The rows of this output.
        keys: Vec<KeyRecord>,
        /// When each subcommand ends with exit code 1; 0 is fine, 2 wrong use.
        exit_codes: Vec<ExitCodeRecord>,
    }
}

impl Output for SchemaOutput {
    const NAME: &'static str = "schema";
    type Row = KeyRecord;
}

record! {
    /// A key as it is documented.
    pub(crate) struct KeyRecord {
        /// The key, with its unit.
        key: String,
        /// The outputs that have it.
        outputs: String,
        /// Its unit; empty for plain numbers.
        unit: String,
        /// Which motion of the axle a rate is of. On an axle whose wheels each move on their own the other wheel makes no
        /// difference; on a beam axle it does.
        motion: &'static str,
        /// What + and - mean.
        sign: &'static str,
        /// What it is.
        definition: String,
        /// How it is computed.
        formula: &'static str,
        /// Where the term or relation comes from.
        source: &'static str,
        /// Why a value may be null (empty in CSV).
        absent: &'static str,
    }
}
