//! `stash check`: what a stash holds and what is doubtful in it.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::render;

use super::file::{free, write};
use crate::cli::Failure;
use crate::cli::read::read_stash;
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
    let stash = read_stash(&arguments.file)?;
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
