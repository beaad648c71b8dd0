//! A stash that the program writes anew.

use proptest::prelude::*;
use rowscape::fabric::{
    Fabric, FillerOnHand, Lean, Oddment, OnHand, Print, Rgb, SliceOnHand, Squares, Stash, Supply, UnitOnHand, Yardage,
    stash_schema,
};
use rowscape::measure::Length;

use crate::looked_through::{read, samples};

fn length() -> impl Strategy<Value = Length> {
    prop_oneof![
        (1..200_i64).prop_map(|quarters| Length::inches(quarters, 4)),
        (1..500_i64).prop_map(Length::mm),
        (1..=Stash::LONGEST.ticks()).prop_map(Length::from_ticks),
    ]
}

fn count() -> impl Strategy<Value = u32> {
    prop_oneof![0..50_u32, Just(Stash::MOST_PIECES)]
}

fn supply() -> impl Strategy<Value = Supply> {
    let squares = (length(), count()).prop_map(|(size, count)| Squares { size, count });
    let yardage = (length(), length()).prop_map(|(width, length)| Yardage { width, length });
    let oddments = (length(), length(), count()).prop_map(|(width, height, count)| Oddment { width, height, count });
    let list = 0..4_usize;
    (
        prop::collection::vec(squares, list.clone()),
        prop::collection::vec(yardage, list.clone()),
        prop_oneof![Just(0), count()],
        prop::collection::vec(oddments, list),
    )
        .prop_map(|(squares, yardage, fat_quarters, oddments)| Supply { squares, yardage, fat_quarters, oddments })
}

/// Names with all that may need care between quotes; the number tells them apart.
fn print(index: usize) -> impl Strategy<Value = Fabric> {
    let rest = ("[ -~é海]{0,20}", any::<[u8; 3]>(), prop::option::of("[a-z\"\\\\']{1,8}"), any::<bool>());
    (rest, any::<bool>(), prop::option::of(supply())).prop_map(move |(rest, directional, supply)| {
        let (name, colour, family, painted) = rest;
        let name = format!("{index}{name}").trim().to_owned();
        Fabric {
            letter: format!("x{index}"),
            family: family.unwrap_or_else(|| name.clone()),
            name,
            colour: Rgb(colour),
            only_squares: None,
            supply,
            remnants: None,
            thumbnail: None,
            swatch_width: None,
            directional,
            upright: false,
            sketch: painted.then_some(Rgb([index as u8, 0, colour[0]])),
        }
    })
}

fn stash() -> impl Strategy<Value = Stash> {
    let slice = (length(), 1..100_i64, any::<bool>(), any::<bool>(), count());
    let slice = slice.prop_filter_map("too narrow", |(from, part, swap, left, count)| {
        let width = Length::from_ticks(from.ticks() / 100 * part);
        let (tip, rest) = if swap { (1, 0) } else { (0, 2) };
        let leans = if left { Lean::Left } else { Lean::Right };
        (width > Length::ZERO).then_some(SliceOnHand {
            from,
            width,
            tip: Print(tip),
            rest: Print(rest),
            leans,
            stands: None,
            count,
        })
    });
    let unit = (length(), prop::sample::select(vec![[0, 1], [2, 0], [1, 2]]), count());
    let unit = unit.prop_map(|(finished, fabrics, count)| UnitOnHand {
        finished,
        fabrics: fabrics.map(Print),
        stands: None,
        count,
    });
    let filler = (0..3_usize, length(), length(), count());
    let filler =
        filler.prop_map(|(fabric, width, height, count)| FillerOnHand { fabric: Print(fabric), width, height, count });
    (
        [print(0), print(1), print(2)],
        prop::collection::vec(unit, 0..4),
        prop::collection::vec(slice, 0..4),
        prop::collection::vec(filler, 0..4),
    )
        .prop_map(|(prints, units, slices, fillers)| Stash {
            prints: prints.to_vec().into(),
            hand: OnHand {
                units: apart(units, UnitOnHand::same),
                slices: apart(slices, SliceOnHand::same),
                fillers: apart(fillers, FillerOnHand::same),
            },
        })
}

/// The first of each kind: lines that say the same are added up when they are read.
fn apart<T>(pieces: Vec<T>, same: impl Fn(&T, &T) -> bool) -> Vec<T> {
    pieces.into_iter().fold(Vec::new(), |mut kept, piece| {
        if !kept.iter().any(|held| same(held, &piece)) {
            kept.push(piece);
        }
        kept
    })
}

/// What a stash says without what is worked out from it.
fn plain(mut stash: Stash) -> Stash {
    stash.prints.iter_mut().for_each(|print| print.only_squares = None);
    stash
}

fn json(text: &str) -> serde_json::Value {
    serde_json::to_value(toml::from_str::<toml::Value>(text).unwrap()).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn what_is_written_reads_as_the_same_and_keeps_to_the_schema(stash in stash()) {
        let schema = stash_schema();
        let validator = jsonschema::validator_for(schema.as_value()).unwrap();
        let text = stash.write();
        prop_assert_eq!(plain(read(&text)), stash);
        let json = json(&text);
        let error = validator.iter_errors(&json).next().map(|error| format!("{error}: {text}"));
        prop_assert_eq!(error, None);
    }
}

#[test]
fn the_samples_are_written_anew() {
    let schema = stash_schema();
    let validator = jsonschema::validator_for(schema.as_value()).unwrap();
    for (name, text) in samples() {
        let stash = read(&text);
        let anew = stash.write();
        assert_eq!(read(&anew), stash, "{name}");
        assert!(validator.is_valid(&json(&text)) && validator.is_valid(&json(&anew)), "{name}");
        assert_eq!(read(&anew).write(), anew, "{name}");
    }
}
