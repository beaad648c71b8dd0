//! Families proposed, and the file with them written in.

use std::collections::BTreeMap;

use proptest::prelude::*;
use rowscape::fabric::{Print, Proposal, Rgb, Stash, hyab};

use crate::looked_through::{fabric, read, samples};

const SKIES: &str = r##"# What hangs over the harbour.
[[fabric]]   # the first
letter = "A"
name = "evening sky"
colour = "#8fb0c9"   # from across the room

  # set in by two
  [[fabric]]
  colour = '#a5c2d6'
  letter = "B"
  name = "morning sky"

[[fabric]]
letter = "C"
family = "land"  # mine
name = "headland"
"colour" = "#5e5246"
squares = [{ size = "10in", count = 4 }]
"##;

const ON_ONE_LINE: &str = "fabric = [\n  { letter = \"A\", name = \"sky\", colour = \"#8fb0c9\", sketch = \"#000001\" }, \
                           # blue\n  { letter = \"B\", name = \"sea\", colour = \"#243a58\" }\n]";

fn propose(text: &str) -> Proposal {
    Stash::propose_families(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

/// The proposal without each piece that was put in, which must be there once a fabric.
fn taken_out(proposal: &Proposal, piece: impl Fn(&str) -> String) -> String {
    let mut text = proposal.text.clone();
    for (_, family) in &proposal.added {
        let piece = piece(family);
        let at = text.find(&piece).unwrap_or_else(|| panic!("no {piece:?} in {text}"));
        text.replace_range(at..at + piece.len(), "");
    }
    text
}

/// The stash with every family emptied.
fn without_families(text: &str) -> Stash {
    let mut stash = read(text);
    stash.prints.iter_mut().for_each(|print| print.family.clear());
    stash
}

#[test]
fn comments_and_layout_stay() {
    let proposal = propose(SKIES);
    let line = "colour = \"#8fb0c9\"   # from across the room\nfamily = \"light dusty blue\"\n\n";
    assert!(proposal.text.contains(line), "{}", proposal.text);
    assert!(
        proposal.text.contains("  colour = '#a5c2d6'\n  family = \"light dusty blue\"\n  letter"),
        "{}",
        proposal.text
    );
    assert_eq!(proposal.added.iter().map(|(index, _)| *index).collect::<Vec<_>>(), [0, 1].map(Print));
    let lines =
        |text: &str| text.lines().filter(|line| !line.contains("light dusty blue")).collect::<Vec<_>>().join("\n");
    assert_eq!(lines(&proposal.text), SKIES.trim_end());
    assert_eq!(without_families(&proposal.text), without_families(SKIES));
    assert_eq!(propose(&proposal.text), Proposal { text: proposal.text.clone(), added: Vec::new() });
}

#[test]
fn line_breaks_of_either_kind_stay() {
    let windows = SKIES.replace('\n', "\r\n");
    let proposal = propose(&windows);
    assert_eq!(proposal.text, propose(SKIES).text.replace('\n', "\r\n"));
    let bare = fabric("A", "sky", "#8fb0c9", "").trim_end().to_owned();
    assert_eq!(propose(&bare).text, format!("{bare}\nfamily = \"light dusty blue\""));
    let bare = bare.replace('\n', "\r\n");
    assert_eq!(propose(&bare).text, format!("{bare}\r\nfamily = \"light dusty blue\""));
}

#[test]
fn fabrics_on_one_line_stay_on_it() {
    let proposal = propose(ON_ONE_LINE);
    assert_eq!(taken_out(&proposal, |family| format!(", family = \"{family}\"")), ON_ONE_LINE);
    assert_eq!(without_families(&proposal.text), without_families(ON_ONE_LINE));
    assert!(proposal.text.contains("\"#8fb0c9\", family = "), "{}", proposal.text);
}

#[test]
fn a_family_that_was_given_takes_in_what_is_near_and_stays_apart_from_others() {
    let text = [
        fabric("A", "dawn", "#8fb0c9", "family = \"upper sky\""),
        fabric("B", "noon", "#91b2cb", "family = \"lower sky\""),
        fabric("C", "haze", "#8fb0ca", ""),
        fabric("D", "tar", "#101010", ""),
        fabric("E", "soot", "#181818", ""),
        fabric("F", "pitch", "#ffff00", "family = \"black\""),
    ];
    let stash = read(&propose(&text.concat()).text);
    let families: Vec<&str> = stash.prints.iter().map(|print| print.family.as_str()).collect();
    assert_eq!(families, ["upper sky", "lower sky", "upper sky", "black, 2", "black, 2", "black"]);
}

#[test]
fn what_is_no_stash_is_refused() {
    for text in ["", "[[fabric]]", "fabric = 3", "letter = ["] {
        assert_eq!(Stash::propose_families(text).err(), Stash::read(text).err(), "{text}");
        assert!(Stash::propose_families(text).is_err(), "{text}");
    }
}

/// How far two groupings agree beyond chance (Hubert and Arabie, 1985): 1 where they are the same.
fn adjusted_rand(one: &[String], other: &[String]) -> f64 {
    let pairs = |counts: Vec<f64>| counts.iter().map(|n| n * (n - 1.0) / 2.0).sum::<f64>();
    fn counts<K: Ord>(keys: impl Iterator<Item = K>) -> Vec<f64> {
        let mut counts: BTreeMap<K, f64> = BTreeMap::new();
        keys.for_each(|key| *counts.entry(key).or_default() += 1.0);
        counts.into_values().collect()
    }
    let both = pairs(counts(one.iter().zip(other)));
    let (first, second) = (pairs(counts(one.iter())), pairs(counts(other.iter())));
    let chance = first * second / pairs(vec![one.len() as f64]);
    (both - chance) / ((first + second) / 2.0 - chance)
}

#[test]
fn the_samples_families_are_found_again() {
    let families = |stash: &Stash| stash.prints.iter().map(|print| print.family.clone()).collect::<Vec<_>>();
    let mut agreed = Vec::new();
    for (name, text) in samples() {
        let bare: String = text.lines().filter(|line| !line.starts_with("family")).map(|l| format!("{l}\n")).collect();
        let proposal = propose(&bare);
        assert_eq!(taken_out(&proposal, |family| format!("family = \"{family}\"\n")), bare, "{name}");
        assert_eq!(without_families(&proposal.text), without_families(&text), "{name}");
        agreed.push(adjusted_rand(&families(&read(&text)), &families(&read(&proposal.text))));
    }
    assert!(agreed[2] > 0.999 && agreed[3] > 0.999, "heap and two packs as written: {agreed:?}");
    assert!(agreed.iter().sum::<f64>() / 4.0 > 0.85, "{agreed:?}");
}

/// Whether two fabrics of these colours, and no others, are given one family.
fn joined(colours: [String; 2]) -> bool {
    let [one, other] = &colours;
    let text = fabric("A", "one", one, "") + &fabric("B", "other", other, "");
    let stash = read(&propose(&text).text);
    stash.prints[Print(0)].family == stash.prints[Print(1)].family
}

/// Hues that shade into each other; all others are parted.
const NEIGHBOURS: [[&str; 2]; 11] = [
    ["pink", "purple"],
    ["pink", "red"],
    ["purple", "red"],
    ["orange", "red"],
    ["brown", "red"],
    ["brown", "orange"],
    ["brown", "yellow"],
    ["orange", "yellow"],
    ["orange", "pink"],
    ["green", "yellow"],
    ["blue", "purple"],
];

#[test]
fn colours_that_people_call_by_other_hues_are_not_joined() {
    let text = include_str!("../data/colour_names.csv");
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let named: Vec<(&str, &str, Rgb)> = lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            (cells[0], cells[1], cells[2].parse().unwrap())
        })
        .collect();
    let (mut parted, mut brown_and_green) = (0, 0);
    for (at, one) in named.iter().enumerate() {
        let near = |other: &&(&str, &str, Rgb)| other.0 != one.0 && hyab(one.2, other.2) <= Stash::FAMILY;
        for other in named[..at].iter().filter(near) {
            let mut hues = [one.0, other.0];
            hues.sort_unstable();
            if !NEIGHBOURS.contains(&hues) {
                assert!(!joined([one.2, other.2].map(|colour| colour.to_string())), "{} and {}", one.1, other.1);
                parted += 1;
                brown_and_green += usize::from(hues == ["brown", "green"]);
            }
        }
    }
    assert!(
        parted > 15 && brown_and_green >= 10,
        "{parted} pairs as near as a family, {brown_and_green} brown and green"
    );
}

