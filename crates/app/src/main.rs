//! The executable: hands the command line to its library, and the window to it.

use std::io::{BufWriter, Write, stderr, stdout};
use std::process::ExitCode;
use wheelpath_command_line::{WithoutWindow, run};

fn main() -> ExitCode {
    let mut out = BufWriter::new(stdout().lock());
    let code = run(std::env::args_os(), &mut out, &mut stderr().lock(), &WithoutWindow);
    // `run` has flushed; a reader that is gone is no reason to fail now.
    let _ = out.flush();
    ExitCode::from(code)
}
