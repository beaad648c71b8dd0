//! Any bytes as picture.png: it proves as the scene does, or a fault says where it fails.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rowscape_fuzz::pixels(bytes));
