//! The stash file: what it may say, and every mistake with its place.

use proptest::prelude::*;
use rowscape::fabric::{Lean, Print, Rgb, Stash, StashError, StashProblem, stash_schema};
use rowscape::measure::Length;

/// The guild's stash for the raffle quilt, with everything that a stash may say.
const GUILD: &str = r##"
[[fabric]]
letter = "A"
name = "evening sky"
colour = "#8fb0c9"
family = "sky"
sketch = "#90b0d0"
squares = [{ size = "10in", count = 4 }]
yardage = [{ width = "42in", length = "1 1/2 yd" }]

[[fabric]]
letter = "B2"
name = "morning sky"
colour = "#a5c2d6"
family = "sky"
directional = true
fat_quarters = 2
oddments = [{ width = "7in", height = "12in", count = 1 }]

[[fabric]]
letter = "C"
name = "headland"
colour = "#5e5246"

[[pack]]
size = "10in"
count = 5
prints = ["B2", "A"]

[[unit]]
finished = "6in"
fabrics = ["C", "A"]
count = 12

[[slice]]
from = "9in"
width = "2 1/2in"
tip = "A"
rest = "C"
leans = "right"
count = 3

[[filler]]
fabric = "C"
width = "4in"
height = "9in"
count = 2
"##;

const ONE: &str = "[[fabric]]\nletter = \"A\"\nname = \"sky\"\ncolour = \"#8fb0c9\"\n";

/// The error of the guild's stash with one thing changed, and the text that its span marks.
fn mistake(from: &str, to: &str) -> (StashError, String) {
    assert_eq!(GUILD.matches(from).count(), 1, "{from}");
    let text = GUILD.replace(from, to);
    let error = Stash::read(&text).expect_err(to);
    assert!(!error.help().is_empty() && !error.message().is_empty());
    let marked = error.span.clone().map(|span| text.get(span).expect("a span within the text").to_owned());
    (error, marked.unwrap_or_default())
}

fn problem(from: &str, to: &str, marked: &str) -> StashProblem {
    let (error, place) = mistake(from, to);
    assert_eq!(place, marked, "{error}");
    error.problem
}

/// The guild's stash with one thing changed still reads.
fn fine(from: &str, to: &str) -> Stash {
    assert_eq!(GUILD.matches(from).count(), 1, "{from}");
    Stash::read(&GUILD.replace(from, to)).expect(to)
}

/// `count` fabrics, told apart by number.
fn many(count: usize) -> String {
    (0..count).map(|i| ONE.replace("\"A\"", &format!("\"{i}\"")).replace("sky", &format!("sky {i}"))).collect()
}

#[test]
fn reads_all_that_a_stash_may_say() {
    let stash = Stash::read(GUILD).unwrap();
    let fabrics = stash.fabrics();
    assert_eq!(fabrics.iter().map(|f| f.letter.as_str()).collect::<Vec<_>>(), ["A", "B2", "C"]);
    assert_eq!(fabrics.iter().map(|f| f.family.as_str()).collect::<Vec<_>>(), ["sky", "sky", "headland"]);
    assert_eq!(fabrics[Print(2)].colour, Rgb([0x5e, 0x52, 0x46]));
    assert_eq!(stash.prints[Print(0)].sketch, Some(Rgb([0x90, 0xb0, 0xd0])));
    assert_eq!(stash.prints.iter().map(|p| p.directional).collect::<Vec<_>>(), [false, true, false]);

    let supply = stash.prints[Print(0)].supply.as_ref().unwrap();
    assert_eq!(supply.squares.iter().map(|s| s.count).collect::<Vec<_>>(), [4, 2], "its own, then the pack's");
    assert_eq!(supply.yardage[0].length, Length::inches(54, 1));
    let other = stash.prints[Print(1)].supply.as_ref().unwrap();
    assert_eq!((other.squares[0].count, other.fat_quarters), (3, 2), "the first print gets one more");
    assert_eq!(other.oddments[0].height, Length::inches(12, 1));
    assert!(stash.prints[Print(2)].supply.is_none(), "free use");

    assert_eq!((stash.hand.units[0].fabrics, stash.hand.units[0].count), ([2, 0].map(Print), 12));
    let slice = stash.hand.slices[0];
    assert_eq!(
        (slice.tip, slice.rest, slice.leans, slice.width),
        (Print(0), Print(2), Lean::Right, Length::inches(5, 2))
    );
    assert_eq!((stash.hand.fillers[0].fabric, stash.hand.fillers[0].height), (Print(2), Length::inches(9, 1)));
}

