//! What a scene takes, and the fewest clashes of all choices that take no more, by an integer program.

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};
use rowscape::fabric::Print;
use rowscape::measure::Length;
use rowscape::plan::{Item, Piece, Placed, Plan, RowEnds, State, items};
use rowscape::unit::{Triangle, pairings};

use super::case::Case;
use super::touch::{prints_of, touching};

/// Two families, side of the whole unit.
type Class = (usize, usize, u32);
/// A filler as cut, longer at a row's end.
type Size = (u32, u32, bool);

fn class(case: &Case, triangle: &Triangle<Print>) -> Class {
    let (one, other) = (case.family(triangle.tip), case.family(triangle.rest));
    (one.min(other), one.max(other), triangle.block)
}

fn size(case: &Case, at: usize, placed: &[Placed]) -> Size {
    let unit = &placed[at];
    let last = placed.get(at + 1).is_none_or(|next| next.address.unit == 1);
    let ends = case.plan.request.row_ends == RowEnds::Spare && (unit.address.unit == 1 || last);
    let (w, h) = (unit.unit.width, unit.height);
    if ends { (w, h, true) } else { (w.min(h), w.max(h), false) }
}

/// What free units take: squares by print and size cut, fillers by print and size, pairs by class.
#[derive(Default)]
pub struct Taken {
    pub squares: BTreeMap<(Print, Length), u32>,
    pub fillers: BTreeMap<(Print, Size), u32>,
    pub pairs: BTreeMap<Class, Vec<(Length, u32)>>,
    /// Pieces on hand that are used.
    pub held: usize,
}

/// Free units that are on hand, by number, and the pieces that there are for free units.
fn served(plan: &Plan) -> (BTreeMap<usize, Item>, BTreeMap<Item, u32>) {
    let placed = plan.placed();
    let mut left = items(&plan.hand, &plan.request);
    let unit_of = |item: Item| match item {
        Item::Slice { tip, rest, block, .. } => Item::unit(tip, rest, block),
        item => item,
    };
    let mut cut_up: BTreeMap<Item, u32> = BTreeMap::new();
    for unit in placed.iter().filter(|unit| unit.unit.state != State::Free) {
        match left.get_mut(&unit.item()).filter(|left| **left > 0) {
            Some(left) => *left -= 1,
            None => *cut_up.entry(unit_of(unit.item())).or_default() += 1,
        }
    }
    let mut there: BTreeMap<Item, u32> = left.clone();
    let mut served = BTreeMap::new();
    for (at, unit) in placed.iter().enumerate().filter(|(_, unit)| unit.unit.state == State::Free) {
        let item = unit.item();
        let found = [item, unit_of(item)].into_iter().find(|item| left.get(item).is_some_and(|left| *left > 0));
        if let Some(item) = found {
            *left.get_mut(&item).unwrap() -= 1;
            served.insert(at, item);
        }
    }
    // A unit that a standing slice may be cut from is not counted on.
    for (item, there) in &mut there {
        *there -= left[item].min(*cut_up.get(item).unwrap_or(&0));
    }
    (served, there)
}

pub fn taken(case: &Case, plan: &Plan) -> Taken {
    let placed = plan.placed();
    let mut taken = Taken::default();
    let mut made: BTreeMap<(Class, (Print, Print)), u32> = BTreeMap::new();
    let (held, _) = served(plan);
    taken.held = held.len();
    let open = |at: &usize| placed[*at].unit.state == State::Free && !held.contains_key(at);
    for at in (0..placed.len()).filter(open) {
        match &placed[at].unit.piece {
            Piece::Filler(print) => *taken.fillers.entry((*print, size(case, at, &placed))).or_default() += 1,
            Piece::Triangle(t) => *made.entry((class(case, t), t.pair())).or_default() += 1,
        }
    }
    let vocabulary = plan.vocabulary();
    for ((class, (one, other)), units) in made {
        for pairing in pairings(&vocabulary, vocabulary.grid * class.2, units) {
            for print in [one, other] {
                *taken.squares.entry((print, pairing.square.cut)).or_default() += pairing.pairs;
            }
            let pair = (pairing.square.cut, pairing.at_a_time.yields());
            taken.pairs.entry(class).or_default().extend((0..pairing.pairs).map(|_| pair));
        }
    }
    taken
}

/// One row of the program.
type Terms = Vec<(Variable, f64)>;

