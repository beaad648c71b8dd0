//! Whether squares and cloth can give what cutting.csv says.

use super::cutting::{Fillers, Gives, Hand, HandKind, Method, Pairs, Supply};
use super::fault::{Fault, short};
use super::scene::Scene;
use super::sheet::Line;
use super::upright;
use crate::measure::Length;

/// Checks one line to cut against the squares and the cloth that were asked for.
pub fn check(scene: &Scene, supply: &Supply) -> Result<(), Fault> {
    match &supply.gives {
        Gives::Units(pairs) => check_pairs(scene, &supply.line, pairs),
        Gives::Fillers(fillers) => check_fillers(scene, &supply.line, fillers),
        Gives::Hand(hand) => check_hand(scene, &supply.line, hand),
    }
}

/// Checks pieces on hand against what the plan says is there.
fn check_hand(scene: &Scene, line: &Line, hand: &Hand) -> Result<(), Fault> {
    hand.fabrics.iter().try_for_each(|letter| known(scene, line, letter))?;
    if hand.kind == HandKind::Unit && hand.size.width != hand.size.height {
        return Err(line.fault("a triangle unit is square, and its width and height differ"));
    }
    if hand.needed.checked_add(hand.spare) != Some(hand.there) {
        let what = format!("{} are there, which is not {} needed and {} spare", hand.there, hand.needed, hand.spare);
        return Err(line.fault(what));
    }
    let upright = hand.kind != HandKind::Filler && hand.fabrics.iter().any(|letter| scene.is_upright(letter));
    if hand.stands.is_some() != upright {
        return Err(
            line.fault("where a print is to stand upright, and only there, it says the corner that it stands in")
        );
    }
    let there = scene.on_hand(hand.kind, &hand.fabrics, hand.size.less(scene.both()), hand.stands);
    if u64::from(hand.there) > there {
        return Err(line.fault(format!("{} are on hand as written, and the plan has {there}", hand.there)));
    }
    Ok(())
}

fn check_pairs(scene: &Scene, line: &Line, pairs: &Pairs) -> Result<(), Fault> {
    let [first, second] = &pairs.fabrics;
    known(scene, line, first)?;
    known(scene, line, second)?;
    if first == second {
        return Err(line.fault(format!("both squares of the pair are of fabric {first}")));
    }
    if !scene.has_square(pairs.square, pairs.bought) {
        let (square, bought) = (scene.show(pairs.square), scene.show(pairs.bought));
        let what = format!("squares of {square}, bought as {bought}, are none of those that the plan was made for");
        return Err(line.fault(what));
    }
    if !gives(pairs, scene.seam) {
        let (square, trimmed) = (scene.show(pairs.square), scene.show(pairs.trimmed));
        let what = format!(
            "squares of {square}, {} at a time with a seam of {}, give no units to trim to {trimmed}",
            words(pairs.method),
            scene.show(scene.seam)
        );
        return Err(line.fault(what).hint("cut nothing: check the seam, the square and the trimmed size of this line"));
    }
    upright::check(scene, line, (&pairs.fabrics, pairs.method, pairs.pairs, pairs.needed), pairs.lay.as_ref())?;
    counts(line, pairs)
}

/// Whether what the pair gives before trimming is at least the trimmed size.
///
/// With square c, seam s and trimmed size t: two at a time c - s·√2 ≥ t, four (c - 2s) / √2 ≥ t, eight
/// c / 2 - s·√2 ≥ t. Both sides of each are freed of the root and squared, in whole numbers.
fn gives(pairs: &Pairs, seam: Length) -> bool {
    let [c, s, t] = [pairs.square, seam, pairs.trimmed].map(|length| i128::from(length.ticks()));
    let (room, least) = match pairs.method {
        Method::Two => (c - t, 2 * s * s),
        Method::Four => (c - 2 * s, 2 * t * t),
        Method::Eight => (c - 2 * t, 8 * s * s),
    };
    room >= 0 && room * room >= least
}

fn counts(line: &Line, pairs: &Pairs) -> Result<(), Fault> {
    let each = match pairs.method {
        Method::Two => 2,
        Method::Four => 4,
        Method::Eight => 8,
    };
    if pairs.yields != each {
        let what = format!("a pair gives {} units, but {} at a time gives {each}", pairs.yields, words(pairs.method));
        return Err(line.fault(what));
    }
    if pairs.pairs == 0 {
        return Err(line.fault("no pair is to be sewn"));
    }
    let made = u64::from(pairs.pairs) * u64::from(each);
    if u64::from(pairs.needed) + u64::from(pairs.spare) != made {
        let what = format!(
            "{} pairs give {made} units, which is not {} needed and {} spare",
            pairs.pairs, pairs.needed, pairs.spare
        );
        return Err(line.fault(what));
    }
    Ok(())
}

fn words(method: Method) -> &'static str {
    match method {
        Method::Two => "two",
        Method::Four => "four",
        Method::Eight => "eight",
    }
}

fn check_fillers(scene: &Scene, line: &Line, fillers: &Fillers) -> Result<(), Fault> {
    known(scene, line, &fillers.fabric)?;
    if fillers.count == 0 {
        return Err(line.fault("no filler is to be cut"));
    }
    Ok(())
}

fn known(scene: &Scene, line: &Line, letter: &str) -> Result<(), Fault> {
    if scene.letters.iter().any(|known| known == letter) {
        return Ok(());
    }
    Err(line.fault(format!("no fabric of the plan has the letter `{}`", short(letter))))
}