/// Two fabrics with anything between their lines that may stand there.
const ROOM: &str = "[[fabric]]\nletter = \"A\"\nname = \"sky\"\ncolour = \"#8fb0c9\"\n[[fabric]]\nletter = \"B\"\ncolour = \"#243a58\"\nname = \"sea\"\n";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn any_stash_that_reads_stays_the_same_but_for_families(
        at in 0..ROOM.len(), cut in 0..6_usize, put in "[\\[\\]{}=\"'#,.\r\n\t a-e0-9\u{feff}é]{0,6}",
    ) {
        let text = format!("{}{put}{}", &ROOM[..at], &ROOM[(at + cut).min(ROOM.len())..]);
        for text in [text.clone(), text.replace('\n', "\r\n")] {
            match Stash::propose_families(&text) {
                Ok(proposal) => prop_assert_eq!(without_families(&proposal.text), without_families(&text)),
                Err(error) => prop_assert_eq!(Err(error), Stash::read(&text)),
            }
        }
    }

    #[test]
    fn families_hold_together_and_cannot_be_joined(colours in prop::collection::vec(0..0x100_0000_u32, 1..25)) {
        let entry = |(at, colour): (usize, &u32)| fabric(&at.to_string(), &format!("cloth {at}"), &format!("#{colour:06x}"), "");
        let stash = read(&propose(&colours.iter().enumerate().map(entry).collect::<String>()).text);
        let mut families: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (index, print) in stash.prints.iter().enumerate() {
            families.entry(&print.family).or_default().push(index);
        }
        let families: Vec<Vec<usize>> = families.into_values().collect();
        let apart = |one: &[usize], other: &[usize]| {
            let pairs = one.iter().flat_map(|&i| other.iter().map(move |&j| (i, j)));
            pairs.map(|(i, j)| hyab(stash.prints[Print(i)].colour, stash.prints[Print(j)].colour)).fold(0.0, f64::max)
        };
        for (at, family) in families.iter().enumerate() {
            prop_assert!(apart(family, family) <= Stash::FAMILY);
            // Two that are near enough are of hues that the eye parts: one fabric of each alone is not joined either.
            let parted = |other: &Vec<usize>| {
                let pairs = family.iter().flat_map(|&i| other.iter().map(move |&j| [i, j]));
                pairs.into_iter().any(|pair| !joined(pair.map(|i| stash.prints[Print(i)].colour.to_string())))
            };
            prop_assert!(families[..at].iter().all(|other| apart(family, other) > Stash::FAMILY || parted(other)));
        }
    }
}