#[test]
fn a_pack_is_shared_out_to_the_last_square() {
    for count in [0, 1, 2, 3, 41, 42, 43, 100_000] {
        let text = format!("{}[[pack]]\nsize = \"5in\"\ncount = {count}\nprints = [\"0\", \"3\", \"1\"]\n", many(4));
        let stash = Stash::read(&text).unwrap();
        let share = |i: usize| stash.prints[Print(i)].supply.as_ref().map(|supply| supply.squares[0].count);
        let shares = [share(0).unwrap(), share(3).unwrap(), share(1).unwrap()];
        assert_eq!(shares.iter().sum::<u32>(), count);
        assert!(shares.is_sorted_by(|one, next| one >= next) && shares[0] - shares[2] <= 1, "{shares:?}");
        assert_eq!(share(2), None, "not in the pack");
    }
}

#[test]
fn nothing_left_is_not_free_use() {
    for none in ["squares = []", "fat_quarters = 0", "yardage = []", "squares = [{ size = \"5in\", count = 0 }]"] {
        assert!(Stash::read(&format!("{ONE}{none}\n")).unwrap().prints[Print(0)].supply.is_some(), "{none}");
    }
    assert!(Stash::read(ONE).unwrap().prints[Print(0)].supply.is_none());
}

#[test]
fn counts_of_fabrics_have_limits() {
    assert_eq!(Stash::read("").unwrap_err().problem, StashProblem::NoFabric);
    assert_eq!(Stash::read(&many(400)).unwrap().prints.len(), 400);
    assert_eq!(Stash::read(&many(401)).unwrap_err().problem, StashProblem::TooManyFabrics(401));
}

#[test]
fn lists_and_files_have_limits() {
    let squares = |count: usize| format!("{ONE}squares = [{}]\n", "{ size = \"5in\", count = 1 }, ".repeat(count));
    assert!(Stash::read(&squares(200)).is_ok());
    let error = Stash::read(&squares(201)).unwrap_err();
    assert_eq!(error.problem, StashProblem::TooManyEntries(201, "squares"));
    let entries = [
        ("pack", "size = \"5in\"\ncount = 1\nprints = [\"A\"]"),
        ("unit", "finished = \"4in\"\nfabrics = [\"A\", \"B\"]\ncount = 1"),
        ("slice", "from = \"9in\"\nwidth = \"2in\"\ntip = \"A\"\nrest = \"B\"\nleans = \"left\"\ncount = 1"),
        ("filler", "fabric = \"A\"\nwidth = \"5in\"\nheight = \"2in\"\ncount = 1"),
    ];
    let two = format!("{ONE}{}", ONE.replace("\"A\"", "\"B\"").replace("sky", "sea"));
    for (what, entry) in entries {
        let text = |count: usize| format!("{two}{}", format!("[[{what}]]\n{entry}\n").repeat(count));
        assert!(Stash::read(&text(200)).is_ok(), "{what}");
        assert_eq!(Stash::read(&text(201)).unwrap_err().problem, StashProblem::TooManyEntries(201, what));
    }
    let padded = |bytes: usize| format!("{ONE}#{}", "x".repeat(bytes - ONE.len() - 1));
    assert!(Stash::read(&padded(8 << 20)).is_ok());
    assert_eq!(Stash::read(&padded((8 << 20) + 1)).unwrap_err().problem, StashProblem::TooLarge((8 << 20) + 1));
}

#[test]
fn letters_are_one_to_three_letters_or_digits() {
    for (bad, shown) in [("", ""), ("ABCD", "ABCD"), ("A B", "A B"), ("é", "é"), ("A-", "A-"), ("A\\t", "A?")] {
        let found = problem("letter = \"B2\"", &format!("letter = \"{bad}\""), &format!("\"{bad}\""));
        assert_eq!(found, StashProblem::Letter(shown.into()));
    }
    assert_eq!(Stash::read(&ONE.replace("\"A\"", "\"x9Z\"")).unwrap().prints[Print(0)].letter, "x9Z");
}

