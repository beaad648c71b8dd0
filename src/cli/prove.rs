//! `proof`: cuts and sews on paper what a folder holds.

use std::path::PathBuf;

use clap::Args;
use rowscape::proof::{Files, prove};

use super::Failure;
use super::read::{MOST_PLAN, bounded_text};

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape proof lighthouse")]
pub struct ProofArguments {
    /// Folder with plan.json, rows.csv, cutting.csv and cloth.csv
    pub(super) folder: PathBuf,
}

pub fn run(arguments: &ProofArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let [plan, rows, cutting, cloth] = ["plan.json", "rows.csv", "cutting.csv", "cloth.csv"].map(|name| {
        bounded_text(&folder.join(name), MOST_PLAN).map_err(|failure| failure.or_hint("write the scene again"))
    });
    let (plan, rows, cutting, cloth) = (plan?, rows?, cutting?, cloth?);
    let proven = prove(&Files { plan: &plan, rows: &rows, cutting: &cutting, cloth: &cloth })
        .map_err(|fault| Failure::at(folder, &fault).hint(&fault.hint))?;
    Ok(format!("{proven}\n"))
}
