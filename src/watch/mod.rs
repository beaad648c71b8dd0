//! How a long job is followed from outside, and told to stop.
//!
//! Long loops ask [`Watch::is_stopped`] and leave early, with what they have: it is worth nothing then. Whoever called
//! them asks [`Watch::go_on`] before anything is made of it, so that nothing half done comes out.

use std::sync::Arc;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::Plan;

/// What a job is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Stage {
    /// The picture is read.
    Picture,
    /// Colours are proposed, and suited to the scene.
    Colours,
    /// The scene is composed.
    Scene,
    /// Scarce cloth is priced, round by round.
    Cloth,
    /// Scenes are brought within whole squares and sheets.
    Squares,
    /// Sizes of the top are tried.
    Size,
    /// Stashes are tried.
    Stash,
    /// The work is worked out, and every file drawn.
    Files,
    /// What is written is sewn on paper.
    Proof,
}

/// The best scene so far.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Best<'a> {
    /// It.
    pub plan: &'a Plan,
    /// (answer - bound) / (answer - floor).
    pub gap: f64,
}

/// How far a job is.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct News<'a> {
    /// What it is at.
    pub stage: Stage,
    /// Which part of the stage has begun, 1 being the first.
    pub part: u32,
    /// Parts that the stage has at most; 0 where that is not known.
    pub parts: u32,
    /// A scene that is better than all before.
    pub best: Option<Best<'a>>,
}

/// Who follows a job. Both are called from any of its threads.
pub trait Watcher: Send + Sync {
    /// Hears how far the job is.
    fn hear(&self, news: &News) {
        let _ = news;
    }

    /// Whether the job is to stop and give nothing.
    fn stops(&self) -> bool {
        false
    }

    /// Whether the best scene so far will do.
    fn has_enough(&self) -> bool {
        false
    }
}

/// The job was told to stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped")]
pub struct Stopped;

/// A job's way to its watcher; nobody's by default.
#[derive(Clone, Default)]
pub struct Watch {
    watcher: Option<Arc<dyn Watcher>>,
    /// Whether the work is a part of another: it stops with it, and tells nothing.
    quiet: bool,
}

/// A job that nobody follows.
pub static UNWATCHED: Watch = Watch { watcher: None, quiet: false };

impl Watch {
    /// A job followed by `watcher`.
    pub fn new(watcher: Arc<dyn Watcher>) -> Self {
        Self { watcher: Some(watcher), quiet: false }
    }

    /// The watch of a part of the job: it stops with it, and neither tells anything nor hears that a scene will do.
    pub fn quietly(&self) -> Self {
        Self { quiet: true, ..self.clone() }
    }

    /// Whether to stop.
    pub fn is_stopped(&self) -> bool {
        self.watcher.as_ref().is_some_and(|watcher| watcher.stops())
    }

    /// An error where to stop.
    pub fn go_on(&self) -> Result<(), Stopped> {
        if self.is_stopped() { Err(Stopped) } else { Ok(()) }
    }

    pub(crate) fn has_enough(&self) -> bool {
        !self.quiet && self.watcher.as_ref().is_some_and(|watcher| watcher.has_enough())
    }

    /// Tells that a part of a stage begins; an error where to stop.
    pub(crate) fn begins(&self, stage: Stage, part: u32, parts: u32) -> Result<(), Stopped> {
        self.go_on()?;
        self.tell(&News { stage, part, parts, best: None });
        Ok(())
    }

    pub(crate) fn tell(&self, news: &News) {
        if let Some(watcher) = self.watcher.as_ref().filter(|_| !self.quiet) {
            watcher.hear(news);
        }
    }

    /// Whether anybody hears what is told.
    pub(crate) fn is_followed(&self) -> bool {
        self.watcher.is_some() && !self.quiet
    }
}

impl std::fmt::Debug for Watch {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(if self.is_followed() { "Watch(followed)" } else { "Watch(alone)" })
    }
}
