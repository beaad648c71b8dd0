//! What cloth and pieces on hand cost in the solver: whole numbers, rounded down, so that no scene is priced too high.

use std::collections::{BTreeMap, BTreeSet};

use typed_index_collections::{TiSlice, TiVec};

use super::cost::NEVER;
use super::design::{filler_cloth, half_cloth};
use super::{Choice, Labour};
use crate::fabric::{Family, Lean};
use crate::plan::{Item, leans_at};
use crate::unit::{Corner, Cut, Shape, Vocabulary};

/// Prices as asked for, in doubled cost; colours by index.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceList {
    /// Of a cell of cloth of each colour; empty where cloth is free.
    pub cloth: TiVec<Family, f64>,
    /// More for a cell where two prints of a colour are paired, one side of the pair counted; empty where there is none.
    pub alike: TiVec<Family, f64>,
    /// More for a cell of squares of a size, by size.
    pub squares: Vec<SquarePrices>,
    /// Of each piece on hand.
    pub hand: Vec<(Item<Family>, f64)>,
    /// Of a unit of two colours and a size, in place of its cloth.
    pub units: BTreeMap<Item<Family>, f64>,
    /// Colours of which no unit can be made; empty where there is none.
    pub closed: TiVec<Family, bool>,
    /// How much of a unit's price its two parts cost.
    pub parts: Parts,
}

/// How much of a whole unit's price is paid for what is cut off it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parts {
    /// For a trimmed unit.
    pub trimmed: f64,
    /// For a slice.
    pub slice: f64,
}

impl Parts {
    /// Each is paid for as a whole unit, as where the other is of no use.
    pub const WHOLE: Self = Self { trimmed: 1.0, slice: 1.0 };

    /// The part of a unit's price that a cut costs.
    pub fn of(self, cut: Cut) -> f64 {
        match cut {
            Cut::Whole => 1.0,
            Cut::Trimmed => self.trimmed,
            Cut::Slice => self.slice,
        }
    }
}

impl Default for Parts {
    /// Slices are left over.
    fn default() -> Self {
        Self { trimmed: 1.0, slice: 0.0 }
    }
}

/// What a cell of squares of one size costs more than other cloth.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SquarePrices {
    /// Blocks whose units take such squares, or larger ones that hold a whole number of them.
    pub blocks: Vec<u32>,
    /// The price, by colour.
    pub price: TiVec<Family, f64>,
}

impl PriceList {
    /// What a cell of squares for units of a block costs: its cloth, and more where such squares are scarce.
    pub fn of_squares(&self, colour: Family, block: u32) -> f64 {
        let cloth = self.cloth.get(colour).copied().unwrap_or(0.0);
        let scarce = self.squares.iter().filter(|squares| squares.blocks.contains(&block));
        cloth + scarce.filter_map(|squares| squares.price.get(colour)).sum::<f64>()
    }
}

/// The pairs of colours that triangle units of one kind may have, and what each costs beside its error.
#[derive(Default)]
pub struct Open {
    colours: usize,
    /// Labour and price together, and the price, by tip and then rest; `NEVER` where they may not meet.
    pairs: Vec<(u32, u32)>,
    /// By colour, as tip and as rest: no pair costs less than these of its two colours together.
    least: TiVec<Family, [u32; 2]>,
}

impl Open {
    fn new(colours: usize, pairs: Vec<(u32, u32)>) -> Self {
        let mut least: TiVec<Family, _> = vec![[NEVER; 2]; colours].into();
        for row in pairs.chunks_exact(colours) {
            least.iter_mut().zip(row).for_each(|(least, pair)| least[1] = least[1].min(pair.0));
        }
        for (tip, row) in (0..).map(Family).zip(pairs.chunks_exact(colours)) {
            let open = row.iter().zip(&least).filter(|(pair, _)| pair.0 < NEVER);
            least[tip][0] = open.map(|(pair, least)| pair.0 - least[1]).min().unwrap_or(NEVER);
        }
        Self { colours, pairs, least }
    }

