//! Schemas, completions and manual pages.

use std::path::PathBuf;

use clap::{Args, CommandFactory, ValueEnum};
use clap_complete::Shell;

use super::folder::plain;
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
    folder: PathBuf,
}

pub fn schema(arguments: &SchemaArguments) -> String {
    match arguments.of {
        SchemaOf::Plan => rowscape::plan::schema(),
        SchemaOf::Stash => format!("{:#}\n", rowscape::fabric::stash_schema().as_value()),
    }
}

pub fn completions(arguments: &CompletionsArguments) -> String {
    let mut bytes = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "rowscape", &mut bytes);
    String::from_utf8_lossy(&bytes).into_owned()
}

pub fn man(arguments: &ManArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let failed = |error: std::io::Error| Failure::at(folder, format!("cannot be written: {}", plain(&error)));
    std::fs::create_dir_all(folder).map_err(failed)?;
    clap_mangen::generate_to(Arguments::command(), folder).map_err(failed)?;
    Ok(format!("manual pages written to {}\n", folder.display()))
}
