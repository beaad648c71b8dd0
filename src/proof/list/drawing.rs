//! A sheet as it is drawn: its strips and pieces in their places, each with its name, and what remains.

use std::cmp::Reverse;

use resvg::usvg::roxmltree::Node;

use super::Reader;
use super::cloth::in_order;
use super::page::number;
use crate::measure::Length;
use crate::proof::cutting::Gives;
use crate::proof::fault::Fault;
use crate::proof::laid::{Cut, Kind, Laid};
use crate::proof::paper::Size;

/// How far a drawn line may be off, in pixels of which there are hundreds.
const NEAR: f64 = 0.04;

/// A strip with its pieces from the left.
struct Strip<'a> {
    height: Length,
    cuts: Vec<&'a Cut>,
}

/// A rectangle: left, top, width, height.
type Box = [Length; 4];

/// What the drawing holds, one element after the other.
struct Drawing<'a, 'b, 'c> {
    reader: &'c Reader<'c>,
    id: &'c str,
    nodes: std::iter::Peekable<std::vec::IntoIter<Node<'a, 'b>>>,
    /// Pixels to an inch.
    scale: f64,
}

impl Reader<'_> {
    pub(super) fn drawing(&self, laid: &Laid, id: &str, svg: Node) -> Result<(), Fault> {
        let strips = strips(laid);
        let width = self.show(laid.sheet.size.width);
        let due =
            format!("cloth {width} wide, cut across {} times, in all into {} pieces", strips.len(), laid.cuts.len());
        self.page.label(svg, id, &due)?;
        let nodes: Vec<Node> = svg.children().filter(Node::is_element).collect();
        let wrong = || Fault::new(id, "its drawing in build-list.html is not of its sheet");
        let edge = nodes.iter().find(|node| node.has_tag_name("rect") && node.attribute("fill") == Some("none"));
        let (wide, tall) = edge.map(|edge| (number(*edge, "width"), number(*edge, "height"))).ok_or_else(wrong)?;
        let scale = wide / laid.sheet.size.width.as_inches().max(0.001);
        let names: Vec<Node> =
            nodes.iter().copied().filter(|node| node.has_tag_name("text") && number(*node, "x") < 0.0).collect();
        let mut shown: Vec<(&Strip, String)> = Vec::new();
        let mut at = 0;
        for name in names {
            let words = self.page.words(name);
            let last = words.rsplit(' ').next().and_then(|last| last.parse::<usize>().ok()).unwrap_or(0);
            let run = strips.get(at..last).filter(|run| !run.is_empty()).ok_or_else(wrong)?;
            let due = if run.len() == 1 { last.to_string() } else { format!("{} to {last}", at + 1) };
            let first = run.first().filter(|first| run.iter().all(|other| alike(first, other))).ok_or_else(wrong)?;
            if words != due {
                return Err(wrong());
            }
            shown.push((first, words));
            at = last;
        }
        if at != strips.len() {
            return Err(wrong());
        }
        let mut drawing = Drawing { reader: self, id, nodes: nodes.into_iter().peekable(), scale };
        let used: Length = shown.iter().map(|(strip, _)| strip.height).sum();
        let long = matches!(laid.sheet.kind, Kind::Length | Kind::BoughtLength);
        let height = if long { used } else { laid.sheet.size.height - laid.used() + used };
        drawing.near(tall, height)?;
        for remain in remains(&shown, Size { width: laid.sheet.size.width, height }, used) {
            drawing.remain(remain)?;
        }
        drawing.next("rect")?;
        drawing.text(&width)?;
        let mut top = Length::ZERO;
        for (strip, name) in &shown {
            drawing.strip(strip, name, top)?;
            top += strip.height;
        }
        if drawing.nodes.next().is_some() { Err(wrong()) } else { Ok(()) }
    }

    /// The size of a piece as the maker gave it.
    fn own(&self, cut: &Cut) -> Size {
        match self.supplies.get(cut.whose.as_str()).map(|supply| &supply.gives) {
            Some(Gives::Units(pairs)) => Size { width: pairs.square, height: pairs.square },
            Some(Gives::Fillers(fillers)) => fillers.cut,
            _ => cut.size,
        }
    }
}

