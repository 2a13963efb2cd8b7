//! A point table: imported, written, imported again.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};
use wheelpath_fuzz::{mutation, point_table};

fuzz_target!(|input: &str| {
    point_table::try_table(input);
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    mutation::mutated(data, size, max_size, seed, &mutation::TABLE_WORDS, fuzzer_mutate)
});
