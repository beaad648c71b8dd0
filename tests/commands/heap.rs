//! A small scene from a heap of units already sewn, with no square and no cloth.

use std::collections::BTreeMap;

use rowscape::fabric::{Lean, Print, Stash};
use rowscape::measure::Length;

use crate::commands::desk::{Desk, project, text};
use crate::commands::mutations::cells;

const HEAP: &str = "sample-sketches/stash-heap.toml";

// Columns of cutting.csv.
pub const RECORD: usize = 0;
pub const ID: usize = 1;
pub const FIRST: usize = 2;
pub const SECOND: usize = 3;
pub const WIDTH: usize = 7;
pub const HEIGHT: usize = 8;
pub const COUNT: usize = 9;
pub const NEEDED: usize = 11;
pub const SPARE: usize = 12;

// Columns of rows.csv.
pub const FROM: usize = 12;

/// The lighthouse from the heap alone.
pub fn made() -> Desk {
    let desk = Desk::new();
    let heap = project(HEAP);
    let words = ["--width", "24in", "--height", "32in", "--stash", heap.to_str().unwrap()];
    desk.made("sample-sketches/lighthouse-dusk.png", &words);
    assert!(desk.proof().status.success());
    desk
}

/// A stash's pieces by record, letters and finished sizes.
fn pieces(stash: &Stash) -> BTreeMap<(String, Vec<String>, [Length; 2]), u32> {
    let letter = |print: Print| stash.prints[print].letter.clone();
    let mut pieces = BTreeMap::new();
    let mut add = |record: &str, mut letters: Vec<String>, mut sides: [Length; 2], count: u32| {
        if record == "unit on hand" {
            letters.sort_unstable();
        }
        sides.sort_unstable();
        *pieces.entry((record.to_owned(), letters, sides)).or_default() += count;
    };
    for unit in &stash.hand.units {
        add("unit on hand", unit.fabrics.map(letter).to_vec(), [unit.finished; 2], unit.count);
    }
    for slice in &stash.hand.slices {
        let record = if slice.leans == Lean::Left { "left slice on hand" } else { "right slice on hand" };
        add(record, [slice.tip, slice.rest].map(letter).to_vec(), [slice.width, slice.from], slice.count);
    }
    for filler in &stash.hand.fillers {
        add("filler on hand", vec![letter(filler.fabric)], [filler.width, filler.height], filler.count);
    }
    pieces
}

#[test]
fn the_lighthouse_comes_out_of_the_heap_alone() {
    let desk = made();
    let lines = cells(&desk, "out/cutting.csv");
    let hand = |line: &&Vec<String>| line[RECORD].ends_with("on hand");
    assert_eq!(lines.iter().skip(1).find(|line| !hand(line)), None, "something is cut or paired");
    assert_eq!(cells(&desk, "out/cloth.csv").len(), 1, "cloth is cut");
    let rows = cells(&desk, "out/rows.csv");
    let units: Vec<&Vec<String>> = rows.iter().filter(|line| line[0] == "unit").collect();
    let offcut = |from: &str| units.iter().any(|unit| unit[1] == from);
    assert!(units.iter().all(|unit| unit[FROM].starts_with('H') || offcut(&unit[FROM])));

    let there = pieces(&Stash::read(&std::fs::read_to_string(project(HEAP)).unwrap()).unwrap());
    let mut left = pieces(&Stash::read(&desk.read("out/leftovers.toml")).unwrap());
    let seam = Length::inches(1, 4);
    for line in lines.iter().filter(hand) {
        let letters = [&line[FIRST], &line[SECOND]].into_iter().filter(|letter| !letter.is_empty()).cloned();
        let mut sides =
            [WIDTH, HEIGHT].map(|side| format!("{} in", line[side]).parse::<Length>().unwrap() - seam * 2i64);
        sides.sort_unstable();
        let kind = (line[RECORD].clone(), letters.collect::<Vec<_>>(), sides);
        let needed: u32 = line[NEEDED].parse().unwrap();
        assert!(needed > 0 && needed <= there[&kind], "{line:?}");
        assert_eq!(needed as usize, units.iter().filter(|unit| unit[FROM] == line[ID]).count(), "{line:?}");
        *left.entry(kind).or_default() += needed;
    }
    // Strips that come off units here are left over besides.
    let off: u32 = units.iter().filter(|unit| unit[FROM].starts_with('H') && !unit[13].is_empty()).count() as u32;
    for (kind, count) in &there {
        let now = left.get(kind).copied().unwrap_or(0);
        let more = if kind.0.contains("slice") { off } else { 0 };
        assert!(now >= *count && now <= *count + more, "{kind:?}: {count} were there, {now} are used and left");
    }
    let new: u32 = left.iter().map(|(kind, now)| now - there.get(kind).copied().unwrap_or(0)).sum();
    assert!(new <= off, "{new} pieces are left that were not there, and {off} units were cut");
}

/// Units that finish 7 in come from squares of 8 in, not from those of 10 in that were asked for.
#[test]
fn pieces_of_other_sizes_are_said_to_be_left_aside() {
    let desk = Desk::new();
    let more = "\n[[unit]]\nfinished = \"7in\"\nfabrics = [\"A\", \"B\"]\ncount = 3\n";
    let heap = desk.write("heap.toml", std::fs::read_to_string(project(HEAP)).unwrap() + more);
    let words = ["--width", "24in", "--height", "32in", "--stash", heap.to_str().unwrap()];
    let run = desk.compose(&project("sample-sketches/lighthouse-dusk.png"), &words);
    assert!(run.status.success(), "{}", text(&run.stderr));
    let said = text(&run.stdout);
    assert!(said.contains("3 units of 7 in on hand are left aside: ") && said.contains("squares of 8 in"), "{said}");
}
