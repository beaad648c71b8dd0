//! Why a trial stands where it does, in plain words.
//!
//! Numbers without a source were found by trial, no figures kept.

use super::figures::{hundredths, standing, tenths};
use super::groups::Served;
use super::model::Entry;
use super::short::sentence;

/// A fabric is near a colour up to this far off, in HyAB.
const NEAR: f64 = 12.0;
/// Lights and darks that are told apart by so much less are flat.
const FLATTER: i64 = 5;

/// The reasons for the entry at `at` of entries that stand in their order.
pub(super) fn why(entries: &[Entry], at: usize) -> Vec<String> {
    let entry = &entries[at];
    let mut why = Vec::new();
    if entries.len() > 1 {
        why.push(nearness(entries, at));
        why.push(values(entries, at));
    }
    why.extend(entry.worst.as_ref().map(|worst| served(entry, worst)));
    why.extend(entry.short.as_ref().map(|short| sentence(short, &entry.plan.request)));
    why
}

fn nearness(entries: &[Entry], at: usize) -> String {
    let entry = &entries[at];
    let [near, light, close] = standing(&entry.likeness);
    if at == 0 {
        return first(entries);
    }
    let before = &entries[at - 1];
    let [near_before, light_before, close_before] = standing(&before.likeness);
    let name = &before.name;
    match () {
        () if near != near_before => {
            let best = &entries[0];
            let [near_best, ..] = standing(&best.likeness);
            format!("{} further from the picture than {}.", tenths(near - near_best), best.name)
        }
        () if light != light_before => {
            format!("As near to the picture as {name}, but lights and darks are told apart less well.")
        }
        () if close != close_before => {
            format!("As near as {name} at a squint and as clear in lights and darks, but further off close up.")
        }
        () => format!("Its figures are those of {name}: choose by eye."),
    }
}

fn first(entries: &[Entry]) -> String {
    let [near, light, close] = standing(&entries[0].likeness);
    let second = &entries[1];
    let [near_second, light_second, close_second] = standing(&second.likeness);
    let name = &second.name;
    match () {
        () if near != near_second => {
            format!("Nearest to the picture, {} nearer than {name}.", tenths(near_second - near))
        }
        () if light != light_second => {
            format!(
                "Nearest to the picture together with {name}; first because it tells lights and darks apart better."
            )
        }
        () if close != close_second => {
            format!("Level with {name} at a squint; first because it is nearer close up.")
        }
        () => format!("Its figures are those of {name}: choose by eye."),
    }
}

fn values(entries: &[Entry], at: usize) -> String {
    let light = |entry: &Entry| -standing(&entry.likeness)[1];
    let best = entries.iter().map(light).max().unwrap_or_default();
    let own = light(&entries[at]);
    let equals: Vec<&Entry> = entries.iter().filter(|entry| light(entry) == best).collect();
    match best - own {
        0 if equals.len() == 1 => "Tells lights and darks apart best.".into(),
        0 => "No other tells lights and darks apart better.".into(),
        less => {
            let how =
                if less >= FLATTER { "Flatter in lights and darks" } else { "Nearly as clear in lights and darks" };
            format!("{how}: {} against {} in {}.", hundredths(own), hundredths(best), equals[0].name)
        }
    }
}

fn served(entry: &Entry, worst: &Served) -> String {
    let Served { name, share, fabric, off, at } = worst;
    let nearest = &entry.plan.fabrics[*fabric];
    let nearest = format!("{} ({})", nearest.letter, nearest.name);
    let percent = match (share * 100.0).round() {
        none if none < 1.0 => "under 1 %".into(),
        percent => format!("{percent} %"),
    };
    if *off <= NEAR {
        return format!("Has a fabric near every colour of the picture; furthest off is {name}, by {off:.0}.");
    }
    format!(
        "No fabric near the picture's {name} ({percent} of the top, most of it at {at}): the nearest, {nearest}, is {off:.0} off."
    )
}
