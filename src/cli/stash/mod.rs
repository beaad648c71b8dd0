//! `stash`: a stash looked through, and families proposed for it.

mod check;
mod families;
mod file;

use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use super::Failure;

#[derive(Args)]
pub struct StashArguments {
    #[command(subcommand)]
    command: StashCommand,
}

#[derive(Subcommand)]
enum StashCommand {
    /// Show what a stash holds, what its squares could give, and what is doubtful in it
    Check(check::CheckArguments),
    /// Propose a family for each fabric that has none, by colour; the rest of the file stays as it is
    Families(families::FamiliesArguments),
}

impl StashArguments {
    /// The file that is read, and the one that is written.
    pub(super) fn files(&self) -> impl Iterator<Item = &Path> {
        let (read, written) = match &self.command {
            StashCommand::Check(arguments) => (&arguments.file, &arguments.picture),
            StashCommand::Families(arguments) => (&arguments.file, &arguments.out),
        };
        std::iter::once(read).chain(written).map(PathBuf::as_path)
    }
}

pub fn run(arguments: &StashArguments) -> Result<String, Failure> {
    match &arguments.command {
        StashCommand::Check(arguments) => check::run(arguments),
        StashCommand::Families(arguments) => families::run(arguments),
    }
}
