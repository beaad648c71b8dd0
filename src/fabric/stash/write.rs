//! The stash as a file, written anew.

use std::fmt::Write;

use super::{Lean, Stash, Supply};
use crate::fabric::{Fabric, Print};
use crate::unit::Corner;

impl Stash {
    /// The stash as TOML; it reads as the same stash, as long as no list of it passes [`Stash::MOST_ENTRIES`].
    pub fn write(&self) -> String {
        let letter = |print: Print| quoted(&self.prints[print].letter);
        let mut blocks: Vec<String> = self.prints.iter().map(fabric).collect();
        blocks.extend(self.hand.units.iter().map(|unit| {
            let [one, other] = unit.fabrics.map(letter);
            let (size, stands) = (unit.finished, stands(unit.stands));
            format!("[[unit]]\nfinished = \"{size}\"\nfabrics = [{one}, {other}]\n{stands}count = {}\n", unit.count)
        }));
        blocks.extend(self.hand.slices.iter().map(|slice| {
            let leans = match slice.leans {
                Lean::Left => "left",
                Lean::Right => "right",
            };
            let sizes = format!("[[slice]]\nfrom = \"{}\"\nwidth = \"{}\"\n", slice.from, slice.width);
            let fabrics = format!("tip = {}\nrest = {}\n", letter(slice.tip), letter(slice.rest));
            format!("{sizes}{fabrics}leans = \"{leans}\"\n{}count = {}\n", stands(slice.stands), slice.count)
        }));
        blocks.extend(self.hand.fillers.iter().map(|filler| {
            let sizes = format!("width = \"{}\"\nheight = \"{}\"\n", filler.width, filler.height);
            format!("[[filler]]\nfabric = {}\n{sizes}count = {}\n", letter(filler.fabric), filler.count)
        }));
        blocks.join("\n")
    }
}

/// The line of the corner that the first fabric fills, where there is one.
fn stands(corner: Option<Corner>) -> String {
    corner.map(|corner| format!("stands = \"{}\"\n", corner.words().replace(' ', "-"))).unwrap_or_default()
}

fn fabric(fabric: &Fabric) -> String {
    let mut text = format!("[[fabric]]\nletter = {}\nname = {}\n", quoted(&fabric.letter), quoted(&fabric.name));
    let mut line = |name: &str, value: String| {
        let _ = writeln!(text, "{name} = {value}");
    };
    line("colour", format!("\"{}\"", fabric.colour));
    if fabric.family != fabric.name {
        line("family", quoted(&fabric.family));
    }
    if let Some(sketch) = fabric.sketch {
        line("sketch", format!("\"{sketch}\""));
    }
    if fabric.directional {
        line("directional", "true".into());
    }
    if fabric.upright {
        line("upright_in_triangles", "true".into());
    }
    if let Some(width) = fabric.swatch_width {
        line("swatch_width", format!("\"{width}\""));
    }
    if let Some(thumbnail) = &fabric.thumbnail {
        line("thumbnail", format!("\"{}\"", thumbnail.address()));
    }
    fabric.supply.iter().flat_map(supply).for_each(|(name, value)| line(name, value));
    text
}

/// The lines of what there is; a fabric of which nothing is left says so.
fn supply(supply: &Supply) -> Vec<(&'static str, String)> {
    let list = |entries: Vec<String>| format!("[{}]", entries.join(", "));
    let squares = supply.squares.iter().map(|s| format!("{{ size = \"{}\", count = {} }}", s.size, s.count));
    let yardage = supply.yardage.iter().map(|y| format!("{{ width = \"{}\", length = \"{}\" }}", y.width, y.length));
    let oddments = supply.oddments.iter();
    let oddments =
        oddments.map(|o| format!("{{ width = \"{}\", height = \"{}\", count = {} }}", o.width, o.height, o.count));
    let mut lines = Vec::new();
    if !supply.squares.is_empty() || *supply == Supply::default() {
        lines.push(("squares", list(squares.collect())));
    }
    if !supply.yardage.is_empty() {
        lines.push(("yardage", list(yardage.collect())));
    }
    if supply.fat_quarters > 0 {
        lines.push(("fat_quarters", supply.fat_quarters.to_string()));
    }
    if !supply.oddments.is_empty() {
        lines.push(("oddments", list(oddments.collect())));
    }
    lines
}

/// The maker's text in quotes, whatever is in it.
fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}
