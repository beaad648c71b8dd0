//! Palettes proposed from pictures: what must never be lost, and what must always come.

use proptest::prelude::*;
use rowscape::fabric::{Fabric, Rgb, ValueStep, hyab, named_beside, propose, propose_beside, value_step};

const WIDE: u32 = 108;
const HIGH: u32 = 144;

/// A picture from a rule that gives the colour at each place.
fn picture(colour: impl Fn(u32, u32) -> [u8; 3]) -> Vec<Rgb> {
    (0..HIGH).flat_map(|y| (0..WIDE).map(move |x| (x, y))).map(|(x, y)| Rgb(colour(x, y))).collect()
}

fn nearest(colour: Rgb, palette: &[Rgb]) -> f64 {
    palette.iter().map(|fabric| hyab(colour, *fabric)).fold(f64::INFINITY, f64::min)
}

/// A fixed scatter of small numbers, so that areas are not flat.
fn grain(x: u32, y: u32) -> u8 {
    (x.wrapping_mul(2_654_435_761).wrapping_add(y.wrapping_mul(2_246_822_519)) >> 27) as u8 % 9
}

const SKY: [u8; 3] = [168, 196, 214];
const SEA: [u8; 3] = [40, 84, 112];
const ROCK: [u8; 3] = [94, 82, 70];
const TOWER: [u8; 3] = [238, 234, 226];
const LAMP: [u8; 3] = [255, 204, 64];

/// Our headland lighthouse, painted flat in five colours; the lamp is four by four cells.
fn lighthouse(x: u32, y: u32) -> [u8; 3] {
    match (x, y) {
        (52..56, 30..34) => LAMP,
        (48..60, 34..100) => TOWER,
        (30..90, 96..144) => ROCK,
        (_, 0..90) => SKY,
        _ => SEA,
    }
}

/// The same in a photo's manner: a sky that pales downward, and grain all over.
fn photo(x: u32, y: u32) -> [u8; 3] {
    let pale = if lighthouse(x, y) == SKY { (y / 3) as u8 } else { 0 };
    lighthouse(x, y).map(|value| value.saturating_add(pale).saturating_sub(grain(x, y)))
}

#[test]
fn a_flat_sketch_keeps_its_colours_and_gets_second_shades() {
    let cells = picture(lighthouse);
    let palette = propose(&cells, WIDE, HIGH, &[], 12, 7);
    for painted in [SKY, SEA, ROCK, TOWER, LAMP] {
        assert!(palette.contains(&Rgb(painted)), "{painted:?} in {palette:?}");
    }
    for large in [SKY, SEA, ROCK, TOWER] {
        let partners = palette.iter().map(|fabric| hyab(Rgb(large), *fabric)).filter(|far| (4.0..=9.0).contains(far));
        assert_eq!(partners.count(), 1, "{large:?} in {palette:?}");
    }
    assert_eq!(palette.len(), 9, "the lamp is too small for a second shade: {palette:?}");
}

#[test]
fn edges_softened_by_averaging_add_no_colours() {
    let step = |x: u32, y: u32| {
        let two = [lighthouse(x, y), lighthouse((x + 1).min(WIDE - 1), y)].map(|colour| Rgb(colour).linear());
        Rgb::from_linear(std::array::from_fn(|i| (two[0][i] + two[1][i]) / 2.0)).0
    };
    let palette = propose(&picture(step), WIDE, HIGH, &[], 12, 7);
    assert_eq!(palette.len(), 9, "{palette:?}");
}

#[test]
fn a_sketch_of_as_many_colours_as_fabrics_keeps_them_all() {
    let stripes = |x: u32, _: u32| [(x / 9 * 20) as u8, 90, (220 - x / 9 * 15) as u8];
    let palette = propose(&picture(stripes), WIDE, HIGH, &[], 12, 1);
    assert_eq!(palette.len(), 12);
    assert!((0..WIDE).all(|x| palette.contains(&Rgb(stripes(x, 0)))));
}

#[test]
fn a_sketch_of_too_many_colours_keeps_those_that_matter() {
    let stripes = |x: u32, _: u32| [(x / 4 * 9) as u8, 90, (220 - x / 4 * 8) as u8];
    let palette = propose(&picture(stripes), WIDE, HIGH, &[], 12, 1);
    assert!((8..=12).contains(&palette.len()), "{palette:?}");
    assert!((0..WIDE).all(|x| nearest(Rgb(stripes(x, 0)), &palette) < 25.0));
}

