//! Any text as a brief or a change: what is read is written the same, and holds or says what does not.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::brief(text));
