//! Numbers, escapes and small turns of phrase that the outputs share.

use crate::cutting::Size;
use crate::fabric::is_unprintable;
use crate::measure::{Length, Ruler};
use crate::plan::Plan;

/// A number given in millionths, without trailing zeros: the only way into a drawing.
pub(super) fn millionths(value: i128) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let (whole, part) = (value.unsigned_abs() / 1_000_000, value.unsigned_abs() % 1_000_000);
    let text = format!("{sign}{whole}.{part:06}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A length in finished inches, to the nearest millionth.
pub(super) fn inches(length: Length) -> String {
    millionths(scaled(length, Length::INCH, 1_000_000))
}

/// A length in pixels of a drawing, to a hundredth.
pub(super) fn px(value: f64) -> String {
    millionths((value * 100.0).round() as i128 * 10_000)
}

/// A length as an exact decimal in the ruler's unit, for tables.
pub(super) fn decimal(ruler: Ruler, length: Length) -> String {
    const PLACES: i128 = 10_000_000_000;
    let unit = if ruler == Ruler::Metric { Length::CM } else { Length::INCH };
    let value = scaled(length, unit, PLACES);
    let sign = if value < 0 { "-" } else { "" };
    let value = value.abs();
    let text = format!("{sign}{}.{:010}", value / PLACES, value % PLACES);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn scaled(length: Length, unit: Length, parts: i128) -> i128 {
    let unit = i128::from(unit.ticks());
    (i128::from(length.ticks()) * parts + unit / 2).div_euclid(unit)
}

/// The maker's text, safe between tags and in quoted attributes.
pub(super) fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            c if is_unprintable(c) => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}

/// Width and height with one unit: `9 1/2 x 4 1/2 in`.
pub(super) fn by(ruler: Ruler, size: Size) -> String {
    format!("{} x {}", ruler.number(size.width), ruler.show(size.height))
}

/// With a capital letter.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// `1 row`, `2 rows`.
pub(super) fn count(n: impl Into<u64>, one: &str, many: &str) -> String {
    match n.into() {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// The scene's title, or a name from its picture's file name.
pub(super) fn title(plan: &Plan) -> String {
    if !plan.request.title.is_empty() {
        return plan.request.title.clone();
    }
    let name = plan.request.picture.rsplit(['/', '\\']).next().unwrap_or_default();
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let words = stem.replace(['-', '_'], " ");
    let mut letters = words.trim().chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => "Scene".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_lose_their_trailing_zeros() {
        assert_eq!(inches(Length::inches(19, 2)), "9.5");
        assert_eq!(inches(Length::CM), "0.393701");
        assert_eq!(inches(Length::ZERO), "0");
        assert_eq!(px(-1.005), "-1");
        assert_eq!(decimal(Ruler::Inch, Length::inches(9, 32)), "0.28125");
        assert_eq!(decimal(Ruler::Metric, Length::mm(241)), "24.1");
        assert_eq!(decimal(Ruler::Inch, Length::inches(-3, 2)), "-1.5");
    }

    #[test]
    fn the_makers_text_is_made_safe() {
        assert_eq!(escape("<b>\"sea\" & 'sky'\u{1}"), "&lt;b&gt;&quot;sea&quot; &amp; &#39;sky&#39; ");
    }

    #[test]
    fn lists_read_as_words() {
        let items = ["a", "b", "c"].map(String::from);
        assert_eq!(listed(&items), "a, b and c");
        assert_eq!(listed(&items[..2]), "a and b");
        assert_eq!(count(1_u32, "row", "rows"), "1 row");
    }
}