/// The fewest clashes of all choices that take no more than the scene does, by the referee.
pub fn fewest(case: &Case) -> usize {
    let placed = case.plan.placed();
    let (held, there) = served(&case.plan);
    let taken = taken(case, &case.plan);
    let mut model = Problem::new(OptimizationDirection::Minimize);
    // By unit and patch: for each print, the choices that show it.
    let mut shows: Vec<[BTreeMap<Print, Vec<Variable>>; 2]> = vec![Default::default(); placed.len()];
    let mut made: BTreeMap<(Class, (Print, Print)), Terms> = BTreeMap::new();
    let mut of_print: BTreeMap<(Print, Result<Length, Size>), Terms> = BTreeMap::new();
    let mut strips: BTreeMap<Item, Terms> = BTreeMap::new();
    for (at, unit) in placed.iter().enumerate() {
        let prints = prints_of(unit);
        let free = unit.unit.state == State::Free;
        let of = |patch: usize| case.families[case.family(prints[patch])].clone();
        let mut one = Vec::new();
        for first in of(0) {
            for second in if prints.len() > 1 { of(1) } else { vec![Print(usize::MAX)] } {
                let kept = free || first == prints[0] && prints.get(1).is_none_or(|print| *print == second);
                if first == second || !kept {
                    continue;
                }
                let choice = model.add_binary_var(0.0);
                one.push((choice, 1.0));
                shows[at][0].entry(first).or_default().push(choice);
                shows[at][1].entry(second).or_default().push(choice);
                match &unit.unit.piece {
                    _ if !free => {}
                    Piece::Filler(_) => {
                        of_print.entry((first, Err(size(case, at, &placed)))).or_default().push((choice, 1.0));
                    }
                    Piece::Triangle(_) if matches!(held.get(&at), Some(Item::Slice { .. })) => {
                        let shown = |print: Print| Some(if print == prints[0] { first } else { second });
                        let item = unit.item().with(shown).unwrap();
                        strips.entry(item).or_default().push((choice, 1.0));
                    }
                    Piece::Triangle(t) => {
                        let key = (class(case, t), (first.min(second), first.max(second)));
                        made.entry(key).or_default().push((choice, 1.0));
                    }
                }
            }
        }
        model.add_constraint(one, ComparisonOp::Eq, 1.0);
    }
    for (class, pairs) in &taken.pairs {
        for &(cut, yields) in pairs {
            let mut one = Vec::new();
            for (_, rows) in made.iter_mut().filter(|((other, _), _)| other == class) {
                let pair = model.add_binary_var(0.0);
                one.push((pair, 1.0));
                rows.push((pair, -f64::from(yields)));
            }
            let prints = made.keys().filter(|(other, _)| other == class).map(|(_, prints)| prints);
            for (pair, &(first, second)) in one.iter().zip(prints) {
                of_print.entry((first, Ok(cut))).or_default().push(*pair);
                of_print.entry((second, Ok(cut))).or_default().push(*pair);
            }
            model.add_constraint(one, ComparisonOp::Eq, 1.0);
        }
    }
    let on_hand = |item: Item| f64::from(*there.get(&item).unwrap_or(&0));
    for ((class, (first, second)), row) in made {
        model.add_constraint(row, ComparisonOp::Le, on_hand(Item::unit(first, second, class.2)));
    }
    for (item, row) in strips {
        model.add_constraint(row, ComparisonOp::Le, on_hand(item));
    }
    for ((print, what), row) in of_print.into_iter().filter(|((print, _), _)| case.counted[*print]) {
        let there = match what {
            Ok(cut) => f64::from(*taken.squares.get(&(print, cut)).unwrap_or(&0)),
            Err(size) => {
                let cut = f64::from(*taken.fillers.get(&(print, size)).unwrap_or(&0));
                cut + if size.2 { 0.0 } else { on_hand(Item::filler(print, size.0, size.1)) }
            }
        };
        model.add_constraint(row, ComparisonOp::Le, there);
    }
    for [(u, i), (v, j)] in touching(case, &placed) {
        let clash = model.add_var(1.0, (0.0, 1.0));
        for (print, choices) in &shows[u][i] {
            let Some(others) = shows[v][j].get(print) else { continue };
            let row = choices.iter().chain(others).map(|&choice| (choice, 1.0)).chain([(clash, -1.0)]);
            model.add_constraint(row.collect::<Vec<_>>(), ComparisonOp::Le, 1.0);
        }
    }
    model.solve().unwrap().into_solution().unwrap().objective().round() as usize
}
