//! The samples' own stashes and palettes.

use rowscape::fabric::{Rgb, Stash, names, propose};
use rowscape::measure::Length;
use rowscape::picture::{Crop, Limits, Picture};

fn sample(name: &str) -> Vec<u8> {
    std::fs::read(format!("{}/sample-sketches/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn stash(name: &str) -> Stash {
    Stash::read(&String::from_utf8(sample(name)).unwrap()).unwrap()
}

#[test]
fn the_sample_stashes_are_read() {
    let harbour = stash("stash-harbour.toml");
    assert_eq!(harbour.prints.len(), 20);
    let squares =
        |print: &rowscape::fabric::Fabric| print.supply.iter().flat_map(|s| &s.squares).map(|s| s.count).sum::<u32>();
    assert_eq!(harbour.prints.iter().map(squares).sum::<u32>(), 80, "two packs of forty");
    let families: std::collections::BTreeSet<_> = harbour.prints.iter().map(|print| &print.family).collect();
    assert_eq!(families.len(), 12);
    // Only the first print has a length of cloth; fillers of the others come from their squares.
    assert_eq!(harbour.prints.iter().filter(|print| print.only_squares.is_none()).count(), 1);
    let cottage = stash("stash-cottage.toml");
    assert_eq!(cottage.prints.len(), 14);
    assert!(cottage.prints.iter().all(|print| print.supply.is_none()));
}

#[test]
fn the_stashes_to_sew_from_add_up() {
    let packs = stash("stash-two-packs.toml");
    let totals = packs.totals();
    assert_eq!((packs.prints.len(), totals.squares.len(), totals.free), (20, 1, 0));
    assert_eq!((totals.squares[0].count, totals.squares[0].pairs), (80, 40), "two packs of forty");
    assert!(packs.prints.iter().all(|print| print.squares()[0].1 == 4));
    let family = |print: &rowscape::fabric::Fabric| print.family.clone();
    let families: std::collections::BTreeSet<_> = packs.prints.iter().map(family).collect();
    assert_eq!((families.len(), totals.cloth.len(), totals.cloth[0].length), (10, 1, Length::YARD * 3i64));
    assert_eq!(packs.notes(), []);
    let heap = stash("stash-heap.toml");
    let totals = heap.totals();
    assert_eq!(totals.units, [(Length::inches(6, 1), 56), (Length::inches(4, 1), 64)]);
    let pairs: std::collections::BTreeSet<[rowscape::fabric::Print; 2]> =
        heap.hand.units.iter().map(|unit| unit.fabrics).collect();
    assert_eq!((pairs.len(), totals.slices, totals.fillers), (12, 16, 58));
    assert!(totals.squares.is_empty() && totals.cloth.is_empty() && totals.free == 0);
}

fn cells(name: &str, columns: u32, rows: u32) -> Vec<Rgb> {
    Picture::decode(&sample(name), &Limits::default()).unwrap().cells(&Crop::Centre, columns, rows).unwrap()
}

#[test]
fn palettes_hold_what_was_asked_for() {
    for name in ["lighthouse-dusk.png", "headland-photo.jpg", "quay-houses.png"] {
        let cells = cells(name, 108, 144);
        for colours in [2, 6, 12, 20] {
            let palette = propose(&cells, 108, 144, &[], colours, 1);
            assert!((2..=colours).contains(&palette.len()), "{name}: {} of {colours}", palette.len());
            assert_eq!(palette, propose(&cells, 108, 144, &[], colours, 1), "{name}: another palette on another run");
            let names = names(&palette);
            let apart: std::collections::BTreeSet<_> = names.iter().collect();
            assert_eq!(apart.len(), palette.len(), "{names:?}");
        }
    }
    assert_eq!(propose(&[Rgb([9, 30, 60]); 48], 8, 6, &[], 12, 1).len().min(2), 2, "one colour gets a second shade");
}
