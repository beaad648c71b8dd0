//! Ctrl-C and TERM: at once while nothing is being written, else once all is as it was or all is written.

use std::sync::atomic::{AtomicBool, AtomicI32, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// The signal that came; 0 before.
static SIGNAL: AtomicI32 = AtomicI32::new(0);
/// Whether all was put in place.
static WRITTEN: AtomicBool = AtomicBool::new(false);
/// Whether the work has stopped by itself.
static READY: AtomicBool = AtomicBool::new(false);
/// Held while files are written.
static WRITING: Mutex<()> = Mutex::new(());

/// The end of the program is put off while this lives.
pub struct Writing(Option<MutexGuard<'static, ()>>);

/// Puts off the end until files are whole.
pub fn writing() -> Writing {
    Writing(Some(WRITING.lock().unwrap_or_else(PoisonError::into_inner)))
}

impl Writing {
    /// Whether the maker wants to stop.
    pub fn stopped() -> bool {
        SIGNAL.load(Ordering::SeqCst) != 0
    }

    /// All is in place.
    pub fn done() {
        WRITTEN.store(true, Ordering::SeqCst);
    }
}

impl Drop for Writing {
    /// Once a signal came, the thread that had it ends the program, and no other word is said.
    fn drop(&mut self) {
        self.0.take();
        if Self::stopped() {
            stopped();
        }
    }
}

/// Waits for the end that a signal brings: nothing more is said by whoever calls this.
pub fn stopped() -> ! {
    READY.store(true, Ordering::SeqCst);
    loop {
        std::thread::park();
    }
}

/// How long the work has to come to a stop by itself.
const PATIENCE: Duration = Duration::from_millis(500);
const STEP: Duration = Duration::from_millis(5);

/// Calls `end` with the exit code, and with whether all was written, when a signal comes.
pub fn watch(end: impl Fn(i32, bool) + Send + 'static) {
    #[cfg(unix)]
    {
        use signal_hook::consts::{SIGINT, SIGTERM};
        use signal_hook::iterator::Signals;
        let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else { return };
        std::thread::spawn(move || {
            for signal in signals.forever() {
                SIGNAL.store(signal, Ordering::SeqCst);
                // What is at work hears of it within a tenth of a second; what only reads or draws does not.
                let began = Instant::now();
                while !READY.load(Ordering::SeqCst) && began.elapsed() < PATIENCE {
                    std::thread::sleep(STEP);
                }
                let _held = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
                end(128 + signal, WRITTEN.load(Ordering::SeqCst));
            }
        });
    }
    #[cfg(not(unix))]
    drop(end);
}
