//! The command line, run in this process: words in; exit code, results and complaints out.

mod data;
mod exit_codes;
mod import;
mod numbers;
mod people;
mod support;
mod without_window;
