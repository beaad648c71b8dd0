//! Everything that there is only so much of, and what scenes take of it.

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::Have;
use super::planes::Plane;
use crate::compose::{
    Draft, Parts, PriceList, Problem, Ready, SquarePrices, cloth_of_each, filler_cloth, free, half_cloth,
};
use crate::fabric::Family;
use crate::measure::math::squared;
use crate::plan::{Band, Item};

/// One thing that there is so much of: cloth of a family in cells, or pieces on hand.
pub struct Stock {
    what: What,
    /// How much there is.
    pub have: f64,
    /// Cells of cloth that one of it stands for, by which its price is measured.
    pub cells: f64,
}

enum What {
    Cloth(Family),
    /// Squares of a side, as `Have` lists them, for units of a family.
    Squares(usize, Family),
    /// Cloth of a family that is paired with another print of it.
    Alike(Family),
    Hand(Item<Family>),
}

/// Everything that there is only so much of.
pub fn stocks(ready: &Ready, have: &Have) -> Vec<Stock> {
    let cloth = have.cloth.iter_enumerated().filter(|(family, _)| !have.none_of(*family));
    let cloth =
        cloth.filter_map(|(family, have)| Some(Stock { what: What::Cloth(family), have: (*have)?, cells: 1.0 }));
    let squares = have.squares.iter().enumerate().flat_map(|(index, (side, squares))| {
        let cells = squared(side.ticks() as f64 / ready.vocabulary.grid.ticks() as f64);
        let counted = squares.iter_enumerated().zip(&have.cloth);
        counted.filter_map(move |((family, squares), cloth)| {
            let have = (*squares)? * cells;
            // Where all cloth makes squares, cloth alone says as much.
            (have < (*cloth)?).then_some(Stock { what: What::Squares(index, family), have, cells: 1.0 })
        })
    });
    let alike =
        have.alike.iter_enumerated().filter(|(family, have)| ready.choices[*family].two_prints && have.is_some());
    let alike =
        alike.filter_map(|(family, have)| Some(Stock { what: What::Alike(family), have: (*have)?, cells: 1.0 }));
    let hand = have.on_hand.iter().map(|(&item, &count)| {
        let cells = match item {
            Item::Unit { block, .. } => 2.0 * half_cloth(&ready.vocabulary, block),
            Item::Slice { block, width, .. } => f64::from(block * width),
            Item::Filler { long, short, .. } => filler_cloth(&ready.vocabulary, long as usize, short as usize),
        };
        Stock { what: What::Hand(item), have: f64::from(count), cells: cells.max(1.0) }
    });
    cloth.chain(squares).chain(alike).chain(hand).collect()
}

/// Prices by stock, each for what stands for a cell of cloth, as the solver takes them.
pub fn price_list(stocks: &[Stock], have: &Have, parts: Parts, prices: &[f64]) -> PriceList {
    let none: TiVec<Family, f64> = vec![0.0; have.cloth.len()].into();
    let squares = have.blocks.iter().map(|blocks| SquarePrices { blocks: blocks.clone(), price: none.clone() });
    let squares = squares.collect();
    let mut list = PriceList { cloth: none.clone(), alike: none, squares, parts, ..PriceList::default() };
    for (stock, price) in stocks.iter().zip(prices) {
        match stock.what {
            What::Cloth(family) => list.cloth[family] = *price,
            What::Squares(side, family) => list.squares[side].price[family] = *price,
            What::Alike(family) => list.alike[family] = *price,
            What::Hand(item) => list.hand.push((item, price * stock.cells)),
        }
    }
    if have.cloth.keys().any(|family| have.none_of(family)) {
        list.closed = have.cloth.keys().map(|family| have.none_of(family)).collect();
    }
    list
}