    /// What a pair costs, labour and price; `NEVER` where the two may not meet.
    #[inline(always)]
    pub fn cost(&self, tip: Family, rest: Family) -> u32 {
        self.pairs[tip.0 * self.colours + rest.0].0
    }

    /// What a pair costs, and the price in it; none where the two may not meet.
    pub fn at(&self, tip: Family, rest: Family) -> Option<(u32, u32)> {
        self.pairs.get(tip.0 * self.colours + rest.0).copied().filter(|pair| pair.0 < NEVER)
    }

    /// What a colour costs at the least as tip and as rest: no pair costs less than its two halves so.
    #[inline(always)]
    pub fn least(&self, colour: Family) -> [u32; 2] {
        self.least[colour]
    }
}

/// A rectangle on hand: colour, width, height and price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ready {
    /// Colour.
    pub colour: Family,
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
    /// By cut and colour: block side in cells, price of half a unit.
    halves: [TiVec<Family, Vec<(u32, u32)>>; Cut::ALL.len()],
    /// By cut and colour: block side, and what a unit of two prints of it costs more.
    alike: [TiVec<Family, Vec<(u32, u32)>>; Cut::ALL.len()],
    /// By colour and height: price of a filler of no width, and of each cell along it.
    fillers: TiVec<Family, Vec<(u32, u32)>>,
    /// The pairs that units may have; none where any two colours may meet and each half has its price.
    open: Option<BTreeMap<Kind, Open>>,
    /// What a unit of two colours costs more as they are nearly one, by tip and then rest; empty where none does.
    quiet: Vec<u32>,
    /// Rectangles on hand, each way that they lie.
    pub ready: Vec<Ready>,
}

impl Prices {
    /// Prices for fillers up to so many cells tall, and for these shapes.
    pub fn new(
        vocabulary: &Vocabulary,
        list: &PriceList,
        choices: &TiSlice<Family, Choice>,
        labour: &Labour,
        shapes: &[Shape],
        tallest: usize,
    ) -> Self {
        let blocks = vocabulary.sides();
        let half = |cut: Cut, price: &dyn Fn(u32) -> f64| {
            let half = |block: u32| down(price(block) * half_cloth(vocabulary, block) * list.parts.of(cut));
            blocks.iter().map(|&block| (block, half(block))).collect()
        };
        let filler = |price: f64| {
            let of = |height: usize| {
                let start = filler_cloth(vocabulary, 0, height);
                (down(price * start), along(price * (filler_cloth(vocabulary, 1, height) - start)))
            };
            (0..=tallest).map(of).collect()
        };
        let mut prices = Self {
            halves: Cut::ALL.map(|cut| {
                list.cloth.keys().map(|colour| half(cut, &|block| list.of_squares(colour, block))).collect()
            }),
            alike: Cut::ALL.map(|cut| list.alike.iter().map(|&price| half(cut, &|_| price)).collect()),
            fillers: list.cloth.iter().map(|&price| filler(price)).collect(),
            open: None,
            quiet: quiet(choices, labour.quiet),
            ready: ready(list),
        };
        let upright = choices.iter().any(|choice| choice.upright.is_some());
        let alike = list.hand.is_empty() && list.units.is_empty() && list.closed.is_empty() && prices.quiet.is_empty();
        if upright || !alike {
            prices.open = Some(Pairs { list, choices, labour, halves: &prices }.open(shapes));
        }
        prices
    }

    /// The price of half a unit.
    #[inline(always)]
    pub fn half(&self, colour: Family, block: u32, cut: Cut) -> u32 {
        of_block(&self.halves[cut.index()], colour, block)
    }

    /// The price of both halves of a unit.
    pub fn both(&self, tip: Family, rest: Family, block: u32, cut: Cut) -> u32 {
        let more = if tip == rest { of_block(&self.alike[cut.index()], tip, block) } else { 0 };
        self.half(tip, block, cut) + self.half(rest, block, cut) + more
    }

