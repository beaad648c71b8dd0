//! `stash`: a stash looked through, and families proposed for it.

mod check;
mod families;
mod file;

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

pub fn run(arguments: &StashArguments) -> Result<String, Failure> {
    match &arguments.command {
        StashCommand::Check(arguments) => check::run(arguments),
        StashCommand::Families(arguments) => families::run(arguments),
    }
}
