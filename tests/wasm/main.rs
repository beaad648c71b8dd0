//! The digest of every file of two scenes of the picture on standard input: of free cloth, and within a stash.
//!
//! `.ci/run` runs it natively and as wasm: the lines are to be the same.

use std::io::{Cursor, Read};

use image::codecs::png::PngEncoder;
use image::{ImageEncoder, ImageFormat};
use moxcms::ColorProfile;
use rowscape::job::{Brief, compose, files};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture};
use rowscape::plan::Effort;
use rowscape::render::Options;
use rowscape::watch::UNWATCHED;
use sha2::{Digest, Sha256};

/// A stash of few squares and lengths, so that its cloth is priced, dealt and cut.
const SCARCE: &str = include_str!("../../sample-sketches/stash-two-packs.toml");

fn say(name: &str, bytes: impl AsRef<[u8]>) {
    println!("{name} {:x?}", Sha256::digest(bytes));
}

fn cells(bytes: &[u8]) -> Result<String, Box<dyn std::error::Error>> {
    Ok(format!("{:?}", Picture::decode(bytes, &Limits::default())?.cells(&Crop::Centre, 40, 30)?))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut bytes = Vec::new();
    std::io::stdin().read_to_end(&mut bytes)?;
    let picture = image::load_from_memory(&bytes)?.to_rgb8();
    let mut webp = Cursor::new(Vec::new());
    picture.write_to(&mut webp, ImageFormat::WebP)?;
    say("as WebP", cells(webp.get_ref())?);
    let mut wide = Vec::new();
    let mut encoder = PngEncoder::new(&mut wide);
    encoder.set_icc_profile(ColorProfile::new_display_p3().encode()?)?;
    picture.write_with_encoder(encoder)?;
    say("with a colour profile", cells(&wide)?);
    let free = Brief {
        picture: "picture".into(),
        width: Some(Length::INCH * 36i64),
        suit: Some(Effort::Full),
        ..Brief::usual(Ruler::Inch)
    };
    let scarce = Brief { stash: Some(SCARCE.into()), suit: None, rounds: 8, ..free.clone() };
    for (name, brief) in [("free", free), ("scarce", scarce)] {
        let scene = compose(&brief, &bytes, None, &UNWATCHED)?;
        for file in files(&scene.plan, &Options::default(), &UNWATCHED)?.files {
            say(&format!("{name} {}", file.name), file.bytes);
        }
    }
    Ok(())
}
