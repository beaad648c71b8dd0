//! Files put in place together: they wait in a folder of their own until all are on the disk and a journal says so.
//!
//! The journal is `begun` before the first file and renamed to `complete` after the last. What is found with `begun`
//! is taken back, what is found with `complete` is finished, by the run itself or by the next that opens the folder.

use std::fs::{File, TryLockError};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::Failure;
use super::failure::plain;
use super::stop::Writing;

const STAGING: &str = ".rowscape-writing";
const BEGUN: &str = "begun";
const COMPLETE: &str = "complete";
/// A journal is far shorter.
const MOST_JOURNAL: u64 = 1 << 20;
/// How long another run is waited for; its writing takes far less.
const PATIENCE: Duration = Duration::from_secs(10);

/// A file to be put in place.
pub struct New<'a> {
    /// Its name in the folder.
    pub name: &'a str,
    /// What it will hold.
    pub bytes: &'a [u8],
    /// What has its name now.
    pub old: There,
}

/// What has a name in a folder.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum There {
    /// Nothing.
    Nothing,
    /// An ordinary file, with the digest of its bytes.
    File(String),
    /// A folder, a link, a pipe.
    Other,
}

#[derive(Serialize, Deserialize)]
struct Journal {
    /// How many folders were made for the files, the innermost being theirs.
    made: usize,
    /// The files, which wait by their numbers.
    files: Vec<Entry>,
}

#[derive(Serialize, Deserialize)]
struct Entry {
    name: String,
    old: There,
    new: String,
}

/// The lock on a folder: held by one run at a time, gone with it, and no file.
pub struct Lock(#[expect(dead_code, reason = "held, not read")] Option<File>);

impl There {
    pub fn at(path: &Path) -> io::Result<Self> {
        match std::fs::symlink_metadata(path) {
            Ok(found) if found.is_file() => {
                let mut hash = Sha256::new();
                io::copy(&mut File::open(path)?, &mut HashWriter(&mut hash))?;
                Ok(Self::File(hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()))
            }
            Ok(_) => Ok(Self::Other),
            Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => Ok(Self::Nothing),
            Err(error) => Err(error),
        }
    }
}

struct HashWriter<'a>(&'a mut Sha256);

impl Write for HashWriter<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Takes the lock, waiting a little for another run.
pub fn lock(folder: &Path) -> Result<Lock, Failure> {
    if cfg!(windows) {
        // A folder cannot be opened there: that the staging folder is made by one alone has to do.
        return Ok(Lock(None));
    }
    let file = File::open(folder).map_err(|error| unwritten(folder, &error))?;
    let since = Instant::now();
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(Lock(Some(file))),
            Err(TryLockError::WouldBlock) if since.elapsed() < PATIENCE && !Writing::stopped() => {
                std::thread::sleep(Duration::from_millis(20));
            }
            Err(TryLockError::WouldBlock) => {
                return Err(
                    Failure::at(folder, "is being written by another run").hint("try again when that has ended")
                );
            }
            Err(TryLockError::Error(error)) => {
                let failure = Failure::at(folder, format!("cannot be kept for this run alone: {}", plain(&error)));
                return Err(failure.hint("give a folder on a disk of this machine"));
            }
        }
    }
}

/// Writes all files into the folder or none; `made` folders were made for them.
pub fn put(folder: &Path, made: usize, files: &[New], _held: &Lock) -> Result<(), Failure> {
    let staging = folder.join(STAGING);
    let entry = |new: &New| {
        let digest = rowscape::plan::digest(new.bytes);
        Entry { name: new.name.into(), old: new.old.clone(), new: digest }
    };
    let journal = Journal { made, files: files.iter().map(entry).collect() };
    if let Err(failure) = stage(&staging, &journal, files) {
        // The first reason counts; what cannot be taken back now is by the next run.
        let _ = take_back(folder);
        return Err(failure);
    }
    finish(folder, &journal)?;
    Writing::done();
    Ok(())
}

/// Everything up to the moment from which all is written.
fn stage(staging: &Path, journal: &Journal, files: &[New]) -> Result<(), Failure> {
    let failed = |path: &Path, error: &io::Error| unwritten(path, error);
    std::fs::create_dir(staging).map_err(|error| failed(staging, &error))?;
    let begun = staging.join(BEGUN);
    let text = serde_json::to_vec(journal).map_err(Failure::new)?;
    written(&begun, &text).map_err(|error| failed(&begun, &error))?;
    sync(staging);
    for (number, new) in files.iter().enumerate() {
        if Writing::stopped() {
            return Err(Failure::new("stopped"));
        }
        written(&staging.join(number.to_string()), new.bytes)
            .map_err(|error| failed(&staging.with_file_name(new.name), &error))?;
    }
    sync(staging);
    if let Some(parent) = staging.parent() {
        sync(parent);
    }
    std::fs::rename(&begun, staging.join(COMPLETE)).map_err(|error| failed(staging, &error))?;
    sync(staging);
    Ok(())
}

