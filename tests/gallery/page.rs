//! The gallery as one page.

use std::fmt::Write;

use rowscape::fabric::Print;
use rowscape::likeness::{likeness, pieces};
use rowscape::plan::{Piece, Plan};

/// A sample and its scene.
pub struct Entry {
    /// File name of the picture.
    pub picture: String,
    /// What it shows.
    pub shows: String,
    /// What was asked for.
    pub command: String,
    /// The scene.
    pub plan: Plan,
    /// The scene as SVG.
    pub drawing: String,
}

impl Entry {
    fn stem(&self) -> &str {
        self.picture.split('.').next().unwrap_or_default()
    }

    /// Where the scene's drawing lies beside the page.
    pub fn scene(&self) -> String {
        format!("scenes/{}.svg", self.stem())
    }

    /// What the page shows beside the scene: a drawing's source, or the photo itself.
    fn sketch(&self) -> String {
        if self.picture.ends_with(".png") { format!("{}.svg", self.stem()) } else { self.picture.clone() }
    }

    /// `Lighthouse dusk`.
    fn title(&self) -> String {
        let words = self.stem().replace('-', " ");
        words[..1].to_uppercase() + &words[1..]
    }
}

/// The whole page.
pub fn page(entries: &[Entry]) -> String {
    let mut out = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>Sample sketches and their scenes</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n{}",
        include_str!("style.css"),
        include_str!("opening.html"),
    );
    entries.iter().for_each(|entry| out += &section(entry));
    out + "</main>\n</body>\n</html>\n"
}

fn section(entry: &Entry) -> String {
    let mut out =
        format!("<section>\n<h2>{}</h2>\n<p>{}</p>\n<div class=\"two\">\n", entry.title(), sentence(&entry.shows));
    for (file, kind) in [(entry.sketch(), "sketch"), (entry.scene(), "scene")] {
        let _ = writeln!(out, "<img src=\"{file}\" alt=\"{}: the {kind}\">", entry.title());
    }
    out += "</div>\n";
    out += &fabrics(&entry.plan);
    out += &figures(&entry.plan);
    let _ = writeln!(
        out,
        "<p class=\"fine\"><code>rowscape {} --out {}</code></p>\n</section>",
        entry.command,
        entry.stem()
    );
    out
}

/// With a capital and a full stop.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).chain(['.']).collect()).unwrap_or_default()
}

/// The fabrics that the scene uses, as swatches.
fn fabrics(plan: &Plan) -> String {
    let placed = plan.placed();
    let uses = |print: Print| {
        placed.iter().any(|placed| match placed.unit.piece {
            Piece::Filler(used) => used == print,
            Piece::Triangle(triangle) => [triangle.tip, triangle.rest].contains(&print),
        })
    };
    let used = plan.fabrics.iter_enumerated().filter(|(print, _)| uses(*print));
    let swatch = |(_, fabric): (Print, &rowscape::fabric::Fabric)| {
        format!("<li title=\"{}\" style=\"background:{}\"></li>", fabric.name, fabric.colour)
    };
    format!("<ul aria-label=\"fabrics\">{}</ul>\n", used.map(swatch).collect::<String>())
}

fn figures(plan: &Plan) -> String {
    let (counts, near, request) = (pieces(plan), likeness(plan), &plan.request);
    let kinds =
        [(counts.whole, "whole"), (counts.trimmed, "trimmed"), (counts.slices, "slice"), (counts.fillers, "filler")];
    let kinds = kinds.iter().filter(|(count, _)| *count > 0).map(|&(count, kind)| {
        let plural = if count > 1 && ["slice", "filler"].contains(&kind) { "s" } else { "" };
        format!("{count} {kind}{plural}")
    });
    let units = format!("{}: {}", counts.units, kinds.collect::<Vec<_>>().join(", "));
    let lines = [
        ("top", format!("{} x {}", request.ruler.show(request.width), request.ruler.show(request.height))),
        ("units", units),
        ("triangle units", format!("{} % of the area", counts.triangle_share())),
        ("off the picture", format!("{:.2} close to, {:.2} at a squint", near.error, near.squinted)),
        ("best of these fabrics", format!("{:.2} close to, {:.2} at a squint", near.floor, near.squinted_floor)),
        ("shapes", format!("{:.2} of 1", near.ssim)),
        ("lights and darks", format!("{:.2} of 1", near.values)),
    ];
    let line = |(name, words): &(&str, String)| format!("<div><dt>{name}</dt><dd>{words}</dd></div>\n");
    format!("<dl>\n{}</dl>\n", lines.iter().map(line).collect::<String>())
}
