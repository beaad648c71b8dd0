//! Out of which cloth everything is cut: squares in words, all other sheets drawn.

use resvg::usvg::roxmltree::Node;

use super::page::{fault, of_class, of_tag};
use super::{Reader, listed};
use crate::proof::fault::Fault;
use crate::proof::laid::{Cut, Kind, Laid};

impl Reader<'_> {
    /// What is cut off the end of each length, where one is cut.
    pub(super) fn straightened(&self) -> String {
        let long = |kind: Kind| matches!(kind, Kind::BoughtLength | Kind::Length);
        if self.written.laid.iter().any(|laid| long(laid.sheet.kind)) {
            self.show(self.scene.asked.end_cut())
        } else {
            String::new()
        }
    }

    pub(super) fn cloth(&self) -> Result<(), Fault> {
        let mut fabrics = of_class(self.page.root(), "cloth").filter(|node| node.has_tag_name("div"));
        for letter in &self.scene.letters {
            let sheets = self.sheets_of(letter);
            if !sheets.is_empty() {
                let missing = || fault(format!("it does not say how fabric {letter} is cut"));
                self.of_fabric(letter, &sheets, fabrics.next().ok_or_else(missing)?)?;
            }
        }
        fabrics.next().map_or(Ok(()), |_| Err(fault("it cuts more fabrics than there are")))
    }

    fn of_fabric(&self, letter: &str, sheets: &[&Laid], node: Node) -> Result<(), Fault> {
        let head = of_tag(node, "h4").next().ok_or_else(|| fault(format!("fabric {letter} has no heading")))?;
        self.page.same(head, letter, "heading", &self.fabric(letter))?;
        let (plain, drawn): (Vec<&Laid>, Vec<&Laid>) = sheets.iter().partition(|laid| is_plain(laid));
        let words: Vec<String> = of_class(node, "squares").map(|p| self.page.words(p)).collect();
        let due: Vec<String> = Some(self.squares(&plain)).filter(|words| !words.is_empty()).into_iter().collect();
        super::page::same(letter, "squares", &words.join(" "), &due.join(" "))?;
        let mut figures = of_tag(node, "figure");
        for laid in drawn {
            let id = name(laid);
            let figure = figures.next().ok_or_else(|| fault(format!("the sheet {id} is missing")))?;
            let caption = of_tag(figure, "figcaption").next().ok_or_else(|| fault(format!("{id} has no caption")))?;
            let times = if laid.sheet.count > 1 { format!(" × {}", laid.sheet.count) } else { String::new() };
            self.page.same(caption, id, "caption", &format!("{id}{times} {}", self.what(laid)))?;
            let svg = of_tag(figure, "svg").next().ok_or_else(|| fault(format!("{id} is not drawn")))?;
            self.drawing(laid, id, svg)?;
        }
        figures
            .next()
            .map_or(Ok(()), |_| Err(fault(format!("more sheets of fabric {letter} are drawn than there are"))))
    }

    fn what(&self, laid: &Laid) -> String {
        let (sheet, used) = (&laid.sheet, laid.used());
        let size = sheet.upright();
        let turned = if sheet.turned { ", turned on its side" } else { "" };
        match sheet.kind {
            Kind::BoughtLength => format!("{} off a length {} wide", self.show(size.height), self.show(size.width)),
            Kind::Length => {
                let stay = self.show(size.height - used);
                format!("{} off the length of {}, {stay} stay", self.show(used), self.size(size))
            }
            Kind::Square | Kind::BoughtSquare => format!("square of {}", self.show(size.width)),
            Kind::FatQuarter => format!("fat quarter of {}{turned}", self.size(size)),
            Kind::Oddment => format!("oddment of {}{turned}", self.size(size)),
        }
    }

    /// Squares that stay whole, then those that are quartered: `A-1, 3 of 10 in for P1`.
    fn squares(&self, plain: &[&Laid]) -> String {
        let mut words = Vec::new();
        for (whole, what) in [(true, "whole"), (false, "quartered")] {
            let of_kind = plain.iter().filter(|laid| is_whole(laid) == whole);
            let one = |laid: &&Laid| {
                let ids: Vec<&str> = in_order(laid).iter().map(|cut| cut.whose.as_str()).collect();
                let ids: Vec<String> = ids.chunk_by(|one, other| one == other).map(times).collect();
                format!(
                    "{}, {} of {} for {}",
                    name(laid),
                    laid.sheet.count,
                    self.show(laid.sheet.size.width),
                    listed(&ids)
                )
            };
            let list: Vec<String> = of_kind.map(one).collect();
            if !list.is_empty() {
                words.push(format!("Squares {what}: {}.", list.join("; ")));
            }
        }
        words.join(" ")
    }
}

fn name(laid: &Laid) -> &str {
    laid.cuts.first().map_or("", |cut| cut.line.text("sheet"))
}

/// The pieces of a sheet from the top, and of a strip from the left.
pub(super) fn in_order(laid: &Laid) -> Vec<&Cut> {
    let mut cuts: Vec<&Cut> = laid.cuts.iter().collect();
    cuts.sort_by_key(|cut| (cut.strip_at, cut.at));
    cuts
}

fn is_whole(laid: &Laid) -> bool {
    matches!(laid.cuts.as_slice(), [cut] if cut.size == laid.sheet.size)
}

/// A square that stays whole, or is cut in quarters and no more.
fn is_plain(laid: &Laid) -> bool {
    let side = laid.sheet.size.width;
    let quarter = |cut: &Cut| cut.size.width + cut.size.width == side && cut.size.height + cut.size.height == side;
    laid.sheet.is_square() && (is_whole(laid) || laid.cuts.iter().all(quarter))
}

fn times(alike: &[&str]) -> String {
    match alike {
        [] => String::new(),
        [one] => (*one).into(),
        [one, _, _, _] => format!("{one}, all four"),
        [one, ..] => format!("{} of {one}", alike.len()),
    }
}
