//! `proof`: cuts and sews on paper what a folder holds.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::proof::{Files, Folder, prove_folder};

use super::Failure;
use super::folder::plain;

#[derive(Args)]
#[command(after_help = "Example:\n  rowscape proof lighthouse")]
pub struct ProofArguments {
    /// Folder that a scene was composed into
    folder: PathBuf,
}

const MOST_BYTES: u64 = 256 << 20;

pub fn run(arguments: &ProofArguments) -> Result<String, Failure> {
    let folder = &arguments.folder;
    let text = |name: &str| text(folder, name);
    let (plan, rows, cutting) = (text("plan.json")?, text("rows.csv")?, text("cutting.csv")?);
    let (cloth, leftovers, svg) = (text("cloth.csv")?, text("leftovers.toml")?, text("picture.svg")?);
    let files = Files { plan: &plan, rows: &rows, cutting: &cutting, cloth: &cloth };
    let png = bytes(folder, "picture.png")?;
    let proven = prove_folder(&Folder { files, svg: &svg, png: &png, leftovers: &leftovers })
        .map_err(|fault| Failure::at(folder, &fault).hint(&fault.hint))?;
    Ok(format!("{proven}\n"))
}

fn text(folder: &Path, name: &str) -> Result<String, Failure> {
    let not_text = |_| Failure::at(&folder.join(name), "is not text").hint("write the scene again");
    String::from_utf8(bytes(folder, name)?).map_err(not_text)
}

fn bytes(folder: &Path, name: &str) -> Result<Vec<u8>, Failure> {
    let path = folder.join(name);
    let failed = |error: std::io::Error| Failure::at(&path, format!("cannot be read: {}", plain(&error)));
    if std::fs::metadata(&path).map_err(failed)?.len() > MOST_BYTES {
        return Err(Failure::at(&path, "is larger than 256 MiB").hint("write the scene again"));
    }
    std::fs::read(&path).map_err(failed)
}
