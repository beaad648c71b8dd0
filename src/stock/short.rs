//! What a stash is short of for a top, in data and in words.

use std::fmt::{self, Display};

use crate::fabric::{Fabric, OnHand};
use crate::measure::{Length, Ruler, pieces_from_cloth, shop_words};
use crate::plan::Request;

/// What a stash is short of for a top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// The families, in the order of the fabrics.
    pub families: Vec<Lack>,
    /// What is on hand, where there is nothing else.
    pub heap: Option<OnHand>,
}

/// What one family is short of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lack {
    /// The family.
    pub family: String,
    /// The maker's ruler.
    pub ruler: Ruler,
    /// Square inches or square centimetres, by the ruler, rounded up.
    pub area: u64,
    /// Squares of the largest size asked for that make up for it.
    pub squares: u32,
    /// Their side.
    pub side: Length,
    /// Width and length of cloth that gives these squares; none where it is too narrow.
    pub cloth: Option<[Length; 2]>,
}

impl Lack {
    /// So many cells of a family.
    pub fn new(family: &str, cells: f64, request: &Request) -> Self {
        let area = |side: Length| request.ruler.decimal(side).powi(2);
        let short = cells * area(request.grid);
        let side = request.squares.iter().map(|square| square.bought()).max().unwrap_or(request.grid);
        // What is left of a rounding is no square.
        let squares = (short / area(side) - 1e-9).ceil().max(1.0) as u32;
        let cloth = pieces_from_cloth(squares.into(), side, side, request.cloth_width);
        Self {
            family: family.into(),
            ruler: request.ruler,
            area: (short - 1e-9).ceil().max(1.0) as u64,
            squares,
            side,
            cloth: cloth.map(|cut| [request.cloth_width, cut.length]),
        }
    }

    /// `214 square inches (3 squares of 10 in, or 1/3 yd of 42 in)`.
    pub fn amount(&self) -> String {
        let cloth = self.cloth.map_or(String::new(), |[width, length]| {
            format!(", or {} of {}", shop_words(self.ruler, length), self.ruler.show(width))
        });
        format!("{} ({}{cloth})", area(self.area, self.ruler), self.whole())
    }

    /// `3 squares of 10 in`.
    fn whole(&self) -> String {
        format!("{} of {}", counted(self.squares.into(), "square"), self.ruler.show(self.side))
    }
}

impl Shortage {
    fn names(&self) -> String {
        self.families.iter().map(|lack| lack.family.as_str()).collect::<Vec<_>>().join(", ")
    }
}

/// Most families whose shortage is told at length.
const AT_LENGTH: usize = 3;

impl Display for Shortage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(heap) = &self.heap {
            let names = self.names();
            return write!(f, "it has {} and no cloth; more units, or cloth, of {names} are needed", pieces(heap));
        }
        let mut worst: Vec<&Lack> = self.families.iter().collect();
        if worst.len() > AT_LENGTH {
            worst.sort_by_key(|lack| std::cmp::Reverse(lack.area));
            let all: u64 = worst.iter().map(|lack| lack.area).sum();
            write!(f, "{} families lack about {} in all; ", worst.len(), area(all, worst[0].ruler))?;
        }
        let (told, rest) = worst.split_at(worst.len().min(AT_LENGTH));
        let one = |lack: &&Lack| format!("{} is short of about {}", lack.family, lack.amount());
        f.write_str(&told.iter().map(one).collect::<Vec<_>>().join("; "))?;
        write!(f, "{}", by_squares(rest))
    }
}

/// Families that want as many squares together: `; fog, moss of 1 square of 10 in each`.
fn by_squares(rest: &[&Lack]) -> String {
    let mut counts: Vec<u32> = rest.iter().map(|lack| lack.squares).collect();
    counts.sort_unstable_by(|one, other| other.cmp(one));
    counts.dedup();
    let together = |count: u32| {
        let of: Vec<&&Lack> = rest.iter().filter(|lack| lack.squares == count).collect();
        let names: Vec<&str> = of.iter().map(|lack| lack.family.as_str()).collect();
        let each = if of.len() > 1 { " each" } else { "" };
        format!("; {} of {}{each}", names.join(", "), of[0].whole())
    };
    counts.into_iter().map(together).collect()
}

