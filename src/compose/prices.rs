//! What cloth and pieces on hand cost in the solver: whole numbers, rounded down, so that no scene is priced too high.

use std::collections::BTreeMap;

use super::design::{filler_cloth, half_cloth};
use super::{Choice, Labour};
use crate::fabric::Lean;
use crate::plan::{Item, leans_at};
use crate::unit::{Corner, Cut, Shape, Vocabulary};

/// Prices as asked for, in doubled cost; colours by index.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceList {
    /// Of a cell of cloth of each colour; empty where cloth is free.
    pub cloth: Vec<f64>,
    /// More for a cell where two prints of a colour are paired, one side of the pair counted; empty where there is none.
    pub alike: Vec<f64>,
    /// Of each piece on hand.
    pub hand: Vec<(Item, f64)>,
    /// Of a unit of two colours and a size, in place of its cloth.
    pub units: BTreeMap<Item, f64>,
    /// Colours of which no unit can be made; empty where there is none.
    pub closed: Vec<bool>,
}

/// Two colours that a triangle unit may have, and what it costs beside its error.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Open {
    /// Colour of the tip.
    pub tip: usize,
    /// Colour of the rest.
    pub rest: usize,
    /// Labour and price.
    pub cost: u32,
    /// The price in it.
    pub price: u32,
}

/// A rectangle on hand: colour, width, height and price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ready {
    /// Colour.
    pub colour: usize,
    /// Width in cells.
    pub width: usize,
    /// Height in cells.
    pub height: usize,
    /// Price.
    pub price: u32,
}

/// What may be told apart in the pairs that units may have: size, cut, and the width and lean of a slice.
type Kind = (u32, Cut, u32, Lean);

/// Prices ready for the solver.
#[derive(Default)]
pub struct Prices {
    /// By colour: block side in cells, price of half a unit.
    halves: Vec<Vec<(u32, u32)>>,
    /// By colour: block side, and what a unit of two prints of it costs more.
    alike: Vec<Vec<(u32, u32)>>,
    /// By colour and height: price of a filler of no width, and of each cell along it.
    fillers: Vec<Vec<(u32, u32)>>,
    /// The pairs that units may have; none where any two colours may meet and each half has its price.
    open: Option<BTreeMap<Kind, Vec<Open>>>,
    /// Rectangles on hand, each way that they lie.
    pub ready: Vec<Ready>,
}

impl Prices {
    /// Prices for fillers up to so many cells tall, and for these shapes.
    pub fn new(
        vocabulary: &Vocabulary,
        list: &PriceList,
        choices: &[Choice],
        labour: &Labour,
        shapes: &[Shape],
        tallest: usize,
    ) -> Self {
        let blocks = vocabulary.sides();
        let half = |price: f64| blocks.iter().map(|&b| (b, down(price * half_cloth(vocabulary, b)))).collect();
        let filler = |price: f64| {
            let of = |height: usize| {
                let start = filler_cloth(vocabulary, 0, height);
                (down(price * start), along(price * (filler_cloth(vocabulary, 1, height) - start)))
            };
            (0..=tallest).map(of).collect()
        };
        let mut prices = Self {
            halves: list.cloth.iter().map(|&price| half(price)).collect(),
            alike: list.alike.iter().map(|&price| half(price)).collect(),
            fillers: list.cloth.iter().map(|&price| filler(price)).collect(),
            open: None,
            ready: ready(list),
        };
        if !(list.hand.is_empty() && list.units.is_empty() && list.closed.is_empty()) {
            let pairs = Pairs { list, choices, labour, halves: &prices };
            let open = shapes.iter().flat_map(kinds).map(|kind| (kind, pairs.open(kind))).collect();
            prices.open = Some(open);
        }
        prices
    }

    /// The price of half a unit.
    #[inline(always)]
    pub fn half(&self, colour: usize, block: u32) -> u32 {
        of_block(&self.halves, colour, block)
    }

    /// What a unit of two prints of one colour costs more.
    #[inline(always)]
    pub fn alike(&self, colour: usize, block: u32) -> u32 {
        of_block(&self.alike, colour, block)
    }

    /// The price of both halves of a unit.
    pub fn both(&self, tip: usize, rest: usize, block: u32) -> u32 {
        let more = if tip == rest { self.alike(tip, block) } else { 0 };
        self.half(tip, block) + self.half(rest, block) + more
    }

    /// The price of a filler of a height: of no width, and of each cell along it.
    pub fn filler(&self, colour: usize, height: usize) -> (u32, u32) {
        self.fillers.get(colour).and_then(|fillers| fillers.get(height)).copied().unwrap_or_default()
    }

    /// The price of a rectangle on hand, where there is one of this size.
    pub fn ready(&self, colour: usize, width: usize, height: usize) -> Option<u32> {
        let same = |ready: &&Ready| (ready.colour, ready.width, ready.height) == (colour, width, height);
        self.ready.iter().find(same).map(|ready| ready.price)
    }

