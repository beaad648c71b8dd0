//! What every section of the page needs: sizes, fabrics and headings.

use maud::{Markup, PreEscaped, html};

use super::drawings::outline;
use super::hatch;
use crate::cutting::Size;
use crate::fabric::Print;
use crate::make::Work;
use crate::measure::{Length, Ruler};
use crate::plan::Plan;
use crate::render::Options;
use crate::render::markup::{BOX, BR, shown};
use crate::render::palette::Palette;
use crate::render::text::px;

/// The plan and the work, with the maker's ruler and fabrics at hand.
pub(super) struct Sheet<'a> {
    pub plan: &'a Plan,
    pub work: &'a Work,
    pub options: &'a Options,
    pub palette: Palette<'a>,
    pub ruler: Ruler,
}

impl<'a> Sheet<'a> {
    pub fn new(plan: &'a Plan, work: &'a Work, options: &'a Options) -> Self {
        Self { plan, work, options, palette: Palette::new(plan, options), ruler: plan.request.ruler }
    }

    /// A length that does not break over lines.
    pub fn len(&self, length: Length) -> Markup {
        html! { span class="n" { (self.ruler.show(length)) } }
    }

    /// Width and height with one unit.
    pub fn size(&self, size: Size) -> Markup {
        html! { span class="n" { (self.ruler.number(size.width)) " × " (self.ruler.show(size.height)) } }
    }

    /// The nearest mark that the eye finds: 1/16 in or 1 mm.
    pub fn about(&self, length: Length) -> Markup {
        self.len(length.round_to(self.mark()))
    }

    /// 1/16 in or 1 mm.
    pub fn mark(&self) -> Length {
        match self.ruler {
            Ruler::Inch => Length::inches(1, 16),
            Ruler::Metric => Length::MM,
        }
    }

    /// A fabric's letter on its colour and hatching.
    pub fn chip(&self, fabric: Print) -> Markup {
        let letter = shown(self.palette.letter(fabric));
        let middle = 8.0 + 4.0 * letter.chars().count() as f64;
        let right = 2.0 * middle - 0.5;
        let corners = [(0.5, 0.5), (right, 0.5), (right, 15.5), (0.5, 15.5)];
        html! {
            svg class="chip" viewBox={ "0 0 " (px(2.0 * middle)) " 16" } {
                (PreEscaped(format!("<path class=\"patch {}\" d=\"{}\"/>", hatch::face(fabric), outline(&corners))))
                (hatch::lines(fabric, std::iter::once(&corners[..])))
                text class=(hatch::letter(fabric)) x=(px(middle)) y="12" { (letter) }
            }
        }
    }

    /// A fabric's letter and its name.
    pub fn fabric(&self, fabric: Print) -> Markup {
        html! { span class="fabric" { (self.chip(fabric)) " " span { (shown(self.palette.name(fabric))) } } }
    }

    /// Two fabrics, one above the other.
    pub fn both(&self, one: Print, other: Print) -> Markup {
        html! { (self.fabric(one)) (BR) (self.fabric(other)) }
    }
}

/// A numbered section.
pub(super) fn section(number: u32, id: &str, title: &str, body: &Markup) -> Markup {
    html! {
        section id=(id) { "\n" h2 { span class="no" { (number) } " " (title) } "\n" (body) }
        "\n"
    }
}

/// A table: heads, then lines already made of cells.
pub(super) fn table(class: &str, heads: &[&str], lines: &[Markup]) -> Markup {
    html! {
        table class=(class) {
            "\n" thead { tr { @for head in heads { th scope="col" { (head) } } } }
            "\n" tbody { "\n" @for line in lines { (line) } }
            "\n"
        }
        "\n"
    }
}

/// A line of a table; each cell also carries its head, for narrow screens.
pub(super) fn line(heads: &[&str], cells: &[Markup]) -> Markup {
    html! {
        tr { @for (head, cell) in heads.iter().zip(cells) { td data-label=(head) { div { (cell) } } } }
        "\n"
    }
}

/// A box to tick, with what it is for.
pub(super) fn tick(label: &str) -> Markup {
    html! { label class="tick" { (BOX) " " (label) } }
}

/// A warning or a hint, set apart.
pub(super) fn note(class: &str, body: &Markup) -> Markup {
    html! { p class={ "note " (class) } { (body) } "\n" }
}
