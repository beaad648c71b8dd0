//! `proof`: cuts and sews on paper what a folder holds.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::proof::{Files, prove};

use super::Failure;
use super::folder::plain;

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape proof lighthouse")]
pub struct ProofArguments {
    /// Folder with plan.json, rows.csv, cutting.csv and cloth.csv
    folder: PathBuf,
}

const MOST_BYTES: u64 = 256 << 20;

pub fn run(arguments: &ProofArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let [plan, rows, cutting, cloth] =
        ["plan.json", "rows.csv", "cutting.csv", "cloth.csv"].map(|name| read(folder, name));
    let (plan, rows, cutting, cloth) = (plan?, rows?, cutting?, cloth?);
    let proven = prove(&Files { plan: &plan, rows: &rows, cutting: &cutting, cloth: &cloth })
        .map_err(|fault| Failure::at(folder, &fault).hint(&fault.hint))?;
    Ok(format!("{proven}\n"))
}

fn read(folder: &Path, name: &str) -> Result<String, Failure> {
    let path = folder.join(name);
    let failed = |error: std::io::Error| Failure::at(&path, format!("cannot be read: {}", plain(&error)));
    if std::fs::metadata(&path).map_err(failed)?.len() > MOST_BYTES {
        return Err(Failure::at(&path, "is larger than 256 MiB").hint("write the scene again"));
    }
    let bytes = std::fs::read(&path).map_err(failed)?;
    String::from_utf8(bytes).map_err(|_| Failure::at(&path, "is not text").hint("write the scene again"))
}