    /// The pairs that a shape may have with its tip in a corner; none where any two colours may meet.
    #[inline(always)]
    pub fn open(&self, shape: Shape, corner: Corner) -> Option<&[Open]> {
        let open = self.open.as_ref()?;
        Some(open.get(&kind(&shape, corner)).map_or(&[], Vec::as_slice))
    }

    /// The highest prices of a half, of a filler's start and of a cell along it.
    pub fn highest(&self) -> (u64, u64, u64) {
        let halves = self.halves.iter().flatten().map(|(_, price)| u64::from(*price)).max();
        let fillers = self.fillers.iter().flatten();
        let start = fillers.clone().map(|(start, _)| u64::from(*start)).max();
        let along = fillers.map(|(_, along)| u64::from(*along)).max();
        (halves.unwrap_or(0), start.unwrap_or(0), along.unwrap_or(0))
    }
}

#[inline(always)]
fn of_block(prices: &[Vec<(u32, u32)>], colour: usize, block: u32) -> u32 {
    let prices = prices.get(colour).map_or(&[][..], Vec::as_slice);
    prices.iter().find(|(side, _)| *side == block).map_or(0, |(_, price)| *price)
}

fn kind(shape: &Shape, corner: Corner) -> Kind {
    match shape.cut {
        Cut::Slice => {
            let leans = leans_at(corner, shape.width < shape.height);
            (shape.block, shape.cut, shape.width.min(shape.height), leans)
        }
        cut => (shape.block, cut, 0, Lean::Left),
    }
}

fn kinds(shape: &Shape) -> Vec<Kind> {
    let mut kinds = Corner::ALL.map(|corner| kind(shape, corner)).to_vec();
    kinds.sort_unstable();
    kinds.dedup();
    kinds
}

fn ready(list: &PriceList) -> Vec<Ready> {
    let mut all = Vec::new();
    for (item, price) in &list.hand {
        if let Item::Filler { fabric: colour, long, short } = *item {
            let (long, short, price) = (long as usize, short as usize, down(*price));
            all.push(Ready { colour, width: long, height: short, price });
            if long != short {
                all.push(Ready { colour, width: short, height: long, price });
            }
        }
    }
    all
}

struct Pairs<'a> {
    list: &'a PriceList,
    choices: &'a [Choice],
    labour: &'a Labour,
    halves: &'a Prices,
}

impl Pairs<'_> {
    /// Every pair of colours that units of a kind may have, each at its least cost.
    fn open(&self, kind: Kind) -> Vec<Open> {
        let colours = 0..self.choices.len();
        let pairs = colours.clone().flat_map(|tip| colours.clone().map(move |rest| (tip, rest)));
        let open = pairs.filter_map(|(tip, rest)| {
            let (cost, price) = self.ways(kind, tip, rest).into_iter().flatten().min()?;
            Some(Open { tip, rest, cost, price })
        });
        open.collect()
    }

    /// Made, or taken from what is on hand: cost and price.
    fn ways(&self, (block, cut, width, leans): Kind, tip: usize, rest: usize) -> [Option<(u32, u32)>; 2] {
        let unit = Item::unit(tip, rest, block);
        let (made, held) = (self.made(unit, tip, rest, block), self.on_hand(unit));
        if cut == Cut::Slice {
            let strip = self.on_hand(Item::Slice { tip, rest, block, width, leans });
            // The cloth of a strip is left over; one on hand needs no cut.
            let cut = made.or(held).map(|_| (self.labour.slice, 0));
            return [cut, strip.map(|price| (self.labour.slice.min(self.labour.triangle) + price, price))];
        }
        [made, held].map(|price| price.map(|price| (self.labour.unit(cut) + price, price)))
    }

    fn made(&self, unit: Item, tip: usize, rest: usize, block: u32) -> Option<u32> {
        let shut = |colour: usize| self.list.closed.get(colour).copied().unwrap_or(false);
        if shut(tip) || shut(rest) || (tip == rest && !self.choices[tip].two_prints) {
            return None;
        }
        let cloth = || self.halves.both(tip, rest, block);
        Some(self.list.units.get(&unit).map_or_else(cloth, |price| down(*price)))
    }

    fn on_hand(&self, item: Item) -> Option<u32> {
        self.list.hand.iter().find(|(other, _)| *other == item).map(|(_, price)| down(*price))
    }
}

/// Rounded down; a price that no sum could hold is cut off, which lowers it too.
fn down(price: f64) -> u32 {
    price.clamp(0.0, f64::from(1 << 21)).floor() as u32
}

fn along(price: f64) -> u32 {
    price.clamp(0.0, f64::from(1 << 19)).floor() as u32
}
