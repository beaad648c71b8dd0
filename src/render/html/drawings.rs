//! Small drawings: a row as it is sewn, a unit as it lies on the mat.

use maud::{Markup, PreEscaped, html};

use super::hatch;
use super::sheet::Sheet;
use crate::fabric::Print;
use crate::make::{RowWork, UnitWork};
use crate::measure::Length;
use crate::measure::math::length;
use crate::render::markup::shown;
use crate::render::text::px;
use crate::render::words::{corner, cut_of, spare_ends, trimmed};
use crate::unit::{Corner, Side};

type Point = (f64, f64);

/// Widest and tallest that a row is drawn over the paper's width and over half of it, in pixels.
const WIDE: Point = (640.0, 48.0);
const NARROW: Point = (284.0, 32.0);
/// Most pixels to a finished inch of a row.
const CLOSEST: f64 = 22.0;
/// Side of the box that a unit is drawn in, in pixels.
const UNIT: f64 = 30.0;
/// Pixels of the smallest letters: 8 points on paper.
pub(super) const LEAST: f64 = 10.7;

/// The whole row, finished, with letters in its patches and numbers below its units.
pub(super) fn row(sheet: &Sheet, row: &RowWork, wide: bool) -> Markup {
    let inches = |length: Length| length.as_inches().max(0.01);
    let (width, height) = (inches(row.finished.width), inches(row.finished.height));
    let room = if wide { WIDE } else { NARROW };
    let scale = (room.0 / width).min(room.1 / height).min(CLOSEST);
    let cell = inches(sheet.plan.request.grid) * scale;
    let Some(first) = row.units.first() else { return Markup::default() };
    let (left, top) = (first.placed.x, first.placed.y);
    let at = |&(x, y): &(u32, u32)| (f64::from(x - left) * cell, f64::from(y - top) * cell);
    let middle = |unit: &UnitWork| (f64::from(unit.placed.x - left) + f64::from(unit.placed.unit.width) / 2.0) * cell;
    let mut free = f64::NEG_INFINITY;
    let mut number = |unit: &UnitWork| {
        let (number, x) = (unit.placed.address.unit.to_string(), middle(unit));
        let half = 3.3 * number.len() as f64;
        let fits = x - half > free;
        if fits {
            free = x + half;
        }
        html! { @if fits { text class="num" x=(px(x)) y=(px(height * scale + 11.0)) { (number) } } }
    };
    let body = html! {
        @for unit in &row.units {
            @for patch in unit.placed.patches() {
                (piece(sheet, patch.fabric, &patch.outline.iter().map(at).collect::<Vec<_>>()))
            }
            (number(unit))
        }
    };
    svg("strip", width * scale, height * scale + 13.0, &body)
}

/// One unit with its seam allowances; what is cut off it is pale and dashed.
pub(super) fn unit(sheet: &Sheet, row: &RowWork, unit: &UnitWork) -> Markup {
    match (unit.second, trimmed(sheet.plan, unit)) {
        (Some(second), Some(trimmed)) => triangle(sheet, unit, second, trimmed),
        _ => filler(sheet, row, unit),
    }
}

fn filler(sheet: &Sheet, row: &RowWork, unit: &UnitWork) -> Markup {
    let cut = unit.cut.unwrap_or(unit.unfinished);
    let (width, height) = (cut.width.as_inches().max(0.01), cut.height.as_inches().max(0.01));
    let scale = (UNIT * 1.1 / width).min(UNIT / height).min(UNIT / 3.0);
    let (w, h) = ((width * scale).max(5.0), (height * scale).max(5.0));
    let (left, right) = spare_ends(row, unit);
    let lines = [(left, left.as_inches() * scale), (right, w - right.as_inches() * scale)];
    let lines = lines.into_iter().filter(|(over, _)| *over > Length::ZERO);
    let body = html! {
        (piece(sheet, unit.first, &rectangle(0.0, 0.0, w, h)))
        @for (_, x) in lines { (path("spare", &format!("M{} 0V{}", px(x), px(h)))) }
    };
    svg("unit", w, h, &body)
}

/// The whole unit turned as it lies, and the cut across it where there is one.
fn triangle(sheet: &Sheet, unit: &UnitWork, second: Print, side: Length) -> Markup {
    let s = UNIT;
    let at = |corner: Corner| match corner {
        Corner::UpperLeft => (0.0, 0.0),
        Corner::UpperRight => (s, 0.0),
        Corner::LowerRight => (s, s),
        Corner::LowerLeft => (0.0, s),
    };
    let half = |corner: Corner| [corner.turned(3), corner, corner.turned(1)].map(at);
    let halves = [(unit.first, half(corner(unit))), (second, half(corner(unit).opposite()))];
    let Some(strip) = unit.strip else {
        let body = html! { @for (fabric, points) in &halves { (piece(sheet, *fabric, points)) } };
        return svg("unit", s, s, &body);
    };
    let cut = (strip.cut.as_inches() / side.as_inches().max(0.01) * s).clamp(0.0, s);
    let [strip, rest] = windows(strip.side, cut, s);
    let (kept, lost) = if cut_of(unit).is_strip() { (strip, rest) } else { (rest, strip) };
    let body = html! {
        @for (window, class) in [(kept, "kept"), (lost, "lost")] {
            g class=(class) { @for (fabric, points) in &halves { (piece(sheet, *fabric, &clip(points, window))) } }
        }
        (cut_line(kept))
    };
    svg("unit", s, s, &body)
}