impl<'a, 'b> Drawing<'a, 'b, '_> {
    fn wrong(&self, what: &str) -> Fault {
        Fault::new(self.id, format!("in its drawing in build-list.html {what}"))
    }

    fn next(&mut self, tag: &'static str) -> Result<Node<'a, 'b>, Fault> {
        let next = self.nodes.next().filter(|node| node.has_tag_name(tag));
        next.ok_or_else(|| self.wrong(&format!("a {tag} is missing")))
    }

    fn text(&mut self, due: &str) -> Result<(), Fault> {
        let text = self.next("text")?;
        self.reader.page.same(text, self.id, "drawing", due)
    }

    fn near(&self, written: f64, due: Length) -> Result<(), Fault> {
        match (written - due.as_inches() * self.scale).abs() <= NEAR {
            true => Ok(()),
            false => Err(self.wrong(&format!("{written} is not where {} lies", self.reader.show(due)))),
        }
    }

    /// A part that stays whole: hatched, with its size where there is room.
    fn remain(&mut self, [left, top, width, height]: Box) -> Result<(), Fault> {
        self.next("path")?;
        let plate = |node: &Node| node.has_tag_name("rect") && node.attribute("fill") == Some("#fff");
        if self.nodes.peek().is_some_and(plate) {
            let plate = self.next("rect")?;
            let text = self.nodes.peek().copied().ok_or_else(|| self.wrong("a size is missing"))?;
            self.near(number(text, "x"), left + width / 2)?;
            self.near(number(plate, "x") + number(plate, "width") / 2.0, left + width / 2)?;
            self.near(number(text, "y") - 3.8, top + height / 2)?;
            self.text(&self.reader.scene.show_size(Size { width, height }))?;
        }
        Ok(())
    }

    /// Pieces from the left, then the strip's number and how deep it is.
    fn strip(&mut self, strip: &Strip, name: &str, top: Length) -> Result<(), Fault> {
        for cut in &strip.cuts {
            let piece = self.next("rect")?;
            let due = [("x", cut.at), ("y", top), ("width", cut.size.width), ("height", cut.size.height)];
            due.iter().try_for_each(|(name, due)| self.near(number(piece, name), *due))?;
            if let Some(words) = self.nodes.next_if(|node| node.has_tag_name("g")) {
                let size = self.reader.scene.show_size(self.reader.own(cut));
                let written: Vec<String> =
                    words.children().filter(Node::is_element).map(|line| self.reader.page.words(line)).collect();
                let written = written.join(" ");
                if written != cut.whose && written != format!("{} {size}", cut.whose) {
                    return Err(self.wrong(&format!("`{written}` stands on {}, {size}", cut.whose)));
                }
            }
        }
        self.next("path")?;
        self.text(name)?;
        self.text(&self.reader.show(strip.height))
    }
}

fn strips(laid: &Laid) -> Vec<Strip<'_>> {
    let cuts = in_order(laid);
    let strip = |cuts: &[&'_ Cut]| cuts.first().map_or(Length::ZERO, |cut| cut.strip_height);
    let strips = cuts.chunk_by(|one, other| one.strip_at == other.strip_at);
    strips.map(|cuts| Strip { height: strip(cuts), cuts: cuts.to_vec() }).collect()
}

fn alike(one: &Strip, other: &Strip) -> bool {
    let key = |strip: &Strip| strip.cuts.iter().map(|cut| (cut.at, cut.size, cut.whose.clone())).collect::<Vec<_>>();
    one.height == other.height && key(one) == key(other)
}

/// What is left below the strips, beside their pieces and below each piece, the largest first.
fn remains(shown: &[(&Strip, String)], size: Size, used: Length) -> Vec<Box> {
    let mut all = vec![[Length::ZERO, used, size.width, size.height - used]];
    let mut top = Length::ZERO;
    for (strip, _) in shown {
        let end = strip.cuts.last().map_or(Length::ZERO, |cut| cut.at + cut.size.width);
        all.push([end, top, size.width - end, strip.height]);
        all.extend(
            strip
                .cuts
                .iter()
                .map(|cut| [cut.at, top + cut.size.height, cut.size.width, strip.height - cut.size.height]),
        );
        top += strip.height;
    }
    all.retain(|[_, _, width, height]| *width > Length::ZERO && *height > Length::ZERO);
    let area = |[_, _, width, height]: &Box| i128::from(width.ticks()) * i128::from(height.ticks());
    all.sort_by_key(|remain| (Reverse(area(remain)), remain[1], remain[0]));
    all
}
