//! A car and its poses, built from bytes: checked, solved, read.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wheelpath_fuzz::{case::Case, solver};

fuzz_target!(|case: Case| {
    solver::try_case(&case);
});
