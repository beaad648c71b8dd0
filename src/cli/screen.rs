//! The screen: how wide a table may be, and how far long work is.

use std::io::{IsTerminal, Write, stderr};
use std::sync::Arc;

use rowscape::render::news_words;
use rowscape::watch::{News, Watch, Watcher};

use super::stop::Writing;

/// Narrowest and widest tables, and the width where there is no screen.
const NARROW: u16 = 72;
const WIDE: u16 = 120;
const USUAL: u16 = 80;

/// The screen's width, or what COLUMNS says, within reason.
pub fn width() -> u16 {
    let said = || std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let screen = terminal_size::terminal_size().map(|(width, _)| width.0);
    screen.or_else(said).unwrap_or(USUAL).clamp(NARROW, WIDE)
}

/// What follows a job: it says on a screen how far it is, and stops where the maker wants to stop.
struct Screen;

/// A job followed on the screen.
pub fn watch() -> Watch {
    Watch::new(Arc::new(Screen))
}

impl Watcher for Screen {
    fn hear(&self, news: &News) {
        progress(&news_words(news));
    }

    fn stops(&self) -> bool {
        Writing::stopped()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        progress("");
    }
}

/// Says in place how far the work is; empty words clear the line. A pipe is told nothing.
pub fn progress(words: &str) {
    if stderr().is_terminal() {
        let mut screen = stderr().lock();
        // A screen that cannot be written to does not stop the work.
        let _ = write!(screen, "\r\x1b[K{words}").and_then(|()| screen.flush());
    }
}
