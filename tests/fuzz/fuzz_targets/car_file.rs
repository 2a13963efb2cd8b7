//! The text of a car file: parsed, saved, parsed again.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};
use wheelpath_fuzz::{car_file, mutation};

fuzz_target!(|text: &str| {
    car_file::try_text(text);
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    mutation::mutated(data, size, max_size, seed, &mutation::CAR_WORDS, fuzzer_mutate)
});
