//! What a stash is short of for a top, in data and in words.

use typed_index_collections::TiSlice;

use std::fmt::{self, Display};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::deal::{Choose, deal};
use crate::compose::Order;
use crate::cutting::lacking;
use crate::fabric::{Fabric, OnHand, Print};
use crate::measure::math::squared;
use crate::measure::{Length, Ruler, pieces_from_cloth, plural, shop_words};
use crate::plan::{Numbers, Plan, Progress, Request};

/// What a stash is short of for a top.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Shortage {
    /// The families, in the order of the fabrics.
    pub families: Vec<Lack>,
    /// What is on hand, where there is nothing else.
    #[serde(skip)]
    pub heap: Option<OnHand>,
    /// What is known of it.
    pub ruling: Ruling,
}

/// Whether a top is ruled out, and by what.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum Ruling {
    /// Proved: all that there is gives less than the top takes, in square inches or square centimetres.
    Area {
        /// What it gives finished, at most.
        gives: u64,
        /// What the top takes.
        takes: u64,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Neither found nor ruled out.
    Open {
        /// Width and height of a plain top that can be made.
        fits: Option<[Length; 2]>,
        /// The maker's ruler.
        ruler: Ruler,
    },
}

/// Sizes that are tried for a top that can be made: so many hundredths of the one asked for, and downwards.
const LARGEST: u32 = 98;
const SMALLEST: u32 = 20;

impl Ruling {
    /// What is known of an order for which no scene was found.
    pub fn of(order: &Order) -> Self {
        let request = order.request;
        let (width, height) = request.cells();
        let stands: usize = order.standing.locks.iter().map(|lock| lock.width * lock.height).sum();
        let cell = i128::from(request.grid.ticks()).pow(2);
        let takes = (i128::from(width) * i128::from(height) - stands as i128) * cell;
        match finished(order) {
            Some(gives) if gives < takes => {
                let unit = match request.ruler {
                    Ruler::Inch => Length::INCH,
                    Ruler::Metric => Length::CM,
                };
                let unit = i128::from(unit.ticks()).pow(2);
                let whole = |area: i128| u64::try_from(area.div_euclid(unit)).unwrap_or(0);
                Self::Area { gives: whole(gives), takes: whole(takes + unit - 1), ruler: request.ruler }
            }
            _ => Self::Open { fits: fits(order), ruler: request.ruler },
        }
    }
}

/// What all cloth and all pieces on hand give finished, at most, in square ticks; none where a fabric has no counts.
///
/// Pieces that are cut from one sheet lie apart by their seams, so what they finish at fits into the sheet less one
/// seam allowance on each side, whatever is cut; pairs of squares finish at less than their squares do.
fn finished(order: &Order) -> Option<i128> {
    let side = |length: Length| i128::from((length - order.request.seam.both()).max(Length::ZERO).ticks());
    let area = |width: Length, height: Length, count: u32| side(width) * side(height) * i128::from(count);
    let fabrics = order.fabrics.iter_enumerated().filter(|(print, _)| !order.without.contains(print));
    let of_print = |(_, fabric): (Print, &Fabric)| {
        let sheets = fabric.supply.as_ref()?.sheets();
        Some(sheets.map(|sheet| area(sheet.width, sheet.height, sheet.count)).sum::<i128>())
    };
    let cloth = fabrics.map(of_print).sum::<Option<i128>>()?;
    Some(cloth + super::largest::on_hand(order.hand))
}

/// The largest plain top of the same shape that is dealt from the sheets and can be cut.
fn fits(order: &Order) -> Option<[Length; 2]> {
    let request = order.request;
    let (width, height) = request.cells();
    let counts = order.fabrics.iter().any(|fabric| fabric.supply.is_some());
    let stands = !(order.standing.locks.is_empty() && order.standing.wishes.is_empty());
    let sizes = (SMALLEST..=LARGEST).rev().step_by(2).filter(|_| counts && !stands);
    let sizes = sizes.take_while(|_| !order.watch.is_stopped());
    sizes.map(|part| [width, height].map(|side| (u64::from(side) * u64::from(part) / 100) as u32)).find_map(|size| {
        let [width, height] = size.map(|side| request.grid * side);
        let smaller = Request { width, height, ..request.clone() };
        smaller.check().ok()?;
        let bands = deal(&Order { request: &smaller, ..*order }, size, None, Choose::Least)?;
        let (fabrics, hand) = (order.fabrics.to_vec(), order.hand.clone());
        let plan = Plan {
            request: smaller,
            fabrics,
            hand,
            picture: Vec::new(),
            focus: Vec::new(),
            bands,
            numbers: Numbers::NONE,
            progress: Progress::default(),
        };
        lacking(&plan).is_empty().then_some([width, height])
    })
}

