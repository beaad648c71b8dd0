//! Why a trial stands where it does, in plain words.
//!
//! Numbers without a source were found by trial, no figures kept.

use super::figures::standing;
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
            format!("{} further from the picture than {}.", sentence_case(how_much(near - near_best)), best.name)
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
            format!("Nearest to the picture, {} nearer than {name}.", how_much(near_second - near))
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
            let name = &equals[0].name;
            if less >= FLATTER {
                format!("Flatter in lights and darks than {name}.")
            } else {
                format!("Nearly as clear in lights and darks as {name}.")
            }
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
        return format!("Has a fabric near every colour of the picture; {name} is met least well.");
    }
    format!(
        "No fabric near the picture's {name} ({percent} of the top, most of it at {at}): the nearest, {nearest}, {}.",
        how_far(*off)
    )
}

/// A difference of how far scenes are from their picture, in tenths.
fn how_much(tenths: i64) -> &'static str {
    match tenths {
        ..10 => "a touch",
        10..30 => "a little",
        30..80 => "clearly",
        _ => "much",
    }
}

/// How a fabric that is no longer near looks, so far off.
fn how_far(off: f64) -> &'static str {
    match off {
        off if off < 20.0 => "looks a little different",
        off if off < 35.0 => "looks plainly different",
        _ => "is another colour altogether",
    }
}

fn sentence_case(words: &str) -> String {
    let (first, rest) = words.split_at(1);
    first.to_uppercase() + rest
}
