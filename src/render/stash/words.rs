//! What there is of a fabric, in short words.

use crate::cutting::Size;
use crate::fabric::{Fabric, Stash, Supply, Yardage};
use crate::measure::{Length, Ruler, yards};
use crate::render::text::{by, count};

/// `4 of 10 in`, the largest first.
pub(super) fn squares(print: &Fabric) -> Vec<String> {
    print.squares().iter().map(|(size, count)| format!("{count} of {size}")).collect()
}

/// Lengths of cloth, fat quarters and oddments.
pub(super) fn cloth(print: &Fabric) -> Vec<String> {
    print.supply.iter().flat_map(pieces).collect()
}

fn pieces(supply: &Supply) -> Vec<String> {
    let mut words: Vec<String> = supply.yardage.iter().map(length).collect();
    if supply.fat_quarters > 0 {
        words.push(count(supply.fat_quarters, "fat quarter", "fat quarters"));
    }
    words.extend(supply.oddments.iter().map(|o| format!("{} of {}", o.count, across(o.width, o.height))));
    words
}

/// `1 1/2 yd of 42 in`: what there is along the selvedge, and how wide.
pub(super) fn length(cloth: &Yardage) -> String {
    format!("{} of {}", yards(cloth.length).unwrap_or_else(|| cloth.length.to_string()), cloth.width)
}

/// `7 x 12 in`, with both units where they differ.
pub(super) fn across(width: Length, height: Length) -> String {
    let inches = |length: Length| length.is_multiple_of(Length::inches(1, 64));
    match (inches(width), inches(height)) {
        (true, true) => by(Ruler::Inch, Size { width, height }),
        (false, false) => by(Ruler::Metric, Size { width, height }),
        _ => format!("{width} x {height}"),
    }
}

/// What there is of it: its squares on one line, all other cloth on the next.
pub(super) fn lines(print: &Fabric) -> Vec<String> {
    let lines: Vec<String> = [squares(print), cloth(print)].iter().map(|words| words.join(", ")).collect();
    let some: Vec<String> = lines.into_iter().filter(|line| !line.is_empty()).collect();
    match (&print.supply, some.is_empty()) {
        (None, _) => vec!["free to use".into()],
        (_, true) => vec!["no cloth left".into()],
        _ => some,
    }
}

/// The family, where it is not the print's alone.
pub(super) fn family<'a>(stash: &Stash, fabric: &'a Fabric) -> &'a str {
    let shared = stash.prints.iter().filter(|other| other.family == fabric.family).count() > 1;
    if shared || fabric.family != fabric.name { &fabric.family } else { "its own" }
}
