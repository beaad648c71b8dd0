//! Schemas, completions and manual pages.

use std::path::PathBuf;

use clap::{Args, Command, CommandFactory, ValueEnum};
use clap_complete::Shell;
use rowscape::plan::digest;

use super::folder::Folder;
use super::staging::There;
use super::{Arguments, Failure};

#[derive(Args)]
#[command(after_help = "Examples:\n  rowscape schema > plan.schema.json\n  rowscape schema stash > stash.schema.json")]
pub struct SchemaArguments {
    /// Which kind of file
    #[arg(value_enum, default_value = "plan")]
    of: SchemaOf,
}

#[derive(Clone, Copy, ValueEnum)]
enum SchemaOf {
    /// `plan.json`
    Plan,
    /// A stash, as JSON would say it
    Stash,
    /// What can be asked of a scene
    Brief,
    /// What can be changed of one
    Change,
    /// What comes back
    Answer,
}

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape completions bash > rowscape.bash")]
pub struct CompletionsArguments {
    /// The shell
    shell: Shell,
}

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape man manual-pages")]
pub struct ManArguments {
    /// Folder to write them into; made if it is not there
    pub(super) folder: PathBuf,
}

pub fn schema(arguments: &SchemaArguments) -> String {
    match arguments.of {
        SchemaOf::Plan => rowscape::plan::schema(),
        SchemaOf::Stash => format!("{:#}\n", rowscape::fabric::stash_schema().as_value()),
        SchemaOf::Brief => rowscape::job::brief_schema(),
        SchemaOf::Change => rowscape::job::change_schema(),
        SchemaOf::Answer => rowscape::answer::schema(),
    }
}

pub fn completions(arguments: &CompletionsArguments) -> String {
    let mut bytes = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "rowscape", &mut bytes);
    String::from_utf8_lossy(&bytes).into_owned()
}

pub fn man(arguments: &ManArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let mut command = Arguments::command().disable_help_subcommand(true);
    command.build();
    let mut pages = Vec::new();
    page(command, &mut pages).map_err(Failure::new)?;
    // A page that is there already, to the last byte, may stay.
    let there = |name: &str| There::at(&folder.join(name)).unwrap_or(There::Other);
    pages.retain(|(name, bytes)| there(name) != There::File(digest(bytes)));
    if let Some((name, _)) = pages.iter().find(|(name, _)| there(name) != There::Nothing) {
        return Err(Failure::at(&folder.join(name), "is there already, and is not the page that would be written")
            .hint("move it elsewhere, or give another folder"));
    }
    let names: Vec<&str> = pages.iter().map(|(name, _)| name.as_str()).collect();
    let contents: Vec<&[u8]> = pages.iter().map(|(_, bytes)| bytes.as_slice()).collect();
    Folder::open(folder, &names, false, &[])?.write(&contents)?;
    Ok(format!("manual pages written to {}\n", folder.display()))
}

/// The command's page, after those of its commands.
fn page(command: Command, pages: &mut Vec<(String, Vec<u8>)>) -> std::io::Result<()> {
    for command in command.get_subcommands().filter(|command| !command.is_hide_set()).cloned() {
        page(command, pages)?;
    }
    let man = clap_mangen::Man::new(command);
    let mut bytes = Vec::new();
    man.render(&mut bytes)?;
    pages.push((man.get_filename(), bytes));
    Ok(())
}
