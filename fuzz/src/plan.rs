//! The check of the target `plan`.

use rowscape::fabric::{Stash, is_unprintable};
use rowscape::make::make;
use rowscape::plan::{read, write};
use rowscape::proof::{Files, Folder, prove, prove_folder};
use rowscape::render::{Options, build_list, cloth_csv, cutting_csv, leftovers_toml, png, rows_csv, svg};

/// Any text as a plan: what is read is written the same, made, rendered and proven without a slip.
pub fn plan(text: &str) {
    let Ok(plan) = read(text) else {
        // The proof reads plans by itself.
        let _ = prove(&Files { plan: text, rows: "", cutting: "", cloth: "" });
        return;
    };
    let json = write(&plan);
    assert_eq!(read(&json).as_ref().ok(), Some(&plan), "what is written is read again");
    let (work, options) = (make(&plan), Options { pixels: 100, ..Options::default() });
    let leftovers = leftovers_toml(&plan, &work);
    let stash = Stash::read(&leftovers).expect("leftovers are a stash");
    assert!(stash.fabrics().iter().zip(&plan.fabrics).all(|(left, fabric)| left.name == fabric.name));
    let list = build_list(&plan, &work, &options);
    assert!(!list.chars().any(|c| c != '\n' && is_unprintable(c)), "what is printed is seen");
    let tables =
        (rows_csv(&plan, &work, &options), cutting_csv(&plan, &work, &options), cloth_csv(&plan, &work, &options));
    if let (Ok(rows), Ok(cutting), Ok(cloth)) = tables {
        let svg = svg(&plan, &work, &options);
        let png = png(&plan, &work, &options).unwrap_or_default();
        // A plan from elsewhere may ask for what cloth cannot give, which the proof then tells.
        for plan in [&json, text] {
            let files = Files { plan, rows: &rows, cutting: &cutting, cloth: &cloth };
            let _ = prove_folder(&Folder {
                files,
                svg: &svg,
                png: &png,
                list: &list,
                leftovers: &leftovers,
                stencil: None,
                prints: None,
            });
        }
    }
}
