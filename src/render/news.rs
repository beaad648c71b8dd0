//! How far a job is, for a line that is written over and over.

use crate::watch::{News, Stage};

/// How far it is, in a few words.
pub fn news_words(news: &News) -> String {
    let what = match news.stage {
        Stage::Picture => "reading the picture",
        Stage::Colours => "suiting the colours",
        Stage::Scene => "composing",
        Stage::Cloth => "pricing scarce cloth",
        Stage::Squares => "bringing scenes within whole squares and cloth",
        Stage::Size => "trying sizes of the top",
        Stage::Stash => "trying stashes",
        Stage::Files => "drawing the files",
        Stage::Proof => "sewing on paper what was written",
    };
    let part = match (news.part, news.parts) {
        (0, _) | (_, 1) => String::new(),
        (part, 0) => format!(", {part}"),
        (part, parts) => format!(", {part} of {parts}"),
    };
    let best = news.best.map(|best| format!("; the best so far is at most {:.1} % from the best", best.gap * 100.0));
    format!("{what}{part}{}", best.unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_counted_where_there_are_several() {
        let words = |stage, part, parts| news_words(&News { stage, part, parts, best: None });
        assert_eq!(words(Stage::Picture, 1, 1), "reading the picture");
        assert_eq!(words(Stage::Size, 3, 0), "trying sizes of the top, 3");
        assert_eq!(words(Stage::Cloth, 2, 60), "pricing scarce cloth, 2 of 60");
    }
}
