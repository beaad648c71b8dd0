//! Programs that the build needs, found, run, or named.

use std::fmt;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::Places;

/// What went wrong, and what to do.
#[derive(Debug)]
pub struct Wrong(pub String);

impl Wrong {
    /// About a file or folder.
    pub fn at(path: &Path, what: impl fmt::Display) -> Self {
        Self(format!("{}: {what}", path.display()))
    }
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Runs a program to its end.
pub fn run(command: &mut Command) -> Result<(), Wrong> {
    let name = command.get_program().to_string_lossy().into_owned();
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(Wrong(format!("`{name}` ended with {status}: what it says stands above"))),
        Err(error) => Err(Wrong(format!("`{name}` does not run: {error}"))),
    }
}

/// A program of the packages that the view is built with.
pub fn of_node(places: &Places, name: &str) -> Command {
    let mut command = Command::new("node");
    command.arg(places.page.join("node_modules").join(name)).current_dir(&places.page);
    command
}

/// Sees that all is there, and installs what may be.
pub fn needed(places: &Places) -> Result<(), Wrong> {
    let runs =
        |name: &str| Command::new(name).arg("--version").stdout(Stdio::null()).status().is_ok_and(|s| s.success());
    if !runs("node") || !runs("npm") {
        return Err(Wrong(
            "the page needs Node 20 or newer and npm: `apt-get install nodejs npm`, or your system's way to them"
                .into(),
        ));
    }
    let lock = places.page.join("package-lock.json");
    let installed = places.page.join("node_modules/.package-lock.json");
    let time = |path: &Path| path.metadata().and_then(|data| data.modified()).ok();
    if time(&installed).is_none_or(|then| time(&lock).is_some_and(|now| now > then)) {
        run(Command::new("npm").args(["ci", "--silent"]).current_dir(&places.page))?;
    }
    Ok(())
}

/// Opens a file with whatever opens such files.
pub fn open(file: &Path) -> Result<(), Wrong> {
    let name = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    run(Command::new(name).arg(file))
        .map_err(|_| Wrong(format!("no program opens it: open {} in a browser", file.display())))
}
