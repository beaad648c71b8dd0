//! `stash`: a stash looked through, families proposed for it, and one made of photos.

mod check;
mod families;
mod file;
mod photo;

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
    /// Make a stash of photos of fabrics: find the prints, with their colours and small pictures of them
    Photo(Box<photo::PhotoArguments>),
}

impl StashArguments {
    /// The file that is read, and the one that is written.
    pub(super) fn files(&self) -> Vec<&Path> {
        let (read, written) = match &self.command {
            StashCommand::Photo(arguments) => return arguments.paths().collect(),
            StashCommand::Check(arguments) => (&arguments.file, &arguments.picture),
            StashCommand::Families(arguments) => (&arguments.file, &arguments.out),
        };
        std::iter::once(read).chain(written).map(PathBuf::as_path).collect()
    }
}

pub fn run(arguments: &StashArguments) -> Result<String, Failure> {
    match &arguments.command {
        StashCommand::Check(arguments) => check::run(arguments),
        StashCommand::Families(arguments) => families::run(arguments),
        StashCommand::Photo(arguments) => photo::run(arguments),
    }
}
