//! The command line: parse, dispatch, print; nothing else prints.

mod cli;

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use clap::Parser;

/// The exit code of every refusal.
const REFUSED: u8 = 2;

fn main() -> ExitCode {
    rowscape::picture::hush_contained_panics();
    cli::watch(|code, written| {
        warn(if written { "stopped, when all was written already" } else { "stopped: nothing was written" });
        std::process::exit(code)
    });
    let arguments = cli::Arguments::parse();
    let recovered = arguments.recover().map(|notes| notes.iter().for_each(|note| warn(note)));
    match recovered.and_then(|()| cli::run(arguments)) {
        Ok(text) => say(&text),
        Err(failure) => {
            warn(&format!("{:?}", miette::Report::new(failure)));
            ExitCode::from(REFUSED)
        }
    }
}

/// Prints beside the account.
fn warn(line: &str) {
    let _ = writeln!(std::io::stderr(), "{line}");
}

/// Prints; a closed pipe is a quiet end.
fn say(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(rowscape::fabric::printable_lines(text).as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            warn(&format!("the account cannot be printed: {error}"));
            ExitCode::from(REFUSED)
        }
    }
}