#[test]
fn letters_and_names_stand_for_one_fabric() {
    let same = |letter: &str| problem("letter = \"C\"", &format!("letter = \"{letter}\""), &format!("\"{letter}\""));
    assert_eq!(same("A"), StashProblem::SameLetter("A".into()));
    assert_eq!(same("a"), StashProblem::SameLetter("a".into()));
    let named = |name: &str| problem("name = \"headland\"", &format!("name = \"{name}\""), &format!("\"{name}\""));
    assert_eq!(named("evening sky"), StashProblem::SameName("evening sky".into()));
    assert_eq!(named(" Evening Sky "), StashProblem::SameName("Evening Sky".into()));
    fine("name = \"headland\"", "name = \"evening skies\"");
}

#[test]
fn names_and_families_fit_on_a_line() {
    let long = "x".repeat(61);
    for bad in ["", "  ", "two\\nlines", "bell\\u0007", "turned\\u202e", long.as_str()] {
        for (from, what) in [("name = \"headland\"", "name"), ("family = \"sky\"\nsketch", "family")] {
            let rest = if what == "family" { "\nsketch" } else { "" };
            let found = problem(from, &format!("{what} = \"{bad}\"{rest}"), &format!("\"{bad}\""));
            assert!(matches!(found, StashProblem::Name(_)), "{bad}: {found:?}");
        }
    }
    let stash = fine("name = \"headland\"", &format!("name = \" {} \"", "é".repeat(60)));
    assert_eq!(stash.prints[Print(2)].name, "é".repeat(60));
}

#[test]
fn a_painted_colour_is_made_of_one_fabric() {
    let sketch = |colour: &str| format!("name = \"headland\"\nsketch = \"{colour}\"");
    let found = problem("name = \"headland\"", &sketch("#90B0D0"), "\"#90B0D0\"");
    assert_eq!(found, StashProblem::SameSketch(Rgb([0x90, 0xb0, 0xd0])));
    fine("name = \"headland\"", &sketch("#90b0d1"));
}

#[test]
fn colours_and_lengths_say_what_is_wrong_with_them() {
    for (from, to, marked) in [
        ("\"#8fb0c9\"", "\"sky bluish\"", "\"sky bluish\""),
        ("\"#90b0d0\"", "\"#90b0d\"", "\"#90b0d\""),
        ("\"42in\"", "\"42\"", "\"42\""),
        ("\"1 1/2 yd\"", "\"a bit\"", "\"a bit\""),
        ("\"2 1/2in\"", "\"1/3in\"", "\"1/3in\""),
        ("\"7in\"", "7", "7"),
    ] {
        let found = problem(from, to, marked);
        let StashProblem::Unreadable(message) = found else { panic!("{to}: {found:?}") };
        assert!(to == "7" || message.contains(to.trim_matches('"')), "{to}: {message}");
    }
}

#[test]
fn lengths_are_more_than_nothing_and_within_reach() {
    for (from, before, after) in [
        ("size = \"10in\", count", "size = ", ", count"),
        ("width = \"42in\"", "width = ", ""),
        ("length = \"1 1/2 yd\"", "length = ", ""),
        ("width = \"7in\"", "width = ", ""),
        ("height = \"12in\"", "height = ", ""),
        ("size = \"10in\"\ncount", "size = ", "\ncount"),
        ("finished = \"6in\"", "finished = ", ""),
        ("from = \"9in\"", "from = ", ""),
        ("width = \"2 1/2in\"", "width = ", ""),
        ("width = \"4in\"", "width = ", ""),
        ("height = \"9in\"", "height = ", ""),
    ] {
        let with = |length: &str| format!("{before}\"{length}\"{after}");
        for bad in ["0in", "-1in"] {
            let found = problem(from, &with(bad), &format!("\"{bad}\""));
            assert!(matches!(found, StashProblem::NotPositive(..)), "{from}: {found:?}");
        }
        let found = problem(from, &with("50.01 m"), "\"50.01 m\"");
        assert!(matches!(found, StashProblem::TooLong(..)), "{from}: {found:?}");
    }
    assert_eq!(
        fine("width = \"42in\"", "width = \"50 m\"").prints[Print(0)].supply.as_ref().unwrap().yardage[0].width,
        Stash::LONGEST
    );
}