    /// Whether no half and no filler is dearer in one colour than in another.
    pub fn no_dearer(&self, one: Family, other: Family) -> bool {
        let mut halves = self.halves.iter().map(|halves| halves.get(one).zip(halves.get(other)));
        let fillers = self.fillers.get(one).zip(self.fillers.get(other));
        halves
            .all(|halves| halves.is_none_or(|(one, other)| one.iter().zip(other).all(|(one, other)| one.1 <= other.1)))
            && fillers.is_none_or(|(one, other)| {
                one.iter().zip(other).all(|(one, other)| one.0 <= other.0 && one.1 <= other.1)
            })
    }

    /// The price of a filler of a height: of no width, and of each cell along it.
    pub fn filler(&self, colour: Family, height: usize) -> (u32, u32) {
        self.fillers.get(colour).and_then(|fillers| fillers.get(height)).copied().unwrap_or_default()
    }

    /// What a unit of two colours costs more in labour as they are nearly one.
    pub fn quiet(&self, tip: Family, rest: Family) -> u32 {
        let colours = self.quiet.len().isqrt();
        self.quiet.get(tip.0 * colours + rest.0).copied().unwrap_or(0)
    }

    /// The price of a rectangle on hand, where there is one of this size.
    pub fn ready(&self, colour: Family, width: usize, height: usize) -> Option<u32> {
        let same = |ready: &&Ready| (ready.colour, ready.width, ready.height) == (colour, width, height);
        self.ready.iter().find(same).map(|ready| ready.price)
    }

    /// The pairs that a shape may have with its tip in a corner; none where any two colours may meet.
    #[inline(always)]
    pub fn open(&self, shape: Shape, corner: Corner) -> Option<&Open> {
        self.open.as_ref()?.get(&kind(&shape, corner))
    }

    /// The highest prices of a unit, of a filler's start or one on hand, and of a cell along a filler.
    pub fn highest(&self) -> [u64; 3] {
        let most = |prices: &TiSlice<Family, Vec<(u32, u32)>>| {
            prices.iter().flatten().map(|(_, price)| u64::from(*price)).max()
        };
        let pairs = self.open.iter().flat_map(BTreeMap::values).flat_map(|open| &open.pairs);
        let pair = pairs.map(|(_, price)| u64::from(*price)).max();
        let [halves, alike] = [&self.halves, &self.alike].map(|prices| prices.iter().filter_map(|cut| most(cut)).max());
        let made = 2 * halves.unwrap_or(0) + alike.unwrap_or(0);
        let start = self.fillers.iter().flatten().map(|(start, _)| u64::from(*start));
        let start = start.chain(self.ready.iter().map(|ready| u64::from(ready.price))).max();
        [pair.unwrap_or(made), start.unwrap_or(0), most(&self.fillers).unwrap_or(0)]
    }
}

#[inline(always)]
fn of_block(prices: &TiSlice<Family, Vec<(u32, u32)>>, colour: Family, block: u32) -> u32 {
    let prices = prices.get(colour).map_or(&[][..], Vec::as_slice);
    prices.iter().find(|(side, _)| *side == block).map_or(0, |(_, price)| *price)
}

fn kind(shape: &Shape, corner: Corner) -> Kind {
    if shape.cut.is_strip() {
        let leans = leans_at(corner, shape.width < shape.height);
        (shape.block, shape.cut, shape.width.min(shape.height), leans)
    } else {
        (shape.block, shape.cut, 0, Lean::Left)
    }
}

/// `more` for each pair that is nearly one, by tip and then rest; empty where nothing is charged.
pub(super) fn quiet(choices: &TiSlice<Family, Choice>, more: u32) -> Vec<u32> {
    let charged = if more == 0 { &[][..] } else { &choices.raw };
    let row = |tip: &Choice| charged.iter().map(|rest| if tip.nearly_one(rest) { more } else { 0 }).collect::<Vec<_>>();
    charged.iter().flat_map(row).collect()
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
    choices: &'a TiSlice<Family, Choice>,
    labour: &'a Labour,
    halves: &'a Prices,
}

