//! Tables and pictures of stashes.

use rowscape::fabric::Stash;
use rowscape::render::{stash_account, stash_png};

use crate::looked_through::{fabric, read, samples};

/// Sixty fabrics of every trait, with names as long as may be.
fn crowded() -> Stash {
    let entry = |i: usize| {
        let family = format!("family = \"{}\"\n", "w".repeat(1 + i % 60));
        let counts = "squares = [{ size = \"10in\", count = 100000 }, { size = \"25 cm\", count = 9 }]\ndirectional = true\n\
                      yardage = [{ width = \"110 cm\", length = \"1.37 m\" }]\nfat_quarters = 12\n\
                      oddments = [{ width = \"7in\", height = \"12in\", count = 3 }]";
        let colour = format!("#{:02x}{:02x}{:02x}", i * 4, 255 - i * 4, (i * 37) % 256);
        fabric(&format!("w{i:02}"), &format!("{i} {}", "a long name ".repeat(4)), &colour, &(family + counts))
    };
    let unit = |i: usize| {
        let (one, other) = (i % 60, (i * 7 + 1) % 60);
        format!("[[unit]]\nfinished = \"4in\"\nfabrics = [\"w{one:02}\", \"w{other:02}\"]\ncount = {i}\n")
    };
    let units = (0..200).filter(|i| i % 60 != (i * 7 + 1) % 60).map(unit);
    read(&(0..60).map(entry).chain(units).collect::<String>())
}

#[test]
fn tables_are_no_wider_than_the_screen() {
    let stashes = samples().into_iter().map(|(_, text)| read(&text)).chain([crowded()]);
    for stash in stashes {
        for width in [80, 100, 120] {
            let text = stash_account(&stash, width);
            let widest = text.lines().map(|line| line.chars().count()).max().unwrap_or_default();
            assert!(widest <= usize::from(width), "{widest} over {width}: {text}");
            assert!(stash.prints.iter().all(|print| text.contains(&print.colour.to_string())));
        }
    }
}

#[test]
fn the_account_says_what_there_is() {
    let (_, text) = samples().remove(3);
    let words = stash_account(&read(&text), 100);
    for says in
        ["3 yd of 42 in", "80 of 9 in", "160 of 6 in", "320 of 4 in", "20 fabrics in 10 families", "3.50 square yards"]
    {
        assert!(words.contains(says), "{says}: {words}");
    }
    let (_, text) = samples().remove(2);
    let words = stash_account(&read(&text), 100);
    for says in ["120 triangle units, 16 slices and 58 fillers", "A+B: 8", "J gorse hill", "C tip on B, left: 4"] {
        assert!(words.contains(says), "{says}: {words}");
    }
}

#[test]
fn the_readme_shows_what_is_said() {
    let readme = std::fs::read_to_string(format!("{}/README.md", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let (_, text) = samples().remove(3);
    let said: Vec<String> = stash_account(&read(&text), 80).lines().map(|line| line.trim_end().to_owned()).collect();
    let start = said.iter().position(|line| line.starts_with("What the squares")).unwrap();
    assert!(readme.contains(&said[start..].join("\n")), "{said:#?}");
}

#[test]
fn swatches_are_drawn_in_their_colours() {
    for (stash, name) in samples().into_iter().map(|(name, text)| (read(&text), name)).chain([(crowded(), "crowded")]) {
        let png = stash_png(&stash, name).unwrap();
        assert_eq!(png, stash_png(&stash, name).unwrap());
        let picture = image::load_from_memory(&png).unwrap().into_rgb8();
        assert_eq!(picture.width(), 1360);
        for print in &stash.prints {
            let found = picture.pixels().filter(|pixel| pixel.0 == print.colour.0).count();
            assert!(found > 12_000, "{name}: {} has {found} pixels", print.name);
        }
    }
}