/// What one family is short of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
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
        let area = |side: Length| squared(request.ruler.decimal(side));
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

    /// `214 square inches (3 squares of 10 in, or 3/8 yd of 42 in)`.
    pub fn amount(&self) -> String {
        let cloth = self.cloth.map_or(String::new(), |[width, length]| {
            format!(", or {} of {}", shop_words(self.ruler, length), self.ruler.show(width))
        });
        format!("{} ({}{cloth})", area(self.area, self.ruler), self.whole())
    }

    /// `3 squares of 10 in`.
    fn whole(&self) -> String {
        format!("{} of {}", plural(self.squares, "square"), self.ruler.show(self.side))
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
        match &self.ruling {
            Ruling::Area { gives, takes, ruler } => write!(
                f,
                "the stash is too small for this top: all that there is gives at most {} finished, and the top takes {takes}",
                area(*gives, *ruler)
            )?,
            Ruling::Open { fits, ruler } => {
                f.write_str("no scene of this size was found in the stash, and none was ruled out")?;
                if let Some([width, height]) = fits.map(|fits| fits.map(|side| ruler.show(side))) {
                    write!(f, "; a plain one of {width} x {height} can be made")?;
                }
            }
        }
        if self.families.is_empty() {
            return Ok(());
        }
        f.write_str("; ")?;
        if let Some(heap) = &self.heap {
            let names = self.names();
            return write!(f, "it has {} and no cloth; more units, or cloth, of {names} are needed", pieces(heap));
        }
        if matches!(self.ruling, Ruling::Open { .. }) {
            f.write_str("in the nearest ")?;
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
pub fn is_heap(fabrics: &TiSlice<Print, Fabric>) -> bool {
    fabrics.iter().all(|fabric| fabric.supply.as_ref().is_some_and(|supply| supply.largest().is_none()))
}

fn pieces(heap: &OnHand) -> String {
    let kinds: [(u64, &str); 3] = [
        (heap.units.iter().map(|unit| u64::from(unit.count)).sum(), "unit"),
        (heap.slices.iter().map(|slice| u64::from(slice.count)).sum(), "strip"),
        (heap.fillers.iter().map(|filler| u64::from(filler.count)).sum(), "filler"),
    ];
    let there: Vec<String> = kinds.iter().filter(|(n, _)| *n > 0).map(|&(n, what)| plural(n, what)).collect();
    if there.is_empty() { "no units".into() } else { there.join(", ") }
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
        // Three squares of 10 in lie side by side in one strip of 10 in: three eighths of a yard are 13 1/2 in, a quarter 9.
        assert_eq!(words(856.0), "214 square inches (3 squares of 10 in, or 3/8 yd of 42 in)");
        assert_eq!(words(2000.0), "500 square inches (5 squares of 10 in, or 5/8 yd of 42 in)");
        assert_eq!(words(0.001), "1 square inch (1 square of 10 in, or 3/8 yd of 42 in)");
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
        let ruling = Ruling::Area { gives: 3100, takes: 3600, ruler: Ruler::Inch };
        let told = |all: &[(&str, f64)]| {
            let told = Shortage { families: lacks(all), heap: None, ruling: ruling.clone() }.to_string();
            let (proof, told) = told.split_once("; ").unwrap();
            assert_eq!(
                proof,
                "the stash is too small for this top: all that there is gives at most 3100 square inches finished, \
                 and the top takes 3600"
            );
            told.to_owned()
        };
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
             sea is short of about 214 square inches (3 squares of 10 in, or 3/8 yd of 42 in); \
             night is short of about 201 square inches (3 squares of 10 in, or 3/8 yd of 42 in); \
             turf is short of about 110 square inches (2 squares of 10 in, or 3/8 yd of 42 in); \
             moss, sky, sand, fog of 1 square of 10 in each"
        );
    }

    const OPEN: &str = "no scene of this size was found in the stash, and none was ruled out; ";

    #[test]
    fn a_heap_is_counted_in_units() {
        let lack = Lack::new("sky", 5.0, &Request::usual(Ruler::Inch));
        let unit = UnitOnHand { finished: Length::INCH * 4i64, fabrics: [Print(0), Print(1)], stands: None, count: 7 };
        let heap = Some(OnHand { units: vec![unit; 2], ..OnHand::default() });
        let open = || Ruling::Open { fits: None, ruler: Ruler::Inch };
        let told = Shortage { families: vec![lack.clone()], heap, ruling: open() }.to_string();
        let told = told.strip_prefix(OPEN).unwrap();
        assert_eq!(told, "it has 14 units and no cloth; more units, or cloth, of sky are needed");
        let fits = Ruling::Open { fits: Some([30i64, 20].map(|side| Length::INCH * side)), ruler: Ruler::Inch };
        let cloth = Shortage { families: vec![lack.clone()], heap: None, ruling: fits }.to_string();
        assert!(cloth.contains("none was ruled out; a plain one of 30 in x 20 in can be made; in the nearest sky is"));
        let cloth = Shortage { families: vec![lack], heap: None, ruling: open() }.to_string();
        let cloth = cloth.strip_prefix(OPEN).unwrap();
        assert!(cloth.starts_with("in the nearest sky is short of about 2 square inches ("), "{cloth}");
    }
}
