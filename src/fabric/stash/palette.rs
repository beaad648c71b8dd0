//! Palettes in open formats, read as a stash of fabrics that are free to use: a GIMP palette, as its documentation
//! describes it (docs.gimp.org, "Palettes"), and a plain list of colours in figures, one a line.

use super::{OnHand, Stash, StashError, StashProblem};
use crate::fabric::{Fabric, Fabrics, Rgb, letters, names, printable};

const HEADER: &str = "GIMP Palette";

/// The palette that a text is; none where it is no palette.
pub(super) fn palette(text: &str) -> Option<Result<Stash, StashError>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let gimp = text.lines().next()?.trim_end() == HEADER;
    let is_list = || {
        let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !is_remark(line)).peekable();
        lines.peek().is_some_and(|line| in_figures(line).is_some())
    };
    (gimp || is_list()).then(|| read(text, gimp))
}

/// `# harbour` is a remark, `#8fb0c9` and `#8bc` are colours.
fn is_remark(line: &str) -> bool {
    line.starts_with('#') && in_figures(line).is_none()
}

/// A colour of three or six figures, alone on its line.
fn in_figures(line: &str) -> Option<Rgb> {
    let digits = line.strip_prefix('#').unwrap_or(line);
    let plain = [3, 6].contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    plain.then(|| Rgb::understood(line)).flatten()
}

fn read(text: &str, gimp: bool) -> Result<Stash, StashError> {
    if text.len() > Stash::MOST_BYTES {
        return Err(StashError::of_file(StashProblem::TooLarge(text.len())));
    }
    let mut colours: Vec<(Rgb, Option<String>)> = Vec::new();
    for (at, line) in text.lines().enumerate().skip(usize::from(gimp)) {
        let said = line.trim();
        let header = gimp && colours.is_empty() && (said.starts_with("Name:") || said.starts_with("Columns:"));
        if said.is_empty() || header || (gimp && said.starts_with('#')) || is_remark(said) {
            continue;
        }
        let start = line.as_ptr() as usize - text.as_ptr() as usize;
        let wrong = || StashError::at(StashProblem::PaletteLine(at + 1), start..start + line.len());
        colours
            .push(if gimp { of_gimp(said) } else { in_figures(said).map(|colour| (colour, None)) }.ok_or_else(wrong)?);
        if colours.len() > Stash::MOST_FABRICS {
            return Err(StashError::of_file(StashProblem::TooManyFabrics(colours.len())));
        }
    }
    if colours.is_empty() {
        return Err(StashError::of_file(StashProblem::NoFabric));
    }
    Ok(Stash { prints: fabrics(&colours), hand: OnHand::default() })
}

/// `143 176 201 evening sky`.
fn of_gimp(line: &str) -> Option<(Rgb, Option<String>)> {
    let mut words = line.split_whitespace();
    let mut level = || words.next()?.parse::<u8>().ok();
    let colour = Rgb([level()?, level()?, level()?]);
    let name: String =
        printable(&words.collect::<Vec<_>>().join(" ")).chars().take(Stash::MOST_CHARACTERS - 4).collect();
    let named = !name.trim().is_empty() && !name.eq_ignore_ascii_case("untitled");
    Some((colour, named.then(|| name.trim().to_owned())))
}

/// Each with a letter and a name of its own.
fn fabrics(colours: &[(Rgb, Option<String>)]) -> Fabrics {
    let plain = names(&colours.iter().map(|(colour, _)| *colour).collect::<Vec<_>>());
    let mut taken: Vec<String> = Vec::new();
    let each = colours.iter().zip(plain).zip(letters(colours.len())).map(|(((colour, name), plain), letter)| {
        let name = name.clone().unwrap_or(plain);
        let numbered = (2..).map(|number| format!("{name} {number}"));
        let mut all = std::iter::once(name.clone()).chain(numbered);
        let own = all.find(|name| !taken.contains(&name.to_lowercase())).expect("numbers have no end");
        taken.push(own.to_lowercase());
        Fabric::new(letter, own, *colour)
    });
    each.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gimp_palette_is_a_stash_free_to_use() {
        let text = "GIMP Palette\nName: Harbour\nColumns: 4\n#\n143 176 201\tevening sky\n 58  58 102\tnight\n0 0 0\tnight\n9 9 9\n";
        let stash = Stash::read(text).unwrap();
        let said: Vec<(&str, String)> = stash.prints.iter().map(|p| (p.name.as_str(), p.colour.to_string())).collect();
        assert_eq!(said[..2], [("evening sky", "#8fb0c9".into()), ("night", "#3a3a66".into())]);
        assert_eq!((said[2].0, stash.prints.len()), ("night 2", 4));
        assert!(stash.prints.iter().all(|print| print.supply.is_none()));
        assert_eq!(Stash::read(&stash.write()), Ok(stash));
    }

    #[test]
    fn a_list_of_colours_is_one_too() {
        let stash = Stash::read("# harbour\n#8fb0c9\n\n3a3a66\r\n#8be\n").unwrap();
        assert_eq!(stash.prints.len(), 3);
        assert_eq!(stash.prints.raw[2].colour, Rgb([0x88, 0xbb, 0xee]));
    }

    #[test]
    fn what_is_wrong_is_told_by_its_line() {
        for (text, line) in [
            ("GIMP Palette\n1 2 3\n256 0 0 red\n", 3),
            ("GIMP Palette\n1 2\n", 2),
            ("GIMP Palette\nred green blue\n", 2),
            ("#8fb0c9\n#8fb0c\n", 0),
            ("#8fb0c9\nbluish\n", 2),
        ] {
            let error = Stash::read(text).err();
            match line {
                0 => assert_eq!(error, None, "a short one is a remark"),
                line => assert_eq!(error.unwrap().problem, StashProblem::PaletteLine(line), "{text}"),
            }
        }
        assert_eq!(Stash::read("GIMP Palette\n").unwrap_err().problem, StashProblem::NoFabric);
        let many = "#8fb0c9\n".repeat(401);
        assert_eq!(Stash::read(&many).unwrap_err().problem, StashProblem::TooManyFabrics(401));
    }
}
