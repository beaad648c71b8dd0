//! The command line: parse, dispatch, print; nothing else prints.

mod cli;

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use clap::Parser;

/// The exit code of every refusal.
const REFUSED: u8 = 2;

fn main() -> ExitCode {
    rowscape::picture::hush_contained_panics();
    match cli::run(cli::Arguments::parse()) {
        Ok(text) => say(&text),
        Err(failure) => {
            let _ = writeln!(std::io::stderr(), "{:?}", miette::Report::new(failure));
            ExitCode::from(REFUSED)
        }
    }
}

/// Prints; a closed pipe is a quiet end.
fn say(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(rowscape::fabric::printable_lines(text).as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(std::io::stderr(), "the account cannot be printed: {error}");
            ExitCode::from(REFUSED)
        }
    }
}
