//! The commands: arguments in, files and an account out.

mod advise;
mod audition;
mod compose;
mod estimate;
mod failure;
mod files;
mod finish;
mod folder;
mod given;
mod hint;
mod packets;
mod pages;
mod prove;
mod read;
mod request;
mod revise;
mod screen;
mod sizes;
mod staging;
mod stash;
mod stop;

use std::path::Path;

use clap::{Parser, Subcommand};

pub use failure::Failure;

/// From a photo or sketch to a scene that can be pieced, and the work for it, row by row.
#[derive(Parser)]
#[command(name = "rowscape", version, about, max_term_width = 100)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Compose a scene from a picture and write the work for it
    Compose(Box<compose::ComposeArguments>),
    /// Try a scene in other stashes, side by side on one contact sheet
    Audition(audition::AuditionArguments),
    /// Change a scene: keep what is sewn or to be kept, turn, exchange or leave out, and compose the rest again
    Revise(Box<revise::ReviseArguments>),
    /// Ask what to do about a row, or what one square or print more would do; nothing is changed
    Advise(advise::AdviseArguments),
    /// Estimate how long scenes take to sew, side by side, and what their cloth costs; nothing is changed
    Estimate(estimate::EstimateArguments),
    /// Write every file of a scene anew from its plan, a trial's included
    Files(files::FilesArguments),
    /// Share a scene out among several sewers: a page and labels for each, and what to measure where packets meet
    Packets(packets::PacketsArguments),
    /// Show what a cut square gives: two, four and eight at a time, trimmed units and slices
    Sizes(sizes::SizesArguments),
    /// Look a stash through: what there is, what it could give, what is doubtful; propose its families; or make one of photos
    Stash(stash::StashArguments),
    /// Sew on paper what was written into a folder, and compare it with its plan
    Proof(prove::ProofArguments),
    /// Print the JSON Schema of plans, stashes, and of what a program asks and is answered
    Schema(pages::SchemaArguments),
    /// Print completions for a shell
    Completions(pages::CompletionsArguments),
    /// Write the manual pages into a folder
    Man(pages::ManArguments),
}

impl Arguments {
    /// The folders that the command reads from or writes to.
    fn folders(&self) -> Vec<&Path> {
        match &self.command {
            Command::Compose(all) => all.reading().into_iter().map(read::folder).chain([all.out.as_path()]).collect(),
            Command::Audition(all) => {
                let stashes = all.stash.iter().map(|path| read::folder(path));
                stashes.chain([read::scene(&all.plan), &all.out]).collect()
            }
            Command::Revise(all) => {
                let read = all.reading().into_iter().map(read::folder);
                read.chain([read::scene(&all.plan), &all.out]).collect()
            }
            Command::Files(all) => vec![read::scene(&all.plan), &all.out],
            Command::Packets(all) => vec![read::scene(&all.plan), &all.out],
            Command::Stash(all) => all.files().into_iter().map(read::folder).collect(),
            Command::Advise(all) => vec![read::scene(&all.plan)],
            Command::Estimate(all) => all.plans.iter().map(|plan| read::scene(plan)).collect(),
            Command::Proof(all) => vec![&all.folder],
            Command::Man(all) => vec![&all.folder],
            Command::Sizes(_) | Command::Schema(_) | Command::Completions(_) => Vec::new(),
        }
    }

    /// Finishes or takes back what an earlier run was cut off in, in every folder of this one: a line for each.
    pub fn recover(&self) -> Result<Vec<String>, Failure> {
        let notes = self.folders().into_iter().map(staging::recover);
        notes.filter_map(Result::transpose).collect()
    }
}

/// Calls `end` with the exit code, and with whether all was written, when a signal comes; the screen's line is clear then.
pub fn watch(end: impl Fn(i32, bool) + Send + 'static) {
    stop::watch(move |code, written| {
        screen::progress("");
        end(code, written);
    });
}

/// Runs one command and gives what it has to say.
pub fn run(arguments: Arguments) -> Result<String, Failure> {
    match arguments.command {
        Command::Compose(arguments) => compose::run(&arguments),
        Command::Audition(arguments) => audition::run(&arguments),
        Command::Revise(arguments) => revise::run(&arguments),
        Command::Advise(arguments) => advise::run(&arguments),
        Command::Estimate(arguments) => estimate::run(&arguments),
        Command::Files(arguments) => files::run(&arguments),
        Command::Packets(arguments) => packets::run(&arguments),
        Command::Sizes(arguments) => sizes::run(&arguments),
        Command::Stash(arguments) => stash::run(&arguments),
        Command::Proof(arguments) => prove::run(&arguments),
        Command::Schema(arguments) => Ok(pages::schema(&arguments)),
        Command::Completions(arguments) => Ok(pages::completions(&arguments)),
        Command::Man(arguments) => pages::man(&arguments),
    }
}
