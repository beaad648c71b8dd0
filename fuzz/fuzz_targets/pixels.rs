//! Any bytes as picture.png: it proves as the scene does, or a fault says where it fails.
#![no_main]

mod written;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| written::told(|folder| folder.png = bytes));
