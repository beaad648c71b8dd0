//! One file written whole or not at all.

use std::path::Path;

use crate::cli::Failure;
use crate::cli::failure::plain;
use crate::cli::folder::spare;
use crate::cli::read::folder;
use crate::cli::staging::{New, There, lock, put, recover_held};
use crate::cli::stop::writing;

/// Refuses a path that is taken, unless it is a file that the maker names to be replaced, and not the one being read.
pub fn free(path: &Path, replace: bool, reading: &Path) -> Result<(), Failure> {
    if path.is_dir() {
        return Err(Failure::at(path, "is a folder where a file is to go").hint("give a file's name"));
    }
    if replace {
        spare(path, &[reading]).map_err(|failure| failure.hint("give another name"))?;
    }
    match There::at(path) {
        Ok(There::File(_)) if !replace => {
            Err(Failure::at(path, "is there already").hint("give another name, or --replace to write over that file"))
        }
        Ok(There::Other) => Err(Failure::at(path, "is a link or a pipe, not a file").hint("give another name")),
        Ok(_) => Ok(()),
        Err(error) => Err(Failure::at(path, format!("cannot be read: {}", plain(&error)))),
    }
}

/// Writes the file.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let unnamed = || Failure::at(path, "cannot be written").hint("give a file's name");
    let name = path.file_name().and_then(|name| name.to_str()).ok_or_else(unnamed)?;
    let folder = folder(path);
    let _writing = writing();
    let written = || {
        let held = lock(folder)?;
        recover_held(folder, &held)?;
        let old = There::at(path).map_err(|error| Failure::at(path, plain(&error)))?;
        put(folder, 0, &[New { name, bytes, old }], &held)
    };
    written().map_err(|failure: Failure| failure.or_hint("give a folder that is there"))
}
