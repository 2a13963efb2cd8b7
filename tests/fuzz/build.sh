#!/usr/bin/env bash
# Builds the fuzz targets with coverage counters, as `cargo fuzz build --sanitizer none` would; no nightly
# compiler, no cargo-fuzz. Says where they are. WHEELPATH_FUZZ_FLAGS adds compiler flags.
set -euo pipefail
cd "$(dirname "$0")"
target="${CARGO_TARGET_DIR:-$HOME/.cache/wheelpath-target}/fuzz"
host="$(rustc -vV | sed -n 's/^host: //p')"
coverage="-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
-Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
-Cllvm-args=-simplifycfg-branch-fold-threshold=0 --cfg fuzzing"
# Compares are not traced: it halves the solver's pace, and words of a file come from the dictionaries.
# With --target, build scripts and macros stay as they are.
RUSTFLAGS="$coverage ${WHEELPATH_FUZZ_FLAGS:-}" CARGO_INCREMENTAL=0 \
    cargo build --locked --release --target "$host" --target-dir "$target" --bins >&2
echo "$target/$host/release"
