//! The page's icons: a scene of its own.

use rowscape::job::{Brief, compose, files};
use rowscape::measure::{Length, Ruler};
use rowscape::render::Options;
use rowscape::watch::UNWATCHED;

use crate::Places;
use crate::tools::Wrong;

/// Sides in pixels, as home screens want them.
pub const SIDES: [u32; 2] = [192, 512];

/// Draws them.
pub fn draw(places: &Places) -> Result<(), Wrong> {
    let site = places.out.join("site");
    std::fs::create_dir_all(&site).map_err(|error| Wrong::at(&site, error))?;
    let path = places.root.join("sample-sketches/moonrise-sail.png");
    let picture = std::fs::read(&path).map_err(|error| Wrong::at(&path, error))?;
    let side = Some(Length::INCH * 36i64);
    let brief =
        Brief { picture: "icon".into(), width: side, height: side, colours: Some(7), ..Brief::usual(Ruler::Inch) };
    let scene = compose(&brief, &picture, None, &UNWATCHED).map_err(|error| Wrong::at(&path, error))?;
    for pixels in SIDES {
        let mut options = Options::default();
        (options.pixels, options.seams) = (pixels, false);
        let made = files(&scene.plan, &options, &UNWATCHED).map_err(|error| Wrong::at(&path, error))?;
        let drawn = made.files.iter().find(|file| file.name == "picture.png").map(|file| &file.bytes[..]);
        let path = site.join(format!("icon-{pixels}.png"));
        std::fs::write(&path, drawn.unwrap_or_default()).map_err(|error| Wrong::at(&path, error))?;
    }
    Ok(())
}
