//! The engine: compiled for the browser, bound, and packed.

use std::io::Read;
use std::process::{Command, Stdio};

use liblzma::read::XzEncoder;
use liblzma::stream::{Check, Filters, LzmaOptions, Stream};
use wasm_bindgen_cli_support::Bindgen;

use crate::Places;
use crate::tools::{Wrong, run};

const TARGET: &str = "wasm32-unknown-unknown";
/// How far back what was said before is found: more than the engine is long.
const DICTIONARY: u32 = 16 << 20;

/// Writes `engine.js`, which speaks to it, and `engine.wasm.xz`.
pub fn build(places: &Places) -> Result<(), Wrong> {
    add_target()?;
    compile(places)?;
    let compiled = places.root.join("target").join(TARGET).join("release/rowscape_engine.wasm");
    let built = places.out.join("built");
    let wrong = |error: &dyn std::fmt::Display| Wrong(format!("the engine cannot be bound: {error}"));
    let mut bindgen = Bindgen::new();
    bindgen.input_path(compiled).out_name("engine").remove_name_section(true).remove_producers_section(true);
    bindgen.web(true).map_err(|error| wrong(&error))?.omit_default_module_path(true).typescript(true);
    bindgen.generate(&built).map_err(|error| wrong(&error))?;
    let path = built.join("engine_bg.wasm");
    let wasm = std::fs::read(&path).map_err(|error| Wrong::at(&path, error))?;
    let packed = packed(&wasm).map_err(|error| wrong(&error))?;
    let path = built.join("engine.wasm.xz");
    std::fs::write(&path, packed).map_err(|error| Wrong::at(&path, error))
}

/// As xz, which says the engine in three tenths less than gzip does; checked by what its unpacker knows.
fn packed(wasm: &[u8]) -> Result<Vec<u8>, std::io::Error> {
    let mut options = LzmaOptions::new_preset(9)?;
    options.dict_size(DICTIONARY);
    let stream = Stream::new_stream_encoder(Filters::new().lzma2(&options), Check::Crc32)?;
    let mut packed = Vec::new();
    XzEncoder::new_stream(wasm, stream).read_to_end(&mut packed)?;
    Ok(packed)
}

/// Adds the target where Rust comes by `rustup`.
fn add_target() -> Result<(), Wrong> {
    let listed = Command::new("rustup").args(["target", "list", "--installed"]).stderr(Stdio::null()).output();
    let lacks = listed.is_ok_and(|listed| !String::from_utf8_lossy(&listed.stdout).contains(TARGET));
    if lacks { run(Command::new("rustup").args(["target", "add", TARGET])) } else { Ok(()) }
}

fn compile(places: &Places) -> Result<(), Wrong> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let manifest = places.page.join("Cargo.toml");
    run(Command::new(cargo)
        .args(["build", "--quiet", "--locked", "--release", "--package", "rowscape-engine", "--target", TARGET])
        .arg("--manifest-path")
        .arg(manifest)
        .arg("--target-dir")
        .arg(places.root.join("target"))
        .current_dir(&places.root))
}