#[test]
fn a_lamp_of_sixteen_cells_is_not_lost() {
    let cells = picture(photo);
    for (colours, near) in [(6, 25.0), (12, 12.0), (20, 12.0)] {
        for seed in 0..5 {
            let palette = propose(&cells, WIDE, HIGH, &[], colours, seed);
            assert!(nearest(Rgb(LAMP), &palette) < near, "{colours} colours, seed {seed}: {palette:?}");
        }
    }
}

#[test]
fn large_areas_of_a_photo_get_two_near_shades() {
    let cells = picture(photo);
    for colours in [6, 12, 20] {
        let palette = propose(&cells, WIDE, HIGH, &[], colours, 3);
        let far = |x: u32, y: u32| {
            let mut far: Vec<f64> =
                palette.iter().map(|fabric| hyab(cells[(y * WIDE + x) as usize], *fabric)).collect();
            far.sort_by(f64::total_cmp);
            far[1]
        };
        // The two largest areas: middle of the sky, and of the sea.
        assert!(far(20, 45) < 15.0, "{colours}: {palette:?}");
        assert!(far(10, 120) < 15.0 || colours == 6, "{colours}: {palette:?}");
    }
}

/// Of six colours one is left for a second shade when each of the five things has its own.
#[test]
fn in_few_colours_no_thing_is_lost_to_a_second_shade() {
    let cells = picture(photo);
    for colours in [6, 8] {
        let palette = propose(&cells, WIDE, HIGH, &[], colours, 3);
        for thing in [SEA, ROCK, TOWER, LAMP] {
            assert!(nearest(Rgb(thing), &palette) < 12.0, "{colours}: {thing:?} in {palette:?}");
        }
    }
}

#[test]
fn fabrics_are_told_apart_and_stand_from_light_to_dark() {
    for colours in [2, 3, 6, 12, 20, 60] {
        let palette = propose(&picture(photo), WIDE, HIGH, &[], colours, 3);
        assert!((2..=colours).contains(&palette.len()), "{colours}: {palette:?}");
        assert!(palette.windows(2).all(|two| two[0].lightness() >= two[1].lightness()));
        for (i, one) in palette.iter().enumerate() {
            assert!(palette[..i].iter().all(|other| hyab(*one, *other) > 2.0), "{colours}: {palette:?}");
        }
    }
}

/// Common practice, no source: light, middle and dark carry a pattern.
#[test]
fn light_middle_and_dark_are_all_there() {
    let ramp = |x: u32, y: u32| [(x * 255 / WIDE) as u8 / 8 * 8 + grain(x, y) % 7; 3];
    for colours in [6, 12, 20] {
        let palette = propose(&picture(ramp), WIDE, HIGH, &[], colours, 1);
        let steps: Vec<ValueStep> = palette.iter().map(|colour| value_step(*colour)).collect();
        for step in [ValueStep::Light, ValueStep::Medium] {
            assert!(steps.contains(&step), "{colours}: {step:?} in {palette:?}");
        }
        assert!(steps.last() >= Some(&ValueStep::MediumDark), "{colours}: {palette:?}");
    }
}

#[test]
fn the_makers_weights_bring_a_face_forward() {
    let face = |x: u32, y: u32| (70..76).contains(&x) && (100..106).contains(&y);
    let scene = |x: u32, y: u32| {
        let [r, g, b] = photo(x, y);
        if face(x, y) { [120 - grain(x, y), 92, 84] } else { [r, g, b] }
    };
    let cells = picture(scene);
    let weights: Vec<u8> = (0..HIGH).flat_map(|y| (0..WIDE).map(move |x| if face(x, y) { 255 } else { 4 })).collect();
    let plain = nearest(Rgb([118, 92, 84]), &propose(&cells, WIDE, HIGH, &[], 8, 1));
    let weighed = nearest(Rgb([118, 92, 84]), &propose(&cells, WIDE, HIGH, &weights, 8, 1));
    assert!(weighed < plain, "{weighed} with weights, {plain} without");
}

#[test]
fn any_picture_gives_two_fabrics_at_least() {
    for colour in [[0; 3], [255; 3], [255, 0, 0], [0, 0, 255], [128; 3], [255, 255, 0]] {
        for colours in [0, 1, 2, 12, usize::MAX] {
            let palette = propose(&picture(|_, _| colour), WIDE, HIGH, &[], colours, 1);
            assert_eq!(palette.len(), 2, "{colour:?}");
            assert!(palette.contains(&Rgb(colour)), "{palette:?}");
            assert!((4.0..=9.0).contains(&hyab(palette[0], palette[1])), "{palette:?}");
        }
    }
    assert_eq!(propose(&[Rgb([9, 40, 80])], 1, 1, &[], 12, 1).len(), 2);
}

