//! What is cut and paired: the tables of pairs, strips used again, fillers and pieces on hand.

use std::collections::BTreeMap;

use super::Reader;
use super::page::{fault, of_tag};
use crate::measure::{Length, Ruler};
use crate::proof::cutting::{Gives, HandKind, Method, Pairs, Supply};
use crate::proof::fault::Fault;
use crate::proof::upright::CORNERS;
use crate::proof::words::{numbers, side_words};

impl Reader<'_> {
    pub(super) fn cuts(&self) -> Result<(), Fault> {
        let of = |wanted: fn(&Gives) -> bool| {
            let supplies = self.written.bench.supplies().iter().filter(move |supply| wanted(&supply.gives));
            supplies.map(|supply| self.supply(supply)).collect::<Vec<_>>()
        };
        let pairs = self.written.bench.supplies().iter().flat_map(|supply| match &supply.gives {
            Gives::Units(pairs) => [Some(self.supply(supply)), self.laid(pairs)],
            _ => [None, None],
        });
        let pairs: Vec<Vec<String>> = pairs.flatten().collect();
        let fillers = of(|gives| matches!(gives, Gives::Fillers(_)));
        let (some_pairs, some_fillers) = (!pairs.is_empty(), !fillers.is_empty());
        self.page.table("pairs", pairs)?;
        self.page.table("fillers", fillers)?;
        self.page.table("hand", of(|gives| matches!(gives, Gives::Hand(_))))?;
        let strips = self.units().filter_map(|step| {
            let unit = step.unit.as_ref()?;
            let ((width, side), to) = (unit.strip?, unit.offcut.as_ref()?);
            let words = format!("strip from {} goes to {to}", step.line.text("address"));
            let cut = format!("{} off the {}", self.show(width), side_words(side));
            Some(vec![words, unit.from.clone(), cut, String::new()])
        });
        self.page.table("offcuts", strips)?;
        self.methods()?;
        let section = self.page.section("cutting").ok_or_else(|| fault("it does not say what is cut"))?;
        let after = |head: &str| {
            let mut nodes =
                section.children().skip_while(move |node| !(node.has_tag_name("h3") && node.text() == Some(head)));
            nodes.find(|node| node.has_tag_name("p")).ok_or_else(|| fault(format!("`{head}` is missing")))
        };
        if some_pairs {
            self.page.figures(after("Pairs of squares")?, "what it says of pairs", "2.1.3, 5 2.1.3 2.1.5")?;
        }
        if some_fillers {
            let over = if self.scene.ruler == Ruler::Inch { Length::INCH } else { Length::MM * 25_i64 };
            let over = if self.scene.spare { self.show(over) } else { String::new() };
            self.page.figures(after("Fillers")?, "what it says of fillers", &over)?;
        }
        match of_tag(section, "h3").any(|head| head.text() == Some("Out of which cloth")) {
            true => self.page.figures(
                after("Out of which cloth")?,
                "what it says of cloth",
                &format!("A-1 {}", self.straightened()),
            ),
            false => Ok(()),
        }
    }

    /// The cells of a line to cut.
    fn supply(&self, supply: &Supply) -> Vec<String> {
        let id = supply.line.text("id").to_owned();
        let (rows, tick) = (self.rows_of(&id), String::new());
        match &supply.gives {
            Gives::Units(pairs) => self.pairs(id, pairs, rows),
            Gives::Fillers(fillers) => {
                vec![id, self.fabric(&fillers.fabric), self.size(fillers.cut), fillers.count.to_string(), rows, tick]
            }
            Gives::Hand(hand) => {
                let fabrics: Vec<String> = hand.fabrics.iter().map(|letter| self.fabric(letter)).collect();
                let what = match hand.kind {
                    HandKind::Unit => "triangle unit",
                    HandKind::Slice(true) => "strip; stood up, the tip in the upper left",
                    HandKind::Slice(false) => "strip; stood up, the tip in the upper right",
                    HandKind::Filler => "filler",
                };
                let (used, left) = (hand.needed.to_string(), hand.spare.to_string());
                let stands = hand.stands.and_then(|corner| CORNERS.get(usize::from(corner)));
                let stands = stands.map(|corner| format!("; print upright, the first fabric in the {corner}"));
                let what = format!("{what}{}", stands.unwrap_or_default());
                vec![id, what, fabrics.join(" "), self.size(hand.size), used, left, rows, tick]
            }
        }
    }

    fn pairs(&self, id: String, pairs: &Pairs, rows: String) -> Vec<String> {
        let method = match pairs.method {
            Method::Two => "two at a time",
            Method::Four => "four at a time",
            Method::Eight => "eight at a time",
        };
        let mut units = self.steps.iter().filter_map(|step| step.unit.as_ref());
        let size = units.find(|unit| unit.from == id).and_then(|unit| unit.kind.split(' ').next()).unwrap_or_default();
        let show = |length| self.show(length);
        let whole = pairs.bought == pairs.square || self.scene.asked.cut_squares;
        let square = match whole {
            true => show(pairs.square),
            false => format!("{} a quarter of {}", show(pairs.square), show(pairs.bought)),
        };
        let [first, second] = &pairs.fabrics;
        vec![
            id,
            format!("{} {}", self.fabric(first), self.fabric(second)),
            square,
            if pairs.press == "open" { method.into() } else { format!("{method}, press to {}", pairs.press) },
            pairs.pairs.to_string(),
            (u64::from(pairs.pairs) * u64::from(pairs.yields)).to_string(),
            pairs.spare.to_string(),
            show(pairs.trimmed),
            format!("{} {size}", show(pairs.trimmed - self.scene.both())),
            rows,
            String::new(),
        ]
    }

    /// How the squares of a pair lie in which a print stands upright, and the units that they give.
    fn laid(&self, pairs: &Pairs) -> Option<Vec<String>> {
        let (lay, [first, second]) = (pairs.lay.as_ref()?, &pairs.fabrics);
        let above = if lay.below == *first { second } else { first };
        let top = lay.top_word().map(|side| format!(", its top to the {side}")).unwrap_or_default();
        let corners = |counts: &[u64; 4]| {
            let some = CORNERS.iter().zip(counts).filter(|(_, count)| **count > 0);
            some.map(|(corner, count)| format!("{count} with {first} {corner}")).collect::<Vec<_>>().join(", ")
        };
        let gives = lay.gives(self.scene, &pairs.fabrics).map(|each| u64::from(each) * u64::from(pairs.pairs));
        let mut left = gives;
        left.iter_mut().zip(lay.needed).for_each(|(left, needed)| *left = left.saturating_sub(needed.into()));
        let spare = corners(&left);
        let spare = if spare.is_empty() { spare } else { format!("; spare {spare}") };
        let lies = format!("{}; {} below, its top up; {above} on it, face down{top}", lay.words(), lay.below);
        Some(vec![String::new(), format!("Print upright: {lies}. Gives {}{spare}.", corners(&gives))])
    }

    /// The rows that take from a line, those of a column after its first two numbers: `2.1.3, 4, 7 to 9; 2.2.1`.
    fn rows_of(&self, id: &str) -> String {
        let taken = self.steps.iter().filter(|step| step.unit.as_ref().is_some_and(|unit| unit.from == id));
        let mut columns: BTreeMap<Vec<u32>, Vec<u32>> = BTreeMap::new();
        for step in taken {
            let address = numbers(step.line.text("address"));
            let [band, column, row, ..] = address[..] else { continue };
            let rows = columns.entry(vec![band, column]).or_default();
            if rows.last() != Some(&row) {
                rows.push(row);
            }
        }
        let one = |(column, rows): (Vec<u32>, Vec<u32>)| {
            let mut words = Vec::new();
            let mut at = 0;
            while let Some(first) = rows.get(at) {
                let run = rows.iter().skip(at).zip(*first..).take_while(|(row, due)| *row == due).count();
                let step = if run < 3 { 1 } else { run };
                words.push(if run < 3 { first.to_string() } else { format!("{first} to {}", first + run as u32 - 1) });
                at += step;
            }
            let column: Vec<String> = column.iter().map(u32::to_string).collect();
            format!("{}.{}", column.join("."), words.join(", "))
        };
        columns.into_iter().map(one).collect::<Vec<_>>().join("; ")
    }
}
