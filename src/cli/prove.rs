//! `proof`: cuts and sews on paper what a folder holds.

use std::path::PathBuf;

use clap::Args;
use rowscape::job;
use rowscape::proof::{Files, Folder};

use super::Failure;
use super::read::{MOST_PLAN, bounded, bounded_text};

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape proof lighthouse")]
pub struct ProofArguments {
    /// Folder that a scene was composed into
    pub(super) folder: PathBuf,
}

pub fn run(arguments: &ProofArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let again = |failure: Failure| failure.or_hint("write the scene again");
    let text = |name: &str| bounded_text(&folder.join(name), MOST_PLAN).map_err(again);
    let (plan, rows, cutting) = (text("plan.json")?, text("rows.csv")?, text("cutting.csv")?);
    let (cloth, leftovers, svg) = (text("cloth.csv")?, text("leftovers.toml")?, text("picture.svg")?);
    let png = bounded(&folder.join("picture.png"), MOST_PLAN).map_err(again)?;
    let list = text("build-list.html")?;
    let stencil = folder.join(job::STENCIL).exists().then(|| text(job::STENCIL)).transpose()?;
    let files = Files { plan: &plan, rows: &rows, cutting: &cutting, cloth: &cloth };
    let pictured = folder.join(job::PRINTS);
    let prints = pictured.exists().then(|| bounded(&pictured, MOST_PLAN).map_err(again)).transpose()?;
    let (stencil, prints) = (stencil.as_deref(), prints.as_deref());
    let proven =
        job::prove(&Folder { files, svg: &svg, png: &png, list: &list, leftovers: &leftovers, stencil, prints })
            .map_err(|fault| Failure::at(folder, &fault).hint(&fault.hint))?;
    Ok(format!("{proven}\n"))
}
