//! Any text as a plan: what is read is written the same, made, rendered and proven without a slip.
#![no_main]

use libfuzzer_sys::fuzz_target;
use rowscape::make::make;
use rowscape::plan::{read, write};
use rowscape::proof::{Files, prove};
use rowscape::render::{Options, build_list, cloth_csv, cutting_csv, rows_csv, svg};

fuzz_target!(|text: &str| {
    let Ok(plan) = read(text) else { return };
    let json = write(&plan);
    assert_eq!(read(&json).as_ref().ok(), Some(&plan), "what is written is read again");
    let (work, options) = (make(&plan), Options::default());
    let _ = (svg(&plan, &work, &options), build_list(&plan, &work, &options));
    let tables =
        (rows_csv(&plan, &work, &options), cutting_csv(&plan, &work, &options), cloth_csv(&plan, &work, &options));
    if let (Ok(rows), Ok(cutting), Ok(cloth)) = tables {
        // A plan from elsewhere may ask for what cloth cannot give, which the proof then tells.
        let _ = prove(&Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth });
        let _ = prove(&Files { plan: text, rows: &rows, cutting: &cutting, cloth: &cloth });
    }
});