impl Pairs<'_> {
    /// Every pair of colours that units of these shapes may have, each at its least cost.
    fn open(&self, shapes: &[Shape]) -> BTreeMap<Kind, Open> {
        let kinds: BTreeSet<Kind> = shapes.iter().flat_map(kinds).collect();
        let blocks: BTreeSet<u32> = kinds.iter().map(|kind| kind.0).collect();
        let made: BTreeMap<u32, Vec<u32>> = blocks.into_iter().map(|block| (block, self.made(block))).collect();
        kinds.into_iter().map(|kind| (kind, self.of_kind(kind, &made[&kind.0]))).collect()
    }

    /// Made, or taken from what is on hand, whichever costs less.
    fn of_kind(&self, (block, cut, width, leans): Kind, made: &[u32]) -> Open {
        let colours = self.choices.len();
        let labour = self.labour.unit(cut);
        let part = self.list.parts.of(cut);
        let cost = |price: u32| {
            let price = down(f64::from(price) * part);
            (labour + price, price)
        };
        let mut pairs: Vec<(u32, u32)> =
            made.iter().map(|&price| if price < NEVER { cost(price) } else { (NEVER, 0) }).collect();
        for (item, price) in self.list.hand.iter().map(|(item, price)| (*item, down(*price))) {
            let (both, cost) = match item {
                Item::Unit { first, second, block: of, .. } if of == block => {
                    ([first.0 * colours + second.0, second.0 * colours + first.0], cost(price))
                }
                Item::Slice { tip, rest, block: of, width: wide, leans: way, .. }
                    if cut.is_strip() && (of, wide, way) == (block, width, leans) =>
                {
                    // One on hand needs no cut.
                    ([tip.0 * colours + rest.0; 2], (labour.min(self.labour.triangle) + price, price))
                }
                _ => continue,
            };
            both.into_iter().for_each(|at| pairs[at] = pairs[at].min(cost));
        }
        let quiet = pairs.iter_mut().zip(&self.halves.quiet).filter(|(pair, _)| pair.0 < NEVER);
        quiet.for_each(|(pair, more)| pair.0 += more);
        Open::new(colours, pairs)
    }

    /// The price of a unit made of two colours, by tip and then rest; `NEVER` where it cannot be.
    fn made(&self, block: u32) -> Vec<u32> {
        let colours = self.choices.len();
        let shut = |colour: Family| self.list.closed.get(colour).copied().unwrap_or(false);
        let halves: TiVec<Family, u32> =
            self.choices.keys().map(|colour| self.halves.half(colour, block, Cut::Whole)).collect();
        let pair = |tip: Family, rest: Family| match tip == rest {
            _ if shut(tip) || shut(rest) => NEVER,
            _ if !Choice::may_join(self.choices, tip, rest, block) => NEVER,
            true => self.halves.both(tip, rest, block, Cut::Whole),
            false => halves[tip] + halves[rest],
        };
        let mut made: Vec<u32> = (0..colours)
            .flat_map(|tip| (0..colours).map(move |rest| (Family(tip), Family(rest))))
            .map(|(tip, rest)| pair(tip, rest))
            .collect();
        for (item, price) in &self.list.units {
            if let Item::Unit { first, second, block: of, .. } = *item
                && of == block
            {
                for at in [first.0 * colours + second.0, second.0 * colours + first.0] {
                    made[at] = if made[at] < NEVER { down(*price) } else { NEVER };
                }
            }
        }
        made
    }
}

/// Rounded down; a price that no sum could hold is cut off, which lowers it too.
fn down(price: f64) -> u32 {
    price.clamp(0.0, f64::from(1 << 21)).floor() as u32
}

fn along(price: f64) -> u32 {
    price.clamp(0.0, f64::from(1 << 19)).floor() as u32
}
