//! Any bytes as a picture, brought to a top and given a palette.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rowscape_fuzz::picture(bytes));