fn area(area: u64, ruler: Ruler) -> String {
    let unit = match (ruler, area) {
        (Ruler::Inch, 1) => "square inch",
        (Ruler::Inch, _) => "square inches",
        (Ruler::Metric, _) => "square cm",
    };
    format!("{area} {unit}")
}

/// Whether there is no cloth of any fabric.
pub fn is_heap(fabrics: &[Fabric]) -> bool {
    fabrics.iter().all(|fabric| fabric.supply.as_ref().is_some_and(|supply| supply.largest().is_none()))
}

fn pieces(heap: &OnHand) -> String {
    let kinds = [
        (heap.units.iter().map(|unit| u64::from(unit.count)).sum(), "unit"),
        (heap.slices.iter().map(|slice| u64::from(slice.count)).sum(), "strip"),
        (heap.fillers.iter().map(|filler| u64::from(filler.count)).sum(), "filler"),
    ];
    let there: Vec<String> = kinds.iter().filter(|(n, _)| *n > 0).map(|&(n, what)| counted(n, what)).collect();
    if there.is_empty() { "no units".into() } else { there.join(", ") }
}

fn counted(count: u64, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fabric::UnitOnHand;

    /// Cells of a quarter of a square inch: 856 are 214 square inches, worked out by hand.
    #[test]
    fn the_advice_is_in_whole_squares_and_what_shops_cut() {
        let inch = Request::usual(Ruler::Inch);
        let words = |cells| Lack::new("sky", cells, &inch).amount();
        // Three squares of 10 in lie side by side in one strip of 10 in: a third of a yard is 12 in, a quarter 9.
        assert_eq!(words(856.0), "214 square inches (3 squares of 10 in, or 1/3 yd of 42 in)");
        assert_eq!(words(2000.0), "500 square inches (5 squares of 10 in, or 5/8 yd of 42 in)");
        assert_eq!(words(0.001), "1 square inch (1 square of 10 in, or 1/3 yd of 42 in)");
        let metric = Request::usual(Ruler::Metric);
        assert_eq!(
            Lack::new("sky", 1300.4, &metric).amount(),
            "1301 square cm (3 squares of 25 cm, or 0.3 m of 110 cm)"
        );
        let narrow = Request { cloth_width: Length::INCH * 9i64, ..inch };
        assert_eq!(Lack::new("sky", 4.0, &narrow).amount(), "1 square inch (1 square of 10 in)");
    }

    /// Up to three families are told at length; of more, the worst three, and the rest by the squares that they want.
    #[test]
    fn many_families_are_told_in_short() {
        let inch = Request::usual(Ruler::Inch);
        let lacks = |all: &[(&str, f64)]| all.iter().map(|&(name, cells)| Lack::new(name, cells, &inch)).collect();
        let told = |all: &[(&str, f64)]| Shortage { families: lacks(all), heap: None }.to_string();
        let few = told(&[("sky", 8.0), ("sea", 800.0), ("sand", 4.0)]);
        assert!(few.starts_with("sky is short of about 2 square inches (") && !few.contains("in all"), "{few}");
        let many = [
            ("sky", 8.0),
            ("sea", 856.0),
            ("sand", 4.0),
            ("fog", 4.0),
            ("moss", 300.0),
            ("night", 804.0),
            ("turf", 440.0),
        ];
        assert_eq!(
            told(&many),
            "7 families lack about 604 square inches in all; \
             sea is short of about 214 square inches (3 squares of 10 in, or 1/3 yd of 42 in); \
             night is short of about 201 square inches (3 squares of 10 in, or 1/3 yd of 42 in); \
             turf is short of about 110 square inches (2 squares of 10 in, or 1/3 yd of 42 in); \
             moss, sky, sand, fog of 1 square of 10 in each"
        );
    }

    #[test]
    fn a_heap_is_counted_in_units() {
        let lack = Lack::new("sky", 5.0, &Request::usual(Ruler::Inch));
        let unit = UnitOnHand { finished: Length::INCH * 4i64, fabrics: [0, 1], count: 7 };
        let heap = Some(OnHand { units: vec![unit; 2], ..OnHand::default() });
        let told = Shortage { families: vec![lack.clone()], heap }.to_string();
        assert_eq!(told, "it has 14 units and no cloth; more units, or cloth, of sky are needed");
        let cloth = Shortage { families: vec![lack], heap: None }.to_string();
        assert!(cloth.starts_with("sky is short of about 2 square inches ("), "{cloth}");
    }
}
