//! A small scene as it is written, and any text or bytes in the place of one of its files.

use std::sync::OnceLock;

use rowscape::make::make;
use rowscape::proof::{Files, Folder, prove_folder};
use rowscape::render::{Options, build_list, cloth_csv, cutting_csv, leftovers_toml, png, rows_csv, svg};

struct Written {
    plan: String,
    rows: String,
    cutting: String,
    cloth: String,
    svg: String,
    png: Vec<u8>,
    list: String,
    leftovers: String,
}

/// Proves the scene with one file changed; a fault has its place, its words and its advice.
fn told<'a>(change: impl FnOnce(&mut Folder<'a>)) {
    static SCENE: OnceLock<Written> = OnceLock::new();
    let scene = SCENE.get_or_init(scene);
    let files = Files { plan: &scene.plan, rows: &scene.rows, cutting: &scene.cutting, cloth: &scene.cloth };
    let mut folder = Folder {
        files,
        svg: &scene.svg,
        png: &scene.png,
        list: &scene.list,
        leftovers: &scene.leftovers,
        stencil: None,
        prints: None,
    };
    change(&mut folder);
    if let Err(fault) = prove_folder(&folder) {
        assert!(!fault.at.is_empty() && !fault.what.is_empty() && !fault.hint.is_empty());
    }
}

/// Any text as rows.csv: it proves as the scene does, or a fault says where it fails.
pub fn rows(text: &str) {
    told(|folder| folder.files.rows = text);
}

/// Any text as cutting.csv: it proves as the scene does, or a fault says where it fails.
pub fn cutting(text: &str) {
    told(|folder| folder.files.cutting = text);
}

/// Any text as cloth.csv: it proves as the scene does, or a fault says where it fails.
pub fn cloth(text: &str) {
    told(|folder| folder.files.cloth = text);
}

/// Any text as leftovers.toml: it proves as the scene does, or a fault says where it fails.
pub fn leftovers(text: &str) {
    told(|folder| folder.leftovers = text);
}

/// Any text as build-list.html: it proves as the scene does, or a fault says where it fails.
pub fn list(text: &str) {
    told(|folder| folder.list = text);
}

/// Any text as picture.svg: it proves as the scene does, or a fault says where it fails.
pub fn drawing(text: &str) {
    told(|folder| folder.svg = text);
}

/// Any bytes as picture.png: it proves as the scene does, or a fault says where it fails.
pub fn pixels(bytes: &[u8]) {
    told(|folder| folder.png = bytes);
}

fn scene() -> Written {
    let plan = include_str!("../corpus/plan/inch.json").to_owned();
    let read = rowscape::plan::read(&plan).expect("a plan");
    let (work, options) = (make(&read), Options { pixels: 100, ..Options::default() });
    let scene = Written {
        rows: rows_csv(&read, &work, &options).expect("rows"),
        cutting: cutting_csv(&read, &work, &options).expect("cutting"),
        cloth: cloth_csv(&read, &work, &options).expect("cloth"),
        svg: svg(&read, &work, &options),
        png: png(&read, &work, &options).expect("a picture"),
        list: build_list(&read, &work, &options),
        leftovers: leftovers_toml(&read, &work),
        plan,
    };
    let files = Files { plan: &scene.plan, rows: &scene.rows, cutting: &scene.cutting, cloth: &scene.cloth };
    let folder = Folder {
        files,
        svg: &scene.svg,
        png: &scene.png,
        list: &scene.list,
        leftovers: &scene.leftovers,
        stencil: None,
        prints: None,
    };
    prove_folder(&folder).expect("the scene as written");
    scene
}
