//! Proposals, limits and brackets: read, written, read again.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};
use wheelpath_fuzz::{beside_car, mutation};

fuzz_target!(|input: &str| {
    beside_car::try_text(input);
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    mutation::mutated(data, size, max_size, seed, &mutation::BESIDE_WORDS, fuzzer_mutate)
});