fn cut_line((left, top, right, bottom): Window) -> Markup {
    path("frame", &outline(&rectangle(left, top, right - left, bottom - top)))
}

/// A line along points, which are numbers and no words.
fn path(class: &str, points: &str) -> Markup {
    PreEscaped(format!("<path class=\"{class}\" d=\"{points}\"/>"))
}

/// Left, top, right, bottom.
type Window = (f64, f64, f64, f64);

/// The strip of `cut` off one side of a square of `s`, and what remains.
fn windows(side: Side, cut: f64, s: f64) -> [Window; 2] {
    match side {
        Side::Left => [(0.0, 0.0, cut, s), (cut, 0.0, s, s)],
        Side::Right => [(s - cut, 0.0, s, s), (0.0, 0.0, s - cut, s)],
        Side::Top => [(0.0, 0.0, s, cut), (0.0, cut, s, s)],
        Side::Bottom => [(0.0, s - cut, s, s), (0.0, 0.0, s, s - cut)],
    }
}

/// The part of a convex outline inside a window: cut by one edge after the other.
fn clip(points: &[Point], (left, top, right, bottom): Window) -> Vec<Point> {
    let edges: [(bool, f64, f64); 4] =
        [(true, left, 1.0), (true, right, -1.0), (false, top, 1.0), (false, bottom, -1.0)];
    edges.into_iter().fold(points.to_vec(), |points, edge| clip_edge(&points, edge))
}

fn clip_edge(points: &[Point], (across, at, sign): (bool, f64, f64)) -> Vec<Point> {
    let inside = |p: Point| ((if across { p.0 } else { p.1 }) - at) * sign;
    let mut kept = Vec::new();
    for (one, two) in points.iter().zip(points.iter().cycle().skip(1)) {
        let (a, b) = (inside(*one), inside(*two));
        if a >= 0.0 {
            kept.push(*one);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            let t = a / (a - b);
            kept.push((one.0 + (two.0 - one.0) * t, one.1 + (two.1 - one.1) * t));
        }
    }
    kept
}

/// A patch with its letter, where there is room for one.
fn piece(sheet: &Sheet, fabric: Print, points: &[Point]) -> Markup {
    if points.len() < 3 {
        return Markup::default();
    }
    let patch = PreEscaped(format!("<path class=\"patch {}\" d=\"{}\"/>", hatch::face(fabric), outline(points)));
    let patch = html! { (patch) (hatch::lines(fabric, std::iter::once(points))) };
    let (middle, room) = middle(points);
    let letter = sheet.palette.letter(fabric);
    let size = (1.9 * room / (0.5 + 0.5 * letter.chars().count() as f64)).min(13.0);
    if size < LEAST {
        return patch;
    }
    let (x, y) = (px(middle.0), px(middle.1 + 0.35 * size));
    html! { (patch) text class=(hatch::letter(fabric)) x=(x) y=(y) font-size=(px(size)) { (shown(letter)) } }
}

pub(super) fn outline(points: &[Point]) -> String {
    let corners: Vec<String> = points.iter().map(|p| format!("{} {}", px(p.0), px(p.1))).collect();
    format!("M{}Z", corners.join("L"))
}

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> [Point; 4] {
    [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
}

/// Centre of area of a convex outline, and how far its nearest edge is.
fn middle(points: &[Point]) -> (Point, f64) {
    let edges = || points.iter().zip(points.iter().cycle().skip(1));
    let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
    for (a, b) in edges() {
        let cross = a.0 * b.1 - b.0 * a.1;
        (area, x, y) = (area + cross, x + (a.0 + b.0) * cross, y + (a.1 + b.1) * cross);
    }
    if area.abs() < 1e-6 {
        return ((0.0, 0.0), 0.0);
    }
    let centre = (x / (3.0 * area), y / (3.0 * area));
    let away = |(a, b): (&Point, &Point)| {
        let long = length(b.0 - a.0, b.1 - a.1);
        let cross = (b.0 - a.0) * (centre.1 - a.1) - (b.1 - a.1) * (centre.0 - a.0);
        if long > 0.0 { cross.abs() / long } else { f64::INFINITY }
    };
    (centre, edges().map(away).fold(f64::INFINITY, f64::min))
}

pub(super) fn svg(class: &str, width: f64, height: f64, body: &Markup) -> Markup {
    let (w, h) = (px(width + 2.0), px(height + 2.0));
    html! {
        svg class=(class) xmlns="http://www.w3.org/2000/svg" viewBox={ "-1 -1 " (w) " " (h) } width=(w) height=(h)
            aria-hidden="true" { (body) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_a_triangle_is_a_third_in() {
        let (centre, room) = middle(&[(0.0, 0.0), (6.0, 0.0), (0.0, 6.0)]);
        assert!((centre.0 - 2.0).abs() < 1e-9 && (centre.1 - 2.0).abs() < 1e-9);
        assert!((room - 2_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn strip_and_rest_make_the_whole() {
        let area = |points: &[Point]| {
            let edges = points.iter().zip(points.iter().cycle().skip(1));
            edges.map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
        };
        let half = [(0.0, 9.0), (0.0, 0.0), (9.0, 0.0)];
        for side in [Side::Left, Side::Right, Side::Top, Side::Bottom] {
            let parts = windows(side, 2.0, 9.0).map(|window| area(&clip(&half, window)));
            assert!((parts[0] + parts[1] - area(&half)).abs() < 1e-9, "{side:?} {parts:?}");
        }
    }
}