#[test]
fn counts_are_whole_and_within_reach() {
    let counts =
        ["count = 4 ", "fat_quarters = 2", "count = 1 ", "count = 5", "count = 12", "count = 3", "count = 2\n"];
    for from in counts {
        let (what, end) = (from.split(" = ").next().unwrap(), if from.ends_with('\n') { "\n" } else { " " });
        for bad in ["-1", "100001", "4294967297"] {
            let found = problem(from, &format!("{what} = {bad}{end}"), bad);
            assert_eq!(found, StashProblem::Count(bad.parse().unwrap()), "{from}");
        }
        for bad in ["1.5", "\"four\"", "true"] {
            assert!(matches!(problem(from, &format!("{what} = {bad}{end}"), bad), StashProblem::Unreadable(_)));
        }
        fine(from, &format!("{what} = 0{end}"));
        fine(from, &format!("{what} = 100000{end}"));
    }
}

#[test]
fn letters_used_are_those_of_fabrics() {
    for (from, to) in [
        ("[\"B2\", \"A\"]", "[\"B2\", \"X\"]"),
        ("[\"C\", \"A\"]", "[\"X\", \"A\"]"),
        ("tip = \"A\"", "tip = \"X\""),
        ("rest = \"C\"", "rest = \"X\""),
        ("fabric = \"C\"", "fabric = \"X\""),
    ] {
        assert_eq!(problem(from, to, "\"X\""), StashProblem::UnknownLetter("X".into()));
    }
}

#[test]
fn packs_units_and_slices_hold_together() {
    assert_eq!(problem("[\"B2\", \"A\"]", "[]", "[]"), StashProblem::EmptyPack);
    assert_eq!(problem("[\"B2\", \"A\"]", "[\"B2\", 'B2']", "'B2'"), StashProblem::TwiceInPack("B2".into()));
    for (fabrics, count) in [("[]", 0), ("[\"C\"]", 1), ("[\"C\", \"A\", \"B2\"]", 3)] {
        assert_eq!(problem("[\"C\", \"A\"]", fabrics, fabrics), StashProblem::TwoFabrics(count));
    }
    assert_eq!(problem("[\"C\", \"A\"]", "[\"C\", 'C']", "'C'"), StashProblem::OneFabric("C".into()));
    assert_eq!(problem("rest = \"C\"", "rest = \"A\"", "\"A\""), StashProblem::OneFabric("A".into()));
    let wide = problem("width = \"2 1/2in\"", "width = \"9 in\"", "\"9 in\"");
    assert!(matches!(wide, StashProblem::WideSlice { .. }));
    fine("width = \"2 1/2in\"", "width = \"8 1/2in\"");
}

#[test]
fn lines_that_say_the_same_are_added_up_within_the_limit() {
    let line =
        |fabrics: &str, count: u32| format!("\n[[unit]]\nfinished = \"7in\"\nfabrics = {fabrics}\ncount = {count}\n");
    let before = Stash::read(GUILD).unwrap().hand;
    let text = [GUILD, &line("[\"C\", \"A\"]", 7), &line("[\"A\", \"C\"]", 5), &line("[\"A\", \"B2\"]", 3)].concat();
    let units = Stash::read(&text).unwrap().hand.units;
    let counts: Vec<u32> = units[before.units.len()..].iter().map(|unit| unit.count).collect();
    assert_eq!(counts, [12, 3], "turned about it is the same unit");
    let eleven = GUILD.to_owned() + &line("[\"C\", \"A\"]", 100_000).repeat(11);
    let error = Stash::read(&eleven).unwrap_err();
    assert_eq!(error.problem, StashProblem::InAll(200_000));
    assert!(error.span.is_some() && error.help().contains("100000 in all"), "{error}");
}

