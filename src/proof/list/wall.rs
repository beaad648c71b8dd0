//! The large map, where there is one: every unit's address where it lies, on sheets that lie as they are named.

use std::collections::BTreeSet;

use resvg::usvg::roxmltree::Node;

use super::page::{fault, number, of_class, of_tag};
use super::{Reader, count};
use crate::proof::fault::{Fault, short};

/// How far from its unit an address may stand where a sheet shows little of it, in pixels; units are twice as wide.
const BESIDE: f64 = 20.0;

impl Reader<'_> {
    pub(super) fn wall(&self) -> Result<(), Fault> {
        let figures: Vec<Node> = of_class(self.page.root(), "wall").collect();
        let Some(section) = self.page.section("wall") else {
            return if figures.is_empty() {
                Ok(())
            } else {
                Err(fault("it has sheets of a map that it does not name"))
            };
        };
        let lies = |figure: &Node| {
            let caption = of_tag(*figure, "figcaption").next()?;
            let words = self.page.words(caption);
            place(words.strip_prefix("Sheet ")?.strip_suffix(" of the large map")?)
        };
        let places: Option<Vec<(usize, usize)>> = figures.iter().map(lies).collect();
        let wrong = || fault("the sheets of its map are not in order");
        let places = places.ok_or_else(wrong)?;
        let (down, across) = places.last().map(|(down, across)| (down + 1, across + 1)).ok_or_else(wrong)?;
        if !places.iter().copied().eq((0..down).flat_map(|down| (0..across).map(move |across| (down, across)))) {
            return Err(wrong());
        }
        let words = of_tag(section, "p").next().ok_or_else(wrong)?;
        let sheets = count((down * across) as u64, "sheet");
        self.page.begins(words, "what it says of its map", &format!("The whole top on {sheets}, "), &["A1".into()])?;
        self.key(section, down, across)?;
        let mut named = BTreeSet::new();
        let cell = figures.first().and_then(|first| self.cell(*first)).ok_or_else(wrong)?;
        for (figure, (down, across)) in figures.iter().zip(places) {
            self.wall_sheet(*figure, (down as f64, across as f64), cell, &mut named)?;
        }
        match self.units().find(|step| !named.contains(step.line.text("address"))) {
            Some(step) => Err(fault(format!("{} is not on its large map", step.line.text("address")))),
            None => Ok(()),
        }
    }

    /// The sheets as they lie, each with its name.
    fn key(&self, section: Node, down: usize, across: usize) -> Result<(), Fault> {
        let names = of_class(section, "side").map(|name| place(&self.page.words(name)));
        match names.eq((0..down).flat_map(|down| (0..across).map(move |across| Some((down, across))))) {
            true => Ok(()),
            false => Err(fault("the sheets of its map are not named in order")),
        }
    }

    /// Pixels to an inch of the top, by the first unit.
    fn cell(&self, figure: Node) -> Option<f64> {
        let frame = of_class(figure, "edge").next()?.attribute("d")?;
        let wide: f64 = frame.split(['h', 'v']).nth(1)?.parse().ok()?;
        let first = self.scene.bands.first()?.first()?.first()?.first()?;
        Some(wide / first.size.width.as_inches().max(0.001))
    }

    fn wall_sheet(&self, figure: Node, at: (f64, f64), cell: f64, named: &mut BTreeSet<String>) -> Result<(), Fault> {
        let inner = of_tag(figure, "svg").nth(1).ok_or_else(|| fault("a sheet of its map is empty"))?;
        let (left, top) = (number(inner, "width") * at.1, number(inner, "height") * at.0);
        for text in of_class(figure, "unit-name") {
            let address = self.page.words(text);
            let (x, y) = ((number(text, "x") + left) / cell, (number(text, "y") - 4.0 + top) / cell);
            let unit = self.scene.bands.iter().flatten().flatten().flatten().find(|unit| unit.address == address);
            let unit = unit.ok_or_else(|| fault(format!("its large map has a unit {}", short(&address))))?;
            let corners = || unit.patches.iter().flat_map(|patch| &patch.outline);
            let (Some(x0), Some(y0)) = (corners().map(|p| p.x).min(), corners().map(|p| p.y).min()) else { continue };
            let inside =
                |at: f64, from: f64, side: f64| from - BESIDE / cell <= at && at <= from + side + BESIDE / cell;
            let (size, from) = (unit.size, (x0.as_inches(), y0.as_inches()));
            if !inside(x, from.0, size.width.as_inches()) || !inside(y, from.1, size.height.as_inches()) {
                return Err(Fault::new(&address, "on the large map in build-list.html it stands elsewhere"));
            }
            named.insert(address);
        }
        Ok(())
    }
}

/// Row and column of sheets: `B3`, or `27-3` where letters do not suffice.
fn place(name: &str) -> Option<(usize, usize)> {
    let (down, across) = match name.split_once('-') {
        Some((down, across)) => (down.parse::<usize>().ok()?, across),
        None => (usize::from(name.bytes().next()?.checked_sub(b'A')?) + 1, name.get(1..)?),
    };
    Some((down.checked_sub(1)?, across.parse::<usize>().ok()?.checked_sub(1)?))
}
