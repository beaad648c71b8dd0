//! Any text as a plan: what is read is written the same, made, rendered and proven without a slip.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::plan(text));
