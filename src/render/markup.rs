//! What the pages share: their frame, and the maker's text in them.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::fabric::is_unprintable;

/// A line break as XHTML has it, which `maud` would leave open.
pub(super) const BR: PreEscaped<&str> = PreEscaped("<br/>");
/// A box to tick.
pub(super) const BOX: PreEscaped<&str> = PreEscaped("<input type=\"checkbox\"/>");
/// The policy keeps a page from ever asking the network for anything.
const META: PreEscaped<&str> = PreEscaped(
    "<meta charset=\"utf-8\"/>\n\
     <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
     <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n",
);

/// A page that holds its style and needs nothing from outside.
pub(super) fn page(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE) "\n"
        html lang="en" {
            "\n" head { "\n" (META) title { (shown(title)) } "\n" style { "\n" (PreEscaped(style)) } "\n" }
            "\n" body { "\n" main { "\n" (body) } "\n" }
            "\n"
        }
        "\n"
    };
    page.into_string()
}

/// The maker's text with a space for each character that is not to be shown; it is escaped where it is put.
pub(super) fn shown(text: &str) -> String {
    text.chars().map(|c| if is_unprintable(c) { ' ' } else { c }).collect()
}

/// Parts with a separator between them.
pub(super) fn joined(parts: impl IntoIterator<Item = Markup>, separator: &Markup) -> Markup {
    let separated = parts.into_iter().enumerate();
    html! { @for (at, part) in separated { @if at > 0 { (separator) } (part) } }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(parts: &[Markup]) -> Markup {
    let before = |at: usize| match at {
        0 => "",
        _ if at + 1 == parts.len() => " and ",
        _ => ", ",
    };
    html! { @for (at, part) in parts.iter().enumerate() { (before(at)) (part) } }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_makers_text_is_made_safe() {
        let text = shown("<b>\"sea\" & sky\u{1}");
        assert_eq!(html! { p title=(text) { (text) } }.into_string(), {
            let safe = "&lt;b&gt;&quot;sea&quot; &amp; sky ";
            format!("<p title=\"{safe}\">{safe}</p>")
        });
    }

    #[test]
    fn lists_read_as_words() {
        let items = ["a", "<", "c"].map(|text| html! { (text) });
        let words = |count: usize| listed(&items[..count]).into_string();
        assert_eq!([0, 1, 2, 3].map(words), ["", "a", "a and &lt;", "a, &lt; and c"]);
        assert_eq!(joined(items.clone(), &html! { "; " }).into_string(), "a; &lt;; c");
    }
}