#[test]
fn odd_sizes_end_well() {
    let cells = picture(photo);
    assert!(propose(&[], 0, 0, &[], 12, 1).is_empty());
    assert!(propose(&cells, 0, 10, &[], 12, 1).is_empty());
    for (columns, rows) in [(1, 400), (400, 1), (1000, 1000), (u32::MAX, u32::MAX), (7, 3)] {
        assert!(propose(&cells, columns, rows, &[0], 12, 1).len() >= 2, "{columns} x {rows}");
    }
    assert!(propose(&cells, WIDE, HIGH, &vec![0; cells.len()], 12, 1).len() >= 2);
}

#[test]
fn large_pictures_are_thinned_out() {
    let cells: Vec<Rgb> =
        (0..600_u32).flat_map(|y| (0..600_u32).map(move |x| Rgb(photo(x * WIDE / 600, y * HIGH / 600)))).collect();
    let palette = propose(&cells, 600, 600, &[], 12, 1);
    assert!(palette.len() > 8 && nearest(Rgb(LAMP), &palette) < 12.0, "{palette:?}");
}

/// What is proposed beside a held sea and a held red serves the rest of the picture.
#[test]
fn held_colours_are_not_proposed_once_more() {
    let held = [Rgb(SEA), Rgb([200, 30, 40])];
    for cells in [picture(photo), picture(lighthouse)] {
        for colours in [6, 8, 12, 20] {
            let palette = propose_beside(&held, &cells, [WIDE, HIGH], &[], colours, 3);
            assert!(palette.len() + held.len() <= colours, "{colours}: {palette:?}");
            assert!(palette.iter().all(|colour| nearest(*colour, &held) >= 3.0), "{colours}: {palette:?}");
            let all: Vec<Rgb> = held.into_iter().chain(palette).collect();
            for thing in [SKY, ROCK, TOWER, LAMP] {
                assert!(nearest(Rgb(thing), &all) < 25.0, "{colours}: {thing:?} in {all:?}");
            }
        }
    }
    let cells = picture(photo);
    assert!(propose_beside(&held, &cells, [WIDE, HIGH], &[], 2, 3).is_empty());
    assert_eq!(propose_beside(&held, &cells, [WIDE, HIGH], &[], 3, 3).len(), 1);
    assert_eq!(propose_beside(&[], &cells, [WIDE, HIGH], &[], 12, 3), propose(&cells, WIDE, HIGH, &[], 12, 3));
}

#[test]
fn fabrics_beside_held_ones_have_letters_and_names_of_their_own() {
    let held = [Fabric::new("b", "Navy", Rgb([0; 3])), Fabric::new("A", "sail", Rgb([9; 3]))];
    let all = named_beside(&held, vec![Rgb([0x1f, 0x2f, 0x6a]), Rgb([255; 3])]);
    assert_eq!(all.raw[..2], held);
    let words: Vec<[&str; 3]> = all.raw[2..].iter().map(|f| [&*f.letter, &*f.name, &*f.family]).collect();
    assert_eq!(words, [["C", "another navy", "another navy"], ["D", "white", "white"]]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn whatever_is_held_no_more_come_than_are_asked_for(
        cells in proptest::collection::vec(any::<[u8; 3]>().prop_map(Rgb), 1..300),
        held in proptest::collection::vec(any::<[u8; 3]>().prop_map(Rgb), 0..14),
        columns in 1_u32..40,
        colours in 2_usize..30,
        seed: u64,
    ) {
        let size = [columns, cells.len() as u32 / columns];
        let palette = propose_beside(&held, &cells, size, &[], colours, seed);
        prop_assert_eq!(&palette, &propose_beside(&held, &cells, size, &[], colours, seed));
        prop_assert!(palette.is_empty() || palette.len() + held.len() <= colours);
        let distinct: std::collections::BTreeSet<&Rgb> = palette.iter().collect();
        prop_assert_eq!(distinct.len(), palette.len());
    }

    #[test]
    fn any_cells_give_the_same_palette_again(
        cells in proptest::collection::vec(any::<[u8; 3]>().prop_map(Rgb), 1..300),
        columns in 1_u32..40,
        colours in 0_usize..30,
        seed: u64,
    ) {
        let rows = cells.len() as u32 / columns;
        let palette = propose(&cells, columns, rows, &[], colours, seed);
        prop_assert_eq!(&palette, &propose(&cells, columns, rows, &[], colours, seed));
        prop_assert!(palette.len() <= colours.max(2));
        prop_assert!(rows == 0 || palette.len() >= 2);
    }
}
