//! Any text as a stash: fabrics that hold, or a mistake marked within the text.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::stash(text));
