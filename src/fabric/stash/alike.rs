//! Names that are easily mixed up.

/// Whether two names differ by so little that one is taken for the other.
///
/// Letters and digits count, whatever their case: one slip from four of them on, two from eight on. Names
/// that a number tells apart are not alike.
pub(super) fn alike(one: &str, other: &str) -> bool {
    let (one, other) = (folded(one), folded(other));
    if one == other {
        return true;
    }
    if letters(&one) == letters(&other) {
        return false;
    }
    let allowed = match one.len().min(other.len()) {
        0..4 => 0,
        4..8 => 1,
        _ => 2,
    };
    slips(&one, &other) <= allowed
}

fn folded(name: &str) -> Vec<char> {
    name.chars().flat_map(char::to_lowercase).filter(|c| c.is_alphanumeric()).collect()
}

fn letters(name: &[char]) -> Vec<char> {
    name.iter().copied().filter(|c| !c.is_numeric()).collect()
}

/// Letters to put in, take out or change, at the least (Levenshtein, 1965).
fn slips(one: &[char], other: &[char]) -> usize {
    let mut above: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.iter().enumerate() {
        let mut line = vec![i + 1];
        for (j, b) in other.iter().enumerate() {
            let changed = above[j] + usize::from(a != b);
            line.push(changed.min(above[j + 1] + 1).min(line[j] + 1));
        }
        above = line;
    }
    above.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_counted() {
        let count = |one: &str, other: &str| slips(&folded(one), &folded(other));
        // The usual example of the literature: kitten, sitten, sittin, sitting.
        assert_eq!(count("kitten", "sitting"), 3);
        assert_eq!((count("", "sea"), count("sea", ""), count("sea", "sea")), (3, 3, 0));
    }

    #[test]
    fn names_are_alike_by_a_slip_or_two() {
        for (one, other) in [("night harbour", "Night-harbor"), ("rope walk", "rose walk"), ("sky", "Sky ")] {
            assert!(alike(one, other), "{one}, {other}");
        }
        for (one, other) in [("grey 1", "grey 2"), ("sea", "tea"), ("evening sky", "morning sky"), ("", "sea")] {
            assert!(!alike(one, other), "{one}, {other}");
        }
    }
}
