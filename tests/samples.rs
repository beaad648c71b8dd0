//! The sample sketches are what their SVG sources draw, and the stashes read.
//!
//! `ROWSCAPE_ACCEPT=1 cargo test --test all samples::` writes the pictures again.

use std::collections::BTreeSet;
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageFormat, RgbImage, RgbaImage};
use resvg::{tiny_skia, usvg};
use rowscape::fabric::Rgb;

/// JPEG quality of the photo-like picture.
const QUALITY: u8 = 85;

/// Levels by which a picture kept as JPEG may differ from its rendering.
const MEAN_LEVELS: f64 = 0.5;

/// The files of `sample-sketches` with one extension, by name.
fn found(extension: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches");
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|found| found == extension))
        .collect();
    files.sort();
    files
}

/// A source as pixels, one to a unit of the drawing.
fn draw(source: &Path) -> RgbaImage {
    let text = fs::read_to_string(source).unwrap();
    let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).unwrap();
    let size = tree.size().to_int_size();
    let mut pixels = tiny_skia::Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(&tree, tiny_skia::Transform::default(), &mut pixels.as_mut());
    RgbaImage::from_raw(size.width(), size.height(), pixels.take_demultiplied()).unwrap()
}

/// A drawing whose every pixel is opaque, without its alpha.
fn opaque(source: &Path) -> RgbImage {
    let drawn = draw(source);
    let covered = drawn.pixels().all(|pixel| pixel[3] == 255);
    assert!(covered, "{} leaves the ground bare somewhere", source.display());
    DynamicImage::ImageRgba8(drawn).into_rgb8()
}

/// Is it the photo-like one, kept as JPEG?
fn photo_like(source: &Path) -> bool {
    source.file_stem().is_some_and(|name| name.to_string_lossy().ends_with("-photo"))
}

/// The sources of the small sketches, at least five.
fn sketches() -> Vec<PathBuf> {
    let sources: Vec<PathBuf> = found("svg").into_iter().filter(|path| !photo_like(path)).collect();
    assert!(sources.len() >= 5, "only {} sketches found", sources.len());
    sources
}

/// The sources of the photo-like pictures, at least one.
fn photos() -> Vec<PathBuf> {
    let sources: Vec<PathBuf> = found("svg").into_iter().filter(|path| photo_like(path)).collect();
    assert!(!sources.is_empty(), "no photo-like picture found");
    sources
}

/// The drawing as the file that is kept beside its source.
fn file_of(source: &Path) -> (PathBuf, Vec<u8>) {
    let drawn = opaque(source);
    let mut bytes = Vec::new();
    if photo_like(source) {
        drawn.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, QUALITY)).unwrap();
        return (source.with_extension("jpg"), bytes);
    }
    drawn.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png).unwrap();
    (source.with_extension("png"), bytes)
}

/// The kept picture; written first where new ones are accepted.
fn kept(path: &Path, made: &[u8]) -> RgbImage {
    if std::env::var_os("ROWSCAPE_ACCEPT").is_some() {
        fs::write(path, made).unwrap();
    }
    image::open(path).unwrap_or_else(|error| panic!("{}: {error}", path.display())).into_rgb8()
}

/// The mean difference of two pictures of one size, in levels of 255.
fn mean_difference(one: &RgbImage, other: &RgbImage) -> f64 {
    let total: u64 = one.iter().zip(other.iter()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    total as f64 / one.len() as f64
}

#[test]
fn every_sketch_is_what_its_source_draws() {
    for source in sketches() {
        let (path, made) = file_of(&source);
        assert_eq!(kept(&path, &made), opaque(&source), "{} is out of date", path.display());
    }
}

#[test]
fn the_photo_like_picture_is_what_its_source_draws() {
    for source in photos() {
        let (path, made) = file_of(&source);
        let again = image::load_from_memory(&made).unwrap().into_rgb8();
        let kept = kept(&path, &made);
        assert_eq!(kept.dimensions(), again.dimensions(), "{} is out of date", path.display());
        let levels = mean_difference(&kept, &again);
        assert!(levels <= MEAN_LEVELS, "{} is off by {levels} levels", path.display());
        let bytes = fs::metadata(&path).unwrap().len();
        assert!(bytes < 400_000, "{} takes {bytes} bytes", path.display());
    }
}

#[test]
fn the_difference_sees_a_picture_moved_by_one_pixel() {
    for source in photos() {
        let drawn = opaque(&source);
        let (width, height) = drawn.dimensions();
        let moved = RgbImage::from_fn(width, height, |x, y| *drawn.get_pixel((x + 1) % width, y));
        assert!(mean_difference(&drawn, &moved) > MEAN_LEVELS);
    }
}

#[test]
fn no_picture_is_without_a_source() {
    for path in ["png", "jpg"].into_iter().flat_map(found) {
        assert!(path.with_extension("svg").exists(), "{} has no source", path.display());
    }
}

#[test]
fn the_sketches_are_small_and_of_few_colours() {
    for source in sketches() {
        let drawn = opaque(&source);
        let sides = [drawn.width().min(drawn.height()), drawn.width().max(drawn.height())];
        assert_eq!(sides, [60, 80], "{}", source.display());
        let colours: BTreeSet<[u8; 3]> = drawn.pixels().map(|pixel| pixel.0).collect();
        let count = colours.len();
        assert!((6..=24).contains(&count), "{} has {count} colours", source.display());
    }
}

/// The letters that a stash gives its fabrics.
fn letters(stash: &toml::Table, path: &Path) -> BTreeSet<String> {
    let mut letters = BTreeSet::new();
    for fabric in stash["fabric"].as_array().unwrap() {
        let text = |key: &str| fabric[key].as_str().unwrap();
        assert!(letters.insert(text("letter").into()), "{}: {fabric}", path.display());
        assert!(!text("name").is_empty() && !text("family").is_empty());
        text("colour").parse::<Rgb>().unwrap();
    }
    letters
}

#[test]
fn the_stashes_name_each_fabric_once_and_pack_only_those() {
    let stashes: Vec<PathBuf> = found("toml");
    assert!(stashes.len() >= 2, "only {} stashes found", stashes.len());
    for path in stashes {
        let stash: toml::Table = fs::read_to_string(&path).unwrap().parse().unwrap();
        let letters = letters(&stash, &path);
        assert!(letters.len() >= 10, "{} is thin", path.display());
        for pack in stash.get("pack").and_then(toml::Value::as_array).into_iter().flatten() {
            for print in pack["prints"].as_array().unwrap() {
                assert!(letters.contains(print.as_str().unwrap()), "{print} is unknown");
            }
        }
    }
}
