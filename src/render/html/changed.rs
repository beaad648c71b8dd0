//! What a changed scene's list says at its head: what was asked for, what became of it, and how far the quilt is.

use std::collections::{BTreeMap, BTreeSet};

use maud::{Markup, html};

use super::drawings::svg;
use super::map::{frame, patches_of};
use super::sheet::{Sheet, line, table};
use crate::plan::{Placed, Plan, Was};
use crate::render::changes_words::{done, why};
use crate::render::markup::listed;
use crate::render::palette::Palette;

/// Widest and tallest that each of the two pictures is drawn, in pixels.
const PICTURE: (f64, f64) = (300.0, 300.0);

/// The section, where the scene was changed.
pub(super) fn section(sheet: &Sheet) -> Option<Markup> {
    let was = sheet.plan.progress.was.as_deref()?;
    let asked = why(&was.why);
    let new = changed(was, sheet.plan);
    let lines = new_lines(sheet);
    let kinds: Vec<Markup> = kinds(was, sheet.plan)
        .iter()
        .map(|(kind, [before, now])| line(&HEADS, &[html! { (kind) }, html! { (before) }, html! { (now) }]))
        .collect();
    Some(html! {
        section id="changed" {
            "\n" h2 { "What has changed" }
            "\n"
            @if !asked.is_empty() { ul { @for asked in &asked { li { (asked) } } } "\n" }
            p class="done" {
                (done(sheet.plan))
                " Letters, addresses and the numbers of pairs and fillers that have not changed are those of the list before. "
                @if sheet.plan.progress.begun && !was.plan.progress.begun { "What that list said to buy is taken as bought. " }
                @match new.len() {
                    0 => { "No unit is new." },
                    1 => { "1 unit is new, framed in the second picture." },
                    n => { (n) " units are new, framed in the second picture." },
                }
                @if !lines.is_empty() { " New to cut: " (listed(&lines)) "." }
            }
            "\n"
            @if !new.is_empty() {
                div class="two" {
                    figure { (drawing(&was.plan, sheet, &[])) figcaption { "Before" } }
                    figure { (drawing(sheet.plan, sheet, &new)) figcaption { "Now" } }
                }
                "\n"
            }
            @if !kinds.is_empty() { (table("changes", &HEADS, &kinds)) }
        }
        "\n"
    })
}

const HEADS: [&str; 3] = ["Units", "Before", "Now"];

/// Numbers that no list had before.
fn new_lines(sheet: &Sheet) -> Vec<Markup> {
    let before = &sheet.plan.numbers;
    let pairs = sheet.work.batches.iter().map(|batch| &batch.id);
    let all = pairs.chain(sheet.work.fillers.iter().map(|filler| &filler.id));
    all.filter(|id| !before.gave(id)).map(|id| html! { (id) }).collect()
}

/// Kinds of units of which there are more or fewer.
fn kinds(was: &Was, now: &Plan) -> Vec<(String, [u32; 2])> {
    let mut all: BTreeMap<String, [u32; 2]> = BTreeMap::new();
    for (at, plan) in [&was.plan, now].into_iter().enumerate() {
        let vocabulary = plan.vocabulary();
        for placed in plan.placed() {
            all.entry(placed.unit.piece.kind(&vocabulary)).or_default()[at] += 1;
        }
    }
    all.into_iter().filter(|(_, [before, now])| before != now).collect()
}

/// Units that were not there before, in their places.
fn changed(was: &Was, now: &Plan) -> Vec<Placed> {
    let place = |plan: &Plan, placed: &Placed| {
        let grid = plan.request.grid;
        let sides = [placed.x, placed.y, placed.unit.width, placed.height].map(|cells| grid * cells);
        let letters: Vec<String> =
            placed.unit.piece.fabrics().map(|print| plan.fabrics[print].letter.clone()).collect();
        (sides, placed.unit.piece.turn(), letters)
    };
    let before: BTreeSet<_> = was.plan.placed().iter().map(|placed| place(&was.plan, placed)).collect();
    now.placed().into_iter().filter(|placed| !before.contains(&place(now, placed))).collect()
}

fn drawing(plan: &Plan, sheet: &Sheet, framed: &[Placed]) -> Markup {
    let (across, down) = plan.request.cells();
    let cell = (PICTURE.0 / f64::from(across.max(1))).min(PICTURE.1 / f64::from(down.max(1)));
    let at = |x: u32, y: u32| (1.0 + f64::from(x) * cell, 1.0 + f64::from(y) * cell);
    let palette = Palette::new(plan, sheet.options);
    let boxed = |(x, y, w, h): (u32, u32, u32, u32)| {
        let (left, top) = at(x, y);
        (left, top, f64::from(w) * cell, f64::from(h) * cell)
    };
    let body = html! {
        (patches_of(&palette, &plan.placed(), at))
        (frame("edge", boxed((0, 0, across, down))))
        @for unit in framed { (frame("new", boxed((unit.x, unit.y, unit.unit.width, unit.height)))) }
    };
    svg("was", f64::from(across) * cell + 2.0, f64::from(down) * cell + 2.0, &body)
}
