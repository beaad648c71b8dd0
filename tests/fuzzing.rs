//! Every seed of the fuzz targets' corpus passes the check of its target.

use std::path::Path;

#[path = "../fuzz/src/lib.rs"]
mod checks;

/// What a target is given.
enum Check {
    Text(fn(&str)),
    Bytes(fn(&[u8])),
}

#[test]
fn every_seed_passes() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    for target in std::fs::read_dir(&corpus).unwrap().map(|entry| entry.unwrap().path()) {
        let check = match target.file_name().unwrap().to_str().unwrap() {
            "brief" => Check::Text(checks::brief),
            "cloth" => Check::Text(checks::cloth),
            "cutting" => Check::Text(checks::cutting),
            "drawing" => Check::Text(checks::drawing),
            "leftovers" => Check::Text(checks::leftovers),
            "lengths" => Check::Text(checks::lengths),
            "list" => Check::Text(checks::list),
            "picture" => Check::Bytes(checks::picture),
            "pixels" => Check::Bytes(checks::pixels),
            "plan" => Check::Text(checks::plan),
            "rows" => Check::Text(checks::rows),
            "stash" => Check::Text(checks::stash),
            other => panic!("{other} has no check"),
        };
        let seeds: Vec<_> = std::fs::read_dir(&target).unwrap().map(|entry| entry.unwrap().path()).collect();
        assert!(!seeds.is_empty(), "{target:?} is empty");
        for seed in seeds {
            let bytes = std::fs::read(&seed).unwrap();
            match (&check, std::str::from_utf8(&bytes)) {
                (Check::Bytes(check), _) => check(&bytes),
                // As the harness does, what is no text is passed over.
                (Check::Text(check), Ok(text)) => check(text),
                (Check::Text(_), Err(_)) => {}
            }
        }
    }
}
