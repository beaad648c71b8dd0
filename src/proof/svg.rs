//! picture.svg against the plan: every patch in its place, with its address, kind, fabric and colour.

use resvg::usvg::roxmltree::{Document, Node};

use super::fault::{Fault, short};
use super::paper::Point;
use super::scene::{Scene, Unit};
use crate::measure::Length;

/// A point in millionths of an inch, first down and then to the right.
type Dot = (i128, i128);

const MILLION: i128 = 1_000_000;
/// Pixels on the longer side of a screen; one of them is as thick as a line.
const SCREEN: i64 = 900;

/// Checks the whole drawing.
pub fn check(scene: &Scene, text: &str) -> Result<(), Fault> {
    let document = Document::parse(text).map_err(|error| fault(format!("it cannot be read: {error}")))?;
    let root = document.root_element();
    let longer = scene.size.width.max(scene.size.height);
    let hairline = decimal(Length::from_ticks(longer.ticks() / SCREEN));
    let screen = |side: Length| (side.ticks().max(1) * SCREEN / longer.ticks().max(1)).max(1).to_string();
    let view = format!("0 0 {} {}", decimal(scene.size.width), decimal(scene.size.height));
    let (width, height) = (screen(scene.size.width), screen(scene.size.height));
    has(root, "svg", &[("viewBox", &view), ("width", &width), ("height", &height), ("role", "img")])?;
    let mut parts = root.children().filter(Node::is_element);
    title(scene, parts.next().ok_or_else(|| fault("its title is missing"))?)?;
    let group = parts.next().ok_or_else(|| fault("its patches are missing"))?;
    has(group, "g", &[("stroke-width", &hairline), ("stroke-linejoin", "round")])?;
    let mut polygons = group.children().filter(Node::is_element);
    let mut dues = Vec::new();
    for unit in scene.bands.iter().flatten().flatten().flatten() {
        unit_drawn(scene, unit, &mut polygons)?;
        dues.extend(unit.patches.iter().map(|patch| dots(&patch.outline)));
    }
    if polygons.next().is_some() {
        return Err(fault("it has more patches than the plan"));
    }
    if let Some(seams) = parts.next() {
        let line = seams.attribute("d").unwrap_or_default();
        let look = [("fill", "none"), ("stroke", "#1d1b18"), ("stroke-opacity", "0.3"), ("stroke-width", &hairline)];
        has(seams, "path", &[&[("d", line)], &look[..]].concat())?;
        dues.sort();
        if outlines(line).is_none_or(|drawn| drawn != dues) {
            return Err(fault("its seam lines are not those of the patches"));
        }
    }
    parts.next().map_or(Ok(()), |_| Err(fault("there is something after the seam lines")))
}

fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("picture.svg", what)
}

/// Checks an element's name and all its attributes.
fn has(node: Node, name: &str, due: &[(&str, &str)]) -> Result<(), Fault> {
    if node.tag_name().name() != name || node.attributes().len() != due.len() {
        return Err(fault(format!("there is no `{name}` as it is to be")));
    }
    match due.iter().find(|(attribute, value)| node.attribute(*attribute) != Some(value)) {
        Some((attribute, value)) => Err(fault(format!("the {attribute} of its `{name}` is not `{}`", short(value)))),
        None => Ok(()),
    }
}

fn title(scene: &Scene, node: Node) -> Result<(), Fault> {
    has(node, "title", &[])?;
    let due = format!(
        "{}, {} wide and {} tall",
        scene.asked.title(),
        scene.show(scene.size.width),
        scene.show(scene.size.height)
    );
    if node.text() == Some(&due) { Ok(()) } else { Err(fault(format!("its title is not `{}`", short(&due)))) }
}

/// The next patches, which must be those of the unit.
fn unit_drawn<'a>(scene: &Scene, unit: &Unit, polygons: &mut impl Iterator<Item = Node<'a, 'a>>) -> Result<(), Fault> {
    let wrong = |what: &str| Fault::new(&unit.address, format!("{what} in picture.svg"));
    let mut drawn = Vec::new();
    for polygon in polygons.take(unit.patches.len()) {
        let letter = polygon.attribute("data-fabric").unwrap_or_default();
        let points = polygon.attribute("points").unwrap_or_default();
        let colour = scene.fabrics.get(letter).map_or("", |fabric| fabric.colour.as_str());
        let due = [
            ("points", points),
            ("fill", colour),
            ("stroke", colour),
            ("data-unit", &unit.address),
            ("data-kind", &unit.kind),
            ("data-fabric", letter),
        ];
        has(polygon, "polygon", &due).map_err(|fault| wrong(&fault.what))?;
        let outline = outline(points, ' ').ok_or_else(|| wrong("a patch has no outline"))?;
        drawn.push((outline, letter.to_owned()));
    }
    let mut due: Vec<_> = unit.patches.iter().map(|patch| (dots(&patch.outline), patch.fabric.clone())).collect();
    due.sort();
    drawn.sort();
    if drawn == due { Ok(()) } else { Err(wrong("its patches are not those of the plan")) }
}

/// Corners from the uppermost left, to the nearest millionth of an inch.
fn dots(outline: &[Point]) -> Vec<Dot> {
    outline.iter().map(|point| (millionths(point.y), millionths(point.x))).collect()
}

fn millionths(length: Length) -> i128 {
    let inch = i128::from(Length::INCH.ticks());
    (i128::from(length.ticks()) * MILLION + inch / 2).div_euclid(inch)
}

/// The same without zeros at its end.
fn decimal(length: Length) -> String {
    let (whole, part) = (millionths(length) / MILLION, millionths(length) % MILLION);
    format!("{whole}.{part:06}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn outline(points: &str, between: char) -> Option<Vec<Dot>> {
    let mut dots: Vec<Dot> = points.split(between).map(dot).collect::<Option<_>>()?;
    let first = (0..dots.len()).min_by_key(|&at| dots.get(at))?;
    dots.rotate_left(first);
    Some(dots)
}

fn dot(text: &str) -> Option<Dot> {
    let (x, y) = text.split_once(',')?;
    Some((number(y)?, number(x)?))
}

/// A decimal of at most six places, in millionths.
fn number(text: &str) -> Option<i128> {
    let (whole, places) = text.split_once('.').unwrap_or((text, ""));
    let digits = whole.len() <= 9 && places.len() <= 6 && !whole.is_empty();
    let plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let number = digits && plain(whole) && plain(places);
    number.then(|| format!("{whole}{places:0<6}").parse().ok())?
}

/// Every outline of a path that is closed, in order.
fn outlines(line: &str) -> Option<Vec<Vec<Dot>>> {
    let mut outlines = Vec::new();
    for part in line.strip_prefix('M')?.split('M') {
        outlines.push(outline(part.strip_suffix('Z')?, 'L')?);
    }
    outlines.sort();
    Some(outlines)
}
