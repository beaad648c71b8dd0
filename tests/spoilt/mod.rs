//! One value at a time is changed in every file of a scene, and the proof finds it, or a written reason says why not.
//!
//! `cargo test` tries a sample of each class; `ROWSCAPE_MUTATIONS=all cargo test --test all spoilt -- --nocapture` tries
//! all and prints how many there are.

mod allowed;
mod change;
mod list;
mod picture;
mod scene;
mod table;
mod text;
mod tree;

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use allowed::ALLOWED;
use change::Change;
use scene::{SCENES, STENCIL, Scene};

/// Changes of one class in one file of a scene that are tried in a sample.
const SAMPLE: usize = 10;

/// What became of the changes of one class.
#[derive(Default)]
struct Tally {
    tried: usize,
    caught: usize,
    allowed: usize,
}

#[test]
fn whatever_is_changed_is_found() {
    let all = std::env::var("ROWSCAPE_MUTATIONS").is_ok_and(|asked| asked == "all");
    let (mut tallies, mut missed) = (BTreeMap::<(&str, &str), Tally>::new(), Vec::new());
    let mut used = BTreeSet::new();
    for asked in &SCENES {
        let scene = Scene::composed(asked);
        scene.prove().unwrap_or_else(|fault| panic!("{}: {fault}", asked.name));
        let changes = if all { changes(&scene) } else { sample(changes(&scene)) };
        let found: Vec<bool> = changes.par_iter().map(|change| scene.with(change).prove().is_err()).collect();
        for (change, caught) in changes.iter().zip(found) {
            let tally = tallies.entry((change.file, change.class)).or_default();
            let reason = ALLOWED.iter().position(|allowed| !caught && allowed.covers(asked.name, change));
            tally.tried += 1;
            tally.caught += usize::from(caught);
            tally.allowed += usize::from(reason.is_some());
            used.extend(reason);
            if !caught && reason.is_none() {
                missed.push(format!("{}: {} {} {}", asked.name, change.file, change.class, change.place));
            }
        }
    }
    println!("{:<16} {:<12} {:>6} {:>6} {:>8}", "file", "class", "tried", "caught", "allowed");
    for ((file, class), tally) in &tallies {
        println!("{file:<16} {class:<12} {:>6} {:>6} {:>8}", tally.tried, tally.caught, tally.allowed);
    }
    let sum = |of: fn(&Tally) -> usize| tallies.values().map(of).sum::<usize>();
    println!("{} changes, {} caught, {} allowed", sum(|t| t.tried), sum(|t| t.caught), sum(|t| t.allowed));
    assert!(missed.is_empty(), "{} changes were not found:\n{}", missed.len(), missed.join("\n"));
    let idle = |(at, _): &(usize, &allowed::Allowed)| all && !used.contains(at);
    let idle: Vec<_> = ALLOWED.iter().enumerate().filter(idle).map(|(_, allowed)| allowed.place).collect();
    assert!(idle.is_empty(), "allowed, and always found: {idle:?}");
}

/// Every change of every file that changes something.
fn changes(scene: &Scene) -> Vec<Change> {
    let mut changes = Vec::new();
    changes.extend(tree::plan(scene));
    changes.extend(tree::leftovers(scene));
    for file in ["rows.csv", "cutting.csv", "cloth.csv"] {
        changes.extend(table::table(scene, file));
    }
    changes.extend(list::list(scene));
    changes.extend(text::drawing(scene, "picture.svg"));
    if scene.has(STENCIL) {
        changes.extend(text::drawing(scene, STENCIL));
    }
    changes.extend(picture::pixels(scene));
    changes.retain(|change| change.bytes() != scene.file(change.file));
    changes
}

/// A few of each class in each file, from its beginning to its end.
fn sample(changes: Vec<Change>) -> Vec<Change> {
    let mut classes = BTreeMap::<_, Vec<Change>>::new();
    for change in changes {
        classes.entry((change.file, change.class)).or_default().push(change);
    }
    let few = |of: Vec<Change>| {
        let step = of.len().div_ceil(SAMPLE);
        of.into_iter().step_by(step)
    };
    classes.into_values().flat_map(few).collect()
}
