//! What commands read: pictures, stashes and plans.

use std::path::Path;

use rowscape::fabric::{Rgb, Stash, StashError};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::{self, Plan};

use super::Failure;
use super::folder::plain;

const MOST_PICTURE: u64 = 512 << 20;
const MOST_PLAN: u64 = 256 << 20;

pub fn read_picture(path: &Path) -> Result<Picture, Failure> {
    let size =
        std::fs::metadata(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    if size.len() > MOST_PICTURE {
        return Err(Failure::at(path, "is larger than 512 MiB").hint("save the picture smaller"));
    }
    let bytes = std::fs::read(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    Picture::decode(&bytes, &Limits::default()).map_err(|error| Failure::at(path, error))
}

pub fn read_stash(path: &Path) -> Result<Stash, Failure> {
    let text = read_stash_text(path)?;
    Stash::read(&text).map_err(|error| stash_failure(path, text, &error))
}

/// The text of a stash file, whatever it says.
pub fn read_stash_text(path: &Path) -> Result<String, Failure> {
    let text = std::fs::read(path).map_err(|error| Failure::at(path, format!("cannot be read: {}", plain(&error))))?;
    String::from_utf8(text).map_err(|_| Failure::at(path, "is not text").hint("a stash is a TOML text file"))
}

/// What is wrong in a stash, with its line.
pub fn stash_failure(path: &Path, text: String, error: &StashError) -> Failure {
    let failure = Failure::at(path, error.message()).hint(error.help());
    match error.span.clone() {
        Some(span) if span.end <= text.len() && span.start <= span.end => failure.underline(path, text, span),
        _ => failure,
    }
}

/// Reads a plan file, or the one in a folder: the plan, and its text as it stands.
pub fn read_plan(path: &Path) -> Result<(Plan, String), Failure> {
    let path = if path.is_dir() { path.join("plan.json") } else { path.to_path_buf() };
    let failed = |error: std::io::Error| {
        Failure::at(&path, format!("cannot be read: {}", plain(&error)))
            .hint("give a plan.json, or the folder that a scene was composed into")
    };
    if std::fs::metadata(&path).map_err(failed)?.len() > MOST_PLAN {
        return Err(Failure::at(&path, "is larger than 256 MiB").hint("compose the scene again"));
    }
    let bytes = std::fs::read(&path).map_err(failed)?;
    let text = String::from_utf8(bytes).map_err(|_| Failure::at(&path, "is not text").hint("give a plan.json"))?;
    let plan = plan::read(&text).map_err(|error| {
        Failure::at(&path, error).hint("give a plan.json as it was written, or compose the scene again")
    })?;
    Ok((plan, text))
}

/// Weights of the cells; empty where all are plain.
pub fn focus(asked: &str, cells: &[Rgb], columns: u32, rows: u32) -> Result<Vec<u8>, Failure> {
    match asked {
        "auto" => Ok(salience(cells, columns, rows)),
        "none" => Ok(Vec::new()),
        mask => {
            let path = Path::new(mask);
            let mask = read_picture(path)?.mask(&Crop::Centre, columns, rows).map_err(|e| Failure::at(path, e))?;
            // Black weighs half, middle grey about plain, white four times.
            Ok(mask.into_iter().map(|level| 2 + (u32::from(level).pow(2) * 14 / 65_025) as u8).collect())
        }
    }
}
