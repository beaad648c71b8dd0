//! Photos of fabrics with what was taken of them: outlines, letters and names, and the same as a table.

use std::fmt::Write;

use comfy_table::Cell;

use super::tables::{right, table};
use crate::fabric::{Fabric, Rgb, value_step};
use crate::render::RenderError;
use crate::render::lettering::Hand;
use crate::render::png::over;
use crate::render::text::px;
use crate::swatch::Swatch;

/// Mean CIEDE2000 from which a print is called busy (by eye).
const BUSY: f64 = 8.0;
const INK: &str = "#1d1b18";
const LETTER: Hand = Hand { height: 17.0, weight: 0.95, ink: INK };
const NAME: Hand = Hand { height: 11.0, weight: 0.8, ink: INK };

/// A photo, reduced, and what was taken of it with its letter and name; a swatch that is taken elsewhere has none.
pub struct Taken<'a> {
    /// Pixels row by row.
    pub pixels: Vec<Rgb>,
    /// Pixels across.
    pub width: u32,
    /// The swatches.
    pub swatches: Vec<(&'a Swatch, Option<&'a Fabric>)>,
}

impl Taken<'_> {
    fn height(&self) -> u32 {
        self.pixels.len() as u32 / self.width.max(1)
    }
}

/// The photos one below the other, with the outline, the letter, the name and the certainty of each swatch, as PNG.
pub fn photos_png(photos: &[Taken]) -> Result<Vec<u8>, RenderError> {
    let width = photos.iter().map(|photo| photo.width).max().unwrap_or(1);
    let height = photos.iter().map(Taken::height).sum();
    let mut pixels = vec![Rgb([255; 3]); (width * height) as usize];
    let (mut top, mut body) = (0, String::new());
    for photo in photos {
        for (at, pixel) in photo.pixels.iter().enumerate() {
            let (x, y) = (at as u32 % photo.width, at as u32 / photo.width);
            pixels[((top + y) * width + x) as usize] = *pixel;
        }
        for (swatch, fabric) in &photo.swatches {
            body += &outlined(swatch, *fabric, [photo.width, photo.height(), top].map(f64::from));
        }
        top += photo.height();
    }
    over(&pixels, (width, height), &body).map_err(RenderError::Swatches)
}

fn outlined(swatch: &Swatch, fabric: Option<&Fabric>, [width, height, top]: [f64; 3]) -> String {
    let corners = swatch.outline.iter().map(|corner| (corner.x * width, top + corner.y * height));
    let points: Vec<String> = corners.clone().map(|(x, y)| format!("{},{}", px(x), px(y))).collect();
    let points = points.join(" ");
    let mut out = String::new();
    for (ink, thick) in [("#ffffff", 5), (INK, 2)] {
        let _ = writeln!(out, "<polygon points=\"{points}\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"{thick}\"/>");
    }
    let Some(fabric) = fabric else { return out };
    let reach = |of: fn(&(f64, f64)) -> f64| {
        let all = corners.clone().map(|corner| of(&corner));
        all.fold((f64::MAX, f64::MIN), |(least, most), at| (least.min(at), most.max(at)))
    };
    let ((left, right), (upper, lower)) = (reach(|corner| corner.0), reach(|corner| corner.1));
    let (x, y) = ((left + right) / 2.0, (upper + lower) / 2.0);
    let certain = format!("{:.0} %", 100.0 * swatch.certainty);
    // As much of the name as the swatch is wide.
    let name = NAME.cut(&fabric.name, (right - left - 14.0).max(30.0));
    let lines = [(&LETTER, fabric.letter.as_str()), (&NAME, name.as_str()), (&NAME, certain.as_str())];
    let wide = lines.iter().map(|(hand, words)| hand.width(words)).fold(0.0, f64::max) + 12.0;
    let _ = writeln!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"60\" rx=\"4\" fill=\"#ffffff\" fill-opacity=\"0.85\"/>",
        px(x - wide / 2.0),
        px(y - 30.0),
        px(wide)
    );
    let mut line = y - 30.0 + 5.0;
    for (hand, words) in lines {
        line += hand.height;
        out += &hand.centred(x, line, words);
        line += 4.0;
    }
    out
}

/// Each fabric with what was read of it, and below the table what is doubtful and what to do.
pub fn swatches_account(taken: &[(&Swatch, &Fabric)], width: u16) -> String {
    let mut shown = table(width, &["", "name", "colour", "value", "print", "certain"]);
    for (swatch, fabric) in taken {
        let print = match (swatch.spread >= BUSY, swatch.one_colour) {
            (false, _) => "plain",
            (true, true) => "busy, reads as one colour",
            (true, false) => "busy, of several colours",
        };
        shown.add_row([
            Cell::new(&fabric.letter),
            Cell::new(&fabric.name),
            Cell::new(fabric.colour),
            Cell::new(value_step(fabric.colour).words()),
            Cell::new(print),
            right(format!("{:.0} %", 100.0 * swatch.certainty)),
        ]);
    }
    let mut doubts: Vec<_> = taken.iter().flat_map(|(swatch, _)| &swatch.doubts).copied().collect();
    doubts.sort_unstable();
    doubts.dedup();
    let mut text = shown.to_string() + "\n";
    for doubt in doubts {
        let of: Vec<&str> = taken
            .iter()
            .filter(|(swatch, _)| swatch.doubts.contains(&doubt))
            .map(|(_, fabric)| fabric.letter.as_str())
            .collect();
        let who = if of.len() == taken.len() { "all".to_owned() } else { of.join(", ") };
        let _ = writeln!(text, "  {who}: {}", doubt.words());
    }
    text
}
