//! What is left over as a stash file, for the next scene.

use std::fmt::Write;

use crate::fabric::{Fabric, Lean, Stash};
use crate::make::{Leftovers, SpareSquares, SpareStrips, SpareUnits, Work};
use crate::measure::Length;
use crate::plan::Plan;

/// The stash of what is left when `work` is sewn: its fabrics with spare squares, its units and strips.
pub fn leftovers_toml(plan: &Plan, work: &Work) -> String {
    let left = work.leftovers(plan);
    let mut text =
        "# What is left of this scene: give it to the next with --stash, or copy parts of it into your own.\n"
            .to_owned();
    for (index, fabric) in plan.fabrics.iter().enumerate() {
        let squares: Vec<&SpareSquares> = left.squares.iter().filter(|squares| squares.fabric == index).collect();
        text += &fabric_entry(fabric, &squares);
    }
    text + &units(plan, &left) + &strips(plan, &left)
}

/// A fabric with no spare squares has an empty list, since without one it would be free to use.
fn fabric_entry(fabric: &Fabric, squares: &[&SpareSquares]) -> String {
    let quoted = |text: &str| toml::Value::from(text).to_string();
    let squares = squares.iter().filter(|squares| squares.side <= Stash::LONGEST);
    let squares: Vec<String> = squares
        .take(Stash::MOST_ENTRIES)
        .map(|squares| format!("{{ size = \"{}\", count = {} }}", squares.side, most(squares.count)))
        .collect();
    let mut text = format!(
        "\n[[fabric]]\nletter = {}\nname = {}\ncolour = \"{}\"\n",
        quoted(&fabric.letter),
        quoted(&fabric.name),
        fabric.colour
    );
    if fabric.family != fabric.name {
        let _ = writeln!(text, "family = {}", quoted(&fabric.family));
    }
    if let Some(sketch) = fabric.sketch {
        let _ = writeln!(text, "sketch = \"{sketch}\"");
    }
    text + &format!("squares = [{}]\n", squares.join(", "))
}

fn units(plan: &Plan, left: &Leftovers) -> String {
    let entry = |unit: &SpareUnits| {
        format!(
            "\n[[unit]]\nfinished = \"{}\"\nfabrics = [{}, {}]\ncount = {}\n",
            unit.finished,
            letter(plan, unit.first),
            letter(plan, unit.second),
            most(unit.count)
        )
    };
    largest(&left.units, |unit| unit.finished).into_iter().map(entry).collect()
}

fn strips(plan: &Plan, left: &Leftovers) -> String {
    let entry = |strip: &SpareStrips| {
        let leans = match strip.leans {
            Lean::Left => "left",
            Lean::Right => "right",
        };
        format!(
            "\n[[slice]]\nfrom = \"{}\"\nwidth = \"{}\"\ntip = {}\nrest = {}\nleans = \"{leans}\"\ncount = {}\n",
            strip.from,
            strip.width,
            letter(plan, strip.tip),
            letter(plan, strip.rest),
            most(strip.count)
        )
    };
    largest(&left.strips, |strip| strip.from).into_iter().map(entry).collect()
}

/// As many kinds as a stash may list, in order; where there are more, the largest pieces.
fn largest<T: Copy>(all: &[T], size: impl Fn(&T) -> Length) -> Vec<&T> {
    let mut kept: Vec<&T> = all.iter().filter(|one| size(one) <= Stash::LONGEST).collect();
    if kept.len() > Stash::MOST_ENTRIES {
        kept.sort_by_key(|one| std::cmp::Reverse(size(one)));
        kept.truncate(Stash::MOST_ENTRIES);
    }
    kept
}

fn letter(plan: &Plan, fabric: usize) -> String {
    let letter = plan.fabrics.get(fabric).map_or("", |fabric| &fabric.letter);
    toml::Value::from(letter).to_string()
}

fn most(count: u32) -> u32 {
    count.min(Stash::MOST_PIECES)
}
