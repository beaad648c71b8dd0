//! The contact sheet as one HTML page without anything from outside.

use maud::{Markup, PreEscaped, html};

use super::scene::{LAPPED, View, cells, patches};
use super::{as_planned, fabrics, heading, lede, place};
use crate::audition::{Audition, Entry, FIGURES, RULE, figures};
use crate::render::Options;
use crate::render::markup::{page, shown};
use crate::render::palette::{Palette, chip};

/// Pixels of a cell before the page fits the drawing in.
const SCREEN: u32 = 8;

/// The contact sheet as one XHTML-clean HTML page.
pub fn auditions_html(audition: &Audition) -> String {
    let title = heading(audition);
    let body = html! {
        h1 { (shown(&title)) }
        "\n" p class="lede" { (shown(&lede(audition))) }
        "\n" p class="fine" { (RULE) " " (FIGURES) }
        "\n" (original(audition))
        @for entry in &audition.entries { (trial(audition, entry)) }
    };
    page(&title, include_str!("style.css"), &body)
}

fn original(audition: &Audition) -> Markup {
    let plan = &audition.planned;
    let as_planned = as_planned(audition);
    let figures = [
        ("the picture", cells(plan, View::Colour, LAPPED)),
        ("the picture in greys", cells(plan, View::Greys, LAPPED)),
        (as_planned.as_str(), patches(plan, View::Colour)),
        ("the same in greys", patches(plan, View::Greys)),
    ];
    html! {
        div class="four" {
            "\n" @for (caption, drawing) in &figures { (figure(audition, caption, caption, drawing)) }
        }
        "\n"
    }
}

fn trial(audition: &Audition, entry: &Entry) -> Markup {
    let scene = format!("the scene in {}", entry.name);
    let (colours, greys) = (patches(&entry.plan, View::Colour), patches(&entry.plan, View::Greys));
    html! {
        section class="trial" {
            "\n" (figure(audition, &entry.name, &scene, &colours))
            (figure(audition, "in greys", &format!("{scene}, in greys"), &greys))
            div class="words" {
                "\n" h2 { span class="place" { (place(audition, entry)) } (shown(&entry.name)) }
                "\n"
                dl { @for (label, figure) in figures(&entry.likeness) { div { dt { (label) } dd { (figure) } } } }
                "\n" ul class="why" { "\n" @for why in &entry.why { li { (shown(why)) } "\n" } }
                "\n" (swatches(entry))
            }
            "\n"
        }
        "\n"
    }
}

fn swatches(entry: &Entry) -> Markup {
    let palette = Palette::new(&entry.plan, &Options::default());
    let (used, unused) = fabrics(entry);
    let letters: Vec<&str> = unused.iter().map(|&fabric| palette.letter(fabric)).collect();
    html! {
        ul class="fabrics" {
            "\n" @for fabric in used { li { (chip(&palette, fabric)) (shown(palette.name(fabric))) } "\n" }
        }
        "\n"
        @if !letters.is_empty() { p class="fine" { "Not used: " (shown(&letters.join(", "))) "." } "\n" }
    }
}

/// A drawing in cells with its caption; `what` is for those who hear the page.
fn figure(audition: &Audition, caption: &str, what: &str, drawing: &str) -> Markup {
    let (columns, rows) = audition.planned.request.cells();
    html! {
        figure {
            svg xmlns="http://www.w3.org/2000/svg" viewBox={ "0 0 " (columns) " " (rows) } width=(columns * SCREEN)
                height=(rows * SCREEN) role="img" { "\n" title { (shown(what)) } "\n" (PreEscaped(drawing)) }
            figcaption { (shown(caption)) }
        }
        "\n"
    }
}