#[test]
fn what_is_not_a_stash_is_refused() {
    for (from, to, says) in [
        ("directional = true", "directionl = true", "directionl"),
        ("[[pack]]", "[[packs]]", "packs"),
        ("leans = \"right\"", "leans = \"up\"", "up"),
        ("directional = true", "directional = \"perhaps\"", "yes or no"),
        ("fat_quarters = 2", "fat_quarters = 2\nfat_quarters = 2", "duplicate"),
        ("[[unit]]", "[[unit", ""),
    ] {
        let (error, marked) = mistake(from, to);
        assert!(matches!(error.problem, StashProblem::Unreadable(_)), "{to}: {error:?}");
        assert!(error.message().contains(says) && !error.message().ends_with('.'), "{to}: {error}");
        assert!(error.span.is_some(), "{to}: {marked}");
    }
}

#[test]
fn the_schema_takes_what_is_read_and_refuses_what_is_not() {
    let schema = stash_schema();
    let validator = jsonschema::validator_for(schema.as_value()).unwrap();
    let json = |text: &str| serde_json::to_value(toml::from_str::<toml::Value>(text).unwrap()).unwrap();
    assert!(validator.is_valid(&json(GUILD)));
    assert!(validator.is_valid(&json(ONE)));
    for (from, to) in [
        ("directional = true", "directionl = true"),
        ("colour = \"#5e5246\"", ""),
        ("letter = \"C\"", "letter = \"ABCD\""),
        ("count = 12", "count = -1"),
        ("leans = \"right\"", "leans = \"up\""),
        ("[\"C\", \"A\"]", "[\"C\"]"),
    ] {
        assert!(!validator.is_valid(&json(&GUILD.replace(from, to))), "{to}");
    }
}

/// Reads, and where that fails checks that the error's place lies within the text.
fn ends_well(text: &str) {
    if let Err(error) = Stash::read(text) {
        assert!(!error.message().is_empty());
        assert!(error.span.is_none_or(|span| text.get(span).is_some()), "{text:?}");
    }
}

#[test]
fn hostile_files_end_well() {
    ends_well("\u{feff}");
    ends_well(&format!("\u{feff}{}", GUILD.replace("headland", "")));
    ends_well(&"[".repeat(100_000));
    ends_well(&format!("a = {}", "[".repeat(100_000)));
    ends_well(&"[[fabric]]\n".repeat(50_000));
    ends_well(&"é".repeat(1000));
    ends_well("[[fabric]]\nletter = \"é");
    ends_well(&GUILD.replace("count = 4", "count = 9223372036854775808"));
    ends_well(&GUILD.replace("\"1 1/2 yd\"", "\"99999999999999999 99999999999999999/99999999999999999 yd\""));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_text_ends_well(text in any::<String>()) {
        ends_well(&text);
    }

    #[test]
    fn any_text_of_toml_marks_ends_well(text in "[\\[\\]{}=\"'#,. \n0-9a-ré\u{feff}]{0,120}") {
        ends_well(&text);
        ends_well(&format!("{ONE}{text}"));
    }

    #[test]
    fn a_changed_stash_ends_well(at in 0..GUILD.len(), cut in 0..12_usize, put in "[\\[\\]{}=\"#,.\n0-9a-fé-]{0,6}") {
        let until = (at + cut).min(GUILD.len());
        ends_well(&format!("{}{put}{}", &GUILD[..at], &GUILD[until..]));
    }

    #[test]
    fn swapped_lines_end_well(one in 0..60_usize, other in 0..60_usize) {
        let mut lines: Vec<&str> = GUILD.lines().collect();
        let (one, other) = (one % lines.len(), other % lines.len());
        lines.swap(one, other);
        ends_well(&lines.join("\n"));
    }
}

