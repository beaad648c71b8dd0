//! Panics of other people's decoders, contained.

use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe};
use std::sync::Once;

thread_local! {
    static DEPTH: Cell<u32> = const { Cell::new(0) };
}

/// Runs the work; a panic in it becomes nothing.
pub(crate) fn contain<T>(work: impl FnOnce() -> T) -> Option<T> {
    DEPTH.with(|depth| depth.set(depth.get().saturating_add(1)));
    let outcome = panic::catch_unwind(AssertUnwindSafe(work)).ok();
    DEPTH.with(|depth| depth.set(depth.get().saturating_sub(1)));
    outcome
}

/// Keeps panics that this library contains from being printed.
///
/// For a program's `main`, once, before any picture is read; other panics go
/// to the hook that was there before.
pub fn hush_contained_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            let contained = DEPTH.try_with(Cell::get).unwrap_or(0) > 0;
            if !contained {
                before(info);
            }
        }));
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU32, Ordering};

    #[test]
    fn a_panic_becomes_nothing_and_only_others_are_told() {
        static TOLD: AtomicU32 = AtomicU32::new(0);
        let original = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            let ours = info.payload().downcast_ref::<&str>() == Some(&"a decoder's slip");
            if ours {
                TOLD.fetch_add(1, Ordering::SeqCst);
            } else {
                original(info);
            }
        }));
        hush_contained_panics();
        assert_eq!(contain(|| 7), Some(7));
        assert_eq!(contain(|| -> u8 { panic!("a decoder's slip") }), None);
        assert_eq!(TOLD.load(Ordering::SeqCst), 0);
        assert!(panic::catch_unwind(|| panic!("a decoder's slip")).is_err());
        assert_eq!(TOLD.load(Ordering::SeqCst), 1);
    }
}
