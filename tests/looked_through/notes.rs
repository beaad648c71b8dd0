//! What is doubtful, each kind by a stash that has it and one that has not.

use rowscape::fabric::{Stash, StashNote};
use rowscape::measure::Length;

use crate::looked_through::{fabric, read};

/// Light, middle and dark, two of each family, squares that give units: nothing to note.
fn sound() -> Vec<String> {
    let squares = "squares = [{ size = \"10in\", count = 4 }]";
    let of = |letter, name, colour, family| fabric(letter, name, colour, &format!("family = \"{family}\"\n{squares}"));
    vec![
        of("A", "whitewash", "#f6ecd8", "cream"),
        of("B", "boat sail", "#e9dcc2", "cream"),
        of("C", "far headland", "#746f97", "lilac"),
        of("D", "thistle bank", "#5d5288", "lilac"),
    ]
}

fn notes(entries: &[String]) -> Vec<StashNote> {
    read(&entries.concat()).notes()
}

/// The notes once the last fabric is changed.
fn changed(from: &str, to: &str) -> Vec<StashNote> {
    let mut entries = sound();
    let last = entries.pop().unwrap();
    assert!(last.contains(from), "{from}");
    entries.push(last.replace(from, to));
    notes(&entries)
}

fn with(entry: &str) -> Vec<StashNote> {
    notes(&[sound(), vec![entry.to_owned()]].concat())
}

#[test]
fn a_sound_stash_has_no_notes() {
    assert_eq!(notes(&sound()), []);
}

#[test]
fn names_and_families_alike() {
    let list = |text: &str| vec![text.to_owned()];
    assert_eq!(
        changed("thistle bank", "Far-Headlands"),
        [StashNote::NamesAlike(list("C far headland and D Far-Headlands"))]
    );
    assert_eq!(
        changed("\"lilac\"", "\"Lilac\""),
        [
            StashNote::FamiliesAlike(list("`lilac` and `Lilac`")),
            StashNote::AloneInFamily(vec!["C far headland".into(), "D thistle bank".into()])
        ]
    );
}

#[test]
fn families_by_colour() {
    let far = changed("#5d5288", "#1d1248");
    let [StashNote::FarInFamily(list)] = far.as_slice() else { panic!("{far:?}") };
    assert!(list[0].starts_with("C far headland and D thistle bank in `lilac` ("), "{list:?}");
    let third = with(&fabric("E", "dune", "#f6ecd8", "family = \"lilac\""));
    let farthest =
        third.iter().find_map(|note| if let StashNote::FarInFamily(list) = note { Some(list) } else { None });
    assert!(
        farthest.is_some_and(|list| list.len() == 1 && list[0].starts_with("D thistle bank and E dune")),
        "{third:?}"
    );
    let near = changed("#5d5288\"\nfamily = \"lilac\"", "#746f98\"\nfamily = \"haze\"");
    assert!(
        matches!(&near[..], [StashNote::NearApart(list), StashNote::AloneInFamily(alone), StashNote::NoneSo("dark")]
        if list[0].ends_with("(1 apart)") && alone.len() == 2),
        "{near:?}"
    );
}

#[test]
fn lightness() {
    let one = |colour: &str| notes(&[fabric("A", "sky", colour, ""), fabric("B", "sea", colour, "")]);
    let none = |notes: &[StashNote]| {
        notes.iter().filter_map(|n| if let StashNote::NoneSo(v) = n { Some(*v) } else { None }).collect::<Vec<_>>()
    };
    assert_eq!(none(&one("#ffffff")), ["middle", "dark"]);
    assert_eq!(none(&one("#808080")), ["light", "dark"]);
    assert_eq!(none(&one("#000000")), ["light", "middle"]);
}

#[test]
fn sizes_that_give_nothing_or_that_nothing_gives() {
    let small = changed("size = \"10in\"", "size = \"1 3/4in\"");
    assert_eq!(small, [StashNote::NoUnit(Length::inches(7, 4))]);
    let unit = |size: &str| with(&format!("[[unit]]\nfinished = \"{size}\"\nfabrics = [\"A\", \"C\"]\ncount = 2\n"));
    assert_eq!(unit("7in"), [StashNote::OddUnits(Length::INCH * 7i64)]);
    // 10 in gives 9, 6 and 4 in; a quarter of it, 5 in, gives 4, 2 1/2 and 1 1/2 in.
    for size in ["9in", "6in", "4in", "2 1/2in", "1 1/2in"] {
        assert_eq!(unit(size), [], "{size}");
    }
}

#[test]
fn nothing_and_no_counts() {
    let list = vec!["D thistle bank".to_owned()];
    assert_eq!(changed("[{ size = \"10in\", count = 4 }]", "[]"), [StashNote::NothingOf(list.clone())]);
    assert_eq!(changed("count = 4", "count = 0"), [StashNote::NothingOf(list.clone())]);
    assert_eq!(changed("squares = [{ size = \"10in\", count = 4 }]", ""), [StashNote::Uncounted(list)]);
    assert_eq!(changed("squares = [{ size = \"10in\", count = 4 }]", "fat_quarters = 1"), []);
    let on_hand = "squares = []\n[[filler]]\nfabric = \"D\"\nwidth = \"4in\"\nheight = \"4in\"\ncount = 1\n";
    assert_eq!(changed("squares = [{ size = \"10in\", count = 4 }]", on_hand), []);
    assert_eq!(read(&fabric("A", "sky", "#ffffff", "")).notes().len(), 3, "all free: alone, and two lightnesses");
}

#[test]
fn long_lists_are_cut_short() {
    let many: Vec<String> = (0..60).map(|i| fabric(&i.to_string(), &format!("{i} grey"), "#808080", "")).collect();
    let words: Vec<String> = notes(&many).iter().map(ToString::to_string).collect();
    assert!(words.iter().any(|text| text.contains("and 1764 more")), "{words:?}");
    assert!(words.iter().all(|text| text.len() < 600 && !text.ends_with('.')), "{words:?}");
    let stash: Stash = read(&many.concat());
    assert!(stash.notes().iter().all(|note| !matches!(note, StashNote::NamesAlike(_))), "told apart by number");
}
