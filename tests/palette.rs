//! Palettes for small scenes: painted colours, a lone bright dot and near shades are kept.

use std::collections::BTreeSet;

use rowscape::fabric::{Rgb, hyab, names, propose};
use rowscape::picture::{Crop, Limits, Picture, salience};

const WIDE: u32 = 60;
const HIGH: u32 = 80;

fn picture(colour: impl Fn(u32, u32) -> [u8; 3]) -> Vec<Rgb> {
    (0..HIGH).flat_map(|y| (0..WIDE).map(move |x| (x, y))).map(|(x, y)| Rgb(colour(x, y))).collect()
}

fn nearest(colour: Rgb, palette: &[Rgb]) -> f64 {
    palette.iter().map(|fabric| hyab(colour, *fabric)).fold(f64::INFINITY, f64::min)
}

fn sample(name: &str) -> Vec<u8> {
    std::fs::read(format!("{}/sample-sketches/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// The colours that the drawing says it is painted in.
fn painted(drawing: &str) -> BTreeSet<Rgb> {
    drawing.match_indices('#').filter_map(|(at, _)| drawing.get(at..at + 7)?.parse().ok()).collect()
}

/// A dusk sky that darkens downward over water, evenly as a photo does.
fn dusk(x: u32, y: u32) -> [u8; 3] {
    let (fall, grain) = ((y / 2) as u8, ((x * 7 + y * 13) % 5) as u8);
    if y < 50 { [190 - fall + grain, 200 - fall, 220 - fall] } else { [40 + grain, 70 + fall / 4, 96] }
}

/// Twenty-three colours are painted: as many fabrics keep all, twenty keep the large areas and the lamp.
#[test]
fn the_lighthouse_sketch_keeps_its_painted_colours() {
    let picture = Picture::decode(&sample("lighthouse-dusk.png"), &Limits::default()).unwrap();
    let cells = picture.cells(&Crop::Centre, 108, 144).unwrap();
    let painted = painted(&String::from_utf8(sample("lighthouse-dusk.svg")).unwrap());
    assert_eq!(painted.len(), 23, "{painted:?}");
    let kept = |colours: usize| {
        let palette = propose(&cells, 108, 144, &[], colours, 1);
        let kept = painted.iter().copied().filter(|colour| nearest(*colour, &palette) <= 1.0);
        kept.collect::<BTreeSet<Rgb>>()
    };
    assert_eq!(kept(23), painted);
    let share = |colour: &Rgb| cells.iter().filter(|cell| *cell == colour).count() as f64 / cells.len() as f64;
    let mut large: BTreeSet<Rgb> = painted.iter().copied().filter(|colour| share(colour) >= 0.04).collect();
    assert_eq!(large.len(), 8, "{large:?}");
    large.insert(Rgb([0xff, 0xd4, 0x5a]));
    assert!(large.is_subset(&kept(20)), "{large:?}");
}

/// The lighthouse's stripes and roof are red: no other colour of the sketch can stand for it.
#[test]
fn the_lighthouse_keeps_its_red_in_few_colours() {
    for (name, red) in [("lighthouse-dusk.png", [0xab, 0x43, 0x2e]), ("headland-photo.jpg", [0xb9, 0x46, 0x2c])] {
        let picture = Picture::decode(&sample(name), &Limits::default()).unwrap();
        let cells = picture.cells(&Crop::Centre, 108, 144).unwrap();
        for colours in [6, 8, 12, 20] {
            let palette = propose(&cells, 108, 144, &salience(&cells, 108, 144), colours, 1);
            assert!(nearest(Rgb(red), &palette) <= 20.0, "{name}, {colours}: {palette:?}");
            let shades = palette.windows(2).filter(|two| hyab(two[0], two[1]) <= 12.0);
            assert!(shades.count() >= 1, "{name}, {colours}: no large area has two shades: {palette:?}");
        }
    }
}

/// The sails, the moon and its light, the gulls: each is a colour that covers little of its picture.
#[test]
fn small_bright_things_of_the_sketches_are_there_in_eight_colours() {
    let things = [
        ("harbour-boats.png", [0xf7, 0xef, 0xdf]),
        ("harbour-boats.png", [0xb3, 0x4a, 0x32]),
        ("moonrise-sail.png", [0xf7, 0xe8, 0xbf]),
        ("moonrise-sail.png", [0xa8, 0x44, 0x2f]),
        ("cliffs-gulls.png", [0xf7, 0xf1, 0xe5]),
        ("lighthouse-dusk.png", [0xff, 0xd4, 0x5a]),
    ];
    for (name, thing) in things {
        let picture = Picture::decode(&sample(name), &Limits::default()).unwrap();
        let drawing = sample(&name.replace(".png", ".svg"));
        assert!(painted(&String::from_utf8(drawing).unwrap()).contains(&Rgb(thing)), "{name}: {thing:?}");
        let (width, height) = picture.aspect(&Crop::Centre).unwrap();
        let rows = 108 * height / width;
        let cells = picture.cells(&Crop::Centre, 108, rows).unwrap();
        let palette = propose(&cells, 108, rows, &[], 8, 1);
        assert!(nearest(Rgb(thing), &palette) <= 30.0, "{name}: {thing:?} in {palette:?}");
    }
}

#[test]
fn a_bright_dot_of_nine_cells_keeps_its_colour() {
    let lamp = [255, 204, 64];
    for (left, top) in [(30, 20), (5, 60), (55, 3)] {
        let dot = |x: u32, y: u32| (left..left + 3).contains(&x) && (top..top + 3).contains(&y);
        let flat = picture(|x, y| match (dot(x, y), y) {
            (true, _) => lamp,
            (_, 0..50) => [168, 196, 214],
            _ => [40, 84, 112],
        });
        let palette = propose(&flat, WIDE, HIGH, &[], 6, 1);
        assert!(nearest(Rgb(lamp), &palette) <= 1.0, "flat, at {left}, {top}: {palette:?}");
        let photo = picture(|x, y| if dot(x, y) { lamp } else { dusk(x, y) });
        let palette = propose(&photo, WIDE, HIGH, &[], 6, 1);
        assert!(nearest(Rgb(lamp), &palette) <= 12.0, "photo, at {left}, {top}: {palette:?}");
    }
}

#[test]
fn the_sky_and_the_water_get_two_near_shades() {
    let cells = picture(dusk);
    let palette = propose(&cells, WIDE, HIGH, &[], 12, 1);
    for (what, at) in [("sky", 20 * WIDE + 30), ("water", 70 * WIDE + 30)] {
        let cell = cells[at as usize];
        let own = palette.iter().copied().min_by(|a, b| hyab(cell, *a).total_cmp(&hyab(cell, *b))).unwrap();
        let near = palette.iter().any(|other| (3.0..=10.0).contains(&hyab(own, *other)));
        assert!(near, "{what}: {own} has no near shade in {palette:?}");
    }
}

#[test]
fn names_differ_and_nothing_changes_on_another_run() {
    let cells = picture(dusk);
    for colours in [0, 1, 2, 3, 6, 12, 20, 60] {
        let palette = propose(&cells, WIDE, HIGH, &[], colours, 9);
        assert!((2..=colours.max(2)).contains(&palette.len()), "{colours}: {palette:?}");
        assert_eq!(palette, propose(&cells, WIDE, HIGH, &[], colours, 9));
        assert_eq!(names(&palette).iter().collect::<BTreeSet<_>>().len(), palette.len());
    }
    let same = names(&[Rgb([90, 120, 140]); 60]);
    assert_eq!(same.iter().collect::<BTreeSet<_>>().len(), 60, "even fabrics of one colour: {same:?}");
}
