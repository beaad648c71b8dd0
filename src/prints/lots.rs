//! A scene laid out for exchanges: its lots as they will be paired and cut, what touches and what is near.

use std::collections::BTreeMap;

use typed_index_collections::{TiSlice, TiVec};

use super::Rules;
use super::classes::Classes;
use super::deal::{Cost, Deal, Lot, NONE, Source, Unit};
use super::near::near;
use super::on_hand::{Hand, Held};
use super::strips::Strips;
use super::touch::{one_stretch, touching};
use crate::fabric::{Family, Print};
use crate::plan::{Band, Item, Piece, Placed, State, places};
use crate::unit::{Square, pairings};

/// What a lot takes of each of its prints.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// A square: side bought, side paired.
    Square(i64, i64),
    /// A filler: its sides in cells, and whether it is cut longer for a row's end.
    Filler(u32, u32, bool),
    /// What no square gives any more, or what is on hand; each is a kind of its own.
    Loose(usize),
}

impl Kind {
    fn square(square: Square) -> Self {
        Self::Square(square.bought().ticks(), square.cut.ticks())
    }
}

/// Units of the same two families and size.
type Class = (Family, Family, u32);
/// Lots to come: their units, by class and prints.
type Pairs = BTreeMap<(Class, [Print; 2]), Vec<usize>>;

/// Lays out the units of bands that name prints, with these pieces on hand.
pub fn deal(bands: &[Band], rules: &Rules, hand: &BTreeMap<Item, u32>) -> Deal {
    let placed = places(bands);
    let fabrics = placed.iter().flat_map(|unit| unit.unit.piece.fabrics());
    let prints = fabrics.chain(rules.families.iter().flatten().copied()).max().map_or(0, |print| print.0 + 1);
    let mut family_of: TiVec<Print, _> = vec![None; prints].into();
    for (family, prints) in rules.families.iter_enumerated() {
        prints.iter().for_each(|&print| family_of[print] = Some(family));
    }
    let mut bench = Bench {
        rules,
        placed: &placed,
        family_of,
        kinds: BTreeMap::new(),
        lots: Vec::new(),
        classes: Classes::default(),
    };
    let classes: Vec<Option<Class>> = placed.iter().map(|unit| bench.class(unit)).collect();
    let mut units = vec![Unit { lot: NONE, class: NONE, turned: false }; placed.len()];
    bench.make_lots(&classes, &mut units, Hand::new(hand, &placed));
    let (kinds, touches) = (bench.kinds.len(), bench.touches());
    let mut deal = Deal {
        shows: vec![None; placed.len() * 2],
        touches,
        classes: bench.classes.members,
        made_of: bench.classes.made_of,
        near: near(&placed, &classes),
        looks: vec![[None; 2]; placed.len()],
        room: vec![room(prints, rules.counted); kinds],
        strips: Strips::new(&placed, rules.vocabulary, prints),
        cost: Cost::default(),
        spare: Vec::new(),
        sides: Vec::new(),
        side_of: Vec::new(),
        lots: bench.lots,
        units,
    };
    deal.gather_spare();
    deal.gather_sides();
    for (unit, placed) in placed.iter().enumerate() {
        let mut fabrics = placed.unit.piece.fabrics();
        deal.show(unit, [fabrics.next(), fabrics.next()]);
    }
    deal
}

/// Lots more that may be made of each print: none of those that are counted.
fn room(prints: usize, counted: &TiSlice<Print, bool>) -> TiVec<Print, i64> {
    let more = |print: Print| if counted.get(print) == Some(&true) { 0 } else { i64::MAX / 4 };
    (0..prints).map(Print).map(more).collect()
}

struct Bench<'a> {
    rules: &'a Rules<'a>,
    placed: &'a [Placed],
    family_of: TiVec<Print, Option<Family>>,
    kinds: BTreeMap<Kind, usize>,
    lots: Vec<Lot>,
    classes: Classes,
}

