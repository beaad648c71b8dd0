//! Any text as build-list.html: it proves as the scene does, or a fault says where it fails.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::list(text));
