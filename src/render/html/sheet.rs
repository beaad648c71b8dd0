//! What every section of the page needs: sizes, fabrics and headings.

use crate::fabric::Print;
use crate::make::{Size, Work};
use crate::measure::{Length, Ruler};
use crate::plan::Plan;
use crate::render::Options;
use crate::render::palette::Palette;
use crate::render::text::escape;

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
    pub fn len(&self, length: Length) -> String {
        format!("<span class=\"n\">{}</span>", self.ruler.show(length))
    }

    /// Width and height with one unit.
    pub fn size(&self, size: Size) -> String {
        let (width, height) = (self.ruler.number(size.width), self.ruler.show(size.height));
        format!("<span class=\"n\">{width} × {height}</span>")
    }

    /// The nearest mark that the eye finds: 1/16 in or 1 mm.
    pub fn about(&self, length: Length) -> String {
        self.len(length.round_to(self.mark()))
    }

    /// 1/16 in or 1 mm.
    pub fn mark(&self) -> Length {
        match self.ruler {
            Ruler::Inch => Length::inches(1, 16),
            Ruler::Metric => Length::MM,
        }
    }

    /// A fabric's letter on its colour.
    pub fn chip(&self, fabric: Print) -> String {
        let p = &self.palette;
        format!(
            "<span class=\"chip\" style=\"background:{};color:{}\">{}</span>",
            p.colour(fabric),
            p.ink(fabric),
            escape(p.letter(fabric))
        )
    }

    /// A fabric's letter and its name.
    pub fn fabric(&self, fabric: Print) -> String {
        format!(
            "<span class=\"fabric\">{} <span>{}</span></span>",
            self.chip(fabric),
            escape(self.palette.name(fabric))
        )
    }
}

/// A numbered section.
pub(super) fn section(number: u32, id: &str, title: &str, body: &str) -> String {
    format!("<section id=\"{id}\">\n<h2><span class=\"no\">{number}</span> {title}</h2>\n{body}</section>\n")
}

/// A table: heads, then lines already made of cells.
pub(super) fn table(class: &str, heads: &[&str], lines: &str) -> String {
    let heads: String = heads.iter().map(|head| format!("<th scope=\"col\">{head}</th>")).collect();
    format!("<table class=\"{class}\">\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{lines}</tbody>\n</table>\n")
}

/// A line of a table; each cell also carries its head, for narrow screens.
pub(super) fn line(heads: &[&str], cells: &[String]) -> String {
    let cells: String = heads
        .iter()
        .zip(cells)
        .map(|(head, cell)| format!("<td data-label=\"{head}\"><div>{cell}</div></td>"))
        .collect();
    format!("<tr>{cells}</tr>\n")
}

/// A box to tick, with what it is for.
pub(super) fn tick(label: &str) -> String {
    format!("<label class=\"tick\"><input type=\"checkbox\"/> {label}</label>")
}

/// A warning or a hint, set apart.
pub(super) fn note(class: &str, body: &str) -> String {
    format!("<p class=\"note {class}\">{body}</p>\n")
}
