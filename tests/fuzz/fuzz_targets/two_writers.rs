//! Two who save into one folder at once.
#![no_main]

use libfuzzer_sys::fuzz_target;
use std::fs;
use wheelpath_fuzz::two_writers::{Race, try_race};

fuzz_target!(|race: Race| {
    let folder = std::env::temp_dir().join(format!("wheelpath-two-writers-{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap_or_else(|error| panic!("{error}"));
    try_race(&race, &folder);
    let _ = fs::remove_dir_all(&folder);
});