impl Bench<'_> {
    /// The class of a triangle unit whose prints are known; none where one stands upright: it keeps its prints, for
    /// exchanged with another corner's its pair would be sewn for nothing.
    fn class(&self, placed: &Placed) -> Option<Class> {
        let t = placed.unit.piece.triangle().filter(|t| !t.upright)?;
        let (one, other) = (self.family_of[t.tip]?, self.family_of[t.rest]?);
        Some((one.min(other), one.max(other), t.block))
    }

    /// Every free unit in a lot.
    fn make_lots(&mut self, classes: &[Option<Class>], units: &mut [Unit], mut hand: Hand) {
        let mut pairs = Pairs::new();
        for (index, placed) in self.placed.iter().enumerate().filter(|(_, placed)| placed.unit.state == State::Free) {
            match (placed.unit.piece, classes[index]) {
                (Piece::Filler(print), _) => {
                    let Some(family) = self.family_of[print] else { continue };
                    units[index].lot = self.lots.len();
                    let held = hand.take(index, placed.item());
                    self.cut(index, (family, print), if held.is_some() { Source::Hand } else { Source::Cloth });
                }
                (Piece::Triangle(t), Some(class)) => {
                    let held = hand.take(index, placed.item());
                    let of = held.filter(|item| matches!(item, Item::Slice { .. })).and_then(|item| self.of(item));
                    let turned = of.is_none() && (self.family_of[t.tip], t.tip) > (self.family_of[t.rest], t.rest);
                    let number = self.classes.number(of.unwrap_or(Item::unit(class.0, class.1, class.2)));
                    self.classes.members[number].push(index);
                    units[index] = Unit { class: number, turned, ..units[index] };
                    if held.is_none() {
                        let prints = if turned { [t.rest, t.tip] } else { [t.tip, t.rest] };
                        pairs.entry((class, prints)).or_default().push(index);
                    }
                }
                (Piece::Triangle(_), None) => {}
            }
        }
        pairs.into_iter().for_each(|((class, prints), made)| self.pair_up(class, prints, &made, units));
        hand.kinds().into_iter().for_each(|held| self.lay_out(held, units));
    }

    /// An item of families.
    fn of(&self, item: Item) -> Option<Item<Family>> {
        item.with(|print| self.family_of.get(print).copied().flatten())
    }

    /// The filler as cut: turned it is the same, but for a row's end that is cut longer one way.
    fn cut(&mut self, index: usize, (family, print): (Family, Print), source: Source) {
        let placed = &self.placed[index];
        let (width, height) = (placed.unit.width, placed.height);
        let kind = if self.rules.spare_ends && self.ends_row(index) {
            Kind::Filler(width, height, true)
        } else {
            Kind::Filler(width.min(height), width.max(height), false)
        };
        let kind = self.kind(kind);
        let families = vec![family];
        self.lots.push(Lot { families, prints: vec![print], kind, yields: 1, units: vec![index], source });
    }

    fn ends_row(&self, index: usize) -> bool {
        let row = |placed: &Placed| (placed.address.band, placed.address.column, placed.address.row);
        let next = self.placed.get(index + 1);
        self.placed[index].address.unit == 1 || next.is_none_or(|next| row(next) != row(&self.placed[index]))
    }

    /// The pairs that such units take, the first full.
    fn pair_up(&mut self, class: Class, prints: [Print; 2], made: &[usize], units: &mut [Unit]) {
        let vocabulary = self.rules.vocabulary;
        let number = self.classes.number(Item::unit(class.0, class.1, class.2));
        let mut pairs: Vec<(Kind, usize)> = Vec::new();
        for pairing in pairings(vocabulary, vocabulary.grid * class.2, made.len() as u32) {
            let pair = (Kind::square(pairing.square), pairing.at_a_time.yields() as usize);
            pairs.extend(std::iter::repeat_n(pair, pairing.pairs as usize));
        }
        if pairs.is_empty() {
            pairs.push((Kind::Loose(self.lots.len()), made.len()));
        }
        let mut left = made;
        for (kind, yields) in pairs {
            let (taken, rest) = left.split_at(yields.min(left.len()));
            taken.iter().for_each(|&unit| units[unit].lot = self.lots.len());
            let (families, kind) = (vec![class.0, class.1], self.kind(kind));
            self.classes.made_of[number].push(self.lots.len());
            let (prints, taken) = (prints.to_vec(), taken.to_vec());
            self.lots.push(Lot { families, prints, kind, yields, units: taken, source: Source::Cloth });
            left = rest;
        }
    }

    /// Pieces on hand of one kind: a lot for all that are sewn, and one for each filler more that could serve.
    fn lay_out(&mut self, held: Held, units: &mut [Unit]) {
        match (held.item, self.of(held.item)) {
            (Item::Filler { fabric, .. }, Some(Item::Filler { fabric: family, long, short })) => {
                let kind = self.kind(Kind::Filler(short, long, false));
                let alike = self.lots.iter().filter(|lot| lot.kind == kind && lot.families == [family]).count();
                let (families, prints, source) = (vec![family], vec![fabric], Source::Hand);
                let lot = Lot { families, prints, kind, yields: 1, units: Vec::new(), source };
                self.lots.extend(vec![lot; alike.min(held.there - held.units.len())]);
            }
            (item, Some(of @ (Item::Unit { .. } | Item::Slice { .. }))) => self.lay_out_sewn(item, of, held, units),
            _ => {}
        }
    }

    fn lay_out_sewn(
        &mut self,
        item: Item,
        of: Item<Family>,
        Held { units: taken, there, .. }: Held,
        units: &mut [Unit],
    ) {
        let Some(number) = self.classes.known(of) else { return };
        let (prints, families, source) = match (item, of) {
            (Item::Slice { tip, rest, .. }, Item::Slice { tip: one, rest: other, .. }) => {
                ([tip, rest], [one, other], Source::Strip)
            }
            (Item::Unit { first, second, .. }, Item::Unit { first: one, second: other, .. }) => {
                let prints = if self.family_of[first] == Some(one) { [first, second] } else { [second, first] };
                (prints, [one, other], Source::Hand)
            }
            _ => return,
        };
        taken.iter().for_each(|&unit| units[unit].lot = self.lots.len());
        self.classes.made_of[number].push(self.lots.len());
        let (families, kind) = (families.to_vec(), Kind::Loose(self.lots.len()));
        let (kind, prints) = (self.kind(kind), prints.to_vec());
        self.lots.push(Lot { families, prints, kind, yields: there, units: taken, source });
    }

    fn kind(&mut self, kind: Kind) -> usize {
        let next = self.kinds.len();
        *self.kinds.entry(kind).or_insert(next)
    }

    /// By patch, those of its family that it touches.
    fn touches(&self) -> Vec<Vec<usize>> {
        let prints: Vec<Vec<Print>> = self.placed.iter().map(|unit| unit.unit.piece.fabrics().collect()).collect();
        let family = |patch: usize| self.family_of[prints[patch / 2][patch % 2]];
        let mut touches = vec![Vec::new(); self.placed.len() * 2];
        for (one, other) in touching(self.placed) {
            let alike = family(one).is_some() && family(one) == family(other);
            if alike && !one_stretch(&self.placed[one / 2], &self.placed[other / 2]) {
                touches[one].push(other);
                touches[other].push(one);
            }
        }
        touches
    }
}
