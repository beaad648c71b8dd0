//! Any text as picture.svg: it proves as the scene does, or a fault says where it fails.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| rowscape_fuzz::drawing(text));
