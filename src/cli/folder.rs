//! The folder that a scene is written into: all of it or nothing.

use std::io::Write;
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;

use super::Failure;

/// Files that are written together.
pub struct Folder {
    /// Folders that were made for them, outermost first.
    made: Vec<PathBuf>,
    files: Vec<(PathBuf, AtomicWriteFile)>,
}

impl Folder {
    /// Opens every file before the slow part; refuses a folder that holds one of them, unless `replace`.
    pub fn open(path: &Path, names: &[&str], replace: bool) -> Result<Self, Failure> {
        if path.exists() && !path.is_dir() {
            return Err(Failure::at(path, "is a file").hint("give --out a folder, which may be new"));
        }
        if let Some(name) = names.iter().find(|name| path.join(name).is_dir()) {
            return Err(Failure::at(&path.join(name), "is a folder where a file is to go").hint("give another folder"));
        }
        let taken = names.iter().find(|name| path.join(name).exists());
        if let Some(name) = taken.filter(|_| !replace) {
            return Err(Failure::at(path, format!("already holds a scene ({name})"))
                .hint("give another folder, or --replace to write over that scene"));
        }
        let mut folder = Self { made: missing(path), files: Vec::new() };
        std::fs::create_dir_all(path)
            .map_err(|error| Failure::at(path, format!("cannot be made: {}", plain(&error))))?;
        for name in names {
            let file = path.join(name);
            let opened = AtomicWriteFile::open(&file);
            let opened = opened.map_err(|error| Failure::at(&file, format!("cannot be written: {}", plain(&error))))?;
            folder.files.push((file, opened));
        }
        Ok(folder)
    }

    /// Writes the files, in the order of their names, and then puts all of them in place.
    pub fn write(mut self, contents: &[&[u8]]) -> Result<(), Failure> {
        for ((path, file), bytes) in self.files.iter_mut().zip(contents) {
            let written = file.write_all(bytes).and_then(|()| file.sync_all());
            written.map_err(|error| Failure::at(path, format!("cannot be written: {}", plain(&error))))?;
        }
        for (path, file) in std::mem::take(&mut self.files) {
            file.commit().map_err(|error| Failure::at(&path, format!("cannot be put in place: {}", plain(&error))))?;
        }
        self.made.clear();
        Ok(())
    }
}

impl Drop for Folder {
    /// Leaves nothing half-written behind.
    fn drop(&mut self) {
        self.files.clear();
        for folder in self.made.iter().rev() {
            // Only an empty folder goes; one that others have filled meanwhile stays.
            let _ = std::fs::remove_dir(folder);
        }
    }
}

/// The folders on the way to `path` that are not there yet, outermost first.
fn missing(path: &Path) -> Vec<PathBuf> {
    let new = |folder: &&Path| !folder.as_os_str().is_empty() && !folder.exists();
    let mut folders: Vec<PathBuf> = path.ancestors().take_while(new).map(Path::to_path_buf).collect();
    folders.reverse();
    folders
}

/// The system's reason without its number.
pub fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
