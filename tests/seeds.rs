//! Seeds of the fuzz targets: a small scene as it is written, file by file.
//!
//! `ROWSCAPE_ACCEPT=1 cargo test --test all seeds` writes them again.

use std::path::Path;

use rowscape::make::make;
use rowscape::proof::{Files, Folder, prove_folder};
use rowscape::render::{Options, build_list, cloth_csv, cutting_csv, leftovers_toml, png, rows_csv, svg};

#[test]
fn the_kept_scene_proves() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    let kept = |name: &str| std::fs::read(corpus.join(name)).unwrap();
    let text = |name: &str| String::from_utf8(kept(name)).unwrap();
    let json = text("plan/inch.json");
    let plan = rowscape::plan::read(&json).unwrap();
    if std::env::var_os("ROWSCAPE_ACCEPT").is_some() {
        let (work, options) = (make(&plan), Options { pixels: 100, ..Options::default() });
        let write = |name: &str, bytes: &[u8]| std::fs::write(corpus.join(name), bytes).unwrap();
        write("rows/inch.csv", rows_csv(&plan, &work, &options).unwrap().as_bytes());
        write("cutting/inch.csv", cutting_csv(&plan, &work, &options).unwrap().as_bytes());
        write("cloth/inch.csv", cloth_csv(&plan, &work, &options).unwrap().as_bytes());
        write("list/inch.html", build_list(&plan, &work, &options).as_bytes());
        write("leftovers/inch.toml", leftovers_toml(&plan, &work).as_bytes());
        write("drawing/inch.svg", svg(&plan, &work, &options).as_bytes());
        write("pixels/inch.png", &png(&plan, &work, &options).unwrap());
    }
    let (rows, cutting, cloth) = (text("rows/inch.csv"), text("cutting/inch.csv"), text("cloth/inch.csv"));
    let (list, svg, leftovers) = (text("list/inch.html"), text("drawing/inch.svg"), text("leftovers/inch.toml"));
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    prove_folder(&Folder {
        files,
        svg: &svg,
        png: &kept("pixels/inch.png"),
        list: &list,
        leftovers: &leftovers,
        stencil: None,
        prints: None,
    })
    .unwrap();
}
