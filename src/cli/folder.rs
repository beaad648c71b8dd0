//! The folder that files are written into: all of them or none, and none over a file of the maker's own.

use std::fs::read_dir;
use std::path::{Path, PathBuf};

use rowscape::job::File;
use rowscape::plan::Written;

use super::Failure;
use super::failure::plain;
use super::read::{MOST_PLAN, bounded};
use super::staging::{New, There, lock, put, recover_held, unmake};
use super::stop::writing;

/// Files that are written together.
pub struct Folder {
    path: PathBuf,
    /// Each file's name, and what has it before.
    files: Vec<(String, There)>,
}

impl Folder {
    /// Looks before the slow part, and makes nothing yet: refuses a folder that holds one of the files, unless
    /// `replace`; then a file of the maker's own; and always one of those that are being read.
    pub fn open(path: &Path, names: &[&str], replace: bool, reading: &[&Path]) -> Result<Self, Failure> {
        if path.exists() && !path.is_dir() {
            return Err(Failure::at(path, "is a file").hint("give --out a folder, which may be new"));
        }
        let base = path.ancestors().find(|folder| folder.as_os_str().is_empty() || folder.exists());
        if let Some(file) = base.filter(|base| !base.as_os_str().is_empty() && !base.is_dir()) {
            return Err(
                Failure::at(path, format!("cannot be made: {} is a file", file.display())).hint("give another folder")
            );
        }
        let files = look(path, names)?;
        if let Some((name, _)) = files.iter().find(|(name, _)| path.join(name).is_dir()) {
            return Err(Failure::at(&path.join(name), "is a folder where a file is to go").hint("give another folder"));
        }
        let folder = Self { path: path.to_path_buf(), files };
        folder.spares(reading)?;
        folder.allows(replace)?;
        Ok(folder)
    }

    /// None of the files is one that is being read, by whatever links.
    fn spares(&self, reading: &[&Path]) -> Result<(), Failure> {
        for (name, _) in &self.files {
            spare(&self.path.join(name), reading).map_err(|failure| failure.hint("give another folder"))?;
        }
        Ok(())
    }

    fn allows(&self, replace: bool) -> Result<(), Failure> {
        let mut taken = self.files.iter().filter(|(_, there)| *there != There::Nothing).peekable();
        let Some((first, _)) = taken.peek().copied() else { return Ok(()) };
        let plans = plans(&self.path);
        for (name, there) in taken {
            let path = self.path.join(name);
            let known = |(plan, text, written): &(String, String, Option<Written>)| {
                // A link to a plan that holds is the maker's link all the same.
                let (There::File(digest), Some(written)) = (there, written) else { return false };
                plan == name && written.seals(text) || written.holds(name, digest)
            };
            if plans.iter().any(known) {
                continue;
            }
            let old = plans.iter().any(|(plan, _, written)| plan == name && written.is_none());
            let what = if old {
                "was written by hand or by an older version, which noted no digests, and is not written over"
            } else {
                "is not as Rowscape wrote it, so it counts as yours and is not written over"
            };
            return Err(Failure::at(&path, what).hint("move it elsewhere, or give another folder"));
        }
        if !replace {
            return Err(Failure::at(&self.path, format!("already holds a scene ({first})"))
                .hint("give another folder, or --replace to write over that scene"));
        }
        Ok(())
    }

    /// The same for those of the files that were made.
    pub fn holding(mut self, made: &[File]) -> Self {
        self.files.retain(|(name, _)| name.ends_with(".json") || made.iter().any(|file| file.name == *name));
        self
    }

    /// Writes the files, in the order of their names, if nothing has changed since they were looked at.
    pub fn write(self, contents: &[&[u8]]) -> Result<(), Failure> {
        let _writing = writing();
        let path = self.path.as_path();
        let made = missing(path);
        std::fs::create_dir_all(path).map_err(|error| {
            unmake(path, made);
            Failure::at(path, format!("cannot be made: {}", plain(&error)))
        })?;
        let held = lock(path)?;
        let written = recover_held(path, &held).and_then(|_| {
            let names: Vec<&str> = self.files.iter().map(|(name, _)| name.as_str()).collect();
            let now = look(path, &names)?;
            if let Some(((name, _), _)) = self.files.iter().zip(&now).find(|(before, now)| before != now) {
                return Err(Failure::at(&path.join(name), "was changed by another while the scene was composed")
                    .hint("nothing was written: look at what is there, and run the command again"));
            }
            let files = now.into_iter().zip(contents).zip(&names);
            let files: Vec<New> = files.map(|(((_, old), bytes), name)| New { name, bytes, old }).collect();
            put(path, made, &files, &held)
        });
        if written.is_err() {
            unmake(path, made);
        }
        written
    }
}

/// Refuses a target that is one of the files being read.
pub fn spare(target: &Path, reading: &[&Path]) -> Result<(), Failure> {
    match reading.iter().find(|input| same_file::is_same_file(target, input).unwrap_or(false)) {
        Some(input) if *input == target => Err(Failure::at(target, "is being read, and is not written over")),
        Some(input) => Err(Failure::at(target, format!("is {}, which is being read", input.display()))),
        None => Ok(()),
    }
}

/// What has each name in the folder.
fn look(folder: &Path, names: &[&str]) -> Result<Vec<(String, There)>, Failure> {
    let look = |name: &&str| {
        let path = folder.join(name);
        let there = There::at(&path);
        let there = there.map_err(|error| Failure::at(&path, format!("cannot be read: {}", plain(&error))))?;
        Ok(((*name).to_owned(), there))
    };
    names.iter().map(look).collect()
}

/// The folder's plans: name, text, and what each says was written with it.
fn plans(folder: &Path) -> Vec<(String, String, Option<Written>)> {
    let names =
        read_dir(folder).into_iter().flatten().flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| name == "plan.json" || name.ends_with(".plan.json")).collect();
    names.sort();
    let read = |name: String| {
        let text = String::from_utf8(bounded(&folder.join(&name), MOST_PLAN).ok()?).ok()?;
        let written = Written::read(&text);
        Some((name, text, written))
    };
    names.into_iter().filter_map(read).collect()
}

/// How many folders on the way to `path` are not there yet.
fn missing(path: &Path) -> usize {
    path.ancestors().take_while(|folder| !folder.as_os_str().is_empty() && !folder.exists()).count()
}