/// A stash as it is written by hand, in an editor that bends quotes.
const BY_HAND: &str = "
[[fabric]]
name = “grandma's sky”
colour = cornflower blue   # nearly
squares = { size = 10in, count = \"4\" }
yardage = 3 yd
fat_quarters = \"2\"
directional = yes

[[fabric]]
letter = a
name = headland
color = #5e5
family = 7
yardage = [\"1 1/2 yd\", { width = \"40in\", length = 2 }]

[[fabric]]
name = \"sand\"
colour = \"d8c08a\"
yardage = 0.7m

[[pack]]
size = \"5in\"
count = 6
prints = [a, Sand]
";

#[test]
fn what_can_be_understood_is_read() {
    let stash = Stash::read(BY_HAND).unwrap();
    let fabrics = stash.fabrics();
    let told: Vec<(&str, &str, String)> = fabrics
        .iter()
        .map(|fabric| (fabric.letter.as_str(), fabric.name.as_str(), fabric.colour.to_string()))
        .collect();
    let due = [("B", "grandma's sky", "#6495ed"), ("a", "headland", "#55ee55"), ("C", "sand", "#d8c08a")];
    assert_eq!(told, due.map(|(letter, name, colour)| (letter, name, colour.to_owned())));
    assert_eq!((fabrics[Print(1)].family.as_str(), fabrics[Print(0)].directional), ("7", true));
    let supply = |at: usize| stash.prints[Print(at)].supply.as_ref().unwrap();
    assert_eq!((supply(0).squares[0].count, supply(0).fat_quarters), (4, 2));
    let yardage = |at: usize| supply(at).yardage.iter().map(|y| (y.width, y.length)).collect::<Vec<_>>();
    let inches = |n| Length::inches(n, 1);
    assert_eq!(yardage(0), [(inches(42), inches(108))]);
    assert_eq!(yardage(1), [(inches(42), inches(54)), (inches(40), inches(72))]);
    assert_eq!(yardage(2), [(Length::CM * 110i64, Length::CM * 70i64)]);
    assert_eq!((supply(1).squares[0].count, supply(2).squares[0].count), (3, 3), "named by letter and by name");
    assert_eq!(Stash::read(&stash.write()).unwrap(), stash);
    let families = Stash::propose_families(BY_HAND).unwrap();
    assert_eq!(Stash::read(&families.text).unwrap().prints[Print(1)].family, "7");
}

#[test]
fn what_is_missing_is_told_with_what_to_write() {
    for (line, key, write) in [
        ("name = \"headland\"\n", "name", "name = "),
        ("colour = \"#5e5246\"\n", "colour", "colour = "),
        ("size = \"10in\"\n", "size", "size = "),
        ("prints = [\"B2\", \"A\"]\n", "prints", "prints = ["),
        ("finished = \"6in\"\n", "finished", "finished = "),
        ("count = 12\n", "count", "count = "),
        ("tip = \"A\"\n", "tip", "tip = "),
        ("leans = \"right\"\n", "leans", "leans = "),
        ("fabric = \"C\"\n", "fabric", "fabric = "),
        ("height = \"9in\"\n", "height", "height = "),
    ] {
        assert_eq!(GUILD.matches(line).count(), 1, "{line}");
        let error = Stash::read(&GUILD.replace(line, "")).unwrap_err();
        assert_eq!(error.problem, StashProblem::Missing(key.into()));
        assert!(error.help().contains(write), "{}", error.help());
    }
}

#[test]
fn what_is_no_value_is_told_with_one_that_is() {
    for (from, to, write) in [
        ("colour = \"#5e5246\"", "colour = \"headlandish\"", "`\"cornflower blue\"`"),
        ("colour = \"#5e5246\"", "colour = #5e52", "`\"#3a3a66\"`"),
        ("count = 12", "count = \"a dozen\"", "as `4`"),
        ("count = 12", "count = 12.5", "as `4`"),
        ("finished = \"6in\"", "finished = 6", "`\"6in\"`"),
        ("finished = \"6in\"", "finished = \"6\"", "`6in`"),
        ("directional = true", "directional = \"maybe\"", "`true` or `false`"),
        ("name = \"headland\"", "name = true", "in quotes"),
        ("fat_quarters = 2", "fat_quarters = \"two\"", "as `4`"),
        ("yardage = [{ width = \"42in\", length = \"1 1/2 yd\" }]", "yardage = \"a lot\"", "`9 1/2 in`"),
    ] {
        let (error, _) = mistake(from, to);
        assert!(error.message().contains(write), "{to}: {}", error.message());
    }
}
