//! `stash check`: what a stash holds and what is doubtful in it.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::{job, render};

use super::file::{free, write};
use crate::cli::Failure;
use crate::cli::read::{read_stash, stash_failure};
use crate::cli::screen::width;

#[derive(Args)]
#[command(
    after_help = "Examples:\n  rowscape stash check sample-sketches/stash-two-packs.toml\n  rowscape stash check my-fabrics.toml --picture my-fabrics.png"
)]
pub struct CheckArguments {
    /// The stash, a TOML file
    pub(super) file: PathBuf,
    /// Also draw its swatches, into this PNG file
    #[arg(long, value_name = "FILE")]
    pub(super) picture: Option<PathBuf>,
    /// Write over a picture that is there
    #[arg(long)]
    replace: bool,
}

pub fn run(arguments: &CheckArguments) -> Result<String, Failure> {
    let text = read_stash(&arguments.file)?;
    let stash = job::look_through(&text).map_err(|error| stash_failure(&arguments.file, &text, &error))?.stash;
    let mut text = format!("{}\n{}", arguments.file.display(), render::stash_account(&stash, width()));
    if let Some(picture) = &arguments.picture {
        free(picture, arguments.replace, &arguments.file)?;
        write(picture, &render::stash_png(&stash, &title(&arguments.file)).map_err(Failure::new)?)?;
        text += &format!("  {:<10}{}\n", "written", picture.display());
    }
    Ok(text)
}

/// `Stash harbour`, from the file's name.
fn title(path: &Path) -> String {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().replace(['-', '_'], " ")).unwrap_or_default();
    let mut letters = stem.trim().chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => "Stash".into(),
    }
}
