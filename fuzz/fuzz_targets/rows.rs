//! Any text as rows.csv: it proves as the scene does, or a fault says where it fails.
#![no_main]

mod written;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| written::told(|folder| folder.files.rows = text));
