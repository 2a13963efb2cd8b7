//! The executable: hands the command line to its library.

use std::io::{BufWriter, Write, stderr, stdout};
use std::process::ExitCode;
#[cfg(feature = "window")]
use wheelpath::frontend::WithWindow as Here;
#[cfg(not(feature = "window"))]
use wheelpath_command_line::WithoutWindow as Here;
use wheelpath_command_line::run;

fn main() -> ExitCode {
    // Neither is locked: other threads of a window may want to write too.
    let mut out = BufWriter::new(stdout());
    let code = run(std::env::args_os(), &mut out, &mut stderr(), &Here);
    // `run` has flushed; a reader that is gone is no reason to fail now.
    let _ = out.flush();
    ExitCode::from(code)
}
