//! Names that are easily mixed up.

use strsim::generic_levenshtein;

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
    generic_levenshtein(&one, &other) <= allowed
}

fn folded(name: &str) -> Vec<char> {
    name.chars().flat_map(char::to_lowercase).filter(|c| c.is_alphanumeric()).collect()
}

fn letters(name: &[char]) -> Vec<char> {
    name.iter().copied().filter(|c| !c.is_numeric()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

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