/// Puts in place what waits; nothing that the maker put there meanwhile is written over.
fn finish(folder: &Path, journal: &Journal) -> Result<(), Failure> {
    let staging = folder.join(STAGING);
    let waiting: Vec<(PathBuf, &Entry)> = journal
        .files
        .iter()
        .enumerate()
        .map(|(number, entry)| (staging.join(number.to_string()), entry))
        .filter(|(staged, _)| staged.exists())
        .collect();
    let later = "what is not in place yet waits in the folder: the next command puts it there";
    for (_, entry) in &waiting {
        let path = folder.join(&entry.name);
        let there = There::at(&path).map_err(|error| unwritten(&path, &error))?;
        let new = matches!(&there, There::File(digest) if *digest == entry.new);
        if there != There::Nothing && there != entry.old && !new {
            return Err(Failure::at(&path, "was put there while the scene was being written, and is not written over")
                .hint("move it elsewhere and run the command again, which then puts the scene in place"));
        }
    }
    for (staged, entry) in &waiting {
        let path = folder.join(&entry.name);
        std::fs::rename(staged, &path)
            .map_err(|error| Failure::at(&path, format!("cannot be put in place: {}", plain(&error))).hint(later))?;
    }
    sync(folder);
    let cleared = std::fs::remove_file(staging.join(COMPLETE)).and_then(|()| std::fs::remove_dir(&staging));
    cleared.map_err(|error| kept(&staging, &error))?;
    sync(folder);
    Ok(())
}

/// Takes away what was begun, and the folders that were made for it.
fn take_back(folder: &Path) -> Result<(), Failure> {
    let staging = folder.join(STAGING);
    let begun = staging.join(BEGUN);
    // A journal that was cut short is followed by nothing.
    let journal = journal(&begun).unwrap_or(Journal { made: 0, files: Vec::new() });
    for number in 0..journal.files.len() {
        gone(std::fs::remove_file(staging.join(number.to_string()))).map_err(|error| kept(&staging, &error))?;
    }
    // Emptied before the journal goes, so that it can be taken up again at any place.
    gone(std::fs::remove_file(begun)).map_err(|error| kept(&staging, &error))?;
    gone(std::fs::remove_dir(&staging)).map_err(|error| kept(&staging, &error))?;
    unmake(folder, journal.made);
    Ok(())
}

/// Removes folders that were made for nothing; one that others have filled meanwhile stays.
pub fn unmake(folder: &Path, made: usize) {
    for folder in folder.ancestors().take(made) {
        if gone(std::fs::remove_dir(folder)).is_err() {
            return;
        }
    }
}

/// Finishes or takes back what an earlier run was cut off in, and says which.
pub fn recover(folder: &Path) -> Result<Option<String>, Failure> {
    if !is_folder(&folder.join(STAGING)) {
        return Ok(None);
    }
    let held = lock(folder)?;
    recover_held(folder, &held)
}

/// The same for the one who has the lock.
pub fn recover_held(folder: &Path, _held: &Lock) -> Result<Option<String>, Failure> {
    let staging = folder.join(STAGING);
    if !is_folder(&staging) {
        return Ok(None);
    }
    let complete = staging.join(COMPLETE);
    let done = if complete.exists() {
        let Some(journal) = journal(&complete) else {
            return Err(Failure::at(&complete, "is damaged, so that what was begun cannot be finished")
                .hint(format!("take what you need out of {}, and remove that folder", staging.display())));
        };
        finish(folder, &journal)?;
        "an earlier run was cut off while it wrote: what it wrote is now in place"
    } else {
        take_back(folder)?;
        "an earlier run was cut off while it wrote: what it had begun is taken back, and all is as it was"
    };
    Ok(Some(format!("{}: {done}", folder.display())))
}

/// A journal that holds: its names lead nowhere else.
fn journal(path: &Path) -> Option<Journal> {
    let bytes = super::read::bounded(path, MOST_JOURNAL).ok()?;
    let journal: Journal = serde_json::from_slice(&bytes).ok()?;
    let plain = |entry: &Entry| Path::new(&entry.name).file_name().is_some_and(|name| name == entry.name.as_str());
    journal.files.iter().all(plain).then_some(journal)
}

fn is_folder(path: &Path) -> bool {
    std::fs::symlink_metadata(path).is_ok_and(|found| found.is_dir())
}

fn written(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Brings a folder's names to the disk, where the system can.
fn sync(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

/// What is not there need not be removed.
fn gone(removed: io::Result<()>) -> io::Result<()> {
    match removed {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

fn unwritten(path: &Path, error: &io::Error) -> Failure {
    Failure::at(path, format!("cannot be written: {}", plain(error)))
}

fn kept(staging: &Path, error: &io::Error) -> Failure {
    let failure =
        Failure::at(staging, format!("holds what an earlier run left, and cannot be removed: {}", plain(error)));
    failure.hint("take what you need out of that folder, and remove it")
}
