//! Stashes as makers write them, and palettes proposed from pictures.

use rowscape::fabric::{Rgb, Stash, StashProblem, hyab, names, propose};
use rowscape::picture::{Crop, Limits, Picture};

const NIGHT: &str = "[[fabric]]\nletter = \"A\"\nname = \"night\"\ncolour = \"#101830\"\n";

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
        |print: &rowscape::fabric::Print| print.supply.iter().flat_map(|s| &s.squares).map(|s| s.count).sum::<u32>();
    assert_eq!(harbour.prints.iter().map(squares).sum::<u32>(), 80, "two packs of forty");
    let families: std::collections::BTreeSet<_> = harbour.prints.iter().map(|print| &print.fabric.family).collect();
    assert_eq!(families.len(), 12);
    // Only the first print has a length of cloth; fillers of the others come from their squares.
    assert_eq!(harbour.prints.iter().filter(|print| print.fabric.only_squares.is_none()).count(), 1);
    let cottage = stash("stash-cottage.toml");
    assert_eq!(cottage.prints.len(), 14);
    assert!(cottage.prints.iter().all(|print| print.supply.is_none()));
}

#[test]
fn what_is_wrong_is_named_and_underlined() {
    let night = |change: &str, to: &str| NIGHT.replace(change, to);
    let two = |change: &str, to: &str| format!("{NIGHT}{}", night(change, to));
    let with = |more: &str| format!("{NIGHT}{more}\n");
    type Expected = fn(&StashProblem) -> bool;
    let cases: [(String, &str, Expected); 12] = [
        (two("night", "dusk"), "\"A\"", |p| matches!(p, StashProblem::SameLetter(_))),
        (two("\"A\"", "\"B\""), "\"night\"", |p| matches!(p, StashProblem::SameName(_))),
        (night("\"A\"", "\"A-1\""), "\"A-1\"", |p| matches!(p, StashProblem::Letter(_))),
        (night("night", " "), "\" \"", |p| matches!(p, StashProblem::Name(_))),
        (night("#101830", "blue"), "\"blue\"", |p| matches!(p, StashProblem::Unreadable(_))),
        (with("squares = [{ size = \"10\", count = 1 }]"), "\"10\"", |p| matches!(p, StashProblem::Unreadable(_))),
        (with("squares = [{ size = \"0in\", count = 1 }]"), "\"0in\"", |p| matches!(p, StashProblem::NotPositive(..))),
        (with("squares = [{ size = \"90m\", count = 1 }]"), "\"90m\"", |p| matches!(p, StashProblem::TooLong(..))),
        (with("squares = [{ size = \"5in\", count = -1 }]"), "-1", |p| matches!(p, StashProblem::Count(-1))),
        (with("[[pack]]\nsize = \"10in\"\ncount = 4\nprints = [\"Q\"]"), "\"Q\"", |p| {
            matches!(p, StashProblem::UnknownLetter(_))
        }),
        (with("[[pack]]\nsize = \"10in\"\ncount = 4\nprints = [\"A\", \"A\"]"), "\"A\"", |p| {
            matches!(p, StashProblem::TwiceInPack(_))
        }),
        (with("[[unit]]\nfinished = \"6in\"\nfabrics = [\"A\", \"A\"]\ncount = 2"), "\"A\"", |_| true),
    ];
    assert!(Stash::read(NIGHT).is_ok());
    for (text, underlined, expected) in cases {
        let error = Stash::read(&text).expect_err(&text);
        assert!(expected(&error.problem), "{text}: {:?}", error.problem);
        let span = error.span.clone().unwrap_or_else(|| panic!("{text}: nothing is underlined"));
        assert!(text[span.clone()].contains(underlined.trim_matches('"')), "{text}: `{}`", &text[span]);
        assert!(!error.help().is_empty() && !error.message().is_empty());
    }
    assert!(matches!(Stash::read("").expect_err("empty").problem, StashProblem::NoFabric));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(300))]

    #[test]
    fn any_stash_text_ends(at in 0..1_000_usize, put in "\\PC{0,6}", cut in 0..12_usize) {
        let whole = String::from_utf8(sample("stash-harbour.toml")).unwrap();
        let clear = |mut at: usize| { while !whole.is_char_boundary(at) { at -= 1; } at };
        let (from, to) = (clear(at.min(whole.len())), clear((at + cut).min(whole.len())));
        let text = format!("{}{put}{}", &whole[..from], &whole[to..]);
        if let Err(error) = Stash::read(&text) {
            proptest::prop_assert!(error.span.clone().is_none_or(|span| text.get(span).is_some()));
        }
    }
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

#[test]
fn a_small_bright_lamp_is_not_lost() {
    let lamp = Rgb([255, 214, 90]);
    let mut night: Vec<Rgb> = (0..60 * 80).map(|i| Rgb([20, 26 + (i / 600) as u8, 60 + (i / 240) as u8])).collect();
    for (x, y) in (0..3).flat_map(|x| (0..3).map(move |y| (x, y))) {
        night[(30 + y) * 60 + 28 + x] = lamp;
    }
    let palette = propose(&night, 60, 80, &[], 6, 1);
    assert!(palette.iter().any(|colour| hyab(*colour, lamp) < 10.0), "{palette:?}");
}

#[test]
fn large_areas_get_two_near_shades() {
    let palette = propose(&cells("headland-photo.jpg", 108, 144), 108, 144, &[], 12, 1);
    let near = |i: usize| (0..palette.len()).any(|j| j != i && (3.0..=12.0).contains(&hyab(palette[i], palette[j])));
    assert!((0..palette.len()).filter(|&i| near(i)).count() >= 4, "{palette:?}");
}