/// Of a band alone: what it was priced at, and what it takes of each stock in cells, as the ledger counts it.
pub fn alone(
    ready: &Ready,
    problem: &Problem,
    stocks: &[Stock],
    list: &PriceList,
) -> impl Fn(&Band<Draft>) -> (i64, Vec<f64>) {
    let parts = if list.parts == Parts::default() { list.parts } else { Parts::WHOLE };
    let counted = PriceList { parts, ..list.clone() };
    move |band| {
        let alone = std::slice::from_ref(band);
        (problem.paid(alone), taken(ready, alone, stocks, &counted))
    }
}

/// A scene as a plane, for what it costs without prices.
pub fn plane(ready: &Ready, bands: &[Band<Draft>], cost: i64, stocks: &[Stock], list: &PriceList) -> Plane {
    let at = |trimmed: f64, slice: f64| {
        taken(ready, bands, stocks, &PriceList { parts: Parts { trimmed, slice }, ..list.clone() })
    };
    let less =
        |one: &[f64], other: &[f64]| -> Vec<f64> { one.iter().zip(other).map(|(one, other)| one - other).collect() };
    let have: Vec<f64> = stocks.iter().map(|stock| stock.have * stock.cells).collect();
    if list.parts == Parts::default() {
        let none = vec![0.0; stocks.len()];
        let over = less(&taken(ready, bands, stocks, list), &have);
        return Plane { cost: cost as f64, over, cut: [none.clone(), none] };
    }
    let rest = at(0.0, 0.0);
    Plane { cost: cost as f64, over: less(&rest, &have), cut: [less(&at(1.0, 0.0), &rest), less(&at(0.0, 1.0), &rest)] }
}

/// What bands take of each stock, in cells; of what is on hand, where that is the cheaper.
pub fn taken(ready: &Ready, bands: &[Band<Draft>], stocks: &[Stock], list: &PriceList) -> Vec<f64> {
    let hand: BTreeMap<Item<Family>, f64> = list.hand.iter().copied().collect();
    let mut cloth: TiVec<Family, f64> = vec![0.0; ready.families.len()].into();
    let mut pieces = BTreeMap::<Item<Family>, f64>::new();
    let mut alike = cloth.clone();
    let mut squares = vec![cloth.clone(); list.squares.len()];
    for placed in &free(bands) {
        let (item, cells) = (placed.item(), cloth_of_each(&ready.vocabulary, placed, list.parts));
        let price = |family: Family| match item {
            Item::Filler { .. } => list.cloth[family],
            Item::Unit { block, .. } | Item::Slice { block, .. } => list.of_squares(family, block),
        };
        let made: f64 = placed.unit.piece.fabrics().map(|family| price(family) * cells).sum();
        let alike_of = match item {
            Item::Unit { first, second, .. } if first == second => Some(first),
            Item::Slice { tip, rest, .. } if tip == rest => Some(tip),
            _ => None,
        };
        let made = made + alike_of.map_or(0.0, |family| list.alike[family] * cells);
        let shut = placed.unit.piece.fabrics().any(|family| list.closed.get(family) == Some(&true));
        let strip = matches!(item, Item::Slice { .. });
        match hand.get(&item) {
            Some(price) if shut || strip || *price <= made => *pieces.entry(item).or_default() += 1.0,
            _ => {
                placed.unit.piece.fabrics().for_each(|family| cloth[family] += cells);
                if let Item::Unit { block, .. } | Item::Slice { block, .. } = item {
                    let wide = squares.iter_mut().zip(&list.squares).filter(|(_, of)| of.blocks.contains(&block));
                    wide.for_each(|(squares, _)| {
                        placed.unit.piece.fabrics().for_each(|family| squares[family] += cells)
                    });
                }
                alike_of.into_iter().for_each(|family| alike[family] += cells);
            }
        }
    }
    let taken = |stock: &Stock| match stock.what {
        What::Cloth(family) => cloth[family],
        What::Squares(side, family) => squares[side][family],
        What::Alike(family) => alike[family],
        What::Hand(item) => pieces.get(&item).copied().unwrap_or(0.0),
    };
    stocks.iter().map(|stock| taken(stock) * stock.cells).collect()
}
