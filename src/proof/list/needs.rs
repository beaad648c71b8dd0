//! What is to be bought, and what is taken of a stash.

use super::Reader;
use super::left::ClothLeft;
use super::page::{fault, has_class};
use crate::proof::fault::Fault;

/// The 45-degree line of a ruler.
pub const RULER: &str = "45-degree";

impl Reader<'_> {
    pub(super) fn needs(&self) -> Result<(), Fault> {
        let letters = || self.scene.letters.iter();
        let bought: Vec<Vec<String>> = letters()
            .filter_map(|letter| {
                let [squares, cloth, cut] = self.to_buy(letter)?;
                Some(vec![self.fabric(letter), self.value(letter), squares, cloth, cut])
            })
            .collect();
        let left = ClothLeft::of(self.scene, self.written.laid)?;
        let stash = letters().filter(|letter| self.scene.fabrics.get(*letter).is_some_and(|fabric| fabric.has_cloth()));
        let stash: Vec<Vec<String>> = stash
            .map(|letter| {
                let taken = self.taken(letter).join(" ");
                let left = left.cloth.get(letter.as_str()).map(|left| self.left_words(left)).unwrap_or_default();
                let or = |words: String, none: &str| if words.is_empty() { none.to_owned() } else { words };
                vec![self.fabric(letter), self.value(letter), or(taken, "–"), or(left, "none")]
            })
            .collect();
        let asked = &self.scene.asked;
        let margin = if asked.margin == 0 { String::new() } else { asked.margin.to_string() };
        let buying = format!("{margin} {} {} {RULER}", self.show(self.scene.cloth_width), self.show(asked.end_cut()));
        let mut due = Vec::new();
        due.extend((!bought.is_empty()).then_some(buying));
        due.extend((!stash.is_empty()).then(|| RULER.to_owned()));
        if due.is_empty() {
            due.push(4.to_string());
        }
        self.page.table("needs", bought.into_iter().chain(stash))?;
        let section = self.page.section("needs").ok_or_else(|| fault("it does not say what is needed"))?;
        let upright = self.scene.letters.iter().filter(|letter| self.scene.is_upright(letter));
        let upright: Vec<String> = upright.map(|letter| self.fabric(letter)).collect();
        let (notes, words): (Vec<_>, Vec<_>) =
            section.children().filter(|node| node.has_tag_name("p")).partition(|p| has_class(p, "note"));
        if words.len() != due.len() {
            return Err(fault("it does not say how amounts are reckoned"));
        }
        words.into_iter().zip(due).try_for_each(|(p, due)| self.page.figures(p, "what it says of amounts", &due))?;
        notes
            .into_iter()
            .try_for_each(|note| self.page.begins(note, "what it says of up and down", &self.directions(), &upright))
    }

    fn directions(&self) -> String {
        let named = self.scene.letters.iter().filter(|letter| self.scene.is_directional(letter));
        let named: Vec<String> = named.map(|letter| self.fabric(letter)).collect();
        let has = if named.len() == 1 { "has" } else { "have" };
        format!("Up and down. {} {has} an up and a down", super::listed(&named))
    }
}
