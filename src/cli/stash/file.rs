//! One file written whole or not at all.

use std::io::Write;
use std::path::Path;

use atomic_write_file::AtomicWriteFile;

use crate::cli::Failure;
use crate::cli::folder::plain;

/// Refuses a path that is taken, unless it is a file and may be replaced.
pub fn free(path: &Path, replace: bool) -> Result<(), Failure> {
    if path.is_dir() {
        return Err(Failure::at(path, "is a folder where a file is to go").hint("give a file's name"));
    }
    if path.exists() && !replace {
        return Err(
            Failure::at(path, "is there already").hint("give another name, or --replace to write over that file")
        );
    }
    Ok(())
}

/// Writes the file.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error: std::io::Error| {
        Failure::at(path, format!("cannot be written: {}", plain(&error))).hint("give a folder that is there")
    };
    let mut file = AtomicWriteFile::open(path).map_err(failed)?;
    file.write_all(bytes).map_err(failed)?;
    file.commit().map_err(failed)
}
