//! What commands read: pictures, stashes and plans.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use rowscape::fabric::{Stash, StashError, printable};
use rowscape::plan::{self, Plan};

use super::Failure;
use super::failure::plain;

const MOST_PICTURE: u64 = 512 << 20;
/// The most bytes of a plan, and of each file beside it.
pub const MOST_PLAN: u64 = 256 << 20;

/// A whole file, if it is an ordinary one with at most so many bytes.
pub fn bounded(path: &Path, most: u64) -> Result<Vec<u8>, Failure> {
    let failed = |error: std::io::Error| Failure::at(path, format!("cannot be read: {}", plain(&error)));
    let found = std::fs::metadata(path).map_err(failed)?;
    if !found.is_file() {
        let what = if found.is_dir() { "a folder" } else { "a device or a pipe, not a file" };
        return Err(Failure::at(path, format!("cannot be read: it is {what}")).hint("give an ordinary file"));
    }
    // Counted while it is read: a file may grow, and some say nothing of their size.
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(most + 1).read_to_end(&mut bytes)).map_err(failed)?;
    if bytes.len() as u64 > most {
        let what = format!("is larger than the {} MiB that are read", most >> 20);
        return Err(Failure::at(path, what).hint("give a smaller file"));
    }
    Ok(bytes)
}

/// The same for a text.
pub fn bounded_text(path: &Path, most: u64) -> Result<String, Failure> {
    String::from_utf8(bounded(path, most)?).map_err(|_| Failure::at(path, "is not text"))
}

/// A picture's bytes.
pub fn read_picture(path: &Path) -> Result<Vec<u8>, Failure> {
    bounded(path, MOST_PICTURE)
}

/// The text of a stash file, whatever it says.
pub fn read_stash(path: &Path) -> Result<String, Failure> {
    bounded_text(path, Stash::MOST_BYTES as u64).map_err(|failure| failure.or_hint("a stash is a TOML text file"))
}

/// A file's name as it is printed.
pub fn file_name(path: &Path) -> String {
    path.file_name().map(|name| printable(&name.to_string_lossy())).unwrap_or_default()
}

/// What is wrong in a stash, with its line.
pub fn stash_failure(path: &Path, text: &str, error: &StashError) -> Failure {
    let failure = Failure::at(path, error.message()).hint(error.help());
    match error.span.clone() {
        Some(span) if span.end <= text.len() && span.start <= span.end => failure.underline(path, text, span),
        _ => failure,
    }
}

/// The folder of a file.
pub fn folder(path: &Path) -> &Path {
    path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The folder of a scene that is named by itself or by its plan.
pub fn scene(path: &Path) -> &Path {
    if path.is_dir() { path } else { folder(path) }
}

/// Reads a plan file, or the one in a folder: the plan, and its text as it stands.
pub fn read_plan(path: &Path) -> Result<(Plan, String), Failure> {
    let path = if path.is_dir() { path.join("plan.json") } else { path.to_path_buf() };
    let hint = "give a plan.json, or the folder that a scene was composed into";
    let text = bounded_text(&path, MOST_PLAN).map_err(|failure| failure.or_hint(hint))?;
    let plan = plan::read(&text).map_err(|error| {
        Failure::at(&path, error).hint("give a plan.json as it was written, or compose the scene again")
    })?;
    Ok((plan, text))
}
