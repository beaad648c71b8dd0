//! The contact sheet as one HTML page without anything from outside.

use super::scene::{LAPPED, View, cells, patches};
use super::{as_planned, fabrics, heading, lede, place};
use crate::audition::{Audition, Entry, FIGURES, RULE, figures};
use crate::fabric::Print;
use crate::render::Options;
use crate::render::palette::Palette;
use crate::render::text::escape;

/// Pixels of a cell before the page fits the drawing in.
const SCREEN: u32 = 8;

/// The contact sheet as one XHTML-clean HTML page.
pub fn auditions_html(audition: &Audition) -> String {
    let title = escape(&heading(audition));
    let trials: String = audition.entries.iter().map(|entry| trial(audition, entry)).collect();
    format!(
        "{}<h1>{title}</h1>\n<p class=\"lede\">{}</p>\n<p class=\"fine\">{RULE} {FIGURES}</p>\n{}{trials}</main>\n</body>\n</html>\n",
        head(&title),
        escape(&lede(audition)),
        original(audition)
    )
}

/// The policy keeps the page from ever asking the network for anything.
fn head(title: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n\
         <title>{title}</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n",
        include_str!("style.css")
    )
}

fn original(audition: &Audition) -> String {
    let plan = &audition.planned;
    let as_planned = as_planned(audition);
    let figures = [
        ("the picture", cells(plan, View::Colour, LAPPED)),
        ("the picture in greys", cells(plan, View::Greys, LAPPED)),
        (as_planned.as_str(), patches(plan, View::Colour)),
        ("the same in greys", patches(plan, View::Greys)),
    ];
    let figures: String =
        figures.iter().map(|(caption, drawing)| figure(audition, caption, caption, drawing)).collect();
    format!("<div class=\"four\">\n{figures}</div>\n")
}

fn trial(audition: &Audition, entry: &Entry) -> String {
    let name = escape(&entry.name);
    let figures: String = figures(&entry.likeness)
        .map(|(label, figure)| format!("<div><dt>{label}</dt><dd>{figure}</dd></div>"))
        .concat();
    let why: String = entry.why.iter().map(|why| format!("<li>{}</li>\n", escape(why))).collect();
    format!(
        "<section class=\"trial\">\n{}{}<div class=\"words\">\n<h2><span class=\"place\">{}</span>{name}</h2>\n\
         <dl>{figures}</dl>\n<ul class=\"why\">\n{why}</ul>\n{}</div>\n</section>\n",
        figure(audition, &name, &format!("the scene in {name}"), &patches(&entry.plan, View::Colour)),
        figure(audition, "in greys", &format!("the scene in {name}, in greys"), &patches(&entry.plan, View::Greys)),
        place(audition, entry),
        swatches(entry)
    )
}

fn swatches(entry: &Entry) -> String {
    let palette = Palette::new(&entry.plan, &Options::default());
    let (used, unused) = fabrics(entry);
    let named = |fabric: &Print| {
        let (colour, ink) = (palette.colour(*fabric), palette.ink(*fabric));
        let (letter, name) = (escape(palette.letter(*fabric)), escape(palette.name(*fabric)));
        format!("<li><span class=\"chip\" style=\"background:{colour};color:{ink}\">{letter}</span>{name}</li>\n")
    };
    let chips: String = used.iter().map(named).collect();
    let letters: Vec<String> = unused.iter().map(|&fabric| escape(palette.letter(fabric))).collect();
    let rest = if letters.is_empty() {
        String::new()
    } else {
        format!("<p class=\"fine\">Not used: {}.</p>\n", letters.join(", "))
    };
    format!("<ul class=\"fabrics\">\n{chips}</ul>\n{rest}")
}

/// A drawing in cells with its caption; `what` is for those who hear the page.
fn figure(audition: &Audition, caption: &str, what: &str, drawing: &str) -> String {
    let (columns, rows) = audition.planned.request.cells();
    format!(
        "<figure><svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {columns} {rows}\" width=\"{}\" height=\"{}\" role=\"img\">\n\
         <title>{what}</title>\n{drawing}</svg><figcaption>{caption}</figcaption></figure>\n",
        columns * SCREEN,
        rows * SCREEN
    )
}
