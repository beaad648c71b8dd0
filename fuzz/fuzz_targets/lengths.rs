//! Any text as a length, a square or a crop; what is read prints as itself.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::lengths(text));
